#include "make/stock/block_order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lattice/connect.h"

/* A face in which two blocks touch; the normal points from the first to the second. */
typedef struct Contact {
    size_t a, b;
    NwVec normal;
} Contact;

typedef struct Order {
    NwBlocks *blocks;
    Contact *contacts;
    size_t count, capacity;
    bool *gone;
} Order;

typedef void FaceVisitor(NwPart across, NwVec normal, void *data);

static void visit_faces(const NwSolid *solid, FaceVisitor *visit, void *data) {
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&solid->cells[i]), bit};
            for (int face = 0; nw_solid_has(solid, part) && face < 4; face++) {
                NwVec t[3];
                nw_part_face(part, face, t);
                NwPart across = nw_part_across(part, face);
                if (!nw_solid_has(solid, across))
                    visit(across, nw_vec_cross(nw_vec_sub(t[1], t[0]), nw_vec_sub(t[2], t[0])),
                          data);
            }
        }
}

typedef struct Touch {
    const NwSolid *other;
    double area;
} Touch;

/* The normal of a triangle has twice its area as its length. */
static void add_area(NwPart across, NwVec normal, void *data) {
    Touch *touch = data;
    if (nw_solid_has(touch->other, across))
        touch->area += sqrt(nw_vec_dot(normal, normal)) / 2;
}

double nw_blocks_contact(const NwBlock *a, const NwBlock *b) {
    Touch touch = {b->solid, 0};
    visit_faces(a->solid, add_area, &touch);
    return touch.area;
}

typedef struct Collector {
    Order *order;
    size_t block;
} Collector;

static void collect(NwPart across, NwVec normal, void *data) {
    const Collector *collector = data;
    Order *order = collector->order;
    for (size_t b = 0; b < order->blocks->count; b++)
        if (nw_solid_has(order->blocks->blocks[b].solid, across)) {
            order->contacts =
                nw_grow(order->contacts, order->count, &order->capacity, sizeof(Contact));
            order->contacts[order->count++] = (Contact){collector->block, b, normal};
        }
}

static bool has_way(const Order *order, size_t block) {
    for (int code = 0; code < 27; code++) {
        NwVec way = nw_vec(code % 3 - 1, code / 3 % 3 - 1, code / 9 - 1);
        bool free = code != 13; /* no way at all */
        for (size_t i = 0; free && i < order->count; i++) {
            const Contact *c = &order->contacts[i];
            free = c->a != block || order->gone[c->b] || nw_vec_dot(way, c->normal) <= 0;
        }
        if (free)
            return true;
    }
    return false;
}

/* Whether the blocks still there, but for `without`, hang together. */
static bool hangs_together(const Order *order, size_t without) {
    size_t n = order->blocks->count, reached = 0, wanted = 0;
    bool *seen = nw_alloc(n, sizeof *seen), grew = false;
    for (size_t i = 0; i < n; i++)
        if (!order->gone[i] && i != without && wanted++ == 0) {
            seen[i] = grew = true;
            reached = 1;
        }
    while (grew) {
        grew = false;
        for (size_t i = 0; i < order->count; i++) {
            const Contact *c = &order->contacts[i];
            if (seen[c->a] && !seen[c->b] && !order->gone[c->b] && c->b != without) {
                seen[c->b] = grew = true;
                reached++;
            }
        }
    }
    free(seen);
    return reached == wanted;
}

/* Which block to take off next: best one that has a way and leaves one lump, then one that leaves
 * one lump, then any; of equals the smallest, and the last of them. */
static size_t next_off(Order *order) {
    size_t best = 0;
    long best_rank = -1;
    for (size_t i = 0; i < order->blocks->count; i++) {
        if (order->gone[i])
            continue;
        bool way = has_way(order, i), whole = hangs_together(order, i);
        long rank =
            1000L * (2 * whole + way) + 100 - nw_solid_volume6(order->blocks->blocks[i].solid);
        if (rank >= best_rank) {
            best_rank = rank;
            best = i;
            order->blocks->blocks[i].straight = way;
        }
    }
    return best;
}

bool nw_blocks_order(NwBlocks *blocks, NwProgress *progress) {
    size_t n = blocks->count;
    Order order = {blocks, NULL, 0, 0, nw_alloc(n, sizeof(bool))};
    NwBlock *sorted = nw_alloc(n, sizeof *sorted);
    for (size_t i = 0; i < n; i++) {
        Collector collector = {&order, i};
        visit_faces(blocks->blocks[i].solid, collect, &collector);
    }
    bool wanted = true;
    for (size_t left = n; left > 0 && wanted; left--) {
        wanted = nw_progress_tell(progress, 1 - (double)left / (double)n);
        size_t off = next_off(&order);
        order.gone[off] = true;
        sorted[left - 1] = blocks->blocks[off];
    }
    if (n && wanted)
        memcpy(blocks->blocks, sorted, n * sizeof *sorted);
    free(sorted);
    free(order.gone);
    free(order.contacts);
    return wanted;
}
