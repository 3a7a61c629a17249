/* From a design and an assembly to where every body is drawn at any time of the way out.
 *
 * Position p of a way out of n slides is a number from 0 to n: p = 2.25 is a quarter into the third
 * slide. A set that goes out travels until it is clear of everything, with a margin, and stays
 * there. What has parted from it before and stands in its way is pushed on ahead of it, group by
 * group, so that nothing is drawn inside something else.
 *
 * Coordinates: cells. Ownership: a show copies what it needs. Thread: read-only once built. */
#ifndef NW_VIEW_SHOW_H
#define NW_VIEW_SHOW_H

#include "job/finding.h"
#include "view/scene.h"

typedef struct NwShow {
    int body_count, slide_count;
    int *pieces, *copies; /* of each body; copies from 0 */
    NwSolid **solids;     /* of each body, at its place */
    NwColour *colours;    /* of each body */
    uint32_t *movers;     /* of each slide */
    double (*offsets)[3]; /* body b before slide s: [s * body_count + b]; s up to slide_count */
} NwShow;

/* The finding's placements and slides; slides that no verdict came with are none. NULL if a
 * placement is none of this design's lattice. */
NwShow *nw_show_new(const NwDesign *design, const NwFinding *finding);

/* The design as it is drawn: the intended assembly if there is one; else each piece once, where
 * its designer drew it, or side by side if the pieces share parts. NULL as above. */
NwShow *nw_show_sketch(const NwDesign *design);
void nw_show_free(NwShow *show); /* NULL is allowed */

/* Where body b is drawn; `explode` 0 to some 2 moves it outwards from the middle as well. */
void nw_show_offset(const NwShow *show, int body, double position, double explode,
                    double offset[3]);

/* The bodies that travel at this position; 0 at rest at the end. */
uint32_t nw_show_moving(const NwShow *show, double position);

/* Fills a scene: body b becomes scene body b. With `wood` all in one tone. */
void nw_show_fill(const NwShow *show, NwScene *scene, bool wood);
void nw_show_place(const NwShow *show, NwScene *scene, double position, double explode);

/* Adds, as ghosts, the parts of the envelope that no body fills at the start. */
void nw_show_add_rest(const NwShow *show, const NwDesign *design, NwScene *scene);

/* Draws the way of the bodies that slide `slide` moves, as one line from their middle; of a long
 * way only as much as the assembly is wide, so that the arrow's head stays in the picture. */
void nw_show_add_path(const NwShow *show, NwScene *scene, int slide, double explode);

#endif
