#include "slide/group_positions.h"

static uint32_t all_bodies(int count) {
    return (uint32_t)((UINT64_C(1) << count) - 1);
}

static void move(NwGroupPositions *standing, const NwSlide *slide) {
    NwVec by = nw_vec_scale(nw_direction_step(slide->direction), slide->cells);
    for (int b = 0; b < standing->count; b++)
        if (slide->bodies >> b & 1)
            standing->at[b] = nw_vec_add(standing->at[b], by);
}

static void part(NwGroupPositions *standing, uint32_t out) {
    for (int b = 0; b < standing->count; b++)
        standing->group[b] &= out >> b & 1 ? out : ~out;
}

void nw_group_positions_after(int count, const NwSlide *slides, int slide_count,
                              NwGroupPositions *standing) {
    *standing = (NwGroupPositions){.count = count};
    for (int b = 0; b < count; b++)
        standing->group[b] = all_bodies(count);
    for (int i = 0; i < slide_count; i++)
        if (slides[i].cells == NW_SLIDE_OUT)
            part(standing, slides[i].bodies);
        else
            move(standing, &slides[i]);
}
