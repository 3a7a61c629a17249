#include "make/stock/blocks.h"

#include <stdlib.h>

#include "base/memory.h"
#include "lattice/connect.h"
#include "make/stock/block_order.h"

/* The octahedra that a solid could give, by their middle vertices. */
typedef struct Choice {
    const NwSolid *solid;
    NwVec *vertices;
    bool *used;
    size_t count, capacity;
} Choice;

static NwVec cell_beside(NwVec vertex, int octant) {
    return nw_vec(vertex.x - (octant & 1), vertex.y - (octant >> 1 & 1), vertex.z - (octant >> 2));
}

/* The bit of the corner at `vertex` in the cell that has it as its vertex `octant`. */
static int corner_mask(NwVec cell, int octant) {
    return 1 << nw_part_bit(nw_vec_parity(cell), octant);
}

static bool is_candidate(const NwSolid *solid, NwVec vertex) {
    for (int octant = 0; octant < 8; octant++) {
        NwVec cell = cell_beside(vertex, octant);
        if (!(nw_solid_mask(solid, cell) & corner_mask(cell, octant)))
            return false;
    }
    return true;
}

/* Every octahedron has exactly one cell whose vertex 7 is its middle. */
static void find_candidates(Choice *choice) {
    for (size_t i = 0; i < choice->solid->count; i++) {
        NwVec cell = nw_cell_at(&choice->solid->cells[i]);
        NwVec vertex = nw_vec_add(cell, nw_vec(1, 1, 1));
        if (!(nw_vec_parity(vertex) & 1) || !is_candidate(choice->solid, vertex))
            continue;
        choice->vertices =
            nw_grow(choice->vertices, choice->count, &choice->capacity, sizeof(NwVec));
        choice->vertices[choice->count++] = vertex;
    }
    choice->used = nw_alloc(choice->count, sizeof *choice->used);
}

/* What is left of a cell's mask when the octahedra in use have taken their corners. */
static int mask_left(const Choice *choice, const NwCell *cell) {
    int mask = cell->mask;
    for (size_t i = 0; i < choice->count; i++) {
        NwVec d = nw_vec_sub(choice->vertices[i], nw_cell_at(cell));
        if (choice->used[i] && (d.x | d.y | d.z | 1) == 1 && d.x >= 0 && d.y >= 0 && d.z >= 0)
            mask &= ~corner_mask(nw_cell_at(cell), d.x + 2 * d.y + 4 * d.z);
    }
    return mask;
}

static int blocks_of_cell(int mask) {
    int corners = 0;
    for (int bit = 1; bit < NW_PARTS; bit++)
        corners += mask >> bit & 1;
    if (mask == NW_WHOLE || mask == NW_CORE)
        return 1;
    return corners;
}

static int blocks_of_choice(const Choice *choice) {
    int sum = 0;
    for (size_t i = 0; i < choice->count; i++)
        sum += choice->used[i];
    for (size_t i = 0; i < choice->solid->count; i++)
        sum += blocks_of_cell(mask_left(choice, &choice->solid->cells[i]));
    return sum;
}

static void try_all(Choice *choice) {
    unsigned best = 0;
    int least = blocks_of_choice(choice);
    for (unsigned set = 1; set < 1u << choice->count; set++) {
        for (size_t i = 0; i < choice->count; i++)
            choice->used[i] = set >> i & 1;
        int sum = blocks_of_choice(choice);
        if (sum < least) {
            least = sum;
            best = set;
        }
    }
    for (size_t i = 0; i < choice->count; i++)
        choice->used[i] = best >> i & 1;
}

static void try_changes(Choice *choice) {
    int least = blocks_of_choice(choice);
    for (size_t i = 0, since = 0; since < choice->count; i = (i + 1) % choice->count, since++) {
        choice->used[i] = !choice->used[i];
        int sum = blocks_of_choice(choice);
        if (sum < least) {
            least = sum;
            since = 0;
        } else {
            choice->used[i] = !choice->used[i];
        }
    }
}

static NwBlock *add_block(NwBlocks *blocks, NwBlockKind kind, NwVec at) {
    blocks->blocks = nw_grow(blocks->blocks, blocks->count, &blocks->capacity, sizeof(NwBlock));
    NwBlock *block = &blocks->blocks[blocks->count++];
    *block = (NwBlock){kind, nw_solid_new(), at, true};
    blocks->counts[kind]++;
    return block;
}

static void add_cell_block(NwBlocks *blocks, NwBlockKind kind, NwVec cell, int mask) {
    nw_solid_add(add_block(blocks, kind, cell)->solid, cell, mask);
}

static void add_cell(NwBlocks *blocks, NwVec cell, int mask) {
    if (mask == NW_WHOLE) {
        add_cell_block(blocks, NW_BLOCK_WHOLE, cell, mask);
        return;
    }
    bool core = mask & NW_CORE;
    int corners = mask & ~NW_CORE;
    if (core && corners) {
        int first = corners & -corners;
        add_cell_block(blocks, NW_BLOCK_HALF, cell, NW_CORE | first);
        corners &= ~first;
    } else if (core) {
        add_cell_block(blocks, NW_BLOCK_CORE, cell, NW_CORE);
    }
    for (int bit = 1; bit < NW_PARTS; bit++)
        if (corners >> bit & 1)
            add_cell_block(blocks, NW_BLOCK_CORNER, cell, 1 << bit);
}

NwBlocks *nw_blocks_new(const NwSolid *solid, NwProgress *progress) {
    NwBlocks *blocks = nw_alloc(1, sizeof *blocks);
    Choice choice = {solid, NULL, NULL, 0, 0};
    find_candidates(&choice);
    blocks->least = choice.count <= NW_BLOCK_TRY_MAX;
    if (blocks->least)
        try_all(&choice);
    else
        try_changes(&choice);
    for (size_t i = 0; i < choice.count; i++) {
        if (!choice.used[i])
            continue;
        NwBlock *block = add_block(blocks, NW_BLOCK_OCTAHEDRON, choice.vertices[i]);
        for (int octant = 0; octant < 8; octant++) {
            NwVec cell = cell_beside(choice.vertices[i], octant);
            nw_solid_add(block->solid, cell, corner_mask(cell, octant));
        }
    }
    for (size_t i = 0; i < solid->count; i++)
        add_cell(blocks, nw_cell_at(&solid->cells[i]), mask_left(&choice, &solid->cells[i]));
    free(choice.vertices);
    free(choice.used);
    if (nw_blocks_order(blocks, progress))
        return blocks;
    nw_blocks_free(blocks);
    return NULL;
}

void nw_blocks_free(NwBlocks *blocks) {
    if (!blocks)
        return;
    for (size_t i = 0; i < blocks->count; i++)
        nw_solid_free(blocks->blocks[i].solid);
    free(blocks->blocks);
    free(blocks);
}
