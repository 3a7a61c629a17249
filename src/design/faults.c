#include "design/faults.h"

#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"

typedef struct List {
    NwFault *faults;
    size_t count, capacity;
} List;

static NwFault *add(List *list, NwFaultKind kind) {
    list->faults = nw_grow(list->faults, list->count, &list->capacity, sizeof *list->faults);
    list->faults[list->count] =
        (NwFault){.kind = kind, .piece = -1, .other_piece = -1, .entry = -1, .other_entry = -1};
    return &list->faults[list->count++];
}

static NwFault *add_for_piece(List *list, NwFaultKind kind, size_t piece) {
    NwFault *fault = add(list, kind);
    fault->piece = (int)piece;
    return fault;
}

/* Adds a fault that concerns these parts, unless there are none, and frees them. */
static NwFault *add_for_parts(List *list, NwFaultKind kind, NwSolid *parts) {
    NwFault *fault = NULL;
    if (parts->count) {
        fault = add(list, kind);
        fault->found = (long)nw_solid_parts(parts);
        fault->cell = nw_cell_at(&parts->cells[0]);
    }
    nw_solid_free(parts);
    return fault;
}

static void find_envelope_faults(List *list, const NwDesign *design) {
    if (!design->envelope->count)
        add(list, NW_FAULT_EMPTY_ENVELOPE);
    add_for_parts(list, NW_FAULT_STRAY_EMPTY,
                  nw_solid_difference(design->may_be_empty, design->envelope));
}

static NwVec size_of(const NwSolid *solid) {
    NwBounds box = nw_solid_bounds(solid);
    return nw_vec_sub(box.high, box.low);
}

static void swap_if_less(int *a, int *b) {
    if (*a < *b) {
        int kept = *a;
        *a = *b;
        *b = kept;
    }
}

/* The same numbers, largest first. */
static NwVec sorted(NwVec v) {
    swap_if_less(&v.x, &v.y);
    swap_if_less(&v.y, &v.z);
    swap_if_less(&v.x, &v.y);
    return v;
}

/* Some turn of a box goes into another box exactly when their sorted sizes do. */
static bool box_fits(NwVec size, NwVec room) {
    NwVec a = sorted(size), b = sorted(room);
    return a.x <= b.x && a.y <= b.y && a.z <= b.z;
}

static void find_empty_pieces(List *list, const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++)
        if (!design->pieces[i].solid->count)
            add_for_piece(list, NW_FAULT_EMPTY_PIECE, i);
}

static void find_lumps(List *list, const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++) {
        size_t lumps = nw_solid_lumps(design->pieces[i].solid);
        if (lumps > 1)
            add_for_piece(list, NW_FAULT_LUMPS, i)->found = (long)lumps;
    }
}

static void find_wide_pieces(List *list, const NwDesign *design) {
    NwVec room = size_of(design->envelope);
    for (size_t i = 0; i < design->piece_count; i++) {
        NwVec size = size_of(design->pieces[i].solid);
        if (box_fits(size, room))
            continue;
        NwFault *fault = add_for_piece(list, NW_FAULT_TOO_WIDE, i);
        fault->size = size;
        fault->room = room;
    }
}

static void find_volume_faults(List *list, const NwDesign *design) {
    NwSolid *required = nw_solid_difference(design->envelope, design->may_be_empty);
    long least = nw_solid_volume6(required), most = nw_solid_volume6(design->envelope), volume = 0;
    nw_solid_free(required);
    for (size_t i = 0; i < design->piece_count; i++)
        volume += design->pieces[i].copies * nw_solid_volume6(design->pieces[i].solid);
    if (volume >= least && volume <= most)
        return;
    NwFault *fault = add(list, volume < least ? NW_FAULT_TOO_LITTLE : NW_FAULT_TOO_MUCH);
    fault->found = volume;
    fault->wanted = volume < least ? least : most;
}

static void find_wrong_copies(List *list, const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++) {
        long found = 0;
        for (size_t k = 0; k < design->intended_count; k++)
            found += design->intended[k].piece == (int)i;
        if (found == design->pieces[i].copies)
            continue;
        NwFault *fault = add_for_piece(list, NW_FAULT_COPIES, i);
        fault->found = found;
        fault->wanted = design->pieces[i].copies;
    }
}

