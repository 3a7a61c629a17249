/* The inside of an evaluation, for evaluation.c and evaluation_saved.c. */
#ifndef NW_COOK_EVALUATION_PRIVATE_H
#define NW_COOK_EVALUATION_PRIVATE_H

#include "cook/evaluation.h"

typedef enum NwStep {
    NW_STEP_FITS,
    NW_STEP_MARKS,
    NW_STEP_START_OPENS,
    NW_STEP_OPENS,
    NW_STEP_KILLS,
    NW_STEP_PROVE,
    NW_STEP_PROVING
} NwStep;

struct NwEvaluation {
    const NwAim *aim;
    NwCandidate candidate;
    NwVariant variant;
    bool fits, kills;
    NwStep step;
    bool sliding;
    NwSurvivors cooks;
    bool *merged; /* of each known assembly: a survivor is the same as the intended one */
    size_t at;    /* of the survivors, the one in work */
    NwOutcome outcome;
    NwFounds founds;   /* with a proof */
    NwFitSetup *setup; /* of the proof, while it is set up */
    NwProof *proof;
    size_t proofs;
    NwMissReason reason;
    int piece;
    uint8_t *past; /* what an earlier session has found out, until it is recalled; or NULL */
    size_t past_size, past_at;
};

/* The intended assembly comes apart in this way. */
void nw_evaluation_take_way(NwEvaluation *evaluation, int level, int total, const NwSlide *slides);

/* Takes up what an earlier session has found out from the stage `opens` on; false if it has not
 * come to its end. Then, once there is a new proof, how far that had come; false if the proof is
 * spoilt by it and must be begun anew. */
bool nw_evaluation_recall(NwEvaluation *evaluation);
bool nw_evaluation_recall_proof(NwEvaluation *evaluation);

#endif
