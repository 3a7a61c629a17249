/* An enumeration: every assembly of one design, and whether each comes apart. What "a full new
 * search" means in this folder: the fit search to its end, and a slide search for whatever it
 * finds.
 *
 * A pull iterator; effort is counted in nodes of the one and expanded states of the other. It can
 * be left between two steps for as long as one likes. Thread: each belongs to one. */
#ifndef NW_COOK_ENUMERATION_H
#define NW_COOK_ENUMERATION_H

#include "cook/found.h"
#include "slide/way_out.h"

typedef struct NwEnumeration NwEnumeration;

/* `fit` and `slides` are borrowed; `kinds` numbers the shape of each piece for the tables of
 * `slides` (slide/clearance.h), so that pieces that have not changed keep theirs from one
 * enumeration to the next. */
NwEnumeration *nw_enumeration_new(const NwFit *fit, NwTakeApart *slides, const int *kinds,
                                  uint32_t max_states);
void nw_enumeration_free(NwEnumeration *enumeration); /* NULL is allowed */

/* The assembly with this key is not to be taken apart: it is known that it comes apart. It is
 * listed without a way out. */
void nw_enumeration_spare(NwEnumeration *enumeration, uint64_t key);

/* NW_OK: there is one more at the end of the list, NW_NONE: that was all, NW_STOPPED: `*effort` is
 * used up. Takes off *effort what it has spent. */
NwStatus nw_enumeration_step(NwEnumeration *enumeration, long *effort);

/* What there is so far; borrowed. */
const NwFounds *nw_enumeration_get(const NwEnumeration *enumeration);

/* The share of the fit search that is done, 0 to 1. */
double nw_enumeration_share(const NwEnumeration *enumeration);

/* Whether the last on the list still waits for its verdict. */
bool nw_enumeration_is_sliding(const NwEnumeration *enumeration);

/* Where it stands, and how to set a new one of the same design there; false, and it is of no use
 * any more, if the bytes are no position of it. Only a slide search that was in work begins anew.
 */
void nw_enumeration_write(const NwEnumeration *enumeration, NwWriter *writer);
bool nw_enumeration_read(NwEnumeration *enumeration, NwReader *reader);

/* Sets up a slide search for `count` placements of pieces of a design. */
NwStatus nw_enumeration_slide(NwTakeApart *slides, const NwDesign *design, const int *kinds,
                              const NwPlacement *placements, int count, uint32_t max_states);

/* Goes on with it, taking off *effort. */
NwStatus nw_enumeration_slide_on(NwTakeApart *slides, long *effort);

#endif
