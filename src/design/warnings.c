#include "design/warnings.h"

#include <stdlib.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/connect.h"

enum { FACES = 4 };

/* A node of the walk. Nodes are parts, numbered in the order of the solid. */
typedef struct Node {
    NwPart part;
    size_t order; /* when it was first met; 0 for not yet */
    size_t low;   /* the earliest node that its subtree links to */
    size_t below; /* how many nodes its subtree has, itself included */
    size_t parent;
    int came_by; /* the face that leads back to the parent, -1 for a root */
    int next;    /* the next face to try */
} Node;

typedef struct Walk {
    const NwSolid *solid;
    size_t *first; /* of each cell, the number of its first part */
    Node *nodes;
    size_t count, met;
    NwBridge *bridges;
    size_t bridge_count, capacity;
} Walk;

static void number_parts(Walk *walk) {
    const NwSolid *solid = walk->solid;
    walk->first = nw_alloc(solid->count, sizeof *walk->first);
    walk->nodes = nw_alloc(nw_solid_parts(solid), sizeof *walk->nodes);
    for (size_t i = 0; i < solid->count; i++) {
        walk->first[i] = walk->count;
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (solid->cells[i].mask >> bit & 1)
                walk->nodes[walk->count++].part = (NwPart){nw_cell_at(&solid->cells[i]), bit};
    }
}

/* The number of a part, or the count of parts if the solid does not have it. */
static size_t number_of(const Walk *walk, NwPart part) {
    const NwSolid *solid = walk->solid;
    size_t low = 0, high = solid->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (nw_vec_compare(nw_cell_at(&solid->cells[middle]), part.cell) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    if (low == solid->count || !nw_vec_equal(nw_cell_at(&solid->cells[low]), part.cell) ||
        !(solid->cells[low].mask >> part.bit & 1))
        return walk->count;
    int before = solid->cells[low].mask & ((1 << part.bit) - 1);
    return walk->first[low] + (size_t)nw_count_bits((uint64_t)before);
}

/* The face of `part` that leads to `other`. */
static int face_to(NwPart part, NwPart other) {
    int face = 0;
    for (; face < FACES - 1; face++) {
        NwPart across = nw_part_across(part, face);
        if (nw_vec_equal(across.cell, other.cell) && across.bit == other.bit)
            break;
    }
    return face;
}

static void enter(Walk *walk, size_t at, size_t parent, int came_by) {
    Node *node = &walk->nodes[at];
    node->order = node->low = ++walk->met;
    node->below = 1;
    node->parent = parent;
    node->came_by = came_by;
}

/* Everything below the node is done: its parent learns of it, and whether a bridge leads there.
 * The sizes of the sides are settled later, when the lump is known. */
static void leave(Walk *walk, size_t at) {
    const Node *node = &walk->nodes[at];
    if (node->came_by < 0)
        return;
    Node *parent = &walk->nodes[node->parent];
    parent->below += node->below;
    if (node->low < parent->low)
        parent->low = node->low;
    if (node->low <= parent->order)
        return;
    walk->bridges =
        nw_grow(walk->bridges, walk->bridge_count, &walk->capacity, sizeof *walk->bridges);
    walk->bridges[walk->bridge_count++] = (NwBridge){node->part, node->came_by, node->below};
}

/* One lump, from its first part. */
static void walk_lump(Walk *walk, size_t root) {
    size_t at = root;
    enter(walk, root, root, -1);
    for (;;) {
        Node *node = &walk->nodes[at];
        if (node->next == FACES) {
            leave(walk, at);
            if (node->came_by < 0)
                return;
            at = node->parent;
            continue;
        }
        int face = node->next++;
        NwPart across = nw_part_across(node->part, face);
        size_t to = number_of(walk, across);
        if (to == walk->count || face == node->came_by)
            continue;
        if (!walk->nodes[to].order) {
            enter(walk, to, at, face_to(across, node->part));
            at = to;
        } else if (walk->nodes[to].order < node->low) {
            node->low = walk->nodes[to].order;
        }
    }
}

/* Names a bridge by its lesser side; `all` is how many parts the lump has. */
static void turn_to_lesser(NwBridge *bridge, size_t all) {
    if (bridge->side <= all - bridge->side)
        return;
    NwPart other = nw_part_across(bridge->part, bridge->face);
    bridge->face = face_to(other, bridge->part);
    bridge->part = other;
    bridge->side = all - bridge->side;
}

static int compare_bridges(const void *a, const void *b) {
    const NwBridge *p = a, *q = b;
    if (p->side != q->side)
        return p->side > q->side ? -1 : 1;
    int order = nw_vec_compare(p->part.cell, q->part.cell);
    if (order)
        return order;
    return p->part.bit != q->part.bit ? (p->part.bit < q->part.bit ? -1 : 1)
                                      : (p->face > q->face) - (p->face < q->face);
}

static size_t find_bridges(const NwSolid *solid, NwBridge **bridges, size_t *lumps) {
    Walk walk = {.solid = solid};
    number_parts(&walk);
    *lumps = 0;
    for (size_t root = 0; root < walk.count; root++) {
        if (walk.nodes[root].order)
            continue;
        size_t before = walk.bridge_count;
        walk_lump(&walk, root);
        for (size_t i = before; i < walk.bridge_count; i++)
            turn_to_lesser(&walk.bridges[i], walk.nodes[root].below);
        ++*lumps;
    }
    if (walk.bridge_count)
        qsort(walk.bridges, walk.bridge_count, sizeof *walk.bridges, compare_bridges);
    free(walk.first);
    free(walk.nodes);
    *bridges = walk.bridges;
    return walk.bridge_count;
}

size_t nw_solid_bridges(const NwSolid *solid, NwBridge **bridges) {
    size_t lumps;
    return find_bridges(solid, bridges, &lumps);
}

NwPieceWarnings nw_piece_warnings(const NwDesign *design, int piece) {
    const NwSolid *solid = design->pieces[piece].solid;
    NwPieceWarnings marks = {.volume6 = nw_solid_volume6(solid)};
    NwBridge *bridges;
    marks.bridges = find_bridges(solid, &bridges, &marks.lumps);
    while (marks.necks < marks.bridges && bridges[marks.necks].side > 1)
        marks.necks++;
    free(bridges);
    return marks;
}
