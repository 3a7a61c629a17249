#include "slide/separation.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "slide/states.h"

enum { BIAS = 128, BYTES_PER_BODY = 3, TABLES_BYTES_MAX = 64 << 20, WORDS_PER_RUNS = 3 };

/* Of n loose bodies 2^n sets can slide, so one state may take longer than a thousand others. A step
 * tries so many sets for each expansion it is given, but enough for the states of a small group;
 * and a search that has left out states gives up after so many. */
enum { SETS_FOR_EACH = 64, SETS_AT_LEAST = 4096, SETS_PAST_LIMIT = 1 << 20 };

/* Sets that hold `chosen` and take the rest from `candidates`. */
typedef struct Branch {
    uint32_t chosen, candidates;
} Branch;

struct NwSeparation {
    NwClearanceCache *cache;
    NwStates *states;
    int directions, run_words; /* a pair's runs are 1 or 3 words of 8 directions each */

    /* The group: its bodies by their number within it, the first one being the anchor. */
    int count, words;
    int body[NW_BODIES_MAX];
    const NwBody *bodies;
    const NwClearance *table[NW_BODIES_MAX][NW_BODIES_MAX]; /* [i][j], i < j */
    int table_i, table_j;                                   /* the first that is missing */
    NwVec apart[NW_BODIES_MAX][NW_BODIES_MAX]; /* shift of j minus shift of i, at the start */
    NwVec start[NW_BODIES_MAX];                /* displacement of each body at the start */
    uint64_t step[NW_DIRECTIONS][NW_BODIES_MAX][NW_STATE_WORDS_MAX]; /* of a body, on a state */
    bool wide; /* displacements may outgrow a byte and must be watched */

    uint32_t next, limit;
    bool limited; /* a state was left out because `limit` states were held */
    unsigned long long expansions;
    uint32_t last_state; /* the state from which `last` is free */
    NwSlide last;

    /* The state in work. */
    bool expanding;
    int direction; /* its sets are tried in this one */
    Branch branches[NW_BODIES_MAX + 1];
    int branch_count;
    long past_limit;         /* sets tried since a state was left out */
    NwVec at[NW_BODIES_MAX]; /* displacements relative to the anchor */
    uint64_t runs[NW_BODIES_MAX][NW_BODIES_MAX][WORDS_PER_RUNS]; /* of i past j, by direction */
    uint32_t pushes[NW_DIRECTIONS][NW_BODIES_MAX];               /* the bodies that i pushes */
    uint64_t batch[NW_STATES_BATCH * NW_STATE_WORDS_MAX];        /* states reached from it */
    int batched;
};

NwSeparation *nw_separation_new(bool diagonals) {
    NwSeparation *separation = nw_alloc(1, sizeof *separation);
    separation->cache = nw_clearance_cache_new(diagonals);
    separation->states = nw_states_new();
    separation->directions = diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    separation->run_words = diagonals ? 3 : 1;
    return separation;
}

void nw_separation_free(NwSeparation *separation) {
    if (!separation)
        return;
    nw_clearance_cache_free(separation->cache);
    nw_states_free(separation->states);
    free(separation);
}

/* ---- packed states ----------------------------------------------------------------------- */

/* The place of a coordinate of body i > 0 in a state: bytes follow each other without gaps. */
static inline int byte_of(int i, int axis) {
    return BYTES_PER_BODY * (i - 1) + axis;
}

static inline int get_byte(const uint64_t *state, int byte) {
    return (int)(state[byte >> 3] >> (8 * (byte & 7)) & 0xff) - BIAS;
}

static inline void set_byte(uint64_t *state, int byte, int value) {
    state[byte >> 3] |= (uint64_t)(value + BIAS) << (8 * (byte & 7));
}

static NwVec displacement(const NwSeparation *separation, const uint64_t *state, int i) {
    if (i == 0)
        return separation->start[0];
    NwVec relative = nw_vec(get_byte(state, byte_of(i, 0)), get_byte(state, byte_of(i, 1)),
                            get_byte(state, byte_of(i, 2)));
    return nw_vec_add(separation->start[0], relative);
}

