#include "fit/matrix.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

/* Which item each part belongs to, refined row by row: two parts stay together as long as every
 * live place covers both or neither. Item -1 is for parts that no live place covers. */
typedef struct Merging {
    int *item;  /* of each part */
    int *split; /* scratch: the new item that takes the covered half of each old one */
    int items;
} Merging;

static void split_by_place(Merging *merging, const NwPlaces *places, int place, int *size_of,
                           int *covered_of) {
    const uint64_t *filled = nw_places_filled(places, place);
    int before = merging->items;
    memset(covered_of, 0, (size_t)before * sizeof *covered_of);
    for (int w = 0; w < places->words; w++)
        for (uint64_t rest = filled[w]; rest; rest &= rest - 1)
            covered_of[merging->item[64 * w + nw_lowest(rest)]]++;
    for (int i = 0; i < before; i++)
        merging->split[i] = i;
    for (int i = 0; i < before; i++)
        if (covered_of[i] && covered_of[i] < size_of[i]) {
            merging->split[i] = merging->items;
            size_of[merging->items++] = covered_of[i];
            size_of[i] -= covered_of[i];
        }
    for (int w = 0; w < places->words; w++)
        for (uint64_t rest = filled[w]; rest; rest &= rest - 1) {
            int *item = &merging->item[64 * w + nw_lowest(rest)];
            *item = merging->split[*item];
        }
}

/* Numbers the items in the order of their first parts, uncovered parts left out. */
static void renumber(Merging *merging, const NwPlaces *places, const bool *live) {
    uint64_t *covered = nw_alloc((size_t)places->words, sizeof *covered);
    for (int p = 0; p < places->place_count; p++)
        for (int w = 0; live[p] && w < places->words; w++)
            covered[w] |= nw_places_filled(places, p)[w];
    for (int i = 0; i < merging->items; i++)
        merging->split[i] = -1;
    merging->items = 0;
    for (int part = 0; part < places->part_count; part++) {
        int *item = &merging->item[part];
        if (!(covered[part / 64] >> part % 64 & 1)) {
            *item = -1;
            continue;
        }
        if (merging->split[*item] < 0)
            merging->split[*item] = merging->items++;
        *item = merging->split[*item];
    }
    free(covered);
}

static void merge_parts(Merging *merging, const NwPlaces *places, const bool *live) {
    size_t parts = (size_t)places->part_count;
    int *size_of = nw_alloc(parts, sizeof *size_of);
    int *covered_of = nw_alloc(parts, sizeof *covered_of);
    memset(merging->item, 0, parts * sizeof *merging->item);
    merging->items = 1;
    size_of[0] = places->part_count;
    for (int p = 0; p < places->place_count; p++)
        if (live[p])
            split_by_place(merging, places, p, size_of, covered_of);
    renumber(merging, places, live);
    free(size_of);
    free(covered_of);
}

static void set_item(uint64_t *row, int item) {
    row[item / 64] |= nw_bit(item % 64);
}

static void fill_rows(NwMatrix *matrix, const NwPlaces *places, const Merging *merging,
                      const bool *live) {
    matrix->part_items = merging->items;
    matrix->item_count = merging->items + matrix->piece_count;
    matrix->words = (matrix->item_count + 63) / 64;
    size_t words = (size_t)matrix->words;
    matrix->row_count = 0;
    memset(matrix->rows, 0, (size_t)places->place_count * words * sizeof *matrix->rows);
    for (int p = 0; p < places->place_count; p++) {
        if (!live[p])
            continue;
        uint64_t *row = matrix->rows + (size_t)matrix->row_count * words;
        const uint64_t *filled = nw_places_filled(places, p);
        for (int w = 0; w < places->words; w++)
            for (uint64_t rest = filled[w]; rest; rest &= rest - 1)
                set_item(row, merging->item[64 * w + nw_lowest(rest)]);
        set_item(row, matrix->part_items + places->places[p].piece);
        matrix->place_of_row[matrix->row_count++] = p;
    }
    memset(matrix->required, 0, words * sizeof *matrix->required);
    for (int part = 0; part < places->part_count; part++) {
        if (!(places->required[part / 64] >> part % 64 & 1))
            continue;
        if (merging->item[part] < 0)
            matrix->impossible = true;
        else
            set_item(matrix->required, merging->item[part]);
    }
}

/* What must be covered: the required parts and every piece. */
static void needed_items(const NwMatrix *matrix, uint64_t *needed) {
    memcpy(needed, matrix->required, (size_t)matrix->words * sizeof *needed);
    for (int item = matrix->part_items; item < matrix->item_count; item++)
        set_item(needed, item);
}

/* A step that visits all rows in a scattered order: coprime to their number, near the golden
 * section of it. Neighbouring rows are alike, so scattered ones cover all items much sooner. */
static int scattering_step(int rows) {
    int step = (int)((long)rows * 618 / 1000);
    for (; step > 1; step--) {
        int a = step, b = rows;
        while (b) {
            int rest = a % b;
            a = b;
            b = rest;
        }
        if (a == 1)
            return step;
    }
    return 1;
}

