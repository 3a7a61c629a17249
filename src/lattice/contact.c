#include "lattice/contact.h"

#include <string.h>

static const NwVec separating[13] = {
    {1, 0, 0}, {0, 1, 0},  {0, 0, 1}, {1, 1, 0},  {1, -1, 0}, {1, 0, 1},  {1, 0, -1},
    {0, 1, 1}, {0, 1, -1}, {1, 1, 1}, {1, 1, -1}, {1, -1, 1}, {-1, 1, 1},
};

typedef struct Extent {
    int low, high;
} Extent;

static Extent extent(const NwVec vertices[4], NwVec direction) {
    int first = nw_vec_dot(vertices[0], direction);
    Extent e = {first, first};
    for (int k = 1; k < 4; k++) {
        int at = nw_vec_dot(vertices[k], direction);
        if (at < e.low)
            e.low = at;
        if (at > e.high)
            e.high = at;
    }
    return e;
}

bool nw_contact_overlap(const NwVec a[4], const NwVec b[4]) {
    for (int k = 0; k < 13; k++) {
        Extent of_a = extent(a, separating[k]), of_b = extent(b, separating[k]);
        if (of_a.high <= of_b.low || of_b.high <= of_a.low)
            return false;
    }
    return true;
}

static void vertices_in_quarters(NwVec cell, int bit, NwVec offset, NwVec vertices[4]) {
    nw_part_vertices((NwPart){cell, bit}, vertices);
    for (int k = 0; k < 4; k++)
        vertices[k] = nw_vec_add(nw_vec_scale(vertices[k], 4), offset);
}

/* The parts of the fixed cell at `fixed` that one moving part meets. */
static int parts_hit(const NwVec moving[4], NwVec fixed) {
    int mask = 0;
    for (int bit = 0; bit < NW_PARTS; bit++) {
        NwVec vertices[4];
        vertices_in_quarters(fixed, bit, nw_vec(0, 0, 0), vertices);
        if (nw_contact_overlap(moving, vertices))
            mask |= 1 << bit;
    }
    return mask;
}

void nw_contact_build(NwVec quarters, NwContact *contact) {
    memset(contact, 0, sizeof *contact);
    for (int parity = 0; parity < 2; parity++)
        for (int odd = 0; odd < 2; odd++)
            for (int octant = 0; octant < 8; octant++)
                for (int bit = 0; bit < NW_PARTS; bit++) {
                    /* The moving cell is at (parity, 0, 0), carried by (odd, 0, 0) + fraction. */
                    NwVec moving[4];
                    NwVec offset = nw_vec_add(nw_vec(4 * odd, 0, 0), quarters);
                    vertices_in_quarters(nw_vec(parity, 0, 0), bit, offset, moving);
                    NwVec fixed =
                        nw_vec(parity + odd + (octant & 1), octant >> 1 & 1, octant >> 2 & 1);
                    int hit = parts_hit(moving, fixed);
                    if (hit)
                        contact->octants |= (uint8_t)(1 << octant);
                    for (int mask = 0; mask <= NW_WHOLE; mask++)
                        if (mask >> bit & 1)
                            contact->hit[parity][odd][octant][mask] |= (uint8_t)hit;
                }
}