/* The group's extents along the axis where they add up to most. */
static int total_extent(const NwSeparation *separation, const NwBody *bodies) {
    int total[3] = {0, 0, 0}, most = 0;
    for (int i = 0; i < separation->count; i++) {
        const NwBody *body = &bodies[separation->body[i]];
        NwBounds box = nw_solid_bounds(body->solid);
        NwVec size = nw_vec_sub(box.high, box.low);
        NwTurnMap map = nw_turn_map(body->motion.turn);
        for (int axis = 0; axis < 3; axis++)
            total[axis] += nw_vec_get(size, map.axis[axis]);
    }
    for (int axis = 0; axis < 3; axis++)
        most = total[axis] > most ? total[axis] : most;
    return most;
}

static void number_bodies(NwSeparation *separation, uint32_t group) {
    separation->count = 0;
    for (uint32_t rest = group; rest; rest &= rest - 1)
        separation->body[separation->count++] = nw_lowest(rest);
    separation->words = (BYTES_PER_BODY * (separation->count - 1) + 7) / 8;
}

/* Looks up the tables that are still missing. A new one takes as long to fill as its bodies have
 * cells, so each is charged by those. False: call again. */
static bool look_up_tables(NwSeparation *separation, long *sets) {
    for (; separation->table_j < separation->count; separation->table_j++, separation->table_i = 0)
        for (; separation->table_i < separation->table_j; separation->table_i++) {
            int i = separation->table_i, j = separation->table_j;
            const NwBody *a = &separation->bodies[separation->body[i]];
            const NwBody *b = &separation->bodies[separation->body[j]];
            if (*sets <= 0)
                return false;
            *sets -= (long)(a->solid->count * b->solid->count);
            separation->table[i][j] = nw_clearance_get(separation->cache, a, b);
            separation->apart[i][j] = nw_vec_sub(b->motion.shift, a->motion.shift);
        }
    return true;
}

/* What one step of a body adds to a state, word by word. Bytes never carry into each other in the
 * sum, so it does not matter that they do in the addends. */
static void prepare_steps(NwSeparation *separation) {
    for (int d = 0; d < separation->directions; d++)
        for (int i = 1; i < separation->count; i++) {
            uint64_t *words = separation->step[d][i];
            memset(words, 0, (size_t)separation->words * sizeof *words);
            for (int axis = 0; axis < 3; axis++) {
                uint64_t along = (uint64_t)(int64_t)nw_vec_get(nw_direction_step(d), axis);
                words[byte_of(i, axis) >> 3] += along << (8 * (byte_of(i, axis) & 7));
            }
        }
}

NwStatus nw_separation_start(NwSeparation *separation, const NwBody *bodies, uint32_t group,
                             const NwVec *at, uint32_t max_states) {
    number_bodies(separation, group);
    uint64_t first[NW_STATE_WORDS_MAX] = {0};
    for (int i = 0; i < separation->count; i++) {
        separation->start[i] = at[separation->body[i]];
        NwVec relative = nw_vec_sub(separation->start[i], separation->start[0]);
        for (int axis = 0; axis < 3 && i > 0; axis++) {
            if (abs(nw_vec_get(relative, axis)) >= BIAS)
                return NW_OUT_OF_RANGE;
            set_byte(first, byte_of(i, axis), nw_vec_get(relative, axis));
        }
    }
    /* Positions in a state that is not yet free lie within the total extent; so do those at the
     * start; and a state may lie one slide of as much again further out. */
    separation->wide = 3 * total_extent(separation, bodies) >= BIAS;
    nw_clearance_cache_trim(separation->cache, TABLES_BYTES_MAX);
    separation->bodies = bodies;
    separation->table_i = separation->table_j = 0;
    prepare_steps(separation);
    nw_states_clear(separation->states, separation->words);
    nw_states_add(separation->states, first, 0, max_states);
    separation->next = 0;
    separation->expanding = false;
    separation->past_limit = 0;
    separation->batched = 0;
    separation->limit = max_states;
    separation->limited = false;
    return NW_OK;
}

/* ---- expanding a state ------------------------------------------------------------------- */

