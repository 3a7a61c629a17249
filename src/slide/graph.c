#include "slide/graph.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "slide/pair_runs.h"

enum { NEIGHBOURS_PER_POSITION = 64 };

#define NOBODY UINT32_MAX

/* A position is 3 bytes for each body but the first: its displacement relative to the first. */
struct NwGraph {
    NwClearanceCache *cache;
    NwBody bodies[NW_BODIES_MAX];
    const NwClearance *tables[NW_BODIES_MAX][NW_BODIES_MAX]; /* [i][j], i < j: of j past i */
    int count, bytes;
    uint32_t limit;

    int8_t *positions; /* `bytes` bytes each, breadth first */
    size_t position_capacity;
    uint32_t position_count;
    uint32_t *slots; /* a hash table of positions; slot_count is a power of two */
    size_t slot_count;
    bool *is_exit;
    size_t exit_capacity;
    uint32_t exit_count;
    uint64_t *first; /* where the neighbours of each expanded position begin */
    size_t first_capacity;
    uint32_t *neighbours;
    size_t neighbour_count, neighbour_capacity;

    uint32_t next; /* to be expanded */
    uint32_t last_of_depth;
    int depth;
    NwGraphFigures figures;
    NwStatus outcome; /* NW_STOPPED until it is known */

    /* The position in work. */
    NwVec at[NW_BODIES_MAX];
    NwPairRuns pairs; /* where the group stands that is looked at */
};

/* ---- positions ---------------------------------------------------------------------------- */

static const int8_t *position(const NwGraph *graph, uint32_t number) {
    return graph->positions + (size_t)number * (size_t)graph->bytes;
}

static uint64_t hash_of(const NwGraph *graph, const int8_t *bytes) {
    uint64_t hash = 0;
    for (int i = 0; i < graph->bytes; i += 8) {
        uint64_t word = 0;
        size_t rest = (size_t)(graph->bytes - i);
        memcpy(&word, bytes + i, rest < 8 ? rest : 8);
        hash = nw_mix(hash + word + UINT64_C(0x9e3779b97f4a7c15));
    }
    return hash;
}

static size_t slot_of(const NwGraph *graph, const int8_t *bytes) {
    size_t slot = (size_t)hash_of(graph, bytes) & (graph->slot_count - 1);
    while (graph->slots[slot] != NOBODY &&
           memcmp(position(graph, graph->slots[slot]), bytes, (size_t)graph->bytes) != 0)
        slot = (slot + 1) & (graph->slot_count - 1);
    return slot;
}

static void grow_slots(NwGraph *graph) {
    graph->slot_count = graph->slot_count ? 2 * graph->slot_count : 1024;
    free(graph->slots);
    graph->slots = nw_alloc(graph->slot_count, sizeof *graph->slots);
    memset(graph->slots, 0xff, graph->slot_count * sizeof *graph->slots);
    for (uint32_t i = 0; i < graph->position_count; i++)
        graph->slots[slot_of(graph, position(graph, i))] = i;
}

/* The number of a position, which is added if it is new; NOBODY if there is no more room. */
static uint32_t number_of(NwGraph *graph, const int8_t *bytes) {
    size_t slot = slot_of(graph, bytes);
    if (graph->slots[slot] != NOBODY)
        return graph->slots[slot];
    if (graph->position_count >= graph->limit)
        return NOBODY;
    uint32_t number = graph->position_count;
    graph->positions =
        nw_grow(graph->positions, number, &graph->position_capacity, (size_t)graph->bytes);
    memcpy(graph->positions + (size_t)number * (size_t)graph->bytes, bytes, (size_t)graph->bytes);
    graph->position_count++;
    graph->slots[slot] = number;
    if (2 * (size_t)graph->position_count > graph->slot_count)
        grow_slots(graph);
    return number;
}

/* ---- what can slide ----------------------------------------------------------------------- */

static void look_up_runs(NwGraph *graph, const int8_t *bytes) {
    for (int i = 1; i < graph->count; i++) {
        const int8_t *own = bytes + 3 * (i - 1);
        graph->at[i] = nw_vec(own[0], own[1], own[2]);
    }
    nw_pair_runs_clear(&graph->pairs);
    for (int i = 0; i < graph->count; i++)
        for (int j = i + 1; j < graph->count; j++) {
            const NwClearance *table = graph->tables[i][j];
            NwVec r = nw_vec_sub(nw_vec_add(graph->bodies[j].motion.shift, graph->at[j]),
                                 nw_vec_add(graph->bodies[i].motion.shift, graph->at[i]));
            nw_pair_runs_set(&graph->pairs, i, j, table, r);
        }
}

