#include "cook/proof.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct NwProof {
    NwBaseline *baseline;
    const NwVariant *variant;
    NwFit *fit;
    NwEnumeration *enumeration;
    uint64_t intended; /* its key in `fit` */
    size_t most;
    bool *origins;
    NwOutcome outcome;
};

void nw_outcome_clear(NwOutcome *outcome) {
    free(outcome->fates);
    free(outcome->slides);
    *outcome = (NwOutcome){0};
}

NwProof *nw_proof_new(NwBaseline *baseline, const NwVariant *variant, NwFit *fit, size_t most) {
    NwProof *proof = nw_alloc(1, sizeof *proof);
    *proof = (NwProof){.baseline = baseline, .variant = variant, .fit = fit, .most = most};
    proof->enumeration =
        nw_enumeration_new(fit, baseline->slides, variant->kinds, baseline->max_states);
    proof->origins = nw_alloc(baseline->known_count, sizeof *proof->origins);
    proof->outcome.fates = nw_alloc(baseline->known_count, sizeof *proof->outcome.fates);
    proof->outcome.opens = NW_STOPPED;
    NwAssembly assembly;
    if (nw_fit_intended(fit, &assembly) == NW_OK)
        proof->intended = assembly.key;
    return proof;
}

void nw_proof_spare_intended(NwProof *proof) {
    nw_enumeration_spare(proof->enumeration, proof->intended);
}

void nw_proof_free(NwProof *proof) {
    if (!proof)
        return;
    nw_enumeration_free(proof->enumeration);
    nw_fit_free(proof->fit);
    free(proof->origins);
    nw_outcome_clear(&proof->outcome);
    free(proof);
}

static int compare_ints(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

/* The known assemblies that this one, or where sameness may have changed any image of it, has the
 * pieces of. */
static size_t trace(NwProof *proof, const NwFound *found) {
    const NwBaseline *baseline = proof->baseline;
    const NwPlacementTable *places = proof->fit->places;
    memset(proof->origins, 0, baseline->known_count * sizeof *proof->origins);
    if (proof->variant->sameness)
        return nw_survivor_origins(baseline, proof->variant, found->placements, proof->origins);
    int set[NW_BODIES_MAX], image[NW_BODIES_MAX];
    NwPlacement placements[NW_BODIES_MAX];
    size_t origins = 0;
    for (int b = 0; b < baseline->bodies; b++)
        set[b] = nw_placement_table_of_motion(places, proof->fit->design, found->placements[b]);
    for (int g = 0; g < proof->fit->group->order; g++) {
        for (int b = 0; b < baseline->bodies; b++)
            image[b] = nw_symmetry_group_image(proof->fit->group, g, set[b]);
        qsort(image, (size_t)baseline->bodies, sizeof *image, compare_ints);
        for (int b = 0; b < baseline->bodies; b++)
            placements[b] = places->places[image[b]];
        origins += nw_survivor_origins(baseline, proof->variant, placements, proof->origins);
    }
    return origins;
}

static void note_intended(NwProof *proof, const NwFound *found) {
    NwOutcome *outcome = &proof->outcome;
    outcome->opens = found->opens;
    outcome->level = found->level;
    outcome->total = found->total;
}

/* The fate of all that the assembly just traced was before. */
static void note_fates(NwProof *proof, NwFate fate) {
    NwFate *fates = proof->outcome.fates;
    for (size_t i = 0; i < proof->baseline->known_count; i++)
        if (proof->origins[i] && fate > fates[i])
            fates[i] = fate;
}

static void note(NwProof *proof, const NwFound *found) {
    NwOutcome *outcome = &proof->outcome;
    outcome->assemblies++;
    outcome->searched++;
    NwFate fate = NW_FATE_MERGED;
    if (found->key == proof->intended) {
        note_intended(proof, found);
        trace(proof, found);
        note_fates(proof, fate);
        return;
    }
    fate = found->opens == NW_OK     ? NW_FATE_OPENS
           : found->opens == NW_NONE ? NW_FATE_BLOCKED
                                     : NW_FATE_UNDECIDED;
    outcome->cooks += fate == NW_FATE_OPENS;
    outcome->unreachable += fate == NW_FATE_BLOCKED;
    outcome->undecided += fate == NW_FATE_UNDECIDED;
    if (!trace(proof, found)) {
        outcome->new_assemblies++;
        outcome->new_cooks += fate == NW_FATE_OPENS;
    }
    note_fates(proof, fate);
}

NwStatus nw_proof_step(NwProof *proof, long *effort) {
    for (;;) {
        NwStatus status = nw_enumeration_step(proof->enumeration, effort);
        if (status != NW_OK)
            return status;
        const NwFounds *founds = nw_enumeration_get(proof->enumeration);
        note(proof, &founds->list[founds->count - 1]);
        if (proof->most && proof->outcome.cooks + proof->outcome.undecided >= proof->most)
            return NW_LIMIT;
    }
}

NwOutcome nw_proof_take(NwProof *proof) {
    NwOutcome outcome = proof->outcome;
    proof->outcome = (NwOutcome){0};
    return outcome;
}

const NwFounds *nw_proof_founds(const NwProof *proof) {
    return nw_enumeration_get(proof->enumeration);
}

double nw_proof_share(const NwProof *proof) {
    return nw_enumeration_share(proof->enumeration);
}

NwFounds nw_proof_dup_founds(const NwProof *proof, int level, int total) {
    NwFounds founds =
        nw_founds_copy(nw_enumeration_get(proof->enumeration), (size_t)proof->baseline->bodies);
    for (size_t i = 0; i < founds.count; i++) {
        if (founds.list[i].key != proof->intended)
            continue;
        founds.list[i].level = level;
        founds.list[i].total = total;
    }
    return founds;
}

void nw_proof_write(const NwProof *proof, NwWriter *writer) {
    nw_enumeration_write(proof->enumeration, writer);
}

void nw_proof_read(NwProof *proof, NwReader *reader) {
    if (!nw_enumeration_read(proof->enumeration, reader))
        return;
    const NwFounds *founds = nw_enumeration_get(proof->enumeration);
    size_t settled = founds->count - (nw_enumeration_is_sliding(proof->enumeration) ? 1 : 0);
    for (size_t i = 0; i < settled; i++)
        note(proof, &founds->list[i]);
}