/* Bit 7 of every byte that is zero (Warren, Hacker's Delight, section 6-1). */
static inline uint64_t zero_bytes(uint64_t word) {
    const uint64_t low7 = UINT64_C(0x7f7f7f7f7f7f7f7f);
    return ~(((word & low7) + low7) | word | low7);
}

/* Exchanges the runs of each direction with those of its opposite. */
static inline uint64_t swap_opposites(uint64_t word) {
    const uint64_t even = UINT64_C(0x00ff00ff00ff00ff);
    return (word & even) << 8 | (word >> 8 & even);
}

/* Notes who pushes whom: a zero run of i past j in direction d. */
static inline void note_pushes(NwSeparation *separation, int i, int j, int word, uint64_t runs) {
    for (uint64_t zero = zero_bytes(runs); zero; zero &= zero - 1) {
        int d = 8 * word + nw_lowest(zero) / 8;
        if (d >= separation->directions)
            return;
        separation->pushes[d][i] |= UINT32_C(1) << j;
        separation->pushes[d ^ 1][j] |= UINT32_C(1) << i;
    }
}

/* Looks up the runs of every pair. The table of (i, j) has the runs of j past i. */
static void look_up_runs(NwSeparation *separation, const uint64_t *state) {
    NwVec *at = separation->at;
    for (int i = 1; i < separation->count; i++)
        at[i] = nw_vec(get_byte(state, byte_of(i, 0)), get_byte(state, byte_of(i, 1)),
                       get_byte(state, byte_of(i, 2)));
    memset(separation->pushes, 0, (size_t)separation->directions * sizeof separation->pushes[0]);
    for (int i = 0; i < separation->count; i++)
        for (int j = i + 1; j < separation->count; j++) {
            const NwClearance *table = separation->table[i][j];
            NwVec r = nw_vec_add(separation->apart[i][j], nw_vec_sub(at[j], at[i]));
            uint64_t runs[WORDS_PER_RUNS];
            size_t bytes = (size_t)separation->run_words * sizeof runs[0];
            if (nw_clearance_inside(table, r))
                memcpy(runs, nw_clearance_at(table, r), bytes);
            else
                nw_clearance_outside(table, r, (uint8_t *)runs);
            for (int w = 0; w < separation->run_words; w++) {
                separation->runs[j][i][w] = runs[w];
                separation->runs[i][j][w] = swap_opposites(runs[w]);
                note_pushes(separation, j, i, w, runs[w]);
            }
        }
}

/* All bodies that move when body i does. */
static uint32_t pushed_by(const uint32_t *pushes, int i) {
    uint32_t closed = UINT32_C(1) << i;
    for (uint32_t fresh = closed; fresh;) {
        uint32_t more = pushes[nw_lowest(fresh)] & ~closed;
        closed |= more;
        fresh = (fresh & (fresh - 1)) | more;
    }
    return closed;
}

/* How far a closed set can slide: the least run of a member past a non-member, at least 1. */
static int run_of_set(const NwSeparation *separation, uint32_t set, int direction) {
    uint32_t others = (uint32_t)((UINT64_C(1) << separation->count) - 1) & ~set;
    int word = direction / 8, shift = 8 * (direction % 8), least = NW_RUN_FOREVER;
    for (uint32_t in = set; in; in &= in - 1)
        for (uint32_t out = others; out; out &= out - 1) {
            int run = (int)(separation->runs[nw_lowest(in)][nw_lowest(out)][word] >> shift & 0xff);
            least = run < least ? run : least;
            if (least == 1)
                return 1;
        }
    return least;
}

/* The part of a run that the bytes of a state can hold; a run cut short is an open end. */
static int run_in_range(NwSeparation *separation, uint32_t set, int direction, int run) {
    NwVec step = nw_direction_step(direction);
    for (uint32_t in = set; in; in &= in - 1)
        for (int axis = 0; axis < 3; axis++) {
            int along = nw_vec_get(step, axis);
            int room = BIAS - 1 - along * nw_vec_get(separation->at[nw_lowest(in)], axis);
            if (along && run > room) {
                run = room;
                separation->limited = true;
            }
        }
    return run;
}