typedef enum { WENT_ON, IS_EXIT, NO_ROOM } Outcome;

/* Notes the positions along one slide. */
static Outcome slide(NwGraph *graph, uint32_t from, uint32_t set, int direction) {
    int run = nw_pair_runs_of_set(&graph->pairs, set, graph->count, direction);
    if (run == NW_RUN_FOREVER)
        return IS_EXIT;
    NwVec step = nw_direction_step(direction);
    int8_t bytes[3 * NW_BODIES_MAX];
    memcpy(bytes, position(graph, from), (size_t)graph->bytes);
    for (int k = 1; k <= run; k++) {
        for (uint32_t in = set; in; in &= in - 1)
            for (int axis = 0; axis < 3; axis++) {
                int8_t *byte = &bytes[3 * (nw_lowest(in) - 1) + axis];
                int moved = *byte + nw_vec_get(step, axis);
                if (moved < INT8_MIN || moved > INT8_MAX)
                    return NO_ROOM;
                *byte = (int8_t)moved;
            }
        uint32_t to = number_of(graph, bytes);
        if (to == NOBODY ||
            graph->neighbour_count >= (size_t)graph->limit * NEIGHBOURS_PER_POSITION)
            return NO_ROOM;
        graph->neighbours = nw_grow(graph->neighbours, graph->neighbour_count,
                                    &graph->neighbour_capacity, sizeof *graph->neighbours);
        graph->neighbours[graph->neighbour_count++] = to;
    }
    return WENT_ON;
}

/* Every set without the first body that is closed under pushing: `chosen` and some of the
 * `candidates`; first those with the lowest candidate and all that it pushes, then those without
 * it and without all that push it. */
static Outcome slide_sets(NwGraph *graph, uint32_t from, int direction, uint32_t chosen,
                          uint32_t candidates) {
    if (!candidates)
        return chosen ? slide(graph, from, chosen, direction) : WENT_ON;
    int body = nw_lowest(candidates);
    uint32_t with = nw_pair_runs_pushed(&graph->pairs, direction, body);
    uint32_t pushing = nw_pair_runs_pushed(&graph->pairs, nw_direction_opposite(direction), body);
    Outcome outcome = slide_sets(graph, from, direction, chosen | with, candidates & ~with);
    return outcome == WENT_ON ? slide_sets(graph, from, direction, chosen, candidates & ~pushing)
                              : outcome;
}

static Outcome try_all(NwGraph *graph, uint32_t from) {
    uint32_t all = (uint32_t)((UINT64_C(1) << graph->count) - 1);
    look_up_runs(graph, position(graph, from));
    for (int d = 0; d < graph->pairs.directions; d++) {
        uint32_t held = nw_pair_runs_pushed(&graph->pairs, nw_direction_opposite(d), 0);
        Outcome outcome = slide_sets(graph, from, d, 0, all & ~held);
        if (outcome != WENT_ON)
            return outcome;
    }
    return WENT_ON;
}

/* Whether something can slide away for ever. It is asked before neighbours are noted: the walk
 * ends at an exit, so what lies beyond it is no position of the graph. */
static bool can_leave(NwGraph *graph, int direction, uint32_t chosen, uint32_t candidates) {
    if (!candidates)
        return chosen && nw_pair_runs_of_set(&graph->pairs, chosen, graph->count, direction) ==
                             NW_RUN_FOREVER;
    int body = nw_lowest(candidates);
    uint32_t with = nw_pair_runs_pushed(&graph->pairs, direction, body);
    uint32_t pushing = nw_pair_runs_pushed(&graph->pairs, nw_direction_opposite(direction), body);
    return can_leave(graph, direction, chosen | with, candidates & ~with) ||
           can_leave(graph, direction, chosen, candidates & ~pushing);
}

