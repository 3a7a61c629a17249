/* From the stage to the scene that the viewport draws.
 *
 * Two depths of renewal: `rebuild` when bodies, colours or the cut are others, `place` when only
 * the position along the way out is. Thread: the main one. */
#ifndef NW_APP_VIEWPORT_SCENE_H
#define NW_APP_VIEWPORT_SCENE_H

#include "app/stage.h"
#include "view/show.h"

typedef struct NwViewportScene {
    NwScene *scene;
    NwShow *show;      /* what is on the stage; NULL: nothing */
    NwSolid *pickable; /* the sketch: parts of the envelope that can be pointed at */
    size_t beside;     /* the first body of what is laid beside, or SIZE_MAX */
} NwViewportScene;

void nw_viewport_scene_init(NwViewportScene *self);
void nw_viewport_scene_clear(NwViewportScene *self);

void nw_viewport_scene_rebuild(NwViewportScene *self, NwStage *stage, gboolean dark);
void nw_viewport_scene_place(NwViewportScene *self, NwStage *stage);

/* The marks alone: what is pointed at, selected, sharp, or in the way. */
void nw_viewport_scene_mark(NwViewportScene *self, NwStage *stage);

/* The part of the sketch under a ray; FALSE where there is none, or an assembly is shown. */
gboolean nw_viewport_scene_pick(const NwViewportScene *self, NwStage *stage, const NwRay *ray,
                                NwPart *part);

#endif
