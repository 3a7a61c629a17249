/* From the view state to the scene that the viewport draws.
 *
 * Three depths of renewal: `rebuild` when bodies, colours or the cut are others, `place` when only
 * the position along the way out is, or how far they are moved apart, `mark` when only marks are.
 * Thread: the main one. */
#ifndef NW_APP_BENCH_VIEWPORT_SCENE_H
#define NW_APP_BENCH_VIEWPORT_SCENE_H

#include "session/view_state.h"
#include "view/pose.h"

typedef struct NwViewportScene {
    NwScene *scene;
    NwPosedScene *show; /* what is on the view state; NULL: nothing */
    NwSolid *pickable;  /* the sketch: parts of the envelope that can be pointed at */
    size_t beside;      /* the first body of what is laid beside, or SIZE_MAX */
} NwViewportScene;

void nw_viewport_scene_init(NwViewportScene *self);
void nw_viewport_scene_clear(NwViewportScene *self);

void nw_viewport_scene_rebuild(NwViewportScene *self, NwViewState *view_state, gboolean dark);
void nw_viewport_scene_place(NwViewportScene *self, NwViewState *view_state);

/* The marks alone: what is pointed at, selected, or in the way. */
void nw_viewport_scene_mark(NwViewportScene *self, NwViewState *view_state);

/* The part of the sketch under a ray; FALSE where there is none, or an assembly is shown. */
gboolean nw_viewport_scene_pick(const NwViewportScene *self, NwViewState *view_state,
                                const NwRay *ray, NwPart *part);

#endif
