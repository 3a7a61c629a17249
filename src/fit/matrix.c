#include "fit/matrix.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

/* Which item each part belongs to, refined row by row: two parts stay together as long as every
 * live place covers both or neither. Item -1 is for parts that no live place covers. */
typedef struct Merging {
    int *item; /* of each part */
    int items;
    int *size_of;    /* parts in each item */
    int *covered_of; /* scratch, all zero between places: parts of it that the place covers */
    int *split;      /* scratch: the new item that takes the covered half of each old one */
    int *touched;    /* scratch: the items that the place covers parts of */
    uint64_t *covered;
} Merging;

static void begin_merging(Merging *merging, const NwPlacementTable *places) {
    size_t parts = (size_t)places->part_count;
    *merging = (Merging){.item = nw_alloc(parts, sizeof(int)),
                         .size_of = nw_alloc(parts, sizeof(int)),
                         .covered_of = nw_alloc(parts, sizeof(int)),
                         .split = nw_alloc(parts, sizeof(int)),
                         .touched = nw_alloc(parts, sizeof(int)),
                         .covered = nw_alloc((size_t)places->words, sizeof(uint64_t)),
                         .items = 1};
    merging->size_of[0] = places->part_count;
}

static void end_merging(Merging *merging) {
    free(merging->item);
    free(merging->size_of);
    free(merging->covered_of);
    free(merging->split);
    free(merging->touched);
    free(merging->covered);
}

static void split_by_place(Merging *merging, const NwPlacementTable *places, int place) {
    const uint64_t *filled = nw_placement_table_filled(places, place);
    int touched = 0;
    for (int w = 0; w < places->words; w++) {
        merging->covered[w] |= filled[w];
        for (uint64_t rest = filled[w]; rest; rest &= rest - 1) {
            int item = merging->item[64 * w + nw_lowest(rest)];
            if (!merging->covered_of[item]++)
                merging->touched[touched++] = item;
        }
    }
    bool splits = false;
    for (int i = 0; i < touched; i++) {
        int item = merging->touched[i], covered = merging->covered_of[item];
        merging->split[item] = item;
        merging->covered_of[item] = 0;
        if (covered == merging->size_of[item])
            continue;
        merging->split[item] = merging->items;
        merging->size_of[merging->items++] = covered;
        merging->size_of[item] -= covered;
        splits = true;
    }
    for (int w = 0; splits && w < places->words; w++)
        for (uint64_t rest = filled[w]; rest; rest &= rest - 1) {
            int *item = &merging->item[64 * w + nw_lowest(rest)];
            *item = merging->split[*item];
        }
}

/* Numbers the items in the order of their first parts, uncovered parts left out. */
static void renumber(Merging *merging, const NwPlacementTable *places) {
    for (int i = 0; i < merging->items; i++)
        merging->split[i] = -1;
    merging->items = 0;
    for (int part = 0; part < places->part_count; part++) {
        int *item = &merging->item[part];
        if (!(merging->covered[part / 64] >> part % 64 & 1)) {
            *item = -1;
            continue;
        }
        if (merging->split[*item] < 0)
            merging->split[*item] = merging->items++;
        *item = merging->split[*item];
    }
}

static void set_item(uint64_t *row, int item) {
    row[item / 64] |= nw_bit(item % 64);
}

struct NwMatrixMaker {
    const NwDesign *design;
    const NwPlacementTable *places;
    const bool *disabled;
    Merging merging;
    NwMatrix *matrix; /* once the parts are merged */
    int next;         /* place; they are gone through twice: for the items, for the rows */
};

NwMatrixMaker *nw_matrix_maker_new(const NwDesign *design, const NwPlacementTable *places,
                                   const bool *disabled) {
    NwMatrixMaker *maker = nw_alloc(1, sizeof *maker);
    *maker = (NwMatrixMaker){.design = design, .places = places, .disabled = disabled};
    begin_merging(&maker->merging, places);
    return maker;
}

void nw_matrix_maker_free(NwMatrixMaker *maker) {
    if (!maker)
        return;
    end_merging(&maker->merging);
    nw_matrix_free(maker->matrix);
    free(maker);
}