static NwStatus place(const NwDesign *design, size_t entry, NwSolid **placed) {
    const NwPlacement *placement = &design->intended[entry];
    return nw_solid_moved(design->pieces[placement->piece].solid, placement->motion, placed);
}

static void set_entry(NwFault *fault, const NwDesign *design, size_t entry) {
    fault->entry = (int)entry;
    fault->piece = design->intended[entry].piece;
}

static void find_odd_shifts(List *list, const NwDesign *design, NwSolid **placed) {
    for (size_t i = 0; i < design->intended_count; i++)
        if (place(design, i, &placed[i]) == NW_OFF_LATTICE)
            set_entry(add(list, NW_FAULT_ODD_SHIFT), design, i);
}

/* Where the placement of an entry leaves the range of coordinates, and so the envelope. */
static bool is_far_out(const NwDesign *design, size_t entry) {
    NwSolid *ignored;
    bool far = place(design, entry, &ignored) == NW_OUT_OF_RANGE;
    nw_solid_free(ignored);
    return far;
}

static void find_outside(List *list, const NwDesign *design, NwSolid **placed) {
    for (size_t i = 0; i < design->intended_count; i++) {
        NwFault *fault = NULL;
        if (placed[i]) {
            fault = add_for_parts(list, NW_FAULT_OUTSIDE,
                                  nw_solid_difference(placed[i], design->envelope));
        } else if (is_far_out(design, i)) {
            const NwSolid *solid = design->pieces[design->intended[i].piece].solid;
            fault = add(list, NW_FAULT_OUTSIDE);
            fault->found = (long)nw_solid_parts(solid);
            fault->cell = nw_vec_add(
                nw_turn_cell(design->intended[i].motion.turn, nw_cell_at(&solid->cells[0])),
                design->intended[i].motion.shift);
        }
        if (fault)
            set_entry(fault, design, i);
    }
}

/* The pairs that overlap. Each placement is held against the union of those before it, so that
 * pairs are looked at one by one only where there is something to find. Returns the union. */
static NwSolid *find_overlaps(List *list, const NwDesign *design, NwSolid **placed) {
    NwSolid *taken = nw_solid_new();
    for (size_t i = 0; i < design->intended_count; i++) {
        if (!placed[i])
            continue;
        for (size_t k = 0; k < i && nw_solid_overlaps(taken, placed[i]); k++) {
            if (!placed[k])
                continue;
            NwFault *fault =
                add_for_parts(list, NW_FAULT_OVERLAP, nw_solid_intersection(placed[k], placed[i]));
            if (!fault)
                continue;
            set_entry(fault, design, k);
            fault->other_entry = (int)i;
            fault->other_piece = design->intended[i].piece;
        }
        NwSolid *both = nw_solid_union(taken, placed[i]);
        nw_solid_free(taken);
        taken = both;
    }
    return taken;
}

static void find_gaps(List *list, const NwDesign *design, const NwSolid *taken) {
    NwSolid *required = nw_solid_difference(design->envelope, design->may_be_empty);
    add_for_parts(list, NW_FAULT_GAP, nw_solid_difference(required, taken));
    nw_solid_free(required);
}

static void find_intended_faults(List *list, const NwDesign *design) {
    NwSolid **placed = nw_alloc(design->intended_count, sizeof *placed);
    size_t before = list->count;
    find_wrong_copies(list, design);
    find_odd_shifts(list, design, placed);
    bool all_there = list->count == before; /* else gaps are no news */
    find_outside(list, design, placed);
    NwSolid *taken = find_overlaps(list, design, placed);
    if (all_there)
        find_gaps(list, design, taken);
    nw_solid_free(taken);
    for (size_t i = 0; i < design->intended_count; i++)
        nw_solid_free(placed[i]);
    free(placed);
}

size_t nw_design_faults(const NwDesign *design, NwFault **faults) {
    List list = {0};
    find_envelope_faults(&list, design);
    find_empty_pieces(&list, design);
    find_lumps(&list, design);
    if (design->envelope->count) {
        find_wide_pieces(&list, design);
        find_volume_faults(&list, design);
    }
    if (design->intended_count)
        find_intended_faults(&list, design);
    *faults = list.faults;
    return list.count;
}
