#include "fit/difference.h"

#include "base/bits.h"

static bool find_places(const NwFit *fit, const NwPlacement *placements, int *set) {
    for (int i = 0; i < fit->count; i++) {
        set[i] = nw_placement_table_of_motion(fit->places, fit->design, placements[i]);
        if (set[i] < 0)
            return false;
    }
    return true;
}

/* Bodies of `set` whose places are not among the images of `other` under one motion. */
static int count_moved(const NwFit *fit, const int *set, const int *other, int motion,
                       uint32_t *moved) {
    int count = 0;
    *moved = 0;
    for (int i = 0; i < fit->count; i++) {
        bool stays = false;
        for (int k = 0; k < fit->count && !stays; k++)
            stays = nw_symmetry_group_image(fit->group, motion, other[k]) == set[i];
        if (stays)
            continue;
        count++;
        if (i < 32)
            *moved |= UINT32_C(1) << i;
    }
    return count;
}

int nw_fit_difference(const NwFit *fit, const NwPlacement *assembly, const NwPlacement *other,
                      uint32_t *moved) {
    int set[NW_COPIES_MAX], others[NW_COPIES_MAX], least = -1;
    if (!find_places(fit, assembly, set) || !find_places(fit, other, others))
        return -1;
    for (int g = 0; g < fit->group->order; g++) {
        uint32_t bodies;
        int count = count_moved(fit, set, others, g, &bodies);
        if (least >= 0 && count >= least)
            continue;
        least = count;
        if (moved)
            *moved = bodies;
    }
    return least;
}