static void add_batch(NwSeparation *separation) {
    if (nw_states_add_batch(separation->states, separation->batch, separation->batched,
                            separation->next, separation->limit) == NW_LIMIT)
        separation->limited = true;
    separation->batched = 0;
}

/* Adds the states that one set reaches in one direction; true if the set is free. */
static bool slide_set(NwSeparation *separation, const uint64_t *state, uint32_t set,
                      int direction) {
    int run = run_of_set(separation, set, direction), words = separation->words;
    if (run == NW_RUN_FOREVER) {
        separation->last = (NwSlide){set, direction, NW_SLIDE_OUT};
        separation->last_state = separation->next;
        return true;
    }
    if (separation->wide)
        run = run_in_range(separation, set, direction, run);
    uint64_t step[NW_STATE_WORDS_MAX] = {0};
    for (uint32_t in = set; in; in &= in - 1)
        for (int w = 0; w < words; w++)
            step[w] += separation->step[direction][nw_lowest(in)][w];
    for (int k = 1; k <= run; k++) {
        if (separation->batched == NW_STATES_BATCH)
            add_batch(separation);
        uint64_t *moved = separation->batch + separation->batched++ * words;
        for (int w = 0; w < words; w++)
            moved[w] = state[w] + (uint64_t)k * step[w];
    }
    return false;
}

/* Begins to visit every set that is closed under pushing in the direction and does not hold the
 * first body. */
static void begin_direction(NwSeparation *separation, int direction) {
    uint32_t all = (uint32_t)((UINT64_C(1) << separation->count) - 1);
    uint32_t stuck =
        pushed_by(separation->pushes[direction ^ 1], 0); /* whoever pushes the anchor */
    separation->direction = direction;
    separation->branches[0] = (Branch){0, all & ~stuck};
    separation->branch_count = 1;
}

/* The next set, 0 after the last: with the lowest candidate and all that it pushes, then without
 * it and all that push it. */
static uint32_t next_closed_set(NwSeparation *separation) {
    const uint32_t *pushes = separation->pushes[separation->direction];
    const uint32_t *pushed = separation->pushes[separation->direction ^ 1];
    while (separation->branch_count) {
        Branch *branch = &separation->branches[separation->branch_count - 1];
        if (!branch->candidates) {
            separation->branch_count--;
            if (branch->chosen)
                return branch->chosen;
            continue;
        }
        int lowest = nw_lowest(branch->candidates);
        uint32_t with = pushed_by(pushes, lowest);
        separation->branches[separation->branch_count++] =
            (Branch){branch->chosen | with, branch->candidates & ~with};
        branch->candidates &= ~pushed_by(pushed, lowest);
    }
    return 0;
}

static void begin_state(NwSeparation *separation, const uint64_t *state) {
    separation->expansions++;
    separation->expanding = true;
    look_up_runs(separation, state);
    begin_direction(separation, 0);
}

/* Tries every slide from the next state in the queue, or goes on with it, for at most *sets sets.
 * NW_OK: one of them sets bodies free; NW_NONE: none does; NW_STOPPED: call again. */
static NwStatus expand(NwSeparation *separation, long *sets) {
    uint64_t state[NW_STATE_WORDS_MAX];
    memcpy(state, nw_states_get(separation->states, separation->next),
           (size_t)separation->words * sizeof *state);
    if (!separation->expanding)
        begin_state(separation, state);
    for (;;) {
        if (*sets <= 0)
            return NW_STOPPED;
        uint32_t set = next_closed_set(separation);
        if (!set && separation->direction + 1 == separation->directions)
            break;
        if (!set) {
            begin_direction(separation, separation->direction + 1);
            continue;
        }
        --*sets;
        if (slide_set(separation, state, set, separation->direction))
            return NW_OK;
    }
    add_batch(separation);
    separation->expanding = false;
    return NW_NONE;
}

