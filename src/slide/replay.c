#include "slide/replay.h"

#include "lattice/overlap.h"

typedef struct Stage {
    const NwSolid *const *solids;
    size_t count;
    NwVec at[NW_REPLAY_SOLIDS_MAX];     /* displacement from the place in the assembly */
    size_t group[NW_REPLAY_SOLIDS_MAX]; /* solids of different groups have parted for ever */
    size_t groups;
} Stage;

static bool travels(const NwReplaySlide *slide, size_t i) {
    return slide->set >> i & 1;
}

/* Whether the set meets anything of its group, `eighths` of a step beyond where it stands. */
static bool collides(const Stage *stage, const NwReplaySlide *slide, int eighths) {
    for (size_t i = 0; i < stage->count; i++)
        for (size_t j = 0; j < stage->count; j++) {
            if (!travels(slide, i) || travels(slide, j) || stage->group[i] != stage->group[j])
                continue;
            NwVec apart = nw_vec_scale(nw_vec_sub(stage->at[i], stage->at[j]), 8);
            apart = nw_vec_add(apart, nw_vec_scale(slide->direction, eighths));
            if (nw_overlap_solids(stage->solids[j], stage->solids[i], apart, 8))
                return true;
        }
    return false;
}

static bool step(Stage *stage, const NwReplaySlide *slide) {
    bool diagonal = nw_vec_dot(slide->direction, slide->direction) == 2;
    int between = diagonal ? 1 : 4;
    for (int eighths = between; eighths <= 8; eighths += between)
        if (collides(stage, slide, eighths))
            return false;
    for (size_t i = 0; i < stage->count; i++)
        if (travels(slide, i))
            stage->at[i] = nw_vec_add(stage->at[i], slide->direction);
    return true;
}

/* Whether solid i has left solid j behind along one of the axes it travels on. */
static bool is_past(const Stage *stage, size_t i, size_t j, NwVec direction) {
    NwBounds own = nw_solid_bounds(stage->solids[i]), other = nw_solid_bounds(stage->solids[j]);
    for (int axis = 0; axis < 3; axis++) {
        int way = nw_vec_get(direction, axis);
        int ahead = nw_vec_get(stage->at[i], axis) - nw_vec_get(stage->at[j], axis);
        if (way > 0 && nw_vec_get(own.low, axis) + ahead >= nw_vec_get(other.high, axis))
            return true;
        if (way < 0 && nw_vec_get(own.high, axis) + ahead <= nw_vec_get(other.low, axis))
            return true;
    }
    return false;
}

static bool all_past(const Stage *stage, const NwReplaySlide *slide) {
    for (size_t i = 0; i < stage->count; i++)
        for (size_t j = 0; j < stage->count; j++)
            if (travels(slide, i) && !travels(slide, j) && stage->group[i] == stage->group[j] &&
                !is_past(stage, i, j, slide->direction))
                return false;
    return true;
}

static const char *check_direction(NwVec d) {
    int length2 = nw_vec_dot(d, d);
    bool small = d.x * d.x <= 1 && d.y * d.y <= 1 && d.z * d.z <= 1;
    return small && (length2 == 1 || length2 == 2)
               ? NULL
               : "a slide is along no cube direction and no face diagonal";
}

/* The set must be some of one group, not none and not all of it. */
static const char *check_set(const Stage *stage, const NwReplaySlide *slide) {
    if (!slide->set || (stage->count < 32 && slide->set >> stage->count))
        return "a slide moves nothing, or a piece that is not there";
    size_t group = 0, moving = 0, size = 0;
    for (size_t i = 0; i < stage->count; i++)
        if (travels(slide, i))
            group = stage->group[i];
    for (size_t i = 0; i < stage->count; i++) {
        if (travels(slide, i) && stage->group[i] != group)
            return "a slide moves pieces that have parted already";
        moving += travels(slide, i);
        size += stage->group[i] == group;
    }
    return moving == size ? "a slide moves a whole group" : NULL;
}

static const char *play(Stage *stage, const NwReplaySlide *slide) {
    const char *reason = check_direction(slide->direction);
    if (!reason)
        reason = check_set(stage, slide);
    if (reason)
        return reason;
    if (slide->cells == 0)
        return "a slide has no length";
    for (int cells = 0; cells < slide->cells; cells++)
        if (!step(stage, slide))
            return "a slide runs into another piece";
    if (slide->cells > 0)
        return NULL;
    while (!all_past(stage, slide))
        if (!step(stage, slide))
            return "an out slide runs into another piece";
    for (size_t i = 0; i < stage->count; i++)
        if (travels(slide, i))
            stage->group[i] = stage->groups;
    stage->groups++;
    return NULL;
}

static const char *check_start(const Stage *stage) {
    for (size_t i = 0; i < stage->count; i++)
        for (size_t j = i + 1; j < stage->count; j++)
            if (nw_overlap_solids(stage->solids[i], stage->solids[j], nw_vec(0, 0, 0), 1))
                return "two pieces overlap before the first slide";
    return NULL;
}

const char *nw_replay(const NwSolid *const *solids, size_t count, const NwReplaySlide *slides,
                      size_t slide_count) {
    if (!count || count > NW_REPLAY_SOLIDS_MAX)
        return "the replay takes 1 to 32 pieces";
    Stage stage = {.solids = solids, .count = count, .groups = 1};
    const char *reason = check_start(&stage);
    for (size_t i = 0; i < slide_count && !reason; i++)
        reason = play(&stage, &slides[i]);
    if (!reason && stage.groups != count)
        reason = "some pieces are still together at the end";
    return reason;
}
