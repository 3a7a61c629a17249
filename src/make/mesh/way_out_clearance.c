#include "make/mesh/way_out_clearance.h"

#include <math.h>
#include <string.h>

#include "slide/direction.h"

typedef struct Walk {
    const NwFacets *const *bodies;
    size_t count;
    double at[NW_BODIES_MAX][3];
    uint32_t group[NW_BODIES_MAX]; /* the bodies that each has not parted from */
    NwWayOutClearance free_way;
    NwProgress *progress;
} Walk;

static void look(Walk *walk, size_t moving, size_t resting, const double way[3], int slide) {
    NwNear near = {.mm = walk->free_way.least_mm, .progress = walk->progress};
    double from[3];
    for (int k = 0; k < 3; k++)
        from[k] = walk->at[moving][k] - walk->at[resting][k];
    if (nw_facets_nearer(walk->bodies[moving], walk->bodies[resting], from, way, &near))
        walk->free_way = (NwWayOutClearance){near.mm, slide, moving, resting};
}

/* How far a body must go until all of it is past all of another. */
static double past_mm(const Walk *walk, size_t moving, size_t resting, const double unit[3]) {
    double behind = INFINITY, ahead = -INFINITY;
    for (size_t i = 0; i < walk->bodies[moving]->point_count; i++) {
        double sum = 0;
        for (int k = 0; k < 3; k++)
            sum += unit[k] * (walk->bodies[moving]->points[i][k] + walk->at[moving][k]);
        behind = fmin(behind, sum);
    }
    for (size_t i = 0; i < walk->bodies[resting]->point_count; i++) {
        double sum = 0;
        for (int k = 0; k < 3; k++)
            sum += unit[k] * (walk->bodies[resting]->points[i][k] + walk->at[resting][k]);
        ahead = fmax(ahead, sum);
    }
    return fmax(0, ahead - behind);
}

static void play(Walk *walk, const NwSlide *slide, int number, double cell_mm) {
    NwVec step = nw_direction_step(slide->direction);
    double length = cell_mm * sqrt(nw_vec_dot(step, step)), unit[3], way[3];
    bool out = slide->cells == NW_SLIDE_OUT;
    for (int k = 0; k < 3; k++)
        unit[k] = nw_vec_get(step, k) * cell_mm / length;
    for (size_t m = 0; m < walk->count; m++)
        for (size_t r = 0; r < walk->count && slide->bodies >> m & 1; r++) {
            if (slide->bodies >> r & 1 || !(walk->group[m] >> r & 1) ||
                nw_progress_is_stopped(walk->progress))
                continue;
            double far = out ? past_mm(walk, m, r, unit) : length * slide->cells;
            for (int k = 0; k < 3; k++)
                way[k] = unit[k] * far;
            look(walk, m, r, way, number);
        }
    for (size_t b = 0; b < walk->count; b++) {
        bool moves = slide->bodies >> b & 1;
        for (int k = 0; k < 3 && moves && !out; k++)
            walk->at[b][k] += unit[k] * length * slide->cells;
        if (out)
            walk->group[b] &= moves ? slide->bodies : ~slide->bodies;
    }
}

NwWayOutClearance nw_way_out_clearance_measure(const NwFacets *const *bodies, size_t count,
                                               const NwSlide *slides, size_t slide_count,
                                               double cell_mm, double bound_mm,
                                               NwProgress *progress) {
    static const double nowhere[3] = {0, 0, 0};
    Walk walk = {
        .bodies = bodies, .count = count, .free_way = {bound_mm, -2, 0, 0}, .progress = progress};
    for (size_t b = 0; b < count; b++)
        walk.group[b] = count < 32 ? (1u << count) - 1 : UINT32_MAX;
    for (size_t m = 0; m < count; m++)
        for (size_t r = 0; r < m && !nw_progress_is_stopped(progress); r++)
            look(&walk, m, r, nowhere, -1);
    for (size_t i = 0;
         i < slide_count && nw_progress_tell(progress, (double)i / (double)slide_count); i++)
        play(&walk, &slides[i], (int)i, cell_mm);
    return walk.free_way;
}
