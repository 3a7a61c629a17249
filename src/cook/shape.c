#include "cook/shape.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"

struct NwShapes {
    NwSolid **list;
    size_t count, capacity;
    int *slots; /* number + 1, or 0; at most half are in use */
    size_t slot_count;
};

NwShapes *nw_shapes_new(void) {
    NwShapes *shapes = nw_alloc(1, sizeof *shapes);
    shapes->slot_count = 256;
    shapes->slots = nw_alloc(shapes->slot_count, sizeof *shapes->slots);
    return shapes;
}

void nw_shapes_free(NwShapes *shapes) {
    if (!shapes)
        return;
    for (size_t i = 0; i < shapes->count; i++)
        nw_solid_free(shapes->list[i]);
    free(shapes->list);
    free(shapes->slots);
    free(shapes);
}

static uint64_t hash_of(const NwSolid *solid) {
    uint64_t hash = solid->count;
    for (size_t i = 0; i < solid->count; i++) {
        const NwCell *cell = &solid->cells[i];
        uint64_t packed = (uint64_t)(cell->x + 2000) << 44 | (uint64_t)(cell->y + 2000) << 28 |
                          (uint64_t)(cell->z + 2000) << 12 | cell->mask;
        hash = nw_mix(hash + packed);
    }
    return hash;
}

static size_t slot_of(const NwShapes *shapes, const NwSolid *solid) {
    size_t slot = (size_t)hash_of(solid) & (shapes->slot_count - 1);
    while (shapes->slots[slot] && !nw_solid_equal(shapes->list[shapes->slots[slot] - 1], solid))
        slot = (slot + 1) & (shapes->slot_count - 1);
    return slot;
}

static void grow(NwShapes *shapes) {
    shapes->slot_count *= 2;
    free(shapes->slots);
    shapes->slots = nw_alloc(shapes->slot_count, sizeof *shapes->slots);
    for (size_t i = 0; i < shapes->count; i++)
        shapes->slots[slot_of(shapes, shapes->list[i])] = (int)i + 1;
}

int nw_shapes_number(NwShapes *shapes, const NwSolid *solid) {
    size_t slot = slot_of(shapes, solid);
    if (shapes->slots[slot])
        return shapes->slots[slot] - 1;
    shapes->list = nw_grow(shapes->list, shapes->count, &shapes->capacity, sizeof *shapes->list);
    shapes->list[shapes->count++] = nw_solid_copy(solid);
    shapes->slots[slot] = (int)shapes->count;
    if (2 * shapes->count > shapes->slot_count)
        grow(shapes);
    return (int)shapes->count - 1;
}
