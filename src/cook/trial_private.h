/* The inside of a trial, for trial.c and trial_saved.c. */
#ifndef NW_COOK_TRIAL_PRIVATE_H
#define NW_COOK_TRIAL_PRIVATE_H

#include "cook/trial.h"

typedef enum NwStep {
    NW_STEP_FITS,
    NW_STEP_MARKS,
    NW_STEP_START_OPENS,
    NW_STEP_OPENS,
    NW_STEP_KILLS,
    NW_STEP_PROVE,
    NW_STEP_PROVING
} NwStep;

struct NwTrial {
    const NwAim *aim;
    NwCandidate candidate;
    NwAltered altered;
    bool fits, kills;
    NwStep step;
    bool sliding;
    NwRemnants cooks;
    bool *merged; /* of each known assembly: a remnant is the same as the intended one */
    size_t at;    /* of the remnants, the one in work */
    NwOutcome outcome;
    NwFounds founds; /* with a proof */
    NwProof *proof;
    size_t proofs;
    NwMissReason reason;
    int piece;
    uint8_t *past; /* what an earlier session has found out, until it is recalled; or NULL */
    size_t past_size, past_at;
};

/* The intended assembly comes apart in this way. */
void nw_trial_take_way(NwTrial *trial, int level, int total, const NwSlide *slides);

/* Takes up what an earlier session has found out from the stage `opens` on; false if it has not
 * come to its end. Then, once there is a new proof, how far that had come; false if the proof is
 * spoilt by it and must be begun anew. */
bool nw_trial_recall(NwTrial *trial);
bool nw_trial_recall_proof(NwTrial *trial);

#endif
