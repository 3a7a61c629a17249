#include "plain/plain_cook.h"

#include <stdlib.h>

#include "base/memory.h"
#include "design/check_assembly.h"
#include "plain/plain_slide.h"

/* ---- enumeration ------------------------------------------------------------------------------
 */

static const NwSolid *solid_of(const NwPlainFit *fit, size_t raw, size_t body) {
    return fit->solids[raw * fit->bodies + body];
}

static int piece_of(const NwPlainFit *fit, size_t raw, size_t body) {
    return fit->placements[raw * fit->bodies + body].piece;
}

/* Whether a raw assembly is the intended one, body for body in any order of copies. */
static bool is_intended(const NwDesign *design, const NwPlainFit *fit, size_t raw) {
    for (size_t i = 0; i < design->intended_count; i++) {
        const NwPlacement *placement = &design->intended[i];
        NwSolid *there;
        if (nw_solid_moved(design->pieces[placement->piece].solid, placement->motion, &there) !=
            NW_OK)
            return false;
        bool found = false;
        for (size_t b = 0; b < fit->bodies && !found; b++)
            found = piece_of(fit, raw, b) == placement->piece &&
                    nw_solid_equal(solid_of(fit, raw, b), there);
        nw_solid_free(there);
        if (!found)
            return false;
    }
    return true;
}

bool nw_plain_census(const NwDesign *design, size_t raw, size_t positions,
                     NwPlainCensus *enumeration) {
    NwPlainFit *fit = nw_plain_fit(design, NW_PLAIN_BY_PART, raw);
    *enumeration = (NwPlainCensus){.design = design, .fit = fit, .intended = fit->classes};
    if (fit->status != NW_OK)
        return false;
    enumeration->intended = fit->classes;
    enumeration->opens = nw_alloc(fit->classes, sizeof *enumeration->opens);
    enumeration->level = nw_alloc(fit->classes, sizeof *enumeration->level);
    for (size_t i = 0; i < fit->raw; i++)
        if (is_intended(design, fit, i))
            enumeration->intended = fit->class_of[i];
    for (size_t c = 0; c < fit->classes; c++) {
        size_t i = 0;
        while (fit->class_of[i] != c)
            i++;
        NwPlainWayOut way =
            nw_plain_slide(fit->solids + i * fit->bodies, fit->bodies, false, positions);
        free(way.slides);
        if (way.apart == NW_LIMIT || way.status == NW_LIMIT)
            return false;
        enumeration->opens[c] = way.apart == NW_OK;
        enumeration->level[c] = way.level;
        enumeration->cooks += enumeration->opens[c] && c != enumeration->intended;
        enumeration->unreachable += !enumeration->opens[c] && c != enumeration->intended;
    }
    return true;
}

void nw_plain_census_clear(NwPlainCensus *enumeration) {
    nw_plain_fit_free(enumeration->fit);
    free(enumeration->opens);
    free(enumeration->level);
    *enumeration = (NwPlainCensus){0};
}

/* ---- what it was before ------------------------------------------------------------------ */

/* Whether some motion carries the piece after to `here` and the piece before to `there`. */
static bool stood_there(const NwSolid *before, const NwSolid *after, const NwSolid *here,
                        const NwSolid *there) {
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++) {
        NwSolid *turned;
        nw_solid_moved(after, (NwMotion){turn, {0, 0, 0}}, &turned);
        NwVec shift = nw_vec_sub(nw_solid_bounds(here).low, nw_solid_bounds(turned).low);
        nw_solid_free(turned);
        NwMotion motion = {turn, shift};
        NwSolid *a = NULL, *b = NULL;
        bool both = nw_solid_moved(after, motion, &a) == NW_OK &&
                    nw_solid_moved(before, motion, &b) == NW_OK && nw_solid_equal(a, here) &&
                    nw_solid_equal(b, there);
        nw_solid_free(a);
        nw_solid_free(b);
        if (both)
            return true;
    }
    return false;
}

/* Matches the bodies from `body` on to bodies of the other assembly that are not `taken`. */
static bool match(const NwPlainCensus *before, const NwPlainCensus *after, size_t old, size_t new,
                  size_t body, bool *taken) {
    if (body == after->fit->bodies)
        return true;
    int piece = piece_of(after->fit, new, body);
    for (size_t b = 0; b < before->fit->bodies; b++) {
        if (taken[b] || piece_of(before->fit, old, b) != piece ||
            !stood_there(before->design->pieces[piece].solid, after->design->pieces[piece].solid,
                         solid_of(after->fit, new, body), solid_of(before->fit, old, b)))
            continue;
        taken[b] = true;
        if (match(before, after, old, new, body + 1, taken))
            return true;
        taken[b] = false;
    }
    return false;
}

