/* The inside of an advisor, for advisor.c, advisor_write.c and advisor_read.c. */
#ifndef NW_COOK_ADVISOR_PRIVATE_H
#define NW_COOK_ADVISOR_PRIVATE_H

#include "cook/advisor.h"
#include "cook/candidates.h"
#include "cook/evaluation.h"

typedef enum NwPhase {
    NW_PHASE_SEARCHING,
    NW_PHASE_MEASURING,
    NW_PHASE_TRYING,
    NW_PHASE_FINISHED
} NwPhase;

struct NwAdvisor {
    NwAdvisorOptions options;
    NwPhase phase;
    NwBaseline *baseline;
    bool sliding;
    NwAim aim;
    NwSlide *slides; /* of aim */
    NwCandidates singles;
    bool *fits;   /* of each single change: the intended assembly does after it */
    bool *is_it;  /* it does all that is asked for, alone */
    bool reached; /* some proposal does */
    NwQueue queue;
    size_t kept;              /* evaluations in the queue */
    NwEvaluation *evaluation; /* in hand */
    NwProposal **proposals;
    size_t proposal_count, proposal_capacity;
    NwMiss *misses;
    size_t miss_count, miss_capacity;
    NwAdvisorProgress progress;
};

/* The saved form (advisor_write.c): its version, and what is written of each candidate. */
enum { NW_ADVISOR_VERSION = 2 };

typedef enum NwWait {
    NW_WAIT_FRESH,   /* waits, and nothing is known of it */
    NW_WAIT_SETTLED, /* over, or among the proposals */
    NW_WAIT_RANKED,  /* waits with a rank */
    NW_WAIT_BEGUN,   /* waits with a rank and an evaluation */
} NwWait;

/* Drops all but the options and the baseline. */
void nw_advisor_forget(NwAdvisor *advisor);

/* Finds the cook that is asked for; NW_EMPTY if there is none. The baseline must be complete. */
NwStatus nw_advisor_choose(NwAdvisor *advisor);

/* Put all single changes, or all pairs, into the queue, in their order. */
void nw_advisor_put_singles(NwAdvisor *advisor);
void nw_advisor_put_pairs(NwAdvisor *advisor);

#endif
