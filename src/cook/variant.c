#include "cook/variant.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "cook/shape.h"
#include "design/check_assembly.h"
#include "lattice/connect.h"

/* Whether the pieces fill the envelope to the last part. */
static bool is_full(const NwDesign *design) {
    long volume6 = 0;
    for (size_t p = 0; p < design->piece_count; p++)
        volume6 += design->pieces[p].copies * nw_solid_volume6(design->pieces[p].solid);
    return volume6 == nw_solid_volume6(design->envelope);
}

bool nw_variant_make(NwBaseline *baseline, const NwChange *changes, int count, NwVariant *variant) {
    const NwDesign *before = baseline->design;
    *variant = (NwVariant){.design = nw_design_copy(before), .adds_only = true};
    if (!nw_changes_apply(variant->design, changes, count) ||
        nw_check_assembly(variant->design, before->intended, before->intended_count)) {
        nw_variant_clear(variant);
        return false;
    }
    memcpy(variant->kinds, baseline->kinds, sizeof variant->kinds);
    variant->filled = is_full(variant->design) && !is_full(before);
    if (variant->filled) {
        nw_solid_free(variant->design->may_be_empty);
        variant->design->may_be_empty = nw_solid_new();
    }
    variant->sameness = !baseline->mirrors && !variant->filled;
    for (int i = 0; i < count; i++) {
        variant->adds_only = variant->adds_only && nw_change_kind(&changes[i]) == NW_CHANGE_GIVE;
        if (changes[i].from >= 0)
            variant->changed |= nw_bit(changes[i].from);
        if (changes[i].to >= 0)
            variant->changed |= nw_bit(changes[i].to);
    }
    for (uint64_t rest = variant->changed; rest; rest &= rest - 1) {
        int p = nw_lowest(rest);
        const NwSolid *solid = variant->design->pieces[p].solid;
        variant->kinds[p] = nw_shapes_number(baseline->shapes, solid);
        if (nw_solid_is_whole(solid) && !nw_solid_is_whole(before->pieces[p].solid))
            variant->sameness = false;
    }
    return true;
}

void nw_variant_clear(NwVariant *variant) {
    nw_design_free(variant->design);
    *variant = (NwVariant){0};
}

bool nw_variant_holds(const NwVariant *variant, int *piece) {
    for (uint64_t rest = variant->changed; rest; rest &= rest - 1) {
        int p = nw_lowest(rest);
        if (piece)
            *piece = p;
        if (nw_solid_lumps(variant->design->pieces[p].solid) != 1)
            return false;
    }
    return true;
}

/* Whether a part is outside the envelope or may be empty there. */
static bool may_be_open(const NwPlacementTable *places, NwPart part) {
    int number = nw_placement_table_part(places, part);
    return number < 0 || !(places->required[number / 64] >> number % 64 & 1);
}

/* Whether no place of the piece carries the won part to where a hole is not allowed. */
static bool leaves_no_hole(const NwBaseline *baseline, const NwChange *change) {
    const NwPlacementTable *places = baseline->fit->places;
    int piece = change->to;
    for (int p = places->first_of_piece[piece]; p < places->first_of_piece[piece + 1]; p++)
        for (int s = 0; s < baseline->symmetry_count[piece]; s++) {
            NwMotion motion =
                nw_motion_then(baseline->symmetries[piece][s], places->places[p].motion);
            if (!nw_vec_parity(motion.shift) &&
                !may_be_open(places, nw_part_moved(change->won, motion)))
                return false;
        }
    return true;
}

void nw_variant_settle(const NwBaseline *baseline, const NwChange *changes, int count,
                       NwVariant *variant) {
    variant->known_only = variant->adds_only && variant->sameness;
    for (int i = 0; i < count && variant->known_only; i++)
        variant->known_only = leaves_no_hole(baseline, &changes[i]);
}

/* ---- the fit problem --------------------------------------------------------------------- */

/* The places of one piece alone. */
static NwStatus places_of_piece(const NwDesign *design, int piece, NwPlacementTable **places) {
    NwDesign alone = *design;
    alone.pieces = &design->pieces[piece];
    alone.piece_count = 1;
    return nw_placement_table_build(&alone, places);
}

static void *copy_of(const void *block, size_t count, size_t size) {
    void *copy = nw_alloc(count, size);
    if (count)
        memcpy(copy, block, count * size);
    return copy;
}

/* Puts the block of one piece, taken from `from`, behind what `to` has already. */
static void append(NwPlacementTable *to, int piece, const NwPlacementTable *from, int piece_there) {
    int first = from->first_of_piece[piece_there], end = from->first_of_piece[piece_there + 1];
    size_t words = (size_t)to->words, count = (size_t)(end - first), at = (size_t)to->place_count;
    to->places = nw_resize(to->places, at + count, sizeof *to->places);
    to->filled = nw_resize(to->filled, (at + count) * words, sizeof *to->filled);
    to->by_filled = nw_resize(to->by_filled, at + count, sizeof *to->by_filled);
    if (count)
        memcpy(to->filled + at * words, nw_placement_table_filled(from, first),
               count * words * sizeof *to->filled);
    for (size_t i = 0; i < count; i++) {
        to->places[at + i] = from->places[(size_t)first + i];
        to->places[at + i].piece = piece;
        to->by_filled[at + i] = from->by_filled[(size_t)first + i] - first + (int)at;
    }
    to->place_count += (int)count;
    to->first_of_piece[piece + 1] = to->place_count;
}

static NwStatus splice_places(const NwBaseline *baseline, const NwVariant *variant,
                              NwPlacementTable **result) {
    const NwPlacementTable *base = baseline->fit->places;
    NwPlacementTable *places = nw_alloc(1, sizeof *places);
    NwVec size = nw_vec_sub(base->box.high, base->box.low);
    *places = (NwPlacementTable){.part_count = base->part_count,
                                 .box = base->box,
                                 .words = base->words,
                                 .piece_count = base->piece_count};
    places->parts = copy_of(base->parts, (size_t)base->part_count, sizeof *base->parts);
    places->cells = copy_of(base->cells, (size_t)(size.x * size.y * size.z), sizeof *base->cells);
    places->required = copy_of(base->required, (size_t)base->words, sizeof *base->required);
    places->first_of_piece =
        nw_alloc((size_t)base->piece_count + 1, sizeof *places->first_of_piece);
    NwStatus status = NW_OK;
    for (int p = 0; p < base->piece_count && status == NW_OK; p++) {
        if (!nw_variant_has(variant, p)) {
            append(places, p, base, p);
            continue;
        }
        NwPlacementTable *own;
        status = places_of_piece(variant->design, p, &own);
        if (status == NW_OK)
            append(places, p, own, 0);
        nw_placement_table_free(own);
    }
    if (status == NW_OK && places->place_count > NW_PLACEMENT_TABLE_MAX)
        status = NW_TOO_MANY;
    if (status != NW_OK) {
        nw_placement_table_free(places);
        places = NULL;
    }
    *result = places;
    return status;
}

NwStatus nw_variant_set_up(const NwBaseline *baseline, const NwVariant *variant,
                           NwFitSetup **setup) {
    if (variant->filled) /* other parts must be filled now */
        return nw_fit_setup_new(variant->design, (NwFitOptions){0}, setup);
    NwPlacementTable *places;
    NwStatus status = splice_places(baseline, variant, &places);
    *setup = status == NW_OK ? nw_fit_setup_new_with(variant->design, places) : NULL;
    return status;
}
