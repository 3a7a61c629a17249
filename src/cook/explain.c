#include "cook/explain.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "cook/shape.h"
#include "lattice/connect.h"

struct NwExplain {
    NwBaseline *baseline;
    NwVariant variant;
    NwFitSetup *setup; /* of the proof, while it is set up */
    NwProof *proof;    /* NULL if the piece does not hold */
    NwStatus failed;   /* NW_OK, or why the proof cannot be set up */
    bool sliding, slid;
    int level; /* of the intended assembly as drawn: with the part first, then without */
    NwStatus opens;
    NwExplanation explanation;
    bool complete;
};

/* The body that has the part, and the part in the frame of its piece. */
static NwStatus find_owner(const NwBaseline *baseline, NwPart part, int *body, NwPart *own) {
    const NwDesign *design = baseline->design;
    NwStatus status = NW_EMPTY;
    for (*body = 0; *body < baseline->bodies; ++*body) {
        const NwPlacement *placement = &design->intended[*body];
        const NwSolid *solid = design->pieces[placement->piece].solid;
        NwSolid *there;
        if (nw_solid_moved(solid, placement->motion, &there) != NW_OK)
            continue;
        bool has = nw_solid_has(there, part);
        nw_solid_free(there);
        if (!has)
            continue;
        NwMotion back = nw_motion_inverse(placement->motion);
        if (nw_vec_parity(back.shift))
            return NW_OFF_LATTICE;
        *own = nw_part_moved(part, back);
        return NW_OK;
    }
    return status;
}

/* Every copy of the piece leaves its place of the part empty. */
static NwStatus leave_out(NwExplain *explain, int piece, NwPart own) {
    NwVariant *variant = &explain->variant;
    NwDesign *design = nw_design_copy(explain->baseline->design);
    variant->design = design;
    variant->changed = nw_bit(piece);
    memcpy(variant->kinds, explain->baseline->kinds, sizeof variant->kinds);
    nw_solid_remove(design->pieces[piece].solid, own.cell, 1 << own.bit);
    variant->kinds[piece] =
        nw_shapes_number(explain->baseline->shapes, design->pieces[piece].solid);
    for (size_t i = 0; i < design->intended_count; i++) {
        NwMotion motion = design->intended[i].motion;
        if (design->intended[i].piece != piece)
            continue;
        if (nw_vec_parity(motion.shift))
            return NW_OFF_LATTICE;
        NwPart there = nw_part_moved(own, motion);
        nw_solid_add(design->may_be_empty, there.cell, 1 << there.bit);
    }
    return NW_OK;
}

NwStatus nw_explain_new(NwBaseline *baseline, NwPart part, NwExplain **result) {
    *result = NULL;
    int body;
    NwPart own;
    NwStatus status = find_owner(baseline, part, &body, &own);
    if (status != NW_OK)
        return status;
    NwExplain *explain = nw_alloc(1, sizeof *explain);
    explain->baseline = baseline;
    int piece = baseline->design->intended[body].piece;
    explain->explanation.piece = piece;
    explain->explanation.body = body;
    explain->explanation.may_be_empty = nw_solid_has(baseline->design->may_be_empty, part);
    status = leave_out(explain, piece, own);
    explain->explanation.holds =
        status == NW_OK && nw_solid_lumps(explain->variant.design->pieces[piece].solid) == 1;
    if (explain->explanation.holds)
        status = nw_fit_setup_new(explain->variant.design, (NwFitOptions){0}, &explain->setup);
    if (status != NW_OK) {
        nw_explain_free(explain);
        return status;
    }
    explain->complete = !explain->setup;
    *result = explain;
    return NW_OK;
}

void nw_explain_free(NwExplain *explain) {
    if (!explain)
        return;
    nw_fit_setup_free(explain->setup);
    nw_proof_free(explain->proof);
    nw_variant_clear(&explain->variant);
    nw_outcome_clear(&explain->explanation.outcome);
    free(explain);
}

/* Takes the intended assembly of a design apart, as it is drawn. */
static NwStatus slide(NwExplain *explain, const NwDesign *design, const int *kinds, long *effort) {
    NwBaseline *baseline = explain->baseline;
    if (!explain->sliding)
        nw_enumeration_slide(baseline->slides, design, kinds, design->intended, baseline->bodies,
                             baseline->max_states);
    explain->sliding = true;
    NwStatus status = nw_enumeration_slide_on(baseline->slides, effort);
    explain->sliding = status == NW_STOPPED;
    return status;
}

bool nw_explain_revives(const NwBaseline *baseline, const NwExplanation *explanation,
                        size_t known) {
    return baseline->known[known].opens != NW_OK &&
           explanation->outcome.fates[known] == NW_FATE_OPENS;
}

static void conclude(NwExplain *explain, NwStatus opens, const NwWayOut *way) {
    NwExplanation *told = &explain->explanation;
    const NwBaseline *baseline = explain->baseline;
    told->outcome = nw_proof_take(explain->proof);
    NwOutcome *outcome = &told->outcome;
    outcome->opens = opens;
    outcome->level = opens == NW_OK ? way->level : 0;
    outcome->total = opens == NW_OK ? way->total : 0;
    if (opens == NW_OK && way->total) {
        outcome->slides = nw_alloc((size_t)way->total, sizeof *outcome->slides);
        memcpy(outcome->slides, way->slides, (size_t)way->total * sizeof *outcome->slides);
    }
    for (size_t i = 0; i < baseline->known_count; i++)
        told->revived += nw_explain_revives(baseline, told, i);
    told->idle = !told->revived && !outcome->new_cooks && !outcome->undecided &&
                 opens == explain->opens && outcome->level == explain->level;
    explain->complete = true;
}

static NwStatus set_up(NwExplain *explain, long *effort) {
    NwFit *fit;
    NwStatus status = nw_fit_setup_go_on(explain->setup, effort, &fit);
    if (status == NW_STOPPED)
        return status;
    nw_fit_setup_free(explain->setup);
    explain->setup = NULL;
    if (status == NW_OK)
        explain->proof = nw_proof_new(explain->baseline, &explain->variant, fit, 0);
    return status;
}

NwStatus nw_explain_step(NwExplain *explain, long effort) {
    NwBaseline *baseline = explain->baseline;
    if (explain->complete)
        return NW_NONE;
    if (explain->setup)
        explain->failed = set_up(explain, &effort);
    if (explain->failed != NW_OK)
        return explain->failed;
    NwStatus status = nw_proof_step(explain->proof, &effort);
    if (status != NW_NONE)
        return status;
    if (!explain->slid) {
        status = slide(explain, baseline->design, baseline->kinds, &effort);
        if (status == NW_STOPPED)
            return status;
        explain->opens = status;
        explain->level = status == NW_OK ? nw_take_apart_result(baseline->slides)->level : 0;
        explain->slid = true;
    }
    status = slide(explain, explain->variant.design, explain->variant.kinds, &effort);
    if (status == NW_STOPPED)
        return status;
    conclude(explain, status, nw_take_apart_result(baseline->slides));
    return NW_NONE;
}

const NwExplanation *nw_explain_get(const NwExplain *explain) {
    return &explain->explanation;
}

const NwFounds *nw_explain_founds(const NwExplain *explain) {
    return explain->proof ? nw_proof_founds(explain->proof) : NULL;
}
