#include "plain/plain_slide.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/overlap.h"

typedef struct Position {
    NwVec at[NW_PLAIN_SLIDE_PIECES_MAX]; /* of every member of the group, the first at 0 */
    size_t parent;
    NwReplaySlide by; /* the slide that led here, bits by member */
} Position;

/* A group of pieces and the positions that it has reached. */
typedef struct Group {
    const NwSolid *solids[NW_PLAIN_SLIDE_PIECES_MAX];
    size_t names[NW_PLAIN_SLIDE_PIECES_MAX]; /* of the members among all pieces */
    NwVec start[NW_PLAIN_SLIDE_PIECES_MAX];
    size_t count;
} Group;

typedef struct Search {
    const Group *group;
    Position *positions;
    size_t reached, capacity, limit;
    size_t *table; /* open addressing; position number + 1, or 0 */
    size_t table_size;
    int directions;
} Search;

static const NwVec directions[18] = {
    {1, 0, 0},  {-1, 0, 0},  {0, 1, 0},  {0, -1, 0},  {0, 0, 1},  {0, 0, -1},
    {1, 1, 0},  {-1, -1, 0}, {1, -1, 0}, {-1, 1, 0},  {1, 0, 1},  {-1, 0, -1},
    {1, 0, -1}, {-1, 0, 1},  {0, 1, 1},  {0, -1, -1}, {0, 1, -1}, {0, -1, 1},
};

static bool same_position(const Group *group, const NwVec *a, const NwVec *b) {
    for (size_t i = 0; i < group->count; i++)
        if (!nw_vec_equal(a[i], b[i]))
            return false;
    return true;
}

static uint64_t hash_position(const Group *group, const NwVec *at) {
    uint64_t hash = 0;
    for (size_t i = 0; i < group->count; i++) {
        uint64_t packed = (uint64_t)(at[i].x + 5000) << 40 | (uint64_t)(at[i].y + 5000) << 20 |
                          (uint64_t)(at[i].z + 5000);
        hash = nw_mix(hash * 31 + packed);
    }
    return hash;
}

/* The slot of a position: where it is, or where it would go. */
static size_t slot_of(const Search *search, const NwVec *at) {
    size_t slot = hash_position(search->group, at) & (search->table_size - 1);
    while (search->table[slot] &&
           !same_position(search->group, search->positions[search->table[slot] - 1].at, at))
        slot = (slot + 1) & (search->table_size - 1);
    return slot;
}

static void enlarge_table(Search *search) {
    search->table_size = search->table_size ? 2 * search->table_size : 256;
    free(search->table);
    search->table = nw_alloc(search->table_size, sizeof *search->table);
    for (size_t i = 0; i < search->reached; i++)
        search->table[slot_of(search, search->positions[i].at)] = i + 1;
}

static void reach(Search *search, const NwVec *at, size_t parent, NwReplaySlide by) {
    if (2 * (search->reached + 1) > search->table_size)
        enlarge_table(search);
    size_t slot = slot_of(search, at);
    if (search->table[slot])
        return;
    search->positions =
        nw_grow(search->positions, search->reached, &search->capacity, sizeof *search->positions);
    Position *position = &search->positions[search->reached++];
    *position = (Position){.parent = parent, .by = by};
    memcpy(position->at, at, search->group->count * sizeof *at);
    search->table[slot] = search->reached;
}

/* Whether the set, `eighths` of a step further on, overlaps none of the others. */
static bool is_clear(const Group *group, const NwVec *at, const NwReplaySlide *slide, int eighths) {
    NwVec on = nw_vec_scale(slide->direction, eighths);
    for (size_t i = 0; i < group->count; i++)
        for (size_t j = 0; j < group->count; j++) {
            if (!(slide->set >> i & 1) || slide->set >> j & 1)
                continue;
            NwVec apart = nw_vec_add(nw_vec_scale(nw_vec_sub(at[i], at[j]), 8), on);
            if (nw_overlap_solids(group->solids[j], group->solids[i], apart, 8))
                return false;
        }
    return true;
}

static bool step_is_clear(const Group *group, const NwVec *at, const NwReplaySlide *slide) {
    int between = nw_vec_dot(slide->direction, slide->direction) == 1 ? 4 : 1;
    for (int eighths = between; eighths <= 8; eighths += between)
        if (!is_clear(group, at, slide, eighths))
            return false;
    return true;
}

/* Whether piece i, going on in this direction for ever, can never meet piece j. */
static bool never_meets(const Group *group, const NwVec *at, size_t i, size_t j, NwVec direction) {
    NwBounds own = nw_solid_bounds(group->solids[i]), other = nw_solid_bounds(group->solids[j]);
    NwVec apart = nw_vec_sub(at[i], at[j]);
    for (int axis = 0; axis < 3; axis++) {
        int way = nw_vec_get(direction, axis), by = nw_vec_get(apart, axis);
        bool above = nw_vec_get(own.low, axis) + by >= nw_vec_get(other.high, axis);
        bool below = nw_vec_get(own.high, axis) + by <= nw_vec_get(other.low, axis);
        if ((way >= 0 && above) || (way <= 0 && below))
            return true;
    }
    return false;
}

