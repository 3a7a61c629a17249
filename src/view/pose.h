/* From a design and an assembly to where every body is drawn at any time of the way out.
 *
 * Position p of a way out of n slides is a number from 0 to n: p = 2.25 is a quarter into the third
 * slide. A set that goes out travels until it is clear of everything, with a margin, and stays
 * there. What has parted from it before and stands in its way is pushed on ahead of it, group by
 * group, so that nothing is drawn inside something else.
 *
 * Coordinates: cells. Ownership: a show copies what it needs. Thread: read-only once built. */
#ifndef NW_VIEW_POSE_H
#define NW_VIEW_POSE_H

#include "assembly/found_assembly.h"
#include "view/scene.h"

typedef struct NwPosedScene {
    int body_count, slide_count;
    int *pieces, *copies; /* of each body; copies from 0 */
    NwSolid **solids;     /* of each body, at its place */
    NwColour *colours;    /* of each body */
    uint32_t *movers;     /* of each slide */
    double (*offsets)[3]; /* body b before slide s: [s * body_count + b]; s up to slide_count */
} NwPosedScene;

/* The finding's placements and slides; slides that no verdict came with are none. NULL if a
 * placement is none of this design's lattice. */
NwPosedScene *nw_posed_scene_new(const NwDesign *design, const NwFoundAssembly *finding);

/* The design as it is drawn: the intended assembly if there is one; else each piece once, where
 * its designer drew it, or side by side if the pieces share parts. NULL as above. */
NwPosedScene *nw_posed_scene_sketch(const NwDesign *design);
void nw_posed_scene_free(NwPosedScene *show); /* NULL is allowed */

/* Where body b is drawn; `explode` 0 to some 2 moves it outwards from the middle as well. */
void nw_posed_scene_offset(const NwPosedScene *show, int body, double position, double explode,
                           double offset[3]);

/* The bodies that travel at this position; 0 at rest at the end. */
uint32_t nw_posed_scene_moving(const NwPosedScene *show, double position);

/* Fills a scene: body b becomes scene body b. With `wood` all in one tone. */
void nw_posed_scene_fill(const NwPosedScene *show, NwScene *scene, bool wood);
void nw_posed_scene_place(const NwPosedScene *show, NwScene *scene, double position,
                          double explode);

/* Adds, as ghosts, the parts of the envelope that no body fills at the start. */
void nw_posed_scene_add_rest(const NwPosedScene *show, const NwDesign *design, NwScene *scene);

/* Draws the way of the bodies that slide `slide` moves, as one line from their middle; of a long
 * way only as much as the assembly is wide, so that the arrow's head stays in the picture. */
void nw_posed_scene_add_path(const NwPosedScene *show, NwScene *scene, int slide, double explode);

#endif
