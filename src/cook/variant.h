/* An altered design: the baseline's design after some changes, and which search it needs.
 *
 * Adding parts, and nothing else, all but forbids new assemblies. Take an assembly of the altered
 * design and leave the added parts out again. No piece reaches further than before and none
 * overlaps another, so the only thing that may be wrong with what is left is a hole: where an added
 * part stood, its place is open now. In the intended assembly that place may be empty; elsewhere
 * the piece may carry the added part to a place that must be filled.
 *
 *      +---+---+---+      P = 1 2, and 3 may be empty. P and 3 together fill the row, either way
 *      | 1 | 2 |(3)|      round. The other way round the added part is in place 1, and without it
 *      +---+---+---+      1 would be open, which is not allowed: no search had found that before.
 *
 * So the claim is: *adding creates no new assembly if every place that the piece can take carries
 * the added part outside the envelope or to where the design allows a hole*. Then every assembly of
 * the altered design is a known one, with the pieces in the same places, and the search is limited
 * to those (`known_only`). One more case is left out: a piece with a cut cell that becomes a piece
 * of whole cells may stand at odd shifts, where it could not be before. And where mirror images
 * count as one, or nothing may be empty any more (see below), which assemblies are the same may
 * change (baseline.h). In all these cases, and
 * whenever a part is handed over or taken away, the full search runs. The tests compare the claim
 * with full searches, and show that the condition is needed.
 *
 * When the pieces come to fill the envelope to the last part, nothing can be empty, and what may be
 * is dropped from the design. That is more than tidiness: a part that may be empty sets its place
 * apart from its images under the symmetries of the envelope, and with none the images of one
 * assembly count as one again.
 *
 * Ownership: `clear` frees what `make` made. Thread: reads the baseline, numbers its shapes. */
#ifndef NW_COOK_VARIANT_H
#define NW_COOK_VARIANT_H

#include "cook/baseline.h"
#include "cook/change.h"
#include "fit/setup.h"

typedef struct NwVariant {
    NwDesign *design;
    uint64_t changed; /* bit p: piece p has changed */
    int kinds[NW_PIECES_MAX];
    bool filled;     /* nothing is left empty any more */
    bool adds_only;  /* every change is a give */
    bool sameness;   /* the baseline's turns tell which assemblies are the same */
    bool known_only; /* it has no assembly but the known ones; settled by nw_variant_settle */
} NwVariant;

/* False, with nothing to clear, if the intended assembly does not fit after the changes. */
bool nw_variant_make(NwBaseline *baseline, const NwChange *changes, int count, NwVariant *variant);
void nw_variant_clear(NwVariant *variant);

/* Whether each changed piece is one face-connected lump; *piece (NULL allowed) names one that is
 * not. */
bool nw_variant_holds(const NwVariant *variant, int *piece);

/* Finds out about `known_only`. Cost: a look at each place of each piece that has won parts. */
void nw_variant_settle(const NwBaseline *baseline, const NwChange *changes, int count,
                       NwVariant *variant);

/* The fit problem of the altered design, to be set up. Places of unchanged pieces are copied from
 * the baseline's. NW_TOO_MANY as in nw_fit_new; *setup is then NULL. */
NwStatus nw_variant_set_up(const NwBaseline *baseline, const NwVariant *variant,
                           NwFitSetup **setup);

static inline bool nw_variant_has(const NwVariant *variant, int piece) {
    return variant->changed >> piece & 1;
}

#endif