int nw_matrix_maker_done(const NwMatrixMaker *maker) {
    return maker->next + (maker->matrix ? maker->places->place_count : 0);
}

/* What must be filled, in items. */
static void require(NwMatrix *matrix, const NwPlacementTable *places, const Merging *merging) {
    for (int part = 0; part < places->part_count; part++) {
        if (!(places->required[part / 64] >> part % 64 & 1))
            continue;
        if (merging->item[part] < 0)
            matrix->impossible = true;
        else
            set_item(matrix->required, merging->item[part]);
    }
}

/* The matrix without rows. */
static void begin_rows(NwMatrixMaker *maker) {
    const NwDesign *design = maker->design;
    NwMatrix *matrix = maker->matrix = nw_alloc(1, sizeof *matrix);
    renumber(&maker->merging, maker->places);
    matrix->piece_count = (int)design->piece_count;
    matrix->part_items = maker->merging.items;
    matrix->item_count = matrix->part_items + matrix->piece_count;
    matrix->words = (matrix->item_count + 63) / 64;
    matrix->copies = nw_alloc(design->piece_count, sizeof *matrix->copies);
    for (size_t i = 0; i < design->piece_count; i++)
        matrix->total += matrix->copies[i] = design->pieces[i].copies;
    size_t count = (size_t)maker->places->place_count, words = (size_t)matrix->words;
    matrix->required = nw_alloc(words, sizeof *matrix->required);
    matrix->rows = nw_alloc(count * (words + 1), sizeof *matrix->rows);
    matrix->place_of_row = nw_alloc(count, sizeof *matrix->place_of_row);
    require(matrix, maker->places, &maker->merging);
}

static void add_row(NwMatrix *matrix, const NwPlacementTable *places, const Merging *merging,
                    int place) {
    uint64_t *row = matrix->rows + (size_t)matrix->row_count * ((size_t)matrix->words + 1);
    const uint64_t *filled = nw_placement_table_filled(places, place);
    for (int w = 0; w < places->words; w++)
        for (uint64_t rest = filled[w]; rest; rest &= rest - 1)
            set_item(row, merging->item[64 * w + nw_lowest(rest)]);
    set_item(row, matrix->part_items + places->places[place].piece);
    row[matrix->words] = (uint64_t)matrix->row_count;
    matrix->place_of_row[matrix->row_count++] = place;
}

static bool every_piece_has_a_row(const NwMatrix *matrix, const NwPlacementTable *places) {
    int piece = 0;
    for (int r = 0; r < matrix->row_count && piece < matrix->piece_count; r++)
        if (places->places[matrix->place_of_row[r]].piece == piece)
            piece++;
    return piece == matrix->piece_count;
}

NwMatrix *nw_matrix_maker_step(NwMatrixMaker *maker, long effort) {
    const NwPlacementTable *places = maker->places;
    const int cost = 1 + places->words / 8;
    for (int round = maker->matrix != NULL; round < 2; round++) {
        if (round && !maker->matrix)
            begin_rows(maker);
        for (; maker->next < places->place_count; maker->next++) {
            if (maker->disabled && maker->disabled[maker->next])
                continue;
            if (effort <= 0)
                return NULL;
            effort -= cost;
            if (round)
                add_row(maker->matrix, places, &maker->merging, maker->next);
            else
                split_by_place(&maker->merging, places, maker->next);
        }
        maker->next = round ? maker->next : 0;
    }
    NwMatrix *matrix = maker->matrix;
    maker->matrix = NULL;
    if (!every_piece_has_a_row(matrix, places))
        matrix->impossible = true;
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
    for (size_t i = 0; i < (size_t)matrix->row_count * (words + 1); i++)
        print = nw_mix(print ^ matrix->rows[i]) + 1;
    for (size_t w = 0; w < words; w++)
        print = nw_mix(print ^ matrix->required[w]) + 1;
    for (int p = 0; p < matrix->piece_count; p++)
        print = nw_mix(print ^ (uint64_t)matrix->copies[p]) + 1;
    return print;
}
