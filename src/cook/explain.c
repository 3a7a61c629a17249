#include "cook/explain.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "cook/shape.h"
#include "lattice/connect.h"

struct NwExplain {
    NwGround *ground;
    NwAltered altered;
    NwProof *proof; /* NULL if the piece does not hold */
    bool sliding, slid;
    int level; /* of the intended assembly as drawn: with the part first, then without */
    NwStatus opens;
    NwExplanation explanation;
    bool complete;
};

/* The body that has the part, and the part in the frame of its piece. */
static NwStatus find_owner(const NwGround *ground, NwPart part, int *body, NwPart *own) {
    const NwDesign *design = ground->design;
    NwStatus status = NW_EMPTY;
    for (*body = 0; *body < ground->bodies; ++*body) {
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
    NwAltered *altered = &explain->altered;
    NwDesign *design = nw_design_copy(explain->ground->design);
    altered->design = design;
    altered->changed = nw_bit(piece);
    memcpy(altered->kinds, explain->ground->kinds, sizeof altered->kinds);
    nw_solid_remove(design->pieces[piece].solid, own.cell, 1 << own.bit);
    altered->kinds[piece] = nw_shapes_number(explain->ground->shapes, design->pieces[piece].solid);
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

NwStatus nw_explain_new(NwGround *ground, NwPart part, NwExplain **result) {
    *result = NULL;
    int body;
    NwPart own;
    NwStatus status = find_owner(ground, part, &body, &own);
    if (status != NW_OK)
        return status;
    NwExplain *explain = nw_alloc(1, sizeof *explain);
    explain->ground = ground;
    int piece = ground->design->intended[body].piece;
    explain->explanation.piece = piece;
    explain->explanation.body = body;
    explain->explanation.may_be_empty = nw_solid_has(ground->design->may_be_empty, part);
    status = leave_out(explain, piece, own);
    explain->explanation.holds =
        status == NW_OK && nw_solid_lumps(explain->altered.design->pieces[piece].solid) == 1;
    NwFit *fit = NULL;
    if (explain->explanation.holds)
        status = nw_fit_new(explain->altered.design, (NwFitOptions){0}, &fit);
    if (status != NW_OK) {
        nw_explain_free(explain);
        return status;
    }
    if (fit)
        explain->proof = nw_proof_new(ground, &explain->altered, fit, 0);
    explain->complete = !fit;
    *result = explain;
    return NW_OK;
}

void nw_explain_free(NwExplain *explain) {
    if (!explain)
        return;
    nw_proof_free(explain->proof);
    nw_altered_clear(&explain->altered);
    nw_outcome_clear(&explain->explanation.outcome);
    free(explain);
}

/* Takes the intended assembly of a design apart, as it is drawn. */
static NwStatus slide(NwExplain *explain, const NwDesign *design, const int *kinds, long *effort) {
    NwGround *ground = explain->ground;
    if (!explain->sliding)
        nw_census_slide(ground->slides, design, kinds, design->intended, ground->bodies,
                        ground->max_states);
    explain->sliding = true;
    NwStatus status = nw_census_slide_on(ground->slides, effort);
    explain->sliding = status == NW_STOPPED;
    return status;
}

bool nw_explain_revives(const NwGround *ground, const NwExplanation *explanation, size_t known) {
    return ground->known[known].opens != NW_OK &&
           explanation->outcome.fates[known] == NW_FATE_OPENS;
}

static void conclude(NwExplain *explain, NwStatus opens, const NwWayOut *way) {
    NwExplanation *told = &explain->explanation;
    const NwGround *ground = explain->ground;
    told->outcome = nw_proof_take(explain->proof);
    NwOutcome *outcome = &told->outcome;
    outcome->opens = opens;
    outcome->level = opens == NW_OK ? way->level : 0;
    outcome->total = opens == NW_OK ? way->total : 0;
    if (opens == NW_OK && way->total) {
        outcome->slides = nw_alloc((size_t)way->total, sizeof *outcome->slides);
        memcpy(outcome->slides, way->slides, (size_t)way->total * sizeof *outcome->slides);
    }
    for (size_t i = 0; i < ground->known_count; i++)
        told->revived += nw_explain_revives(ground, told, i);
    told->idle = !told->revived && !outcome->new_cooks && !outcome->undecided &&
                 opens == explain->opens && outcome->level == explain->level;
    explain->complete = true;
}

NwStatus nw_explain_step(NwExplain *explain, long effort) {
    NwGround *ground = explain->ground;
    if (explain->complete)
        return NW_NONE;
    NwStatus status = nw_proof_step(explain->proof, &effort);
    if (status != NW_NONE)
        return status;
    if (!explain->slid) {
        status = slide(explain, ground->design, ground->kinds, &effort);
        if (status == NW_STOPPED)
            return status;
        explain->opens = status;
        explain->level = status == NW_OK ? nw_take_apart_result(ground->slides)->level : 0;
        explain->slid = true;
    }
    status = slide(explain, explain->altered.design, explain->altered.kinds, &effort);
    if (status == NW_STOPPED)
        return status;
    conclude(explain, status, nw_take_apart_result(ground->slides));
    return NW_NONE;
}

const NwExplanation *nw_explain_get(const NwExplain *explain) {
    return &explain->explanation;
}

const NwFounds *nw_explain_founds(const NwExplain *explain) {
    return explain->proof ? nw_proof_founds(explain->proof) : NULL;
}
