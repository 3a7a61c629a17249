#include "slide/loosen.h"

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

struct NwLoosen {
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

NwLoosen *nw_loosen_new(bool diagonals) {
    NwLoosen *loosen = nw_alloc(1, sizeof *loosen);
    loosen->cache = nw_clearance_cache_new(diagonals);
    loosen->states = nw_states_new();
    loosen->directions = diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    loosen->run_words = diagonals ? 3 : 1;
    return loosen;
}

void nw_loosen_free(NwLoosen *loosen) {
    if (!loosen)
        return;
    nw_clearance_cache_free(loosen->cache);
    nw_states_free(loosen->states);
    free(loosen);
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

static NwVec displacement(const NwLoosen *loosen, const uint64_t *state, int i) {
    if (i == 0)
        return loosen->start[0];
    NwVec relative = nw_vec(get_byte(state, byte_of(i, 0)), get_byte(state, byte_of(i, 1)),
                            get_byte(state, byte_of(i, 2)));
    return nw_vec_add(loosen->start[0], relative);
}

/* The group's extents along the axis where they add up to most. */
static int total_extent(const NwLoosen *loosen, const NwBody *bodies) {
    int total[3] = {0, 0, 0}, most = 0;
    for (int i = 0; i < loosen->count; i++) {
        const NwBody *body = &bodies[loosen->body[i]];
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

static void number_bodies(NwLoosen *loosen, uint32_t group) {
    loosen->count = 0;
    for (uint32_t rest = group; rest; rest &= rest - 1)
        loosen->body[loosen->count++] = nw_lowest(rest);
    loosen->words = (BYTES_PER_BODY * (loosen->count - 1) + 7) / 8;
}

/* Looks up the tables that are still missing. A new one takes as long to fill as its bodies have
 * cells, so each is charged by those. False: call again. */
static bool look_up_tables(NwLoosen *loosen, long *sets) {
    for (; loosen->table_j < loosen->count; loosen->table_j++, loosen->table_i = 0)
        for (; loosen->table_i < loosen->table_j; loosen->table_i++) {
            int i = loosen->table_i, j = loosen->table_j;
            const NwBody *a = &loosen->bodies[loosen->body[i]];
            const NwBody *b = &loosen->bodies[loosen->body[j]];
            if (*sets <= 0)
                return false;
            *sets -= (long)(a->solid->count * b->solid->count);
            loosen->table[i][j] = nw_clearance_get(loosen->cache, a, b);
            loosen->apart[i][j] = nw_vec_sub(b->motion.shift, a->motion.shift);
        }
    return true;
}

/* What one step of a body adds to a state, word by word. Bytes never carry into each other in the
 * sum, so it does not matter that they do in the addends. */
static void prepare_steps(NwLoosen *loosen) {
    for (int d = 0; d < loosen->directions; d++)
        for (int i = 1; i < loosen->count; i++) {
            uint64_t *words = loosen->step[d][i];
            memset(words, 0, (size_t)loosen->words * sizeof *words);
            for (int axis = 0; axis < 3; axis++) {
                uint64_t along = (uint64_t)(int64_t)nw_vec_get(nw_direction_step(d), axis);
                words[byte_of(i, axis) >> 3] += along << (8 * (byte_of(i, axis) & 7));
            }
        }
}

NwStatus nw_loosen_start(NwLoosen *loosen, const NwBody *bodies, uint32_t group, const NwVec *at,
                         uint32_t max_states) {
    number_bodies(loosen, group);
    uint64_t first[NW_STATE_WORDS_MAX] = {0};
    for (int i = 0; i < loosen->count; i++) {
        loosen->start[i] = at[loosen->body[i]];
        NwVec relative = nw_vec_sub(loosen->start[i], loosen->start[0]);
        for (int axis = 0; axis < 3 && i > 0; axis++) {
            if (abs(nw_vec_get(relative, axis)) >= BIAS)
                return NW_OUT_OF_RANGE;
            set_byte(first, byte_of(i, axis), nw_vec_get(relative, axis));
        }
    }
    /* Positions in a state that is not yet free lie within the total extent; so do those at the
     * start; and a state may lie one slide of as much again further out. */
    loosen->wide = 3 * total_extent(loosen, bodies) >= BIAS;
    nw_clearance_cache_trim(loosen->cache, TABLES_BYTES_MAX);
    loosen->bodies = bodies;
    loosen->table_i = loosen->table_j = 0;
    prepare_steps(loosen);
    nw_states_clear(loosen->states, loosen->words);
    nw_states_add(loosen->states, first, 0, max_states);
    loosen->next = 0;
    loosen->expanding = false;
    loosen->past_limit = 0;
    loosen->batched = 0;
    loosen->limit = max_states;
    loosen->limited = false;
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
static inline void note_pushes(NwLoosen *loosen, int i, int j, int word, uint64_t runs) {
    for (uint64_t zero = zero_bytes(runs); zero; zero &= zero - 1) {
        int d = 8 * word + nw_lowest(zero) / 8;
        if (d >= loosen->directions)
            return;
        loosen->pushes[d][i] |= UINT32_C(1) << j;
        loosen->pushes[d ^ 1][j] |= UINT32_C(1) << i;
    }
}

/* Looks up the runs of every pair. The table of (i, j) has the runs of j past i. */
static void look_up_runs(NwLoosen *loosen, const uint64_t *state) {
    NwVec *at = loosen->at;
    for (int i = 1; i < loosen->count; i++)
        at[i] = nw_vec(get_byte(state, byte_of(i, 0)), get_byte(state, byte_of(i, 1)),
                       get_byte(state, byte_of(i, 2)));
    memset(loosen->pushes, 0, (size_t)loosen->directions * sizeof loosen->pushes[0]);
    for (int i = 0; i < loosen->count; i++)
        for (int j = i + 1; j < loosen->count; j++) {
            const NwClearance *table = loosen->table[i][j];
            NwVec r = nw_vec_add(loosen->apart[i][j], nw_vec_sub(at[j], at[i]));
            uint64_t runs[WORDS_PER_RUNS];
            size_t bytes = (size_t)loosen->run_words * sizeof runs[0];
            if (nw_clearance_inside(table, r))
                memcpy(runs, nw_clearance_at(table, r), bytes);
            else
                nw_clearance_outside(table, r, (uint8_t *)runs);
            for (int w = 0; w < loosen->run_words; w++) {
                loosen->runs[j][i][w] = runs[w];
                loosen->runs[i][j][w] = swap_opposites(runs[w]);
                note_pushes(loosen, j, i, w, runs[w]);
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
static int run_of_set(const NwLoosen *loosen, uint32_t set, int direction) {
    uint32_t others = (uint32_t)((UINT64_C(1) << loosen->count) - 1) & ~set;
    int word = direction / 8, shift = 8 * (direction % 8), least = NW_RUN_FOREVER;
    for (uint32_t in = set; in; in &= in - 1)
        for (uint32_t out = others; out; out &= out - 1) {
            int run = (int)(loosen->runs[nw_lowest(in)][nw_lowest(out)][word] >> shift & 0xff);
            least = run < least ? run : least;
            if (least == 1)
                return 1;
        }
    return least;
}

/* The part of a run that the bytes of a state can hold; a run cut short is an open end. */
static int run_in_range(NwLoosen *loosen, uint32_t set, int direction, int run) {
    NwVec step = nw_direction_step(direction);
    for (uint32_t in = set; in; in &= in - 1)
        for (int axis = 0; axis < 3; axis++) {
            int along = nw_vec_get(step, axis);
            int room = BIAS - 1 - along * nw_vec_get(loosen->at[nw_lowest(in)], axis);
            if (along && run > room) {
                run = room;
                loosen->limited = true;
            }
        }
    return run;
}

static void add_batch(NwLoosen *loosen) {
    if (nw_states_add_batch(loosen->states, loosen->batch, loosen->batched, loosen->next,
                            loosen->limit) == NW_LIMIT)
        loosen->limited = true;
    loosen->batched = 0;
}

/* Adds the states that one set reaches in one direction; true if the set is free. */
static bool slide_set(NwLoosen *loosen, const uint64_t *state, uint32_t set, int direction) {
    int run = run_of_set(loosen, set, direction), words = loosen->words;
    if (run == NW_RUN_FOREVER) {
        loosen->last = (NwSlide){set, direction, NW_SLIDE_OUT};
        loosen->last_state = loosen->next;
        return true;
    }
    if (loosen->wide)
        run = run_in_range(loosen, set, direction, run);
    uint64_t step[NW_STATE_WORDS_MAX] = {0};
    for (uint32_t in = set; in; in &= in - 1)
        for (int w = 0; w < words; w++)
            step[w] += loosen->step[direction][nw_lowest(in)][w];
    for (int k = 1; k <= run; k++) {
        if (loosen->batched == NW_STATES_BATCH)
            add_batch(loosen);
        uint64_t *moved = loosen->batch + loosen->batched++ * words;
        for (int w = 0; w < words; w++)
            moved[w] = state[w] + (uint64_t)k * step[w];
    }
    return false;
}

/* Begins to visit every set that is closed under pushing in the direction and does not hold the
 * first body. */
static void begin_direction(NwLoosen *loosen, int direction) {
    uint32_t all = (uint32_t)((UINT64_C(1) << loosen->count) - 1);
    uint32_t stuck = pushed_by(loosen->pushes[direction ^ 1], 0); /* whoever pushes the anchor */
    loosen->direction = direction;
    loosen->branches[0] = (Branch){0, all & ~stuck};
    loosen->branch_count = 1;
}

/* The next set, 0 after the last: with the lowest candidate and all that it pushes, then without
 * it and all that push it. */
static uint32_t next_closed_set(NwLoosen *loosen) {
    const uint32_t *pushes = loosen->pushes[loosen->direction];
    const uint32_t *pushed = loosen->pushes[loosen->direction ^ 1];
    while (loosen->branch_count) {
        Branch *branch = &loosen->branches[loosen->branch_count - 1];
        if (!branch->candidates) {
            loosen->branch_count--;
            if (branch->chosen)
                return branch->chosen;
            continue;
        }
        int lowest = nw_lowest(branch->candidates);
        uint32_t with = pushed_by(pushes, lowest);
        loosen->branches[loosen->branch_count++] =
            (Branch){branch->chosen | with, branch->candidates & ~with};
        branch->candidates &= ~pushed_by(pushed, lowest);
    }
    return 0;
}

static void begin_state(NwLoosen *loosen, const uint64_t *state) {
    loosen->expansions++;
    loosen->expanding = true;
    look_up_runs(loosen, state);
    begin_direction(loosen, 0);
}

/* Tries every slide from the next state in the queue, or goes on with it, for at most *sets sets.
 * NW_OK: one of them sets bodies free; NW_NONE: none does; NW_STOPPED: call again. */
static NwStatus expand(NwLoosen *loosen, long *sets) {
    uint64_t state[NW_STATE_WORDS_MAX];
    memcpy(state, nw_states_get(loosen->states, loosen->next),
           (size_t)loosen->words * sizeof *state);
    if (!loosen->expanding)
        begin_state(loosen, state);
    for (;;) {
        if (*sets <= 0)
            return NW_STOPPED;
        uint32_t set = next_closed_set(loosen);
        if (!set && loosen->direction + 1 == loosen->directions)
            break;
        if (!set) {
            begin_direction(loosen, loosen->direction + 1);
            continue;
        }
        --*sets;
        if (slide_set(loosen, state, set, loosen->direction))
            return NW_OK;
    }
    add_batch(loosen);
    loosen->expanding = false;
    return NW_NONE;
}

NwStatus nw_loosen_step(NwLoosen *loosen, long expansions) {
    long given = expansions < LONG_MAX / SETS_FOR_EACH ? expansions * SETS_FOR_EACH : LONG_MAX;
    long sets = given > SETS_AT_LEAST ? given : SETS_AT_LEAST;
    if (!look_up_tables(loosen, &sets))
        return NW_STOPPED;
    while (loosen->next < nw_states_count(loosen->states)) {
        if (!loosen->expanding && expansions-- <= 0)
            return NW_STOPPED;
        long before = sets;
        NwStatus status = expand(loosen, &sets);
        if (status == NW_OK)
            return NW_OK;
        loosen->past_limit += loosen->limited ? before - sets : 0;
        if (loosen->past_limit > SETS_PAST_LIMIT + (long)loosen->limit * SETS_FOR_EACH)
            return NW_LIMIT;
        if (status == NW_STOPPED)
            return NW_STOPPED;
        loosen->next++;
    }
    return loosen->limited ? NW_LIMIT : NW_NONE;
}

/* ---- reading the answer ------------------------------------------------------------------ */

static uint32_t own_bodies(const NwLoosen *loosen, uint32_t set) {
    uint32_t bodies = 0;
    for (; set; set &= set - 1)
        bodies |= UINT32_C(1) << loosen->body[nw_lowest(set)];
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
static NwSlide slide_between(const NwLoosen *loosen, const uint64_t *from, const uint64_t *to) {
    uint32_t set = 0;
    NwVec move = {0, 0, 0};
    for (int i = 1; i < loosen->count; i++) {
        NwVec change = nw_vec_sub(displacement(loosen, to, i), displacement(loosen, from, i));
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
static NwSlide lighter(const NwLoosen *loosen, NwSlide slide) {
    uint32_t all = (uint32_t)((UINT64_C(1) << loosen->count) - 1);
    if (2 * nw_count_bits(slide.bodies) > loosen->count)
        slide = (NwSlide){all & ~slide.bodies, nw_direction_opposite(slide.direction), slide.cells};
    slide.bodies = own_bodies(loosen, slide.bodies);
    return slide;
}

int nw_loosen_slides(const NwLoosen *loosen, NwSlide *slides, int room, NwVec *at) {
    int count = 1;
    for (uint32_t s = loosen->last_state; s; s = nw_states_parent(loosen->states, s))
        count++;
    int write = count - 1;
    if (write < room)
        slides[write] = lighter(loosen, loosen->last);
    for (uint32_t s = loosen->last_state; s; s = nw_states_parent(loosen->states, s)) {
        const uint64_t *to = nw_states_get(loosen->states, s);
        const uint64_t *from = nw_states_get(loosen->states, nw_states_parent(loosen->states, s));
        if (--write < room)
            slides[write] = lighter(loosen, slide_between(loosen, from, to));
    }
    for (int i = 0; i < loosen->count; i++)
        at[loosen->body[i]] =
            displacement(loosen, nw_states_get(loosen->states, loosen->last_state), i);
    return count;
}

uint32_t nw_loosen_states(const NwLoosen *loosen) {
    return nw_states_count(loosen->states);
}

unsigned long long nw_loosen_expansions(const NwLoosen *loosen) {
    return loosen->expansions;
}

int nw_loosen_depth(const NwLoosen *loosen) {
    int depth = 0;
    if (loosen->next < nw_states_count(loosen->states))
        for (uint32_t s = loosen->next; s; s = nw_states_parent(loosen->states, s))
            depth++;
    return depth;
}

size_t nw_loosen_state_bytes(const NwLoosen *loosen) {
    return nw_states_bytes(loosen->states);
}
