/* The advisor: which smallest changes of parts remove a cook, best first, each of them proved.
 *
 * A candidate is one change (candidates.h) or a pair. It goes through stages, cheap ones first, and
 * most fall out early:
 *
 *     fits      the intended assembly still fits; the pieces that change are one lump each; what is
 *               left of each cook (survivor.h): sets of bits, no search
 *     marks     what hangs by one face, what pricks: known before any search
 *     opens     the intended assembly still comes apart: by its old way out where that is enough
 *               (way_out_reuse.h), or one slide search
 *     kills     the survivors of the cooks are tried with slides; the cook in question must be gone
 *     proved    a full new search of the altered design (proof.h), or, where nothing can be new
 *               (variant.h), the sum of what is known
 *
 * All candidates wait in a queue by their rank (rank.h), of which each stage makes more known and
 * which can only get worse. The one in front is looked into until it is proved or no longer in
 * front; a proved one in front is the best of all that is left, and is handed out. So the first
 * answer comes after few searches, and the answers come in their final order.
 *
 * A change that kills the cook but breaks something else is a *near miss*, kept with its reason.
 * Pairs are tried when single changes are through and none does it all (or if asked for): each
 * change that leaves the intended assembly fitting, followed by each that is possible then, if no
 * half of the pair does it all alone. What is found is a fact: after NW_NONE nothing within these
 * bounds was left out.
 *
 * A proposal must remove the cook asked for (or, asked for all, at least one) and leave fewer cooks
 * than there were; an undecided assembly counts as a cook here, and makes a proposal less than
 * proved. Levels and totals are those of the intended assembly as it is drawn.
 *
 * A pull iterator; effort is counted in nodes and expanded states. Between two steps it may rest
 * for as long as one likes. Thread: each belongs to one; the proposals may be read by others as
 * long as the advisor is not freed. */
#ifndef NW_COOK_ADVISOR_H
#define NW_COOK_ADVISOR_H

#include "cook/proposal.h"

typedef struct NwAdvisorOptions {
    NwBaselineOptions baseline;
    uint64_t cook; /* the key of one, or 0: all */
    bool pairs;    /* try pairs even if single changes do it all */
    bool singles;  /* never try pairs */
} NwAdvisorOptions;

enum { NW_MISSES_MAX = 2000 }; /* that many are kept; all are counted */

typedef struct NwAdvisorProgress {
    int changes;  /* 0: the design itself is being searched; then 1, then 2 */
    double share; /* of the candidates of that many changes that are settled, 0 to 1 */
    size_t tried[NW_CHANGES_MAX + 1];   /* candidates, by their number of changes */
    size_t settled[NW_CHANGES_MAX + 1]; /* of those */
    size_t proofs;                      /* full new searches begun */
    size_t missed[NW_MISS_COUNT];
} NwAdvisorProgress;

/* The candidate that is looked into now. */
typedef struct NwFront {
    NwChange changes[NW_CHANGES_MAX];
    int count;
    NwFrontStage stage;
    double share; /* of the cooks tried with slides, or of the full search; 0 in other stages */
} NwFront;

typedef struct NwAdvisor NwAdvisor;

/* All at once, and fails as nw_baseline_new. */
NwStatus nw_advisor_new(const NwDesign *design, NwAdvisorOptions options, NwAdvisor **advisor);

/* On a baseline that was made with options.baseline, which it takes over. */
NwAdvisor *nw_advisor_new_on(NwBaseline *baseline, NwAdvisorOptions options);
void nw_advisor_free(NwAdvisor *advisor); /* NULL is allowed */

/* Before the first step: what is known already; see nw_baseline_learn. */
NwStatus nw_advisor_learn(NwAdvisor *advisor, const NwFound *founds, size_t count);

/* Only searches the design itself. NW_NONE: all its assemblies are known; NW_STOPPED: `effort` is
 * used up. nw_advisor_step does it too. */
NwStatus nw_advisor_search(NwAdvisor *advisor, long effort);

/* Before anything is tried: which cook, in place of what the options say. */
void nw_advisor_aim(NwAdvisor *advisor, uint64_t cook);

/* NW_OK: *proposal is the next best (borrowed, for as long as the advisor lives); NW_NONE: there
 * are no more; NW_STOPPED: `effort` is used up. NW_EMPTY: there is no such cook. */
NwStatus nw_advisor_step(NwAdvisor *advisor, long effort, const NwProposal **proposal);

/* The facts about the unchanged design: its known assemblies are complete after the first NW_OK or
 * NW_NONE, or when progress.changes is no longer 0. Borrowed; the slides in it are the advisor's,
 * so whoever explains parts (explain.h) with it must not do so between two steps of an evaluation.
 */
NwBaseline *nw_advisor_ground(NwAdvisor *advisor);

/* Level and total of the intended assembly before; NW_OK if it comes apart. */
NwStatus nw_advisor_before(const NwAdvisor *advisor, int *level, int *total);

void nw_advisor_progress(const NwAdvisor *advisor, NwAdvisorProgress *progress);

/* False, with *front cleared, if none is: before the first, between two, and after the last. */
bool nw_advisor_get_front(const NwAdvisor *advisor, NwFront *front);

/* The proposals handed out so far, in their order, those of earlier sessions (see
 * nw_advisor_restore) first. The array is borrowed until the next step, the proposals for as long
 * as the advisor lives. */
const NwProposal *const *nw_advisor_proposals(const NwAdvisor *advisor, size_t *count);

/* Near misses so far, in the order in which they were met. Borrowed until the next step. */
const NwMiss *nw_advisor_misses(const NwAdvisor *advisor, size_t *count);

/* All that is settled, as bytes for nw_advisor_restore; the caller frees them. May be called
 * between any two steps. What was saved before the first nw_advisor_step knows of the design only,
 * and answers to whatever is asked of it then. */
void nw_advisor_save(const NwAdvisor *advisor, uint8_t **bytes, size_t *size);

/* Before the first step, in place of nw_advisor_learn or after it (what is saved counts then):
 * goes on where the bytes were saved. What was handed out is in nw_advisor_proposals and is not
 * handed out again. NW_BAD_RESUME if the bytes are damaged, or belong to another design or to other
 * options: the advisor then begins at the beginning, and what it had learnt may be forgotten. */
NwStatus nw_advisor_restore(NwAdvisor *advisor, const uint8_t *bytes, size_t size);

#endif
