/* A census: every assembly of one design, and whether each comes apart. What "a full new search"
 * means in this folder: the fit search to its end, and a slide search for whatever it finds.
 *
 * A pull iterator; effort is counted in nodes of the one and expanded states of the other. It can
 * be left between two steps for as long as one likes. Thread: each belongs to one. */
#ifndef NW_COOK_CENSUS_H
#define NW_COOK_CENSUS_H

#include "fit/fit.h"
#include "slide/way_out.h"

/* One assembly. `opens`: NW_OK it comes apart, NW_NONE it is proved that it does not, NW_LIMIT
 * undecided. Bodies of the slides are numbered as the placements are. */
typedef struct NwFound {
    uint64_t key;
    NwPlacement *placements; /* as many as the fit has */
    NwStatus opens;
    int level, total;
    NwSlide *slides; /* those of the way out, NULL unless it opens */
} NwFound;

typedef struct NwFounds {
    NwFound *list;
    size_t count, capacity;
} NwFounds;

void nw_founds_clear(NwFounds *founds);

/* A copy of `count` placements at the end of the list; the rest of it is to be filled in. Borrowed
 * until the next one is added. */
NwFound *nw_founds_add(NwFounds *founds, const NwPlacement *placements, size_t count);

/* A copy without the ways out; `bodies` is the number of placements of each. */
NwFounds nw_founds_copy(const NwFounds *founds, size_t bodies);

typedef struct NwCensus NwCensus;

/* `fit` and `slides` are borrowed; `kinds` numbers the shape of each piece for the tables of
 * `slides` (slide/clearance.h), so that pieces that have not changed keep theirs from one census
 * to the next. */
NwCensus *nw_census_new(const NwFit *fit, NwTakeApart *slides, const int *kinds,
                        uint32_t max_states);
void nw_census_free(NwCensus *census); /* NULL is allowed */

/* The assembly with this key is not to be taken apart: it is known that it comes apart. It is
 * listed without a way out. */
void nw_census_spare(NwCensus *census, uint64_t key);

/* NW_OK: there is one more at the end of the list, NW_NONE: that was all, NW_STOPPED: `*effort` is
 * used up. Takes off *effort what it has spent. */
NwStatus nw_census_step(NwCensus *census, long *effort);

/* What there is so far: borrowed, or handed over. */
const NwFounds *nw_census_get(const NwCensus *census);
NwFounds nw_census_take(NwCensus *census);

/* The share of the fit search that is done, 0 to 1. */
double nw_census_share(const NwCensus *census);

/* Sets up a slide search for `count` placements of pieces of a design. */
NwStatus nw_census_slide(NwTakeApart *slides, const NwDesign *design, const int *kinds,
                         const NwPlacement *placements, int count, uint32_t max_states);

/* Goes on with it, taking off *effort. */
NwStatus nw_census_slide_on(NwTakeApart *slides, long *effort);

#endif
