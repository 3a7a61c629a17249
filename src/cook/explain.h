/* What does this part do? The piece is tried without it.
 *
 * The part is left out of its piece (out of all copies), and its places in the intended assembly
 * may then stay empty; everything else is as it was. A full search says which assemblies come apart
 * now that did not before: those are what the part holds off. So a designer sees which corner is
 * the lock, and which parts are idle: without an idle part there is no further cook and the
 * intended assembly has the same level.
 *
 * Fewer parts stand in nobody's way, so the intended assembly still comes apart if it did, at its
 * level or below, and so do the cooks that there are. A pull iterator. Thread: each belongs to
 * one; the baseline is borrowed and must be complete. */
#ifndef NW_COOK_EXPLAIN_H
#define NW_COOK_EXPLAIN_H

#include "cook/proof.h"

typedef struct NwExplanation {
    int piece, body;   /* which has it; the body as in the baseline's design->intended */
    bool may_be_empty; /* the design allows that it stays empty */
    bool holds;        /* without it the piece is one lump; if not, nothing else is told */
    NwOutcome outcome; /* without it */
    size_t revived;    /* known assemblies that open now and did not before */
    bool idle;
} NwExplanation;

typedef struct NwExplain NwExplain;

/* NW_EMPTY: no piece has the part; NW_OFF_LATTICE: it belongs to a copy at an odd shift, whose
 * piece must stay of whole cells; or as nw_fit_setup_new. *explain is then NULL. */
NwStatus nw_explain_new(NwBaseline *baseline, NwPart part, NwExplain **explain);
void nw_explain_free(NwExplain *explain); /* NULL is allowed */

/* NW_NONE: complete; NW_STOPPED: the effort is used up; NW_TOO_MANY: as nw_fit_new. */
NwStatus nw_explain_step(NwExplain *explain, long effort);

/* Borrowed; complete after NW_NONE. */
const NwExplanation *nw_explain_get(const NwExplain *explain);

/* Whether a known assembly is one of the revived. */
bool nw_explain_revives(const NwBaseline *baseline, const NwExplanation *explanation, size_t known);

/* All assemblies without the part, with keys of the design without it. Borrowed; NULL if the piece
 * does not hold. */
const NwFounds *nw_explain_founds(const NwExplain *explain);

#endif
