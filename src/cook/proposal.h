/* What comes of looking into a candidate (advisor.h): a proposal, or a near miss with its reason.
 * Thread: read-only once made. */
#ifndef NW_COOK_PROPOSAL_H
#define NW_COOK_PROPOSAL_H

#include "cook/proof.h"
#include "cook/rank.h"

/* The stages of a candidate. */
typedef enum NwFrontStage {
    NW_FRONT_FITS,
    NW_FRONT_MARKS,
    NW_FRONT_OPENS,
    NW_FRONT_KILLS,
    NW_FRONT_PROVED, /* the full new search */
    NW_FRONT_COUNT
} NwFrontStage;

typedef struct NwProposal {
    NwChange changes[NW_CHANGES_MAX];
    int count;
    NwRank rank;
    NwOutcome outcome; /* fates: of the baseline's known assemblies */
    NwDesign *design;  /* the altered design, settled */
    NwFounds founds;   /* all its assemblies, without ways out; keys only where it was searched */
    bool proved;       /* no assembly is undecided */
} NwProposal;

typedef enum NwMissReason {
    NW_MISS_COOK_STAYS, /* no cook that was asked for is removed; not kept, only counted */
    NW_MISS_LUMPS,      /* `piece` falls into lumps, or is used up */
    NW_MISS_STUCK,      /* the intended assembly no longer comes apart */
    NW_MISS_UNDECIDED,  /* whether it does is undecided */
    NW_MISS_NEW_COOK,   /* as many cooks as before: new ones came */
    NW_MISS_COUNT
} NwMissReason;

typedef struct NwMiss {
    NwChange changes[NW_CHANGES_MAX];
    int count;
    size_t number; /* among the candidates of so many changes */
    NwMissReason reason;
    int piece; /* of NW_MISS_LUMPS */
} NwMiss;

void nw_proposal_free(NwProposal *proposal); /* NULL is allowed */

#endif
