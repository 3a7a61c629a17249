#include "slide/fewest.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "slide/pair_runs.h"
#include "slide/states.h"

enum {
    BIAS = 128,
    KEY_BYTES = (int)sizeof(uint32_t) + 3 * NW_BODIES_MAX,
    SINGLE = -1,         /* the answer of a group of one body */
    TRIES_PER_ANSWER = 4 /* so that the limit of tries is one of memory too */
};

#define NOBODY UINT32_MAX

/* What is known of a group at a position. */
typedef struct Answer {
    uint8_t key[KEY_BYTES];
    int lower;  /* at least so many slides */
    bool known; /* and just so many, by `plan` */
    size_t plan;
    int plan_length;   /* slides up to the separation, itself included */
    int32_t set, rest; /* answers of the two halves, or SINGLE */
} Answer;

typedef struct Split {
    uint32_t set;
    int direction;
} Split;

/* A question under way: does the group at `start` come apart in at most `total` slides? */
typedef struct Frame {
    uint32_t group;
    int32_t answer;
    int total, most; /* the question asked now, and the last one */
    int count, words, body[NW_BODIES_MAX];
    NwVec start[NW_BODIES_MAX]; /* by body */
    NwStates *states;
    uint32_t next, last_of_depth;
    int depth;
    NwVec at[NW_BODIES_MAX]; /* by body, at the position in work */
    Split *splits;           /* what can leave there */
    size_t split_count, split_capacity, split_next;
    int32_t set_answer, rest_answer;
    enum { LISTING, TRYING, ON_SET, ON_REST } stage;
} Frame;

struct NwFewest {
    NwClearanceCache *cache;
    NwBody bodies[NW_BODIES_MAX];
    NwBounds boxes[NW_BODIES_MAX];                           /* at their places */
    const NwClearance *tables[NW_BODIES_MAX][NW_BODIES_MAX]; /* [i][j], i < j: of j past i */
    int count;

    Answer *answers;
    size_t answer_count, answer_capacity;
    uint32_t *slots;
    size_t slot_count; /* a power of two */
    NwSlide *plans;
    size_t plan_count, plan_capacity;

    Frame *frames; /* NW_BODIES_MAX of them */
    int frame_count;
    bool yes;     /* how the question before was settled */
    bool limited; /* a position was out of range */
    unsigned long tries, max_tries;
    NwStatus outcome;
    int at_least;
    NwWayOut best;

    /* The position in work, by numbers within the group. */
    NwPairRuns pairs; /* where the group stands that is looked at */
};

NwFewest *nw_fewest_new(bool diagonals) {
    NwFewest *fewest = nw_alloc(1, sizeof *fewest);
    fewest->cache = nw_clearance_cache_new(diagonals);
    fewest->pairs.directions = diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    fewest->frames = nw_alloc(NW_BODIES_MAX, sizeof *fewest->frames);
    return fewest;
}

void nw_fewest_free(NwFewest *fewest) {
    if (!fewest)
        return;
    for (int i = 0; i < NW_BODIES_MAX; i++) {
        nw_states_free(fewest->frames[i].states);
        free(fewest->frames[i].splits);
    }
    nw_clearance_cache_free(fewest->cache);
    free(fewest->frames);
    free(fewest->answers);
    free(fewest->slots);
    free(fewest->plans);
    free(fewest->best.slides);
    free(fewest);
}

/* ---- answers ------------------------------------------------------------------------------ */

static size_t slot_of(const NwFewest *fewest, const uint8_t *key) {
    uint64_t hash = 0;
    for (int i = 0; i < KEY_BYTES; i += 4) {
        uint32_t word;
        memcpy(&word, key + i, sizeof word);
        hash = nw_mix(hash + word + UINT64_C(0x9e3779b97f4a7c15));
    }
    size_t slot = (size_t)hash & (fewest->slot_count - 1);
    while (fewest->slots[slot] != NOBODY &&
           memcmp(fewest->answers[fewest->slots[slot]].key, key, KEY_BYTES) != 0)
        slot = (slot + 1) & (fewest->slot_count - 1);
    return slot;
}