NwStatus nw_separation_step(NwSeparation *separation, long expansions) {
    long given = expansions < LONG_MAX / SETS_FOR_EACH ? expansions * SETS_FOR_EACH : LONG_MAX;
    long sets = given > SETS_AT_LEAST ? given : SETS_AT_LEAST;
    if (!look_up_tables(separation, &sets))
        return NW_STOPPED;
    while (separation->next < nw_states_count(separation->states)) {
        if (!separation->expanding && expansions-- <= 0)
            return NW_STOPPED;
        long before = sets;
        NwStatus status = expand(separation, &sets);
        if (status == NW_OK)
            return NW_OK;
        separation->past_limit += separation->limited ? before - sets : 0;
        if (separation->past_limit > SETS_PAST_LIMIT + (long)separation->limit * SETS_FOR_EACH)
            return NW_LIMIT;
        if (status == NW_STOPPED)
            return NW_STOPPED;
        separation->next++;
    }
    return separation->limited ? NW_LIMIT : NW_NONE;
}

/* ---- reading the answer ------------------------------------------------------------------ */

static uint32_t own_bodies(const NwSeparation *separation, uint32_t set) {
    uint32_t bodies = 0;
    for (; set; set &= set - 1)
        bodies |= UINT32_C(1) << separation->body[nw_lowest(set)];
    return bodies;
}

static int direction_of(NwVec move, int *cells) {
    for (int axis = 0; axis < 3; axis++)
        if (abs(nw_vec_get(move, axis)) > *cells)
            *cells = abs(nw_vec_get(move, axis));
    for (int d = 0; d < NW_DIRECTIONS; d++)
        if (nw_vec_equal(nw_vec_scale(nw_direction_step(d), *cells), move))
            return d;
    return -1;
}

/* The slide between a state and its parent: the bodies whose displacement changed. */
static NwSlide slide_between(const NwSeparation *separation, const uint64_t *from,
                             const uint64_t *to) {
    uint32_t set = 0;
    NwVec move = {0, 0, 0};
    for (int i = 1; i < separation->count; i++) {
        NwVec change =
            nw_vec_sub(displacement(separation, to, i), displacement(separation, from, i));
        if (nw_vec_equal(change, nw_vec(0, 0, 0)))
            continue;
        set |= UINT32_C(1) << i;
        move = change;
    }
    NwSlide slide = {.bodies = set};
    slide.direction = direction_of(move, &slide.cells);
    return slide;
}

/* Fewer bodies move: if the set is the larger half, the others move the other way instead. */
static NwSlide lighter(const NwSeparation *separation, NwSlide slide) {
    uint32_t all = (uint32_t)((UINT64_C(1) << separation->count) - 1);
    if (2 * nw_count_bits(slide.bodies) > separation->count)
        slide = (NwSlide){all & ~slide.bodies, nw_direction_opposite(slide.direction), slide.cells};
    slide.bodies = own_bodies(separation, slide.bodies);
    return slide;
}

int nw_separation_slides(const NwSeparation *separation, NwSlide *slides, int room, NwVec *at) {
    int count = 1;
    for (uint32_t s = separation->last_state; s; s = nw_states_parent(separation->states, s))
        count++;
    int write = count - 1;
    if (write < room)
        slides[write] = lighter(separation, separation->last);
    for (uint32_t s = separation->last_state; s; s = nw_states_parent(separation->states, s)) {
        const uint64_t *to = nw_states_get(separation->states, s);
        const uint64_t *from =
            nw_states_get(separation->states, nw_states_parent(separation->states, s));
        if (--write < room)
            slides[write] = lighter(separation, slide_between(separation, from, to));
    }
    for (int i = 0; i < separation->count; i++)
        at[separation->body[i]] =
            displacement(separation, nw_states_get(separation->states, separation->last_state), i);
    return count;
}

uint32_t nw_separation_states(const NwSeparation *separation) {
    return nw_states_count(separation->states);
}

unsigned long long nw_separation_expansions(const NwSeparation *separation) {
    return separation->expansions;
}

int nw_separation_depth(const NwSeparation *separation) {
    int depth = 0;
    if (separation->next < nw_states_count(separation->states))
        for (uint32_t s = separation->next; s; s = nw_states_parent(separation->states, s))
            depth++;
    return depth;
}

size_t nw_separation_state_bytes(const NwSeparation *separation) {
    return nw_states_bytes(separation->states);
}
