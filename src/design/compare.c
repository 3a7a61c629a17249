#include "design/compare.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "design/bodies.h"
#include "design/piece_name.h"

/* Both designs with their bodies, and the pairs: the partner of each piece, or -1. */
typedef struct Sides {
    const NwDesign *before, *after;
    NwBodies old, new;
    int partner_after[NW_PIECES_MAX], partner_before[NW_PIECES_MAX];
} Sides;

static void join(Sides *sides, int before, int after) {
    sides->partner_after[before] = after;
    sides->partner_before[after] = before;
}

static void pair_by_name(Sides *sides) {
    for (int i = 0; i < NW_PIECES_MAX; i++)
        sides->partner_after[i] = sides->partner_before[i] = -1;
    for (size_t i = 0; i < sides->before->piece_count; i++) {
        int after = nw_piece_named(sides->after, sides->before->pieces[i].name);
        if (after >= 0 && sides->partner_before[after] < 0)
            join(sides, (int)i, after);
    }
}

static size_t shared_parts(const NwSolid *a, const NwSolid *b) {
    NwSolid *both = nw_solid_intersection(a, b);
    size_t parts = nw_solid_parts(both);
    nw_solid_free(both);
    return parts;
}

/* One more pair, the one that shares the most; false if none is left that shares anything. */
static bool pair_by_parts(Sides *sides) {
    size_t most = 0;
    int best_before = -1, best_after = -1;
    for (size_t i = 0; i < sides->before->piece_count; i++)
        for (size_t k = 0; k < sides->after->piece_count && sides->partner_after[i] < 0; k++) {
            if (sides->partner_before[k] >= 0)
                continue;
            size_t shared = shared_parts(sides->old.solids[i], sides->new.solids[k]);
            if (shared <= most)
                continue;
            most = shared;
            best_before = (int)i;
            best_after = (int)k;
        }
    if (most)
        join(sides, best_before, best_after);
    return most > 0;
}

/* How many paired pieces stand before this one. */
static int rank_of(const int *partners, int piece) {
    int rank = 0;
    for (int i = 0; i < piece; i++)
        rank += partners[i] >= 0;
    return rank;
}

static void compare_particulars(const Sides *sides, NwPieceChange *change) {
    const NwPiece *a = &sides->before->pieces[change->before],
                  *b = &sides->after->pieces[change->after];
    change->copies_change = b->copies - a->copies;
    change->renamed = strcmp(a->name, b->name) != 0;
    change->recoloured = strcmp(a->colour, b->colour) != 0;
    change->reordered = rank_of(sides->partner_after, change->before) !=
                        rank_of(sides->partner_before, change->after);
}

static void add_piece(NwComparison *comparison, const Sides *sides, int before, int after) {
    NwSolid *nothing = nw_solid_new();
    const NwSolid *a = before < 0 ? nothing : sides->old.solids[before];
    const NwSolid *b = after < 0 ? nothing : sides->new.solids[after];
    NwPieceChange *change = &comparison->pieces[comparison->piece_count++];
    *change = (NwPieceChange){.before = before,
                              .after = after,
                              .lost = nw_solid_difference(a, b),
                              .won = nw_solid_difference(b, a)};
    if (before >= 0 && after >= 0)
        compare_particulars(sides, change);
    else
        change->copies_change =
            before < 0 ? sides->after->pieces[after].copies : -sides->before->pieces[before].copies;
    nw_solid_free(nothing);
}

static void compare_pieces(NwComparison *comparison, const Sides *sides) {
    comparison->pieces = nw_alloc(sides->before->piece_count + sides->after->piece_count,
                                  sizeof *comparison->pieces);
    for (size_t k = 0; k < sides->after->piece_count; k++)
        add_piece(comparison, sides, sides->partner_before[k], (int)k);
    for (size_t i = 0; i < sides->before->piece_count; i++)
        if (sides->partner_after[i] < 0)
            add_piece(comparison, sides, (int)i, -1);
}

