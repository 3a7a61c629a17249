#include "slide/grips.h"

#include "base/bits.h"

/* Whom each body of `set` pushes directly, within the set. */
static void find_pushes(NwClearanceCache *cache, const NwBody *bodies,
                        const NwGroupPositions *standing, uint32_t set, int direction,
                        uint32_t pushes[NW_BODIES_MAX]) {
    for (uint32_t a = set; a; a &= a - 1) {
        int body = nw_lowest(a);
        pushes[body] = 0;
        for (uint32_t b = set & ~(uint32_t)nw_bit(body); b; b &= b - 1) {
            int other = nw_lowest(b);
            const NwClearance *table = nw_clearance_get(cache, &bodies[other], &bodies[body]);
            NwVec r = nw_vec_sub(nw_vec_add(bodies[body].motion.shift, standing->at[body]),
                                 nw_vec_add(bodies[other].motion.shift, standing->at[other]));
            uint8_t runs[NW_DIRECTIONS + 6]; /* as wide as a row of a table */
            if (nw_clearance_inside(table, r)) {
                if (nw_clearance_at(table, r)[direction] == 0)
                    pushes[body] |= (uint32_t)nw_bit(other);
                continue;
            }
            nw_clearance_outside(table, r, runs);
            if (runs[direction] == 0)
                pushes[body] |= (uint32_t)nw_bit(other);
        }
    }
}

static uint32_t all_pushed(const uint32_t *pushes, int body) {
    uint32_t pushed = (uint32_t)nw_bit(body);
    for (uint32_t waiting = pushed; waiting;) {
        uint32_t more = pushes[nw_lowest(waiting)] & ~pushed;
        pushed |= more;
        waiting = (waiting & (waiting - 1)) | more;
    }
    return pushed;
}

uint32_t nw_grips_needed(NwClearanceCache *cache, const NwBody *bodies,
                         const NwGroupPositions *standing, uint32_t set, int direction) {
    uint32_t pushes[NW_BODIES_MAX], pushed[NW_BODIES_MAX], grips = 0;
    find_pushes(cache, bodies, standing, set, direction, pushes);
    for (uint32_t a = set; a; a &= a - 1)
        pushed[nw_lowest(a)] = all_pushed(pushes, nw_lowest(a));
    for (uint32_t a = set; a; a &= a - 1) {
        int body = nw_lowest(a);
        bool source = true;
        for (uint32_t b = set; b && source; b &= b - 1) {
            int other = nw_lowest(b);
            bool pushes_it = pushed[other] >> body & 1, pushed_back = pushed[body] >> other & 1;
            source = other == body || !pushes_it || (pushed_back && body < other);
        }
        if (source)
            grips |= (uint32_t)nw_bit(body);
    }
    return grips;
}

NwGrips nw_grips_of_slide(NwClearanceCache *cache, const NwBody *bodies,
                          const NwGroupPositions *standing, const NwSlide *slide, bool backwards) {
    uint32_t rest = standing->group[nw_lowest(slide->bodies)] & ~slide->bodies;
    int back = nw_direction_opposite(slide->direction);
    int way = backwards ? back : slide->direction, other = backwards ? slide->direction : back;
    /* Sets travel rigidly, so within each the bodies touch after the slide as they did before. */
    return (NwGrips){nw_grips_needed(cache, bodies, standing, slide->bodies, way),
                     nw_grips_needed(cache, bodies, standing, rest, other)};
}
