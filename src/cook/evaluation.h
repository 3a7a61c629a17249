/* An evaluation: one candidate looked into, stage after stage (advisor.h). It carries what the
 * stages share: the altered design, the survivors of the cooks, the proof. Thread: each belongs to
 * one. */
#ifndef NW_COOK_EVALUATION_H
#define NW_COOK_EVALUATION_H

#include "cook/queue.h"

typedef struct NwEvaluation NwEvaluation;

/* What every evaluation of an advisor is about; borrowed. */
typedef struct NwAim {
    NwBaseline *baseline;
    long target;      /* a known cook, or -1: all */
    NwStatus opens;   /* the intended assembly, before */
    int level, total; /* and its way out */
    const NwSlide *slides;
} NwAim;

NwEvaluation *nw_evaluation_new(const NwAim *aim, const NwCandidate *candidate);
void nw_evaluation_free(NwEvaluation *evaluation); /* NULL is allowed */

typedef enum NwEvaluationEnd {
    NW_EVALUATION_GOES_ON, /* *effort is used up */
    NW_EVALUATION_RANKED,  /* a stage is done, and the rank may have become worse */
    NW_EVALUATION_PROVED,  /* the candidate has its proposal */
    NW_EVALUATION_MISSED,  /* see nw_evaluation_miss */
    NW_EVALUATION_VOID,    /* the intended assembly does not fit */
} NwEvaluationEnd;

/* Goes on with the stage in work, to the end of that stage at most. */
NwEvaluationEnd nw_evaluation_step(NwEvaluation *evaluation, long *effort);

/* The stage in work, and how far it has come, 0 to 1; 0 where that is not known. */
NwFrontStage nw_evaluation_stage(const NwEvaluation *evaluation, double *share);

/* The candidate as it stands. */
const NwCandidate *nw_evaluation_get(const NwEvaluation *evaluation);

NwMiss nw_evaluation_miss(const NwEvaluation *evaluation);

/* Whether the cook asked for (or any, if all are) is known to be gone. */
bool nw_evaluation_kills(const NwEvaluation *evaluation);

/* How many full searches it has begun. */
size_t nw_evaluation_proofs(const NwEvaluation *evaluation);

/* Where the intended assembly still fits. */
bool nw_evaluation_fits(const NwEvaluation *evaluation);

/* What it has found out so far, and how to hand that to a new one of the same candidate. */
void nw_evaluation_write(const NwEvaluation *evaluation, NwWriter *writer);
void nw_evaluation_read(NwEvaluation *evaluation, NwReader *reader);

#endif