static bool is_an_exit(NwGraph *graph, uint32_t number) {
    uint32_t all = (uint32_t)((UINT64_C(1) << graph->count) - 1);
    look_up_runs(graph, position(graph, number));
    for (int d = 0; d < graph->pairs.directions; d++) {
        uint32_t held = nw_pair_runs_pushed(&graph->pairs, nw_direction_opposite(d), 0);
        if (can_leave(graph, d, 0, all & ~held))
            return true;
    }
    return false;
}

/* ---- dead ends ---------------------------------------------------------------------------- */

/* The depth-first search: positions by their numbers, and one vertex more for all exits. */
typedef struct Walk {
    const NwGraph *graph;
    uint32_t exits;         /* the number of that vertex */
    uint32_t *before_exits; /* positions next to an exit */
    size_t before_count, before_capacity;
    uint32_t *order, *low; /* 0: not met yet */
    uint32_t *parent;
    uint64_t *cursor; /* the next neighbour to look at */
    uint32_t *stack;  /* met, and not yet in a finished component */
    uint32_t stacked, met;
} Walk;

static void list_before_exits(Walk *walk) {
    const NwGraph *graph = walk->graph;
    for (uint32_t i = 0; i < graph->position_count; i++) {
        bool before = false;
        for (uint64_t k = graph->first[i]; k < graph->first[i + 1] && !before; k++)
            before = graph->is_exit[graph->neighbours[k]];
        if (!before)
            continue;
        walk->before_exits = nw_grow(walk->before_exits, walk->before_count, &walk->before_capacity,
                                     sizeof *walk->before_exits);
        walk->before_exits[walk->before_count++] = i;
    }
}

/* The next neighbour of a vertex; false when there are no more. */
static bool next_neighbour(Walk *walk, uint32_t vertex, uint32_t *neighbour) {
    const NwGraph *graph = walk->graph;
    if (vertex == walk->exits) {
        if (walk->cursor[vertex] >= walk->before_count)
            return false;
        *neighbour = walk->before_exits[walk->cursor[vertex]++];
        return true;
    }
    if (graph->first[vertex] + walk->cursor[vertex] >= graph->first[vertex + 1])
        return false;
    *neighbour = graph->neighbours[graph->first[vertex] + walk->cursor[vertex]++];
    if (graph->is_exit[*neighbour])
        *neighbour = walk->exits;
    return true;
}

static void meet(Walk *walk, uint32_t vertex, uint32_t parent) {
    walk->order[vertex] = walk->low[vertex] = ++walk->met;
    walk->parent[vertex] = parent;
    walk->stack[walk->stacked++] = vertex;
}

/* Leaves a finished vertex: if nothing below it reaches above its parent, what is on the stack
 * down to it is a component of its own. */
static void leave(Walk *walk, uint32_t vertex) {
    uint32_t parent = walk->parent[vertex];
    if (walk->low[vertex] < walk->low[parent])
        walk->low[parent] = walk->low[vertex];
    if (walk->low[vertex] >= walk->order[parent])
        while (walk->stack[--walk->stacked] != vertex)
            continue;
}

/* Positions on simple ways from the start to an exit, both ends and all exits aside. From the
 * start (met first) to the vertex of the exits leads the edge that was added; when the walk comes
 * back there, the stack holds the component of that edge. */
static uint32_t count_between(Walk *walk) {
    const uint32_t start = 0;
    walk->order[start] = walk->low[start] = ++walk->met;
    meet(walk, walk->exits, start);
    for (uint32_t at = walk->exits;;) {
        uint32_t next;
        if (!next_neighbour(walk, at, &next)) {
            if (at == walk->exits)
                return walk->stacked - 1;
            uint32_t parent = walk->parent[at];
            leave(walk, at);
            at = parent;
        } else if (!walk->order[next]) {
            meet(walk, next, at);
            at = next;
        } else if (next != walk->parent[at] && walk->order[next] < walk->low[at]) {
            walk->low[at] = walk->order[next];
        }
    }
}