/* Whether choosing this row leaves every other item that must be covered a row to cover it.
 * `scratch` has room for twice the words of a row. */
static bool is_viable(const NwMatrix *matrix, int chosen, int step, uint64_t *scratch) {
    int words = matrix->words;
    const uint64_t *row = nw_matrix_row(matrix, chosen);
    uint64_t *missing = scratch, *taken = scratch + words;
    needed_items(matrix, missing);
    memcpy(taken, row, (size_t)words * sizeof *taken);
    for (int w = 0; w < words; w++)
        missing[w] &= ~row[w];
    for (int piece = 0; piece < matrix->piece_count; piece++)
        if (matrix->copies[piece] > 1) {
            int item = matrix->part_items + piece;
            taken[item / 64] &= ~nw_bit(item % 64);
        }
    for (int count = 0, r = chosen; count < matrix->row_count; count++) {
        const uint64_t *other = nw_matrix_row(matrix, r);
        uint64_t clash = 0, left = 0;
        for (int w = 0; w < words; w++)
            clash |= other[w] & taken[w];
        for (int w = 0; w < words; w++)
            left |= missing[w] &= clash ? ~UINT64_C(0) : ~other[w];
        if (!left)
            return true;
        r += step;
        if (r >= matrix->row_count)
            r -= matrix->row_count;
    }
    return false;
}

/* Kills the places that cannot be part of any cover for that reason; says whether any died. */
static bool prune(const NwMatrix *matrix, bool *live) {
    uint64_t *scratch = nw_alloc(2 * (size_t)matrix->words, sizeof *scratch);
    int step = scattering_step(matrix->row_count);
    bool pruned = false;
    for (int r = 0; r < matrix->row_count; r++)
        if (!is_viable(matrix, r, step, scratch)) {
            live[matrix->place_of_row[r]] = false;
            pruned = true;
        }
    free(scratch);
    return pruned;
}

static bool every_piece_has_a_row(const NwMatrix *matrix, const NwPlaces *places,
                                  const bool *live) {
    for (int piece = 0; piece < matrix->piece_count; piece++) {
        bool any = false;
        for (int p = places->first_of_piece[piece]; p < places->first_of_piece[piece + 1]; p++)
            any = any || live[p];
        if (!any)
            return false;
    }
    return true;
}

/* Pruning may compare all rows with all rows; beyond this many it could cost more than it saves. */
enum { PRUNE_ROWS_MAX = 50000 };

NwMatrix *nw_matrix_build(const NwDesign *design, const NwPlaces *places, const bool *disabled,
                          bool pruned) {
    size_t parts = (size_t)places->part_count, count = (size_t)places->place_count;
    size_t words = (parts + design->piece_count + 63) / 64;
    NwMatrix *matrix = nw_alloc(1, sizeof *matrix);
    matrix->piece_count = (int)design->piece_count;
    matrix->copies = nw_alloc(design->piece_count, sizeof *matrix->copies);
    for (size_t i = 0; i < design->piece_count; i++)
        matrix->total += matrix->copies[i] = design->pieces[i].copies;
    matrix->required = nw_alloc(words, sizeof *matrix->required);
    matrix->rows = nw_alloc(count * words, sizeof *matrix->rows);
    matrix->place_of_row = nw_alloc(count, sizeof *matrix->place_of_row);

    bool *live = nw_alloc(count, sizeof *live);
    for (size_t p = 0; p < count; p++)
        live[p] = !disabled || !disabled[p];
    Merging merging = {nw_alloc(parts, sizeof(int)), nw_alloc(parts, sizeof(int)), 0};
    do {
        merge_parts(&merging, places, live);
        fill_rows(matrix, places, &merging, live);
    } while (pruned && !matrix->impossible && matrix->row_count <= PRUNE_ROWS_MAX &&
             prune(matrix, live));
    if (!every_piece_has_a_row(matrix, places, live))
        matrix->impossible = true;
    free(merging.item);
    free(merging.split);
    free(live);
    return matrix;
}

void nw_matrix_free(NwMatrix *matrix) {
    if (!matrix)
        return;
    free(matrix->required);
    free(matrix->rows);
    free(matrix->place_of_row);
    free(matrix->copies);
    free(matrix);
}

uint64_t nw_matrix_fingerprint(const NwMatrix *matrix) {
    uint64_t print = nw_mix((uint64_t)matrix->item_count << 32 | (uint64_t)matrix->row_count);
    size_t words = (size_t)matrix->words;
    for (size_t i = 0; i < (size_t)matrix->row_count * words; i++)
        print = nw_mix(print ^ matrix->rows[i]) + 1;
    for (size_t w = 0; w < words; w++)
        print = nw_mix(print ^ matrix->required[w]) + 1;
    for (int p = 0; p < matrix->piece_count; p++)
        print = nw_mix(print ^ (uint64_t)matrix->copies[p]) + 1;
    return print;
}