void nw_plain_compare(const NwPlainCensus *before, const NwPlainCensus *after,
                      NwPlainVerdict *verdict) {
    *verdict = (NwPlainVerdict){.alive = nw_alloc(before->fit->classes, sizeof(bool))};
    bool *known = nw_alloc(after->fit->classes, sizeof *known);
    for (size_t new = 0; new < after->fit->raw; new ++)
        for (size_t old = 0; old < before->fit->raw; old++) {
            bool *taken = nw_alloc(before->fit->bodies, sizeof *taken);
            size_t class = after->fit->class_of[new];
            if (match(before, after, old, new, 0, taken)) {
                known[class] = true;
                if (class != after->intended && after->opens[class])
                    verdict->alive[before->fit->class_of[old]] = true;
            }
            free(taken);
        }
    for (size_t c = 0; c < after->fit->classes; c++)
        if (c != after->intended && !known[c]) {
            verdict->new_assemblies++;
            verdict->new_cooks += after->opens[c];
        }
    free(known);
}

void nw_plain_verdict_clear(NwPlainVerdict *verdict) {
    free(verdict->alive);
    *verdict = (NwPlainVerdict){0};
}

/* ---- changes ----------------------------------------------------------------------------- */

bool nw_plain_same_pieces(const NwDesign *a, const NwDesign *b) {
    bool same = a->piece_count == b->piece_count;
    for (size_t p = 0; p < a->piece_count && same; p++)
        same = nw_solid_equal(a->pieces[p].solid, b->pieces[p].solid);
    return same;
}

/* The part in the frame of the piece of an intended placement; NULL off the lattice. */
static NwSolid *own_part(const NwPlacement *placement, const NwSolid *part) {
    NwSolid *own;
    nw_solid_moved(part, nw_motion_inverse(placement->motion), &own);
    return own;
}

static void replace(NwSolid **solid, NwSolid *by) {
    nw_solid_free(*solid);
    *solid = by;
}

/* From the body `from` to the body `to`, either of which may be nobody (-1). */
static NwDesign *change(const NwDesign *design, const NwSolid *part, int from, int to) {
    NwDesign *changed = nw_design_copy(design);
    bool good = true;
    if (from >= 0) {
        NwSolid **solid = &changed->pieces[design->intended[from].piece].solid;
        NwSolid *own = own_part(&design->intended[from], part);
        good = own && nw_solid_contains(*solid, own);
        if (good)
            replace(solid, nw_solid_difference(*solid, own));
        nw_solid_free(own);
    }
    if (good && to >= 0) {
        NwSolid **solid = &changed->pieces[design->intended[to].piece].solid;
        NwSolid *own = own_part(&design->intended[to], part);
        good = own && !nw_solid_overlaps(*solid, own);
        if (good)
            replace(solid, nw_solid_union(*solid, own));
        nw_solid_free(own);
    }
    if (good && !nw_check_assembly(changed, changed->intended, changed->intended_count))
        return changed;
    nw_design_free(changed);
    return NULL;
}

/* The volume that the pieces leave empty, in sixths of a cell. */
static long empty_volume6(const NwDesign *design) {
    long empty = nw_solid_volume6(design->envelope);
    for (size_t p = 0; p < design->piece_count; p++)
        empty -= design->pieces[p].copies * nw_solid_volume6(design->pieces[p].solid);
    return empty;
}

/* Where nothing is left empty by the change, nothing may be. */
static NwDesign *without_marks(const NwDesign *design, NwDesign *next) {
    if (next && empty_volume6(next) == 0 && empty_volume6(design) != 0)
        replace(&next->may_be_empty, nw_solid_new());
    return next;
}

static int owner_of(const NwDesign *design, const NwSolid *part) {
    for (size_t i = 0; i < design->intended_count; i++) {
        NwSolid *there;
        nw_solid_moved(design->pieces[design->intended[i].piece].solid, design->intended[i].motion,
                       &there);
        bool has = there && nw_solid_overlaps(there, part);
        nw_solid_free(there);
        if (has)
            return (int)i;
    }
    return -1;
}

size_t nw_plain_changes(const NwDesign *design, NwDesign ***changed) {
    size_t count = 0, capacity = 0;
    *changed = NULL;
    for (size_t i = 0; i < design->envelope->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            const NwCell *cell = &design->envelope->cells[i];
            if (!(cell->mask >> bit & 1))
                continue;
            NwSolid *part = nw_solid_new();
            nw_solid_add(part, nw_cell_at(cell), 1 << bit);
            int from = owner_of(design, part);
            for (int to = -1; to < (int)design->intended_count; to++) {
                NwDesign *next =
                    to == from ? NULL : without_marks(design, change(design, part, from, to));
                for (size_t k = 0; k < count && next; k++)
                    if (nw_plain_same_pieces((*changed)[k], next)) {
                        nw_design_free(next);
                        next = NULL;
                    }
                if (!next)
                    continue;
                *changed = nw_grow(*changed, count, &capacity, sizeof **changed);
                (*changed)[count++] = next;
            }
            nw_solid_free(part);
        }
    return count;
}