static void find_moved(NwComparison *comparison, const Sides *sides) {
    size_t capacity = 0;
    for (size_t i = 0; i < sides->before->piece_count; i++)
        for (size_t k = 0; k < sides->after->piece_count; k++) {
            if (sides->partner_after[i] == (int)k ||
                !nw_solid_overlaps(sides->old.solids[i], sides->new.solids[k]))
                continue;
            comparison->moved = nw_grow(comparison->moved, comparison->moved_count, &capacity,
                                        sizeof *comparison->moved);
            comparison->moved[comparison->moved_count++] = (NwPartsMoved){
                (int)i, (int)k, nw_solid_intersection(sides->old.solids[i], sides->new.solids[k])};
        }
}

/* Whether a body of the same piece, with the same parts, is on the other side. Bodies are compared
 * by what they fill, whatever the frame their piece is drawn in. */
static bool has_body(const NwBodies *bodies, int piece, const NwSolid *solid) {
    for (size_t i = 0; i < bodies->count; i++)
        if (bodies->placements[i].piece == piece && nw_solid_equal(bodies->solids[i], solid))
            return true;
    return false;
}

static bool is_intended_changed(const Sides *sides) {
    bool any_before = sides->before->intended_count, any_after = sides->after->intended_count;
    bool changed = any_before != any_after || sides->old.count != sides->new.count;
    for (size_t i = 0; i < sides->old.count && any_before && !changed; i++) {
        int partner = sides->partner_after[sides->old.placements[i].piece];
        changed = !has_body(&sides->new, partner, sides->old.solids[i]);
    }
    return changed;
}

bool nw_piece_is_changed(const NwPieceChange *change) {
    return change->before < 0 || change->after < 0 || change->lost->count || change->won->count ||
           change->copies_change || change->renamed || change->recoloured || change->reordered;
}

static bool is_same(const NwComparison *c) {
    bool changed = c->envelope_lost->count || c->envelope_won->count || c->empty_lost->count ||
                   c->empty_won->count || c->renamed || c->mirrors_changed || c->intended_changed;
    for (size_t i = 0; i < c->piece_count && !changed; i++)
        changed = nw_piece_is_changed(&c->pieces[i]);
    return !changed;
}

static NwComparison *compare_sides(const Sides *sides) {
    const NwDesign *before = sides->before, *after = sides->after;
    NwComparison *comparison = nw_alloc(1, sizeof *comparison);
    compare_pieces(comparison, sides);
    find_moved(comparison, sides);
    comparison->envelope_lost = nw_solid_difference(before->envelope, after->envelope);
    comparison->envelope_won = nw_solid_difference(after->envelope, before->envelope);
    comparison->empty_lost = nw_solid_difference(before->may_be_empty, after->may_be_empty);
    comparison->empty_won = nw_solid_difference(after->may_be_empty, before->may_be_empty);
    comparison->renamed = strcmp(before->name, after->name) != 0;
    comparison->mirrors_changed = before->mirrors_together != after->mirrors_together;
    comparison->intended_changed = is_intended_changed(sides);
    comparison->same = is_same(comparison);
    return comparison;
}

NwStatus nw_compare(const NwDesign *before, const NwDesign *after, NwComparison **comparison) {
    *comparison = NULL;
    Sides sides = {.before = before, .after = after};
    NwStatus status = nw_bodies_of(before, &sides.old);
    if (status == NW_OK)
        status = nw_bodies_of(after, &sides.new);
    if (status == NW_OK) {
        pair_by_name(&sides);
        while (pair_by_parts(&sides))
            ;
        *comparison = compare_sides(&sides);
    }
    nw_bodies_clear(&sides.new);
    nw_bodies_clear(&sides.old);
    return status;
}

void nw_comparison_free(NwComparison *comparison) {
    if (!comparison)
        return;
    for (size_t i = 0; i < comparison->piece_count; i++) {
        nw_solid_free(comparison->pieces[i].lost);
        nw_solid_free(comparison->pieces[i].won);
    }
    for (size_t i = 0; i < comparison->moved_count; i++)
        nw_solid_free(comparison->moved[i].parts);
    free(comparison->pieces);
    free(comparison->moved);
    nw_solid_free(comparison->envelope_lost);
    nw_solid_free(comparison->envelope_won);
    nw_solid_free(comparison->empty_lost);
    nw_solid_free(comparison->empty_won);
    free(comparison);
}