static void reset_slots(NwFewest *fewest, size_t count) {
    fewest->slot_count = count;
    free(fewest->slots);
    fewest->slots = nw_alloc(count, sizeof *fewest->slots);
    memset(fewest->slots, 0xff, count * sizeof *fewest->slots);
    for (uint32_t i = 0; i < fewest->answer_count; i++)
        fewest->slots[slot_of(fewest, fewest->answers[i].key)] = i;
}

/* The answer kept for a group at a position, a new one if there is none. NOBODY if the position is
 * out of range. */
static uint32_t answer_of(NwFewest *fewest, uint32_t group, const NwVec *at) {
    uint8_t key[KEY_BYTES] = {0};
    uint8_t *write = key + sizeof group;
    memcpy(key, &group, sizeof group);
    NwVec first = at[nw_lowest(group)];
    for (uint32_t rest = group; rest; rest &= rest - 1) {
        NwVec relative = nw_vec_sub(at[nw_lowest(rest)], first);
        for (int axis = 0; axis < 3; axis++) {
            int value = nw_vec_get(relative, axis) + BIAS;
            if (value < 0 || value > 255)
                return NOBODY;
            *write++ = (uint8_t)value;
        }
    }
    size_t slot = slot_of(fewest, key);
    if (fewest->slots[slot] != NOBODY)
        return fewest->slots[slot];
    uint32_t number = (uint32_t)fewest->answer_count;
    fewest->answers =
        nw_grow(fewest->answers, number, &fewest->answer_capacity, sizeof *fewest->answers);
    fewest->answers[number] = (Answer){.lower = nw_count_bits(group) - 1};
    memcpy(fewest->answers[number].key, key, KEY_BYTES);
    fewest->answer_count++;
    fewest->tries += TRIES_PER_ANSWER;
    fewest->slots[slot] = number;
    if (2 * fewest->answer_count > fewest->slot_count)
        reset_slots(fewest, 2 * fewest->slot_count);
    return number;
}

/* ---- positions of a frame ----------------------------------------------------------------- */

static void pack(const Frame *frame, const NwVec *at, uint64_t *state) {
    memset(state, 0, NW_STATE_WORDS_MAX * sizeof *state);
    NwVec first = at[frame->body[0]];
    for (int i = 1; i < frame->count; i++) {
        NwVec relative = nw_vec_sub(at[frame->body[i]], first);
        for (int axis = 0; axis < 3; axis++) {
            int byte = 3 * (i - 1) + axis;
            state[byte >> 3] |= (uint64_t)(nw_vec_get(relative, axis) + BIAS) << (8 * (byte & 7));
        }
    }
}

static bool in_range(const Frame *frame, const NwVec *at) {
    for (int i = 1; i < frame->count; i++) {
        NwVec relative = nw_vec_sub(at[frame->body[i]], at[frame->body[0]]);
        for (int axis = 0; axis < 3; axis++)
            if (abs(nw_vec_get(relative, axis)) >= BIAS)
                return false;
    }
    return true;
}

/* The first body of a group stays where it is. */
static void unpack(const Frame *frame, uint32_t number, NwVec *at) {
    const uint64_t *state = nw_states_get(frame->states, number);
    NwVec first = frame->start[frame->body[0]];
    at[frame->body[0]] = first;
    for (int i = 1; i < frame->count; i++) {
        NwVec relative;
        for (int axis = 0; axis < 3; axis++) {
            int byte = 3 * (i - 1) + axis;
            nw_vec_set(&relative, axis, (int)(state[byte >> 3] >> (8 * (byte & 7)) & 0xff) - BIAS);
        }
        at[frame->body[i]] = nw_vec_add(first, relative);
    }
}

/* Begins, or begins again for a larger total, to list the positions of a frame. */
static void begin_listing(Frame *frame) {
    uint64_t state[NW_STATE_WORDS_MAX];
    nw_states_clear(frame->states, frame->words);
    pack(frame, frame->start, state);
    nw_states_add(frame->states, state, 0, NW_STATES_MAX);
    frame->next = 0;
    frame->last_of_depth = 1;
    frame->depth = 0;
    frame->split_count = frame->split_next = 0;
    frame->stage = LISTING;
}

