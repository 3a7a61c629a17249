#include "fit/placement_table.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/symmetry.h"

/* The cell of the dense box at a place, NULL outside it. */
static const NwNumberedCell *numbered_cell(const NwPlacementTable *places, NwVec cell) {
    NwVec at = nw_vec_sub(cell, places->box.low);
    NwVec size = nw_vec_sub(places->box.high, places->box.low);
    if ((unsigned)at.x >= (unsigned)size.x || (unsigned)at.y >= (unsigned)size.y ||
        (unsigned)at.z >= (unsigned)size.z)
        return NULL;
    return &places->cells[(at.x * size.y + at.y) * size.z + at.z];
}

static int number_in(const NwNumberedCell *cell, int bit) {
    return cell->first + nw_count_bits(cell->mask & (nw_bit(bit) - 1));
}

int nw_placement_table_part(const NwPlacementTable *places, NwPart part) {
    const NwNumberedCell *cell = numbered_cell(places, part.cell);
    return cell && cell->mask >> part.bit & 1 ? number_in(cell, part.bit) : -1;
}

static void number_parts(NwPlacementTable *places, const NwDesign *design) {
    const NwSolid *envelope = design->envelope;
    places->part_count = (int)nw_solid_parts(envelope);
    places->words = (places->part_count + 63) / 64;
    places->parts = nw_alloc((size_t)places->part_count, sizeof *places->parts);
    places->required = nw_alloc((size_t)places->words, sizeof *places->required);
    places->box = nw_solid_bounds(envelope);
    NwVec size = nw_vec_sub(places->box.high, places->box.low);
    places->cells = nw_alloc((size_t)(size.x * size.y * size.z), sizeof *places->cells);
    int number = 0;
    for (size_t i = 0; i < envelope->count; i++) {
        NwVec cell = nw_cell_at(&envelope->cells[i]);
        int optional = nw_solid_mask(design->may_be_empty, cell);
        *(NwNumberedCell *)numbered_cell(places, cell) =
            (NwNumberedCell){number, envelope->cells[i].mask};
        for (int bit = 0; bit < NW_PARTS; bit++) {
            if (!(envelope->cells[i].mask >> bit & 1))
                continue;
            places->parts[number] = (NwPart){cell, bit};
            if (!(optional >> bit & 1))
                places->required[number / 64] |= nw_bit(number % 64);
            number++;
        }
    }
}

/* Sets `count` bits from bit `first` on; at most NW_PARTS, so in two words at most. */
static void set_run(uint64_t *filled, int first, int count) {
    uint64_t run = nw_bit(count) - 1;
    int shift = first % 64;
    filled[first / 64] |= run << shift;
    if (shift + count > 64)
        filled[first / 64 + 1] |= run >> (64 - shift);
}

/* Collects the envelope's parts that a shifted solid fills; false if it sticks out. */
static bool fill(const NwPlacementTable *places, const NwSolid *solid, NwVec shift,
                 uint64_t *filled) {
    memset(filled, 0, (size_t)places->words * sizeof *filled);
    for (size_t i = 0; i < solid->count; i++) {
        NwVec at = nw_vec_add(nw_cell_at(&solid->cells[i]), shift);
        const NwNumberedCell *cell = numbered_cell(places, at);
        if (!cell || solid->cells[i].mask & ~cell->mask)
            return false;
        if (solid->cells[i].mask == cell->mask) {
            set_run(filled, cell->first, nw_count_bits(cell->mask));
            continue;
        }
        for (int mask = solid->cells[i].mask; mask; mask &= mask - 1) {
            int number = number_in(cell, nw_lowest((uint64_t)mask));
            filled[number / 64] |= nw_bit(number % 64);
        }
    }
    return true;
}

/* Marks the turns to keep: the least of each set that the piece's own symmetries make equal. */
static void mark_distinct_turns(const NwSolid *piece, bool keep[NW_ROTATIONS]) {
    NwMotion symmetries[NW_TURNS];
    NwAllowed allowed = {.odd_shifts = nw_solid_is_whole(piece)};
    int count = nw_solid_symmetries(piece, allowed, symmetries);
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++) {
        keep[turn] = true;
        for (int s = 0; s < count; s++)
            if (nw_turn_then(symmetries[s].turn, turn) < turn)
                keep[turn] = false;
    }
}

typedef struct Growth {
    size_t places, filled; /* capacities */
} Growth;

static void add_place(NwPlacementTable *places, Growth *growth, NwPlacement placement,
                      const uint64_t *filled) {
    size_t words = (size_t)places->words, at = (size_t)places->place_count;
    places->places = nw_grow(places->places, at, &growth->places, sizeof *places->places);
    while ((at + 1) * words > growth->filled)
        places->filled =
            nw_grow(places->filled, growth->filled, &growth->filled, sizeof *places->filled);
    places->places[at] = placement;
    memcpy(places->filled + at * words, filled, words * sizeof *filled);
    places->place_count++;
}

static int compare_filled(const NwPlacementTable *places, const uint64_t *a, const uint64_t *b) {
    return memcmp(a, b, (size_t)places->words * sizeof *a);
}

static int compare_places_by_filled(const void *a, const void *b, void *context) {
    const NwPlacementTable *places = context;
    return compare_filled(places, nw_placement_table_filled(places, *(const int *)a),
                          nw_placement_table_filled(places, *(const int *)b));
}

static void sort_by_filled(NwPlacementTable *places, int piece) {
    int first = places->first_of_piece[piece], end = places->first_of_piece[piece + 1];
    for (int p = first; p < end; p++)
        places->by_filled[p] = p;
    qsort_r(places->by_filled + first, (size_t)(end - first), sizeof *places->by_filled,
            compare_places_by_filled, places);
}

