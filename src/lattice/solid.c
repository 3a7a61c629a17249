#include "lattice/solid.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

NwSolid *nw_solid_new(void) {
    return nw_alloc(1, sizeof(NwSolid));
}

void nw_solid_free(NwSolid *solid) {
    if (!solid)
        return;
    free(solid->cells);
    free(solid);
}

NwSolid *nw_solid_copy(const NwSolid *solid) {
    NwSolid *copy = nw_solid_new();
    copy->cells = nw_alloc(solid->count, sizeof(NwCell));
    copy->count = copy->capacity = solid->count;
    if (solid->count)
        memcpy(copy->cells, solid->cells, solid->count * sizeof(NwCell));
    return copy;
}

static int compare_places(NwVec a, const NwCell *b) {
    if (a.x != b->x)
        return a.x < b->x ? -1 : 1;
    if (a.y != b->y)
        return a.y < b->y ? -1 : 1;
    return a.z < b->z ? -1 : a.z > b->z;
}

/* Where `cell` is or belongs; *found says which. */
static size_t locate(const NwSolid *solid, NwVec cell, bool *found) {
    size_t low = 0, high = solid->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare_places(cell, &solid->cells[middle]);
        if (order == 0) {
            *found = true;
            return middle;
        }
        if (order < 0)
            high = middle;
        else
            low = middle + 1;
    }
    *found = false;
    return low;
}

/* Appends a cell that comes after all others. */
static void append(NwSolid *solid, NwVec cell, int mask) {
    solid->cells = nw_grow(solid->cells, solid->count, &solid->capacity, sizeof(NwCell));
    solid->cells[solid->count++] =
        (NwCell){(int16_t)cell.x, (int16_t)cell.y, (int16_t)cell.z, (uint16_t)mask};
}

NwStatus nw_solid_add(NwSolid *solid, NwVec cell, int mask) {
    if (!nw_vec_in_range(cell))
        return NW_OUT_OF_RANGE;
    mask &= NW_WHOLE;
    if (!mask)
        return NW_OK;
    bool found;
    size_t at = locate(solid, cell, &found);
    if (found) {
        solid->cells[at].mask |= (uint16_t)mask;
        return NW_OK;
    }
    append(solid, cell, mask);
    NwCell added = solid->cells[solid->count - 1];
    memmove(&solid->cells[at + 1], &solid->cells[at], (solid->count - 1 - at) * sizeof(NwCell));
    solid->cells[at] = added;
    return NW_OK;
}

void nw_solid_remove(NwSolid *solid, NwVec cell, int mask) {
    bool found;
    size_t at = locate(solid, cell, &found);
    if (!found)
        return;
    solid->cells[at].mask &= (uint16_t)~mask;
    if (solid->cells[at].mask)
        return;
    solid->count--;
    memmove(&solid->cells[at], &solid->cells[at + 1], (solid->count - at) * sizeof(NwCell));
}

int nw_solid_mask(const NwSolid *solid, NwVec cell) {
    bool found;
    size_t at = locate(solid, cell, &found);
    return found ? solid->cells[at].mask : 0;
}

int nw_solid_compare(const NwSolid *a, const NwSolid *b) {
    if (a->count != b->count)
        return a->count < b->count ? -1 : 1;
    for (size_t i = 0; i < a->count; i++) {
        int order = compare_places(nw_cell_at(&a->cells[i]), &b->cells[i]);
        if (order)
            return order;
        if (a->cells[i].mask != b->cells[i].mask)
            return a->cells[i].mask < b->cells[i].mask ? -1 : 1;
    }
    return 0;
}

bool nw_solid_equal(const NwSolid *a, const NwSolid *b) {
    return nw_solid_compare(a, b) == 0;
}

/* Walks two solids in step: the next cell of either, with both masks. */
typedef struct Pairwise {
    const NwSolid *a, *b;
    size_t i, j;
} Pairwise;

static bool pairwise_next(Pairwise *walk, NwVec *cell, int *mask_a, int *mask_b) {
    const NwSolid *a = walk->a, *b = walk->b;
    bool more_a = walk->i < a->count, more_b = walk->j < b->count;
    if (!more_a && !more_b)
        return false;
    int order = !more_a   ? 1
                : !more_b ? -1
                          : compare_places(nw_cell_at(&a->cells[walk->i]), &b->cells[walk->j]);
    *cell = nw_cell_at(order <= 0 ? &a->cells[walk->i] : &b->cells[walk->j]);
    *mask_a = order <= 0 ? a->cells[walk->i++].mask : 0;
    *mask_b = order >= 0 ? b->cells[walk->j++].mask : 0;
    return true;
}