static void ask(NwFewest *fewest, uint32_t group, const NwVec *at, uint32_t answer, int most) {
    Frame *frame = &fewest->frames[fewest->frame_count++];
    NwStates *states = frame->states ? frame->states : nw_states_new();
    *frame = (Frame){.group = group,
                     .answer = (int32_t)answer,
                     .total = fewest->answers[answer].lower,
                     .most = most,
                     .states = states,
                     .splits = frame->splits,
                     .split_capacity = frame->split_capacity};
    memcpy(frame->start, at, sizeof frame->start);
    for (uint32_t rest = group; rest; rest &= rest - 1)
        frame->body[frame->count++] = nw_lowest(rest);
    frame->words = (3 * (frame->count - 1) + 7) / 8;
    begin_listing(frame);
}

/* ---- what can slide ------------------------------------------------------------------------ */

static void look_up_runs(NwFewest *fewest, const Frame *frame) {
    nw_pair_runs_clear(&fewest->pairs);
    for (int i = 0; i < frame->count; i++)
        for (int j = i + 1; j < frame->count; j++) {
            int a = frame->body[i], b = frame->body[j];
            const NwClearance *table = fewest->tables[a][b];
            NwVec r = nw_vec_sub(nw_vec_add(fewest->bodies[b].motion.shift, frame->at[b]),
                                 nw_vec_add(fewest->bodies[a].motion.shift, frame->at[a]));
            nw_pair_runs_set(&fewest->pairs, i, j, table, r);
        }
}

/* Steps until body a, sliding, has body b behind it along one of the axes it slides on. */
static int steps_past(const NwFewest *fewest, const Frame *frame, int a, int b, NwVec step) {
    int least = NW_RUN_FOREVER;
    for (int axis = 0; axis < 3; axis++) {
        int way = nw_vec_get(step, axis);
        int ahead = nw_vec_get(frame->at[a], axis) - nw_vec_get(frame->at[b], axis);
        int low = nw_vec_get(fewest->boxes[a].low, axis) + ahead,
            high = nw_vec_get(fewest->boxes[a].high, axis) + ahead;
        if (!way)
            continue;
        int steps = way > 0 ? nw_vec_get(fewest->boxes[b].high, axis) - low
                            : high - nw_vec_get(fewest->boxes[b].low, axis);
        least = steps < least ? steps : least;
    }
    return least > 0 ? least : 0;
}

/* Steps until a free set is clear of the rest. */
static int steps_clear(const NwFewest *fewest, const Frame *frame, uint32_t set, int direction) {
    uint32_t others = (uint32_t)((UINT64_C(1) << frame->count) - 1) & ~set;
    int most = 0;
    for (uint32_t in = set; in; in &= in - 1)
        for (uint32_t out = others; out; out &= out - 1) {
            int steps = steps_past(fewest, frame, frame->body[nw_lowest(in)],
                                   frame->body[nw_lowest(out)], nw_direction_step(direction));
            most = steps > most ? steps : most;
        }
    return most;
}

static uint32_t own_bodies(const Frame *frame, uint32_t set) {
    uint32_t bodies = 0;
    for (; set; set &= set - 1)
        bodies |= UINT32_C(1) << frame->body[nw_lowest(set)];
    return bodies;
}

/* Notes the positions along one slide, and whether the set can leave. */
static void slide(NwFewest *fewest, Frame *frame, uint32_t set, int direction) {
    fewest->tries++;
    int run = nw_pair_runs_of_set(&fewest->pairs, set, frame->count, direction);
    if (run == NW_RUN_FOREVER) {
        frame->splits = nw_grow(frame->splits, frame->split_count, &frame->split_capacity,
                                sizeof *frame->splits);
        frame->splits[frame->split_count++] = (Split){own_bodies(frame, set), direction};
        run = steps_clear(fewest, frame, set, direction) - 1;
    }
    /* A slide more, and then a separation for each body but one. */
    if (frame->depth + 1 + frame->count - 1 > frame->total)
        return;
    NwVec step = nw_direction_step(direction), at[NW_BODIES_MAX];
    memcpy(at, frame->at, sizeof at);
    for (int k = 1; k <= run; k++) {
        for (uint32_t in = set; in; in &= in - 1) {
            NwVec *moved = &at[frame->body[nw_lowest(in)]];
            *moved = nw_vec_add(*moved, step);
        }
        uint64_t state[NW_STATE_WORDS_MAX];
        if (!in_range(frame, at)) {
            fewest->limited = true;
            return;
        }
        pack(frame, at, state);
        NwStatus added = nw_states_add(frame->states, state, frame->next, NW_STATES_MAX);
        fewest->tries += added == NW_OK;
        fewest->limited = fewest->limited || added == NW_LIMIT;
    }
}