static uint32_t count_dead_ends(const NwGraph *graph) {
    if (!graph->exit_count)
        return graph->position_count;
    if (graph->is_exit[0])
        return 0;
    size_t vertices = (size_t)graph->position_count + 1;
    Walk walk = {.graph = graph, .exits = graph->position_count};
    walk.order = nw_alloc(vertices, sizeof *walk.order);
    walk.low = nw_alloc(vertices, sizeof *walk.low);
    walk.parent = nw_alloc(vertices, sizeof *walk.parent);
    walk.cursor = nw_alloc(vertices, sizeof *walk.cursor);
    walk.stack = nw_alloc(vertices, sizeof *walk.stack);
    list_before_exits(&walk);
    uint32_t good = 1 + graph->exit_count + count_between(&walk);
    free(walk.before_exits);
    free(walk.order);
    free(walk.low);
    free(walk.parent);
    free(walk.cursor);
    free(walk.stack);
    return graph->position_count - good;
}

/* ---- the search --------------------------------------------------------------------------- */

NwStatus nw_graph_new(const NwBody *bodies, int count, bool diagonals, uint32_t max_positions,
                      NwGraph **result) {
    *result = NULL;
    if (count < 2 || count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    NwGraph *graph = nw_alloc(1, sizeof *graph);
    graph->cache = nw_clearance_cache_new(diagonals);
    memcpy(graph->bodies, bodies, (size_t)count * sizeof *bodies);
    graph->count = count;
    graph->bytes = 3 * (count - 1);
    graph->pairs.directions = diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    graph->limit = max_positions < NOBODY - 1 ? max_positions : NOBODY - 2;
    graph->outcome = NW_STOPPED;
    for (int i = 0; i < count; i++)
        for (int j = i + 1; j < count; j++)
            graph->tables[i][j] = nw_clearance_get(graph->cache, &bodies[i], &bodies[j]);
    grow_slots(graph);
    const int8_t together[3 * NW_BODIES_MAX] = {0};
    if (number_of(graph, together) == NOBODY)
        graph->outcome = NW_LIMIT;
    *result = graph;
    return NW_OK;
}

void nw_graph_free(NwGraph *graph) {
    if (!graph)
        return;
    nw_clearance_cache_free(graph->cache);
    free(graph->positions);
    free(graph->slots);
    free(graph->is_exit);
    free(graph->first);
    free(graph->neighbours);
    free(graph);
}

static Outcome expand(NwGraph *graph) {
    uint32_t number = graph->next++;
    graph->first = nw_grow(graph->first, number, &graph->first_capacity, sizeof *graph->first);
    graph->first[number] = graph->neighbour_count;
    graph->is_exit = nw_grow(graph->is_exit, number, &graph->exit_capacity, sizeof *graph->is_exit);
    graph->is_exit[number] = is_an_exit(graph, number);
    Outcome outcome = WENT_ON;
    if (graph->is_exit[number]) {
        graph->exit_count++;
        if (!graph->figures.level)
            graph->figures.level = graph->depth + 1;
    } else {
        outcome = try_all(graph, number);
    }
    if (number == graph->last_of_depth) {
        graph->last_of_depth = graph->position_count - 1;
        graph->depth++;
    }
    return outcome;
}

/* Pairs: between positions that are no exits both ends have noted it. */
static uint64_t count_slides(const NwGraph *graph) {
    uint64_t to_exits = 0;
    for (size_t k = 0; k < graph->neighbour_count; k++)
        to_exits += graph->is_exit[graph->neighbours[k]];
    return (graph->neighbour_count - to_exits) / 2 + to_exits;
}

static void finish(NwGraph *graph) {
    graph->first =
        nw_grow(graph->first, graph->position_count, &graph->first_capacity, sizeof *graph->first);
    graph->first[graph->position_count] = graph->neighbour_count;
    graph->figures.dead_ends = count_dead_ends(graph);
    graph->figures.slides = count_slides(graph);
    graph->outcome = NW_OK;
}

NwStatus nw_graph_step(NwGraph *graph, long expansions) {
    while (graph->outcome == NW_STOPPED) {
        if (graph->next == graph->position_count) {
            finish(graph);
        } else if (expansions-- <= 0) {
            return NW_STOPPED;
        } else if (expand(graph) == NO_ROOM) {
            graph->outcome = NW_LIMIT;
        }
    }
    return graph->outcome;
}

NwGraphFigures nw_graph_figures(const NwGraph *graph) {
    NwGraphFigures figures = graph->figures;
    figures.positions = graph->position_count;
    figures.exits = graph->exit_count;
    return figures;
}