static bool is_free_for_ever(const Group *group, const NwVec *at, const NwReplaySlide *slide) {
    for (size_t i = 0; i < group->count; i++)
        for (size_t j = 0; j < group->count; j++)
            if (slide->set >> i & 1 && !(slide->set >> j & 1) &&
                !never_meets(group, at, i, j, slide->direction))
                return false;
    return true;
}

/* Slides a set as far as it goes and notes each position on the way; true if it gets away. */
static bool slide_along(Search *search, size_t from, NwReplaySlide slide) {
    const Group *group = search->group;
    NwVec at[NW_PLAIN_SLIDE_PIECES_MAX];
    memcpy(at, search->positions[from].at, sizeof at);
    for (slide.cells = 1; step_is_clear(group, at, &slide); slide.cells++) {
        for (size_t i = 0; i < group->count; i++)
            if (slide.set >> i & 1)
                at[i] = nw_vec_add(at[i], slide.direction);
        if (is_free_for_ever(group, at, &slide))
            return true;
        reach(search, at, from, slide);
    }
    return false;
}

/* Breadth first from the group's start. On NW_OK, `last` is the position before the slide out. */
static NwStatus separate(Search *search, size_t *last, NwReplaySlide *out) {
    reach(search, search->group->start, 0, (NwReplaySlide){0});
    for (*last = 0; *last < search->reached; ++*last)
        for (uint32_t set = 2; set < UINT32_C(1) << search->group->count; set += 2)
            for (int d = 0; d < search->directions; d++) {
                *out = (NwReplaySlide){set, directions[d], NW_REPLAY_OUT};
                if (slide_along(search, *last, *out))
                    return NW_OK;
                if (search->reached > search->limit)
                    return NW_LIMIT;
            }
    return NW_NONE;
}

static void write_slide(NwPlainWayOut *way, const Group *group, NwReplaySlide slide) {
    uint32_t set = 0;
    for (size_t i = 0; i < group->count; i++)
        if (slide.set >> i & 1)
            set |= UINT32_C(1) << group->names[i];
    slide.set = set;
    way->slides = nw_grow(way->slides, way->slide_count, &way->slide_capacity, sizeof slide);
    way->slides[way->slide_count++] = slide;
}

/* The slides that led to a position, first one first; returns how many. */
static int write_path(NwPlainWayOut *way, const Search *search, size_t last) {
    if (last == 0)
        return 0;
    int before = write_path(way, search, search->positions[last].parent);
    write_slide(way, search->group, search->positions[last].by);
    return before + 1;
}

/* The members of a set, standing at `at`; the first of them becomes the one at 0. */
static Group split_off(const Group *group, uint32_t set, const NwVec *at) {
    Group half = {.count = 0};
    for (size_t i = 0; i < group->count; i++) {
        if (!(set >> i & 1))
            continue;
        half.solids[half.count] = group->solids[i];
        half.names[half.count] = group->names[i];
        half.start[half.count++] = at[i];
    }
    for (size_t i = half.count; i-- > 0;)
        half.start[i] = nw_vec_sub(half.start[i], half.start[0]);
    return half;
}

static NwStatus take_apart(NwPlainWayOut *way, const Group *group, int directions_tried,
                           size_t limit) {
    if (group->count < 2)
        return NW_OK;
    Search search = {.group = group, .limit = limit, .directions = directions_tried};
    size_t last;
    NwReplaySlide out;
    NwStatus status = separate(&search, &last, &out);
    way->positions += search.reached;
    Group halves[2];
    if (status == NW_OK) {
        int slides = write_path(way, &search, last) + 1;
        write_slide(way, group, out);
        if (!way->level)
            way->level = slides;
        halves[0] = split_off(group, out.set, search.positions[last].at);
        halves[1] = split_off(group, ~out.set, search.positions[last].at);
    }
    free(search.positions);
    free(search.table);
    if (status != NW_OK)
        return status;
    NwStatus first = take_apart(way, &halves[0], directions_tried, limit);
    NwStatus second = take_apart(way, &halves[1], directions_tried, limit);
    return first == NW_NONE || second == NW_NONE ? NW_NONE : first != NW_OK ? first : second;
}

NwPlainWayOut nw_plain_slide(const NwSolid *const *solids, size_t count, bool diagonals,
                             size_t limit) {
    NwPlainWayOut way = {.status = NW_OK, .apart = NW_OK};
    if (count == 0 || count > NW_PLAIN_SLIDE_PIECES_MAX) {
        way.status = way.apart = NW_TOO_MANY;
        return way;
    }
    Group all = {.count = count};
    for (size_t i = 0; i < count; i++) {
        all.solids[i] = solids[i];
        all.names[i] = i;
    }
    way.apart = take_apart(&way, &all, diagonals ? 18 : 6, limit);
    if (count > 1 && !way.level)
        way.status = way.apart;
    return way;
}