/* Every set without the first body that is closed under pushing, as in graph.c; stops in the
 * middle of it where the tries are used up for good. */
static void slide_sets(NwFewest *fewest, Frame *frame, int direction, uint32_t chosen,
                       uint32_t candidates) {
    while (candidates && fewest->tries < fewest->max_tries) {
        int body = nw_lowest(candidates);
        uint32_t with = nw_pair_runs_pushed(&fewest->pairs, direction, body);
        slide_sets(fewest, frame, direction, chosen | with, candidates & ~with);
        candidates &= ~nw_pair_runs_pushed(&fewest->pairs, nw_direction_opposite(direction), body);
    }
    if (chosen)
        slide(fewest, frame, chosen, direction);
}

static void expand(NwFewest *fewest, Frame *frame) {
    uint32_t all = (uint32_t)((UINT64_C(1) << frame->count) - 1);
    unpack(frame, frame->next, frame->at);
    look_up_runs(fewest, frame);
    frame->split_count = frame->split_next = 0;
    for (int d = 0; d < fewest->pairs.directions; d++) {
        uint32_t held = nw_pair_runs_pushed(&fewest->pairs, nw_direction_opposite(d), 0);
        slide_sets(fewest, frame, d, 0, all & ~held);
    }
}

/* ---- plans -------------------------------------------------------------------------------- */

/* Fewer bodies move: if the set is the larger half, the others move the other way instead. */
static NwSlide lighter(const Frame *frame, NwSlide slide) {
    if (2 * nw_count_bits(slide.bodies) > frame->count)
        return (NwSlide){frame->group & ~slide.bodies, nw_direction_opposite(slide.direction),
                         slide.cells};
    return slide;
}

static NwSlide slide_between(const Frame *frame, const NwVec *from, const NwVec *to) {
    NwSlide slide = {0};
    NwVec move = {0, 0, 0};
    for (int i = 1; i < frame->count; i++) {
        int b = frame->body[i];
        if (nw_vec_equal(from[b], to[b]))
            continue;
        slide.bodies |= UINT32_C(1) << b;
        move = nw_vec_sub(to[b], from[b]);
    }
    for (int axis = 0; axis < 3; axis++)
        if (abs(nw_vec_get(move, axis)) > slide.cells)
            slide.cells = abs(nw_vec_get(move, axis));
    for (int d = 0; d < NW_DIRECTIONS; d++)
        if (nw_vec_equal(nw_vec_scale(nw_direction_step(d), slide.cells), move))
            slide.direction = d;
    return slide;
}

/* The question of the frame is answered by the split in work. */
static void note_plan(NwFewest *fewest, const Frame *frame) {
    Answer *answer = &fewest->answers[frame->answer];
    const Split *split = &frame->splits[frame->split_next];
    answer->known = true;
    answer->lower = frame->total;
    answer->plan = fewest->plan_count;
    answer->plan_length = frame->depth + 1;
    answer->set = frame->set_answer;
    answer->rest = frame->rest_answer;
    for (int i = 0; i <= frame->depth; i++)
        fewest->plans = nw_grow(fewest->plans, fewest->plan_count++, &fewest->plan_capacity,
                                sizeof *fewest->plans);
    NwSlide *plan = fewest->plans + answer->plan;
    plan[frame->depth] = lighter(frame, (NwSlide){split->set, split->direction, NW_SLIDE_OUT});
    uint32_t state = frame->next;
    for (int i = frame->depth - 1; i >= 0; i--) {
        NwVec from[NW_BODIES_MAX], to[NW_BODIES_MAX];
        uint32_t parent = nw_states_parent(frame->states, state);
        unpack(frame, parent, from);
        unpack(frame, state, to);
        plan[i] = lighter(frame, slide_between(frame, from, to));
        state = parent;
    }
}