/* ---- step by step ------------------------------------------------------------------------ */

struct NwLister {
    const NwDesign *design;
    NwPlacementTable *places;
    Growth growth;
    int piece;
    bool keep[NW_ROTATIONS]; /* of the piece */
    NwTurn turn;             /* the next one to try */
    NwSolid *turned;         /* the piece in the turn that is being tried; NULL: none is */
    bool whole;
    size_t cell;      /* of the envelope, where its first cell is tried next */
    uint64_t *filled; /* scratch */
};

NwLister *nw_lister_new(const NwDesign *design) {
    NwLister *lister = nw_alloc(1, sizeof *lister);
    NwPlacementTable *places = lister->places = nw_alloc(1, sizeof *places);
    lister->design = design;
    if (design->envelope->count)
        number_parts(places, design);
    places->piece_count = (int)design->piece_count;
    places->first_of_piece = nw_alloc(design->piece_count + 1, sizeof *places->first_of_piece);
    lister->filled = nw_alloc((size_t)places->words + 1, sizeof *lister->filled);
    return lister;
}

void nw_lister_free(NwLister *lister) {
    if (!lister)
        return;
    nw_placement_table_free(lister->places);
    nw_solid_free(lister->turned);
    free(lister->filled);
    free(lister);
}

int nw_lister_piece(const NwLister *lister) {
    return lister->piece;
}

/* Takes up the next turn of the piece; false if there is none. */
static bool next_turn(NwLister *lister) {
    const NwSolid *piece = lister->design->pieces[lister->piece].solid;
    if (lister->turn == 0)
        mark_distinct_turns(piece, lister->keep);
    while (lister->turn < NW_ROTATIONS && !(lister->keep[lister->turn] && piece->count))
        lister->turn++;
    if (lister->turn == NW_ROTATIONS)
        return false;
    nw_solid_moved(piece, (NwMotion){lister->turn, {0, 0, 0}}, &lister->turned);
    lister->whole = nw_solid_is_whole(lister->turned);
    lister->cell = 0;
    return true;
}

/* Tries the first cell of the turned piece in one cell of the envelope. */
static void try_shift(NwLister *lister, NwVec to) {
    NwVec shift = nw_vec_sub(to, nw_cell_at(&lister->turned->cells[0]));
    if (nw_vec_parity(shift) && !lister->whole)
        return; /* it would leave the lattice */
    if (fill(lister->places, lister->turned, shift, lister->filled))
        add_place(lister->places, &lister->growth,
                  (NwPlacement){lister->piece, {lister->turn, shift}}, lister->filled);
}

static void end_piece(NwLister *lister) {
    NwPlacementTable *places = lister->places;
    places->first_of_piece[++lister->piece] = places->place_count;
    places->by_filled =
        nw_resize(places->by_filled, (size_t)places->place_count + 1, sizeof *places->by_filled);
    sort_by_filled(places, lister->piece - 1);
    lister->turn = 0;
}

NwStatus nw_lister_step(NwLister *lister, long effort, NwPlacementTable **result) {
    const NwSolid *envelope = lister->design->envelope;
    *result = NULL;
    if (!envelope->count)
        return NW_EMPTY;
    while (lister->piece < lister->places->piece_count) {
        if (effort <= 0)
            return NW_STOPPED;
        if (!lister->turned && !next_turn(lister)) {
            effort -= 1 + lister->places->place_count / 8;
            end_piece(lister);
            continue;
        }
        while (lister->cell < envelope->count && effort > 0 &&
               lister->places->place_count <= NW_PLACEMENT_TABLE_MAX) {
            try_shift(lister, nw_cell_at(&envelope->cells[lister->cell++]));
            effort -= 1 + (long)lister->turned->count / 64;
        }
        if (lister->places->place_count > NW_PLACEMENT_TABLE_MAX)
            return NW_TOO_MANY;
        if (lister->cell < envelope->count)
            continue;
        nw_solid_free(lister->turned);
        lister->turned = NULL;
        lister->turn++;
    }
    *result = lister->places;
    lister->places = NULL;
    return NW_OK;
}

NwStatus nw_placement_table_build(const NwDesign *design, NwPlacementTable **result) {
    NwLister *lister = nw_lister_new(design);
    NwStatus status = nw_lister_step(lister, LONG_MAX, result);
    nw_lister_free(lister);
    return status;
}

void nw_placement_table_free(NwPlacementTable *places) {
    if (!places)
        return;
    free(places->parts);
    free(places->cells);
    free(places->required);
    free(places->places);
    free(places->filled);
    free(places->by_filled);
    free(places->first_of_piece);
    free(places);
}

int nw_placement_table_find(const NwPlacementTable *places, int piece, const uint64_t *filled) {
    int low = places->first_of_piece[piece], high = places->first_of_piece[piece + 1] - 1;
    while (low <= high) {
        int middle = (low + high) / 2, place = places->by_filled[middle];
        int order = compare_filled(places, filled, nw_placement_table_filled(places, place));
        if (order == 0)
            return place;
        if (order < 0)
            high = middle - 1;
        else
            low = middle + 1;
    }
    return -1;
}

int nw_placement_table_of_motion(const NwPlacementTable *places, const NwDesign *design,
                                 NwPlacement placement) {
    NwSolid *there;
    if (nw_solid_moved(design->pieces[placement.piece].solid, placement.motion, &there) != NW_OK)
        return -1;
    uint64_t *filled = nw_alloc((size_t)places->words, sizeof *filled);
    int found = fill(places, there, nw_vec(0, 0, 0), filled)
                    ? nw_placement_table_find(places, placement.piece, filled)
                    : -1;
    free(filled);
    nw_solid_free(there);
    return found;
}
