#include "cook/candidates.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"

void nw_candidates_clear(NwCandidates *choices) {
    free(choices->list);
    free(choices->order);
    *choices = (NwCandidates){0};
}

/* The body that has each part of the envelope, or -1. */
static int *list_owners(const NwBaseline *baseline, const NwDesign *design) {
    const NwPlacementTable *places = baseline->fit->places;
    int *owners = nw_alloc((size_t)places->part_count, sizeof *owners);
    for (int i = 0; i < places->part_count; i++)
        owners[i] = -1;
    for (int b = 0; b < baseline->bodies; b++) {
        const NwPlacement *placement = &design->intended[b];
        NwSolid *there;
        if (nw_solid_moved(design->pieces[placement->piece].solid, placement->motion, &there) !=
            NW_OK)
            continue;
        for (size_t i = 0; i < there->count; i++)
            for (int mask = there->cells[i].mask; mask; mask &= mask - 1) {
                NwPart part = {nw_cell_at(&there->cells[i]), nw_lowest((uint64_t)mask)};
                int number = nw_placement_table_part(places, part);
                if (number >= 0)
                    owners[number] = b;
            }
        nw_solid_free(there);
    }
    return owners;
}

static int compare_parts(NwPart a, NwPart b) {
    int order = nw_vec_compare(a.cell, b.cell);
    return order ? order : (a.bit > b.bit) - (a.bit < b.bit);
}

static int compare_changes(const NwChange *a, const NwChange *b) {
    if (a->from != b->from)
        return a->from < b->from ? -1 : 1;
    if (a->to != b->to)
        return a->to < b->to ? -1 : 1;
    int order = a->from < 0 ? 0 : compare_parts(a->lost, b->lost);
    return order || a->to < 0 ? order : compare_parts(a->won, b->won);
}

static int compare_in_list(const void *a, const void *b, void *list) {
    const NwChange *changes = list;
    return compare_changes(&changes[*(const size_t *)a], &changes[*(const size_t *)b]);
}

long nw_candidates_find(const NwCandidates *choices, const NwChange *change) {
    size_t low = 0, high = choices->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare_changes(&choices->list[choices->order[middle]], change);
        if (order == 0)
            return (long)choices->order[middle];
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return -1;
}

/* The part in the frame of a body's piece; false for a body at an odd shift, whose piece must stay
 * of whole cells. */
static bool own_part(const NwDesign *design, int body, NwPart part, NwPart *own) {
    NwMotion back = nw_motion_inverse(design->intended[body].motion);
    if (nw_vec_parity(back.shift))
        return false;
    *own = nw_part_moved(part, back);
    return true;
}

/* From body to body; -1 for nobody. */
static void add(NwCandidates *choices, const NwDesign *design, NwPart part, int from, int to) {
    NwChange change = {.part = part, .from = -1, .to = -1};
    if (from >= 0) {
        change.from = design->intended[from].piece;
        if (!own_part(design, from, part, &change.lost))
            return;
    }
    if (to >= 0) {
        change.to = design->intended[to].piece;
        if (!own_part(design, to, part, &change.won))
            return;
    }
    /* A part that touches a piece with several faces brings up one change several times, and copies
     * bring it up in several places. */
    bool copies = (from >= 0 && design->pieces[change.from].copies > 1) ||
                  (to >= 0 && design->pieces[change.to].copies > 1);
    for (size_t i = choices->count; i-- > 0;) {
        if (!copies && !nw_part_equal(choices->list[i].part, part))
            break;
        if (nw_change_equal(&choices->list[i], &change))
            return;
    }
    choices->list =
        nw_grow(choices->list, choices->count, &choices->capacity, sizeof *choices->list);
    choices->list[choices->count++] = change;
}

void nw_candidates_list(const NwBaseline *baseline, const NwDesign *design, NwCandidates *choices) {
    const NwPlacementTable *places = baseline->fit->places;
    int *owners = list_owners(baseline, design);
    *choices = (NwCandidates){0};
    for (int i = 0; i < places->part_count; i++) {
        NwPart part = places->parts[i];
        int from = owners[i];
        for (int face = 0; face < 4; face++) {
            int across = nw_placement_table_part(places, nw_part_across(part, face));
            int to = across < 0 ? -1 : owners[across];
            if (to >= 0 && to != from)
                add(choices, design, part, from, to);
        }
        for (int b = 0; b < baseline->bodies; b++) /* a piece that is used up may begin anew */
            if (b != from && !design->pieces[design->intended[b].piece].solid->count)
                add(choices, design, part, from, b);
        bool must_be_filled = places->required[i / 64] >> i % 64 & 1;
        if (from >= 0 && !must_be_filled)
            add(choices, design, part, from, -1);
    }
    free(owners);
    choices->order = nw_alloc(choices->count, sizeof *choices->order);
    for (size_t i = 0; i < choices->count; i++)
        choices->order[i] = i;
    if (choices->count)
        qsort_r(choices->order, choices->count, sizeof *choices->order, compare_in_list,
                choices->list);
}