bool nw_solid_contains(const NwSolid *outer, const NwSolid *inner) {
    Pairwise walk = {outer, inner, 0, 0};
    NwVec cell;
    int out, in;
    while (pairwise_next(&walk, &cell, &out, &in))
        if (in & ~out)
            return false;
    return true;
}

bool nw_solid_overlaps(const NwSolid *a, const NwSolid *b) {
    Pairwise walk = {a, b, 0, 0};
    NwVec cell;
    int mask_a, mask_b;
    while (pairwise_next(&walk, &cell, &mask_a, &mask_b))
        if (mask_a & mask_b)
            return true;
    return false;
}

typedef enum { UNION, DIFFERENCE, INTERSECTION } SetOperation;

static NwSolid *combine(const NwSolid *a, const NwSolid *b, SetOperation operation) {
    NwSolid *result = nw_solid_new();
    Pairwise walk = {a, b, 0, 0};
    NwVec cell;
    int mask_a, mask_b;
    while (pairwise_next(&walk, &cell, &mask_a, &mask_b)) {
        int mask = operation == UNION        ? mask_a | mask_b
                   : operation == DIFFERENCE ? mask_a & ~mask_b
                                             : mask_a & mask_b;
        if (mask)
            append(result, cell, mask);
    }
    return result;
}

NwSolid *nw_solid_union(const NwSolid *a, const NwSolid *b) {
    return combine(a, b, UNION);
}

NwSolid *nw_solid_difference(const NwSolid *a, const NwSolid *b) {
    return combine(a, b, DIFFERENCE);
}

NwSolid *nw_solid_intersection(const NwSolid *a, const NwSolid *b) {
    return combine(a, b, INTERSECTION);
}

size_t nw_solid_parts(const NwSolid *solid) {
    size_t parts = 0;
    for (size_t i = 0; i < solid->count; i++)
        parts += (size_t)__builtin_popcount(solid->cells[i].mask);
    return parts;
}

long nw_solid_volume6(const NwSolid *solid) {
    long volume = 0;
    for (size_t i = 0; i < solid->count; i++)
        volume += nw_mask_volume6(solid->cells[i].mask);
    return volume;
}

bool nw_solid_is_whole(const NwSolid *solid) {
    for (size_t i = 0; i < solid->count; i++)
        if (solid->cells[i].mask != NW_WHOLE)
            return false;
    return true;
}

NwBounds nw_solid_bounds(const NwSolid *solid) {
    NwBounds box = {{0, 0, 0}, {0, 0, 0}};
    if (!solid->count)
        return box;
    box.low = box.high = nw_cell_at(&solid->cells[0]);
    for (size_t i = 1; i < solid->count; i++)
        for (int axis = 0; axis < 3; axis++) {
            int at = nw_vec_get(nw_cell_at(&solid->cells[i]), axis);
            if (at < nw_vec_get(box.low, axis))
                nw_vec_set(&box.low, axis, at);
            if (at > nw_vec_get(box.high, axis))
                nw_vec_set(&box.high, axis, at);
        }
    box.high = nw_vec_add(box.high, nw_vec(1, 1, 1));
    return box;
}

static int compare_cells(const void *a, const void *b) {
    return compare_places(nw_cell_at(a), b);
}

NwStatus nw_solid_moved(const NwSolid *solid, NwMotion motion, NwSolid **moved) {
    *moved = NULL;
    if (nw_vec_parity(motion.shift) && !nw_solid_is_whole(solid))
        return NW_OFF_LATTICE;
    bool odd = nw_vec_parity(motion.shift);
    NwSolid *result = nw_solid_copy(solid);
    for (size_t i = 0; i < solid->count; i++) {
        NwVec from = nw_cell_at(&solid->cells[i]);
        NwVec to = nw_vec_add(nw_turn_cell(motion.turn, from), motion.shift);
        if (!nw_vec_in_range(to)) {
            nw_solid_free(result);
            return NW_OUT_OF_RANGE;
        }
        int mask = solid->cells[i].mask;
        if (!odd)
            mask = nw_mask_turn(motion.turn, nw_vec_parity(from), mask);
        result->cells[i] = (NwCell){(int16_t)to.x, (int16_t)to.y, (int16_t)to.z, (uint16_t)mask};
    }
    if (result->count)
        qsort(result->cells, result->count, sizeof(NwCell), compare_cells);
    *moved = result;
    return NW_OK;
}
