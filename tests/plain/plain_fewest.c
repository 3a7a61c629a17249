#include "plain/plain_fewest.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "lattice/overlap.h"

/* Configurations that did not come apart, and in how many slides. */
typedef struct Failed {
    signed char key[4 * NW_PLAIN_FEWEST_PIECES_MAX];
    int slides; /* below 0: an empty slot */
} Failed;

typedef struct Memory {
    Failed *slots;
    size_t size, used;
} Memory;

typedef struct Scene {
    const NwSolid *const *solids;
    int count, directions;
    long *patience;
    Memory *memory;
    int group[NW_PLAIN_FEWEST_PIECES_MAX];
    NwVec at[NW_PLAIN_FEWEST_PIECES_MAX];
} Scene;

static const NwVec directions[18] = {
    {1, 0, 0},  {-1, 0, 0},  {0, 1, 0},  {0, -1, 0},  {0, 0, 1},  {0, 0, -1},
    {1, 1, 0},  {-1, -1, 0}, {1, -1, 0}, {-1, 1, 0},  {1, 0, 1},  {-1, 0, -1},
    {1, 0, -1}, {-1, 0, 1},  {0, 1, 1},  {0, -1, -1}, {0, 1, -1}, {0, -1, 1},
};

/* The pieces of the set against the others of its group. */
static bool is_clear(const Scene *scene, int group, unsigned set, NwVec direction, int eighths) {
    for (int i = 0; i < scene->count; i++)
        for (int j = 0; j < scene->count; j++) {
            if (!(set >> i & 1) || set >> j & 1 || scene->group[j] != group)
                continue;
            NwVec apart = nw_vec_scale(nw_vec_sub(scene->at[i], scene->at[j]), 8);
            apart = nw_vec_add(apart, nw_vec_scale(direction, eighths));
            if (nw_overlap_solids(scene->solids[j], scene->solids[i], apart, 8))
                return false;
        }
    return true;
}

static bool step_is_clear(const Scene *scene, int group, unsigned set, NwVec direction) {
    int between = nw_vec_dot(direction, direction) == 1 ? 4 : 1;
    for (int eighths = between; eighths <= 8; eighths += between)
        if (!is_clear(scene, group, set, direction, eighths))
            return false;
    return true;
}

static bool is_past(const Scene *scene, int group, unsigned set, NwVec direction) {
    for (int i = 0; i < scene->count; i++)
        for (int j = 0; j < scene->count; j++) {
            if (!(set >> i & 1) || set >> j & 1 || scene->group[j] != group)
                continue;
            NwBounds own = nw_solid_bounds(scene->solids[i]),
                     other = nw_solid_bounds(scene->solids[j]);
            NwVec apart = nw_vec_sub(scene->at[i], scene->at[j]);
            bool past = false;
            for (int axis = 0; axis < 3; axis++) {
                int way = nw_vec_get(direction, axis), by = nw_vec_get(apart, axis);
                past |= way > 0 && nw_vec_get(own.low, axis) + by >= nw_vec_get(other.high, axis);
                past |= way < 0 && nw_vec_get(own.high, axis) + by <= nw_vec_get(other.low, axis);
            }
            if (!past)
                return false;
        }
    return true;
}

static bool search(const Scene *scene, int groups, int slides);

static bool slide(const Scene *scene, int groups, int slides, int group, unsigned set,
                  NwVec direction) {
    Scene after = *scene;
    for (;;) {
        bool was_past = is_past(&after, group, set, direction);
        if (!was_past && !step_is_clear(&after, group, set, direction))
            return false;
        if (!was_past)
            for (int i = 0; i < scene->count; i++)
                if (set >> i & 1)
                    after.at[i] = nw_vec_add(after.at[i], direction);
        if (was_past || is_past(&after, group, set, direction)) {
            /* Gone; for what follows it stands where it stood. */
            memcpy(after.at, scene->at, sizeof after.at);
            for (int i = 0; i < scene->count; i++)
                if (set >> i & 1)
                    after.group[i] = groups;
            return search(&after, groups + 1, slides - 1);
        }
        if (search(&after, groups, slides - 1))
            return true;
    }
}

static Failed *find(const Memory *memory, const signed char *key) {
    uint64_t hash = 1469598103934665603u; /* FNV-1a (Fowler, Noll, Vo, 1991) */
    for (size_t i = 0; i < sizeof memory->slots->key; i++)
        hash = (hash ^ (unsigned char)key[i]) * 1099511628211u;
    size_t slot = (size_t)(hash ^ hash >> 32) & (memory->size - 1);
    while (memory->slots[slot].slides >= 0 &&
           memcmp(memory->slots[slot].key, key, sizeof memory->slots->key) != 0)
        slot = (slot + 1) & (memory->size - 1);
    return &memory->slots[slot];
}

static void enlarge(Memory *memory) {
    Memory old = *memory;
    memory->size = old.size ? 2 * old.size : 1024;
    memory->slots = nw_alloc(memory->size, sizeof *memory->slots);
    for (size_t i = 0; i < memory->size; i++)
        memory->slots[i].slides = -1;
    for (size_t i = 0; i < old.size; i++)
        if (old.slots[i].slides >= 0)
            *find(memory, old.slots[i].key) = old.slots[i];
    free(old.slots);
}

/* Each piece's first companion, and where it stands from it. */
static void describe(const Scene *scene, signed char *key) {
    for (int i = 0; i < scene->count; i++) {
        int first = 0;
        while (scene->group[first] != scene->group[i])
            first++;
        NwVec apart = nw_vec_sub(scene->at[i], scene->at[first]);
        *key++ = (signed char)first;
        *key++ = (signed char)apart.x;
        *key++ = (signed char)apart.y;
        *key++ = (signed char)apart.z;
    }
}

static bool search_anew(const Scene *scene, int groups, int slides);

static bool search(const Scene *scene, int groups, int slides) {
    signed char key[4 * NW_PLAIN_FEWEST_PIECES_MAX] = {0};
    Memory *memory = scene->memory;
    if (slides < scene->count - groups)
        return false;
    describe(scene, key);
    if (2 * memory->used >= memory->size)
        enlarge(memory);
    if (find(memory, key)->slides >= slides)
        return false;
    if (search_anew(scene, groups, slides))
        return true;
    Failed *failed = find(memory, key);
    memory->used += failed->slides < 0;
    memcpy(failed->key, key, sizeof failed->key);
    failed->slides = slides;
    return false;
}

static bool search_anew(const Scene *scene, int groups, int slides) {
    if (*scene->patience <= 0)
        return false;
    --*scene->patience;
    int group = -1;
    unsigned members = 0;
    for (int i = 0; i < scene->count && group < 0; i++)
        for (int j = i + 1; j < scene->count; j++)
            if (scene->group[i] == scene->group[j])
                group = scene->group[i];
    if (group < 0)
        return true;
    for (int i = 0; i < scene->count; i++)
        members |= scene->group[i] == group ? 1u << i : 0;
    members &= members - 1;
    for (unsigned set = members; set; set = (set - 1) & members)
        for (int d = 0; d < scene->directions; d++)
            if (slide(scene, groups, slides, group, set, directions[d]))
                return true;
    return false;
}

bool nw_plain_fewest(const NwSolid *const *solids, size_t count, bool diagonals, int slides,
                     long *patience) {
    Memory memory = {0};
    Scene scene = {.solids = solids,
                   .count = (int)count,
                   .directions = diagonals ? 18 : 6,
                   .patience = patience,
                   .memory = &memory};
    bool apart = slides >= 0 && search(&scene, 1, slides);
    free(memory.slots);
    return apart;
}
