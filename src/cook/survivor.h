/* Remnants: what is left of a known assembly when its pieces change.
 *
 * Keep every piece of a known assembly in its place and let the pieces change. Most often the parts
 * then overlap, reach out or leave a hole: the assembly is gone, and a set of bits has shown it. If
 * not, a *survivor* is left, an assembly of the altered design. A piece that was its own image in
 * several ways may now stand in its old place in several ways, so there can be more than one; and
 * where odd motions are lost, the odd image of the assembly is a second source (baseline.h).
 *
 * The *form* of a survivor is the least of its images under the baseline's turns, as the parts that
 * each body covers; equal forms are the same assembly. It is only asked for where the turns tell
 * (variant.h, `sameness`). Thread: reads the baseline and the altered design. */
#ifndef NW_COOK_SURVIVOR_H
#define NW_COOK_SURVIVOR_H

#include "cook/variant.h"

typedef struct NwSurvivor {
    size_t known;            /* of which */
    NwPlacement *placements; /* of the altered design, by piece */
    uint64_t *form;
    bool
        direct; /* its bodies stand as those of the known assembly, not as those of its odd image */
    NwStatus opens; /* what a slide search said, NW_STOPPED before */
    int level, total;
} NwSurvivor;

typedef struct NwSurvivors {
    NwSurvivor *list;
    size_t count, capacity;
} NwSurvivors;

void nw_survivors_clear(NwSurvivors *survivors);

/* Adds what is left of one known assembly, leaving out what is the same as the intended one
 * (`intended` is its form; *merged tells of it) or as one on the list. Returns how many were
 * added. */
size_t nw_survivors_add(NwSurvivors *survivors, const NwBaseline *baseline,
                        const NwVariant *variant, size_t known, const uint64_t *intended,
                        bool *merged);

/* The form of the intended assembly of the altered design; the caller frees it. */
uint64_t *nw_survivor_intended(const NwBaseline *baseline, const NwVariant *variant);

/* From an assembly of the altered design back: the known assemblies that have the pieces in these
 * places. Marks them in `origins`, one flag for each known; returns how many there are. */
size_t nw_survivor_origins(const NwBaseline *baseline, const NwVariant *variant,
                           const NwPlacement *placements, bool *origins);

#endif
