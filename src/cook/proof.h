/* A proof: what a full new search says of an altered design, told in terms of what was known.
 *
 * Each assembly of the altered design is traced back (survivor.h): it is the intended one, or has
 * the pieces where one or more known assemblies have them, or is new. The other way round that
 * gives every known assembly its fate. A pull iterator. Thread: each belongs to one. */
#ifndef NW_COOK_PROOF_H
#define NW_COOK_PROOF_H

#include "cook/survivor.h"

/* What has become of a known assembly; of several survivors the one that counts most, so these are
 * in rising order. */
typedef enum NwFate {
    NW_FATE_NO_FIT,    /* it no longer fits */
    NW_FATE_MERGED,    /* it has become the same as the intended assembly */
    NW_FATE_BLOCKED,   /* it fits, and proved: no slides take it apart */
    NW_FATE_UNDECIDED, /* it fits, and the slide search reached its limit */
    NW_FATE_OPENS,     /* it fits and comes apart */
} NwFate;

typedef struct NwOutcome {
    NwFate *fates;  /* for each known assembly of the baseline */
    NwStatus opens; /* the intended assembly, and its way out */
    int level, total;
    NwSlide *slides;   /* `total` of them; bodies as in the baseline's design->intended */
    size_t assemblies; /* all */
    size_t cooks, unreachable, undecided; /* all but the intended one */
    size_t new_assemblies, new_cooks;     /* those that no known one accounts for */
    size_t searched; /* assemblies that a fit search of the altered design has found; 0 if the
                        known ones were enough */
} NwOutcome;

typedef struct NwProof NwProof;

/* Searches `fit`, which it takes over: a fit of altered->design. Ground and altered design are
 * borrowed. The search is given up (NW_LIMIT) as soon as `most` assemblies besides the intended
 * one open or are undecided; 0: never. */
NwProof *nw_proof_new(NwBaseline *baseline, const NwVariant *variant, NwFit *fit, size_t most);
void nw_proof_free(NwProof *proof); /* NULL is allowed */

/* The intended assembly is known to come apart, and what is said of it in the outcome and among the
 * founds will come from elsewhere. */
void nw_proof_spare_intended(NwProof *proof);

/* NW_NONE: complete; NW_LIMIT: given up; NW_STOPPED: *effort is used up. */
NwStatus nw_proof_step(NwProof *proof, long *effort);

/* Where it stands, and how to set a new one of the same altered design there. If the reader is bad
 * afterwards it is of no use. */
void nw_proof_write(const NwProof *proof, NwWriter *writer);
void nw_proof_read(NwProof *proof, NwReader *reader);

/* The outcome, so far or complete, is handed over. */
NwOutcome nw_proof_take(NwProof *proof);
void nw_outcome_clear(NwOutcome *outcome);

/* The share of the fit search that is done, 0 to 1. */
double nw_proof_share(const NwProof *proof);

/* All assemblies that the search has found, with keys of altered->design. Borrowed. */
const NwFounds *nw_proof_founds(const NwProof *proof);

/* A copy of these without the ways out, in which the intended one has this level and total. */
NwFounds nw_proof_dup_founds(const NwProof *proof, int level, int total);

#endif
