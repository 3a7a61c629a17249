/* A trial: one candidate looked into, stage after stage (advisor.h). It carries what the stages
 * share: the altered design, the remnants of the cooks, the proof. Thread: each belongs to one. */
#ifndef NW_COOK_TRIAL_H
#define NW_COOK_TRIAL_H

#include "cook/queue.h"

typedef struct NwTrial NwTrial;

/* What every trial of an advisor is about; borrowed. */
typedef struct NwAim {
    NwGround *ground;
    long target;      /* a known cook, or -1: all */
    NwStatus opens;   /* the intended assembly, before */
    int level, total; /* and its way out */
    const NwSlide *slides;
} NwAim;

NwTrial *nw_trial_new(const NwAim *aim, const NwCandidate *candidate);
void nw_trial_free(NwTrial *trial); /* NULL is allowed */

typedef enum NwTrialEnd {
    NW_TRIAL_GOES_ON, /* *effort is used up */
    NW_TRIAL_RANKED,  /* a stage is done, and the rank may have become worse */
    NW_TRIAL_PROVED,  /* the candidate has its proposal */
    NW_TRIAL_MISSED,  /* see nw_trial_miss */
    NW_TRIAL_VOID,    /* the intended assembly does not fit */
} NwTrialEnd;

/* Goes on with the stage in work, to the end of that stage at most. */
NwTrialEnd nw_trial_step(NwTrial *trial, long *effort);

/* The stage in work, and how far it has come, 0 to 1; 0 where that is not known. */
NwFrontStage nw_trial_stage(const NwTrial *trial, double *share);

/* The candidate as it stands. */
const NwCandidate *nw_trial_get(const NwTrial *trial);

NwMiss nw_trial_miss(const NwTrial *trial);

/* Whether the cook asked for (or any, if all are) is known to be gone. */
bool nw_trial_kills(const NwTrial *trial);

/* How many full searches it has begun. */
size_t nw_trial_proofs(const NwTrial *trial);

/* Where the intended assembly still fits. */
bool nw_trial_fits(const NwTrial *trial);

/* What it has found out so far, and how to hand that to a new one of the same candidate. */
void nw_trial_write(const NwTrial *trial, NwWriter *writer);
void nw_trial_read(NwTrial *trial, NwReader *reader);

#endif