/* Writes out a plan, in the order of way_out.h. */
static int write_plan(const NwFewest *fewest, int32_t number, NwSlide *slides) {
    if (number == SINGLE)
        return 0;
    const Answer *answer = &fewest->answers[number];
    uint32_t group;
    memcpy(&group, answer->key, sizeof group);
    const NwSlide *plan = fewest->plans + answer->plan;
    memcpy(slides, plan, (size_t)answer->plan_length * sizeof *slides);
    int at = answer->plan_length;
    /* `set` is the half without the first body, which need not be the one that is said to move. */
    uint32_t out = plan[answer->plan_length - 1].bodies, first = UINT32_C(1) << nw_lowest(group);
    int32_t of_out = out & first ? answer->rest : answer->set,
            of_rest = out & first ? answer->set : answer->rest;
    bool out_is_larger = 2 * nw_count_bits(out) > nw_count_bits(group);
    at += write_plan(fewest, out_is_larger ? of_out : of_rest, slides + at);
    at += write_plan(fewest, out_is_larger ? of_rest : of_out, slides + at);
    return at;
}

/* ---- the search --------------------------------------------------------------------------- */

NwStatus nw_fewest_start(NwFewest *fewest, const NwBody *bodies, int count, const NwWayOut *known,
                         unsigned long max_tries) {
    if (count < 1 || count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    memcpy(fewest->bodies, bodies, (size_t)count * sizeof *bodies);
    fewest->count = count;
    fewest->tries = 0;
    fewest->max_tries = max_tries;
    fewest->limited = false;
    fewest->frame_count = 0;
    fewest->answer_count = fewest->plan_count = 0;
    reset_slots(fewest, 1024);
    NwSlide *slides = nw_resize(fewest->best.slides, (size_t)known->total, sizeof *slides);
    if (known->total)
        memcpy(slides, known->slides, (size_t)known->total * sizeof *slides);
    fewest->best = (NwWayOut){.level = known->level, .total = known->total, .slides = slides};
    fewest->at_least = count > 1 ? known->level + count - 2 : 0;
    fewest->outcome = fewest->at_least >= known->total ? NW_OK : NW_STOPPED;
    if (fewest->outcome == NW_OK)
        return NW_OK;
    nw_clearance_cache_trim(fewest->cache, 64 << 20);
    for (int i = 0; i < count; i++) {
        NwSolid *moved;
        if (nw_solid_moved(bodies[i].solid, bodies[i].motion, &moved) != NW_OK)
            return NW_OUT_OF_RANGE;
        fewest->boxes[i] = nw_solid_bounds(moved);
        nw_solid_free(moved);
        for (int j = i + 1; j < count; j++)
            fewest->tables[i][j] = nw_clearance_get(fewest->cache, &bodies[i], &bodies[j]);
    }
    NwVec at[NW_BODIES_MAX] = {{0, 0, 0}};
    uint32_t all = (uint32_t)((UINT64_C(1) << count) - 1), answer = answer_of(fewest, all, at);
    fewest->answers[answer].lower = fewest->at_least;
    ask(fewest, all, at, answer, known->total - 1);
    return NW_OK;
}

/* Whether a half is known to need more than `most`; else its answer, asked for if it must be. */
typedef enum { MORE, KNOWN, ASKED } Reply;

static Reply look(NwFewest *fewest, const Frame *frame, uint32_t half, int most, int32_t *number) {
    *number = SINGLE;
    if (nw_count_bits(half) == 1)
        return most >= 0 ? KNOWN : MORE;
    uint32_t answer = answer_of(fewest, half, frame->at);
    if (answer == NOBODY) {
        fewest->limited = true;
        return MORE;
    }
    *number = (int32_t)answer;
    if (fewest->answers[answer].lower > most)
        return MORE;
    if (fewest->answers[answer].known)
        return KNOWN;
    ask(fewest, half, frame->at, answer, most);
    return ASKED;
}

static int lower_of(const NwFewest *fewest, int32_t number) {
    return number == SINGLE ? 0 : fewest->answers[number].lower;
}

static int least_of(NwFewest *fewest, const Frame *frame, uint32_t half) {
    if (nw_count_bits(half) == 1)
        return 0;
    uint32_t answer = answer_of(fewest, half, frame->at);
    return answer == NOBODY ? nw_count_bits(half) - 1 : fewest->answers[answer].lower;
}

/* Settles the question of the top frame for its total: yes, or more than that. */
static void reply(NwFewest *fewest, bool yes) {
    fewest->frame_count--;
    fewest->yes = yes;
}

/* The totals of the frame up to the one asked are refuted: the next one, or no. */
static void refute(NwFewest *fewest, Frame *frame) {
    Answer *answer = &fewest->answers[frame->answer];
    if (fewest->limited) { /* what was left out might have done it */
        reply(fewest, false);
        return;
    }
    answer->lower = ++frame->total;
    if (fewest->frame_count == 1)
        fewest->at_least = frame->total;
    if (frame->total > frame->most)
        reply(fewest, false);
    else
        begin_listing(frame);
}

static void next_position(Frame *frame) {
    frame->stage = LISTING;
    if (++frame->next == frame->last_of_depth) {
        frame->depth++;
        frame->last_of_depth = nw_states_count(frame->states);
    }
}

/* One stride of the top frame. */
static void advance(NwFewest *fewest) {
    Frame *frame = &fewest->frames[fewest->frame_count - 1];
    int left = frame->total - frame->depth - 1; /* for both halves */
    const Split *split = &frame->splits[frame->split_next];
    Reply set, rest;
    switch (frame->stage) {
    case LISTING:
        if (frame->next >= nw_states_count(frame->states) ||
            frame->depth + frame->count - 1 > frame->total) {
            refute(fewest, frame);
            return;
        }
        expand(fewest, frame);
        frame->stage = TRYING;
        return;
    case TRYING:
        if (frame->split_next == frame->split_count) {
            next_position(frame);
            return;
        }
        set = look(fewest, frame, split->set,
                   left - least_of(fewest, frame, frame->group & ~split->set), &frame->set_answer);
        frame->stage = set == MORE ? TRYING : ON_SET;
        frame->split_next += set == MORE;
        fewest->yes = true;
        return;
    case ON_SET:
        if (!fewest->yes) {
            frame->stage = TRYING;
            frame->split_next++;
            return;
        }
        rest = look(fewest, frame, frame->group & ~split->set,
                    left - lower_of(fewest, frame->set_answer), &frame->rest_answer);
        frame->stage = rest == MORE ? TRYING : ON_REST;
        frame->split_next += rest == MORE;
        fewest->yes = true;
        return;
    case ON_REST:
        if (fewest->yes) {
            note_plan(fewest, frame);
            reply(fewest, true);
            return;
        }
        frame->stage = TRYING;
        frame->split_next++;
        return;
    }
}

static NwStatus finish(NwFewest *fewest) {
    int32_t root = fewest->frames[0].answer;
    const Answer *answer = &fewest->answers[root];
    if (answer->known) {
        fewest->best.total = write_plan(fewest, root, fewest->best.slides);
        fewest->best.level = 1;
        while (fewest->best.slides[fewest->best.level - 1].cells != NW_SLIDE_OUT)
            fewest->best.level++;
    }
    return fewest->limited && fewest->at_least < fewest->best.total ? NW_LIMIT : NW_OK;
}

NwStatus nw_fewest_step(NwFewest *fewest, unsigned long tries) {
    unsigned long left = ULONG_MAX - fewest->tries;
    unsigned long end = fewest->tries + (tries < left ? tries : left);
    while (fewest->outcome == NW_STOPPED) {
        if (fewest->tries >= fewest->max_tries)
            return fewest->outcome = NW_LIMIT;
        if (fewest->tries >= end)
            return NW_STOPPED;
        fewest->tries++;
        advance(fewest);
        if (!fewest->frame_count)
            fewest->outcome = finish(fewest);
    }
    return fewest->outcome;
}

const NwWayOut *nw_fewest_result(const NwFewest *fewest) {
    return &fewest->best;
}

int nw_fewest_at_least(const NwFewest *fewest) {
    return fewest->at_least;
}

unsigned long nw_fewest_tries(const NwFewest *fewest) {
    return fewest->tries;
}
