#include "slide/states.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

/* States are kept in blocks, so that growing never copies them. */
enum { BLOCK_BITS = 14, BLOCK = 1 << BLOCK_BITS, NUMBER_BITS = 25 };

#define EMPTY UINT32_MAX
#define NUMBER_MASK ((UINT32_C(1) << NUMBER_BITS) - 1)

struct NwStates {
    int words;
    uint32_t count;
    uint64_t **blocks;
    uint32_t **parents;
    size_t block_count; /* allocated */
    uint32_t *slots;
    size_t slot_count; /* a power of two */
};

NwStates *nw_states_new(void) {
    NwStates *states = nw_alloc(1, sizeof *states);
    states->blocks = nw_alloc(NW_STATES_MAX / BLOCK, sizeof *states->blocks);
    states->parents = nw_alloc(NW_STATES_MAX / BLOCK, sizeof *states->parents);
    return states;
}

static void free_blocks(NwStates *states) {
    for (size_t i = 0; i < states->block_count; i++) {
        free(states->blocks[i]);
        free(states->parents[i]);
    }
    states->block_count = 0;
}

void nw_states_free(NwStates *states) {
    if (!states)
        return;
    free_blocks(states);
    free(states->blocks);
    free(states->parents);
    free(states->slots);
    free(states);
}

static void reset_slots(NwStates *states, size_t count) {
    if (count != states->slot_count) {
        free(states->slots);
        states->slots = nw_alloc(count, sizeof *states->slots);
        states->slot_count = count;
    }
    memset(states->slots, 0xff, count * sizeof *states->slots);
}

void nw_states_clear(NwStates *states, int words) {
    if (words != states->words)
        free_blocks(states);
    states->words = words;
    states->count = 0;
    reset_slots(states, 64);
}

uint32_t nw_states_count(const NwStates *states) {
    return states->count;
}

const uint64_t *nw_states_get(const NwStates *states, uint32_t number) {
    return states->blocks[number >> BLOCK_BITS] +
           (size_t)(number & (BLOCK - 1)) * (size_t)states->words;
}

uint32_t nw_states_parent(const NwStates *states, uint32_t number) {
    return states->parents[number >> BLOCK_BITS][number & (BLOCK - 1)];
}

static inline uint64_t hash(const uint64_t *state, int words) {
    uint64_t h = state[0] * UINT64_C(0x9e3779b97f4a7c15);
    for (int w = 1; w < words; w++)
        h = (h ^ (h >> 29) ^ state[w]) * UINT64_C(0xbf58476d1ce4e5b9);
    return h ^ (h >> 32);
}

static inline uint32_t tag_of(uint64_t h) {
    return (uint32_t)(h >> 57) << NUMBER_BITS;
}

static inline bool same(const uint64_t *a, const uint64_t *b, int words) {
    uint64_t difference = 0;
    for (int w = 0; w < words; w++)
        difference |= a[w] ^ b[w];
    return difference == 0;
}

static void grow_slots(NwStates *states) {
    reset_slots(states, 2 * states->slot_count);
    size_t mask = states->slot_count - 1;
    for (uint32_t n = 0; n < states->count; n++) {
        uint64_t h = hash(nw_states_get(states, n), states->words);
        size_t at = (size_t)h & mask;
        while (states->slots[at] != EMPTY)
            at = (at + 1) & mask;
        states->slots[at] = tag_of(h) | n;
    }
}

static void append(NwStates *states, const uint64_t *state, uint32_t parent) {
    size_t block = states->count >> BLOCK_BITS, within = states->count & (BLOCK - 1);
    size_t words = (size_t)states->words;
    if (block == states->block_count) {
        states->blocks[block] = nw_alloc(BLOCK, words * sizeof(uint64_t));
        states->parents[block] = nw_alloc(BLOCK, sizeof(uint32_t));
        states->block_count++;
    }
    memcpy(states->blocks[block] + within * words, state, words * sizeof *state);
    states->parents[block][within] = parent;
    states->count++;
}

/* Begins to fetch what `add` is going to read: first the slots of a batch, then the states
 * that these slots number. */
static void fetch(const NwStates *states, const uint64_t *hashes, int count) {
    size_t mask = states->slot_count - 1;
    for (int i = 0; i < count; i++)
        __builtin_prefetch(&states->slots[(size_t)hashes[i] & mask]);
    for (int i = 0; i < count; i++) {
        uint32_t slot = states->slots[(size_t)hashes[i] & mask];
        if (slot != EMPTY && (slot & ~NUMBER_MASK) == tag_of(hashes[i]))
            __builtin_prefetch(nw_states_get(states, slot & NUMBER_MASK));
    }
}

static NwStatus add(NwStates *states, const uint64_t *state, uint64_t h, uint32_t parent,
                    uint32_t limit) {
    uint32_t tag = tag_of(h);
    size_t mask = states->slot_count - 1, at = (size_t)h & mask;
    for (uint32_t slot; (slot = states->slots[at]) != EMPTY; at = (at + 1) & mask)
        if ((slot & ~NUMBER_MASK) == tag &&
            same(nw_states_get(states, slot & NUMBER_MASK), state, states->words))
            return NW_NONE;
    if (states->count >= limit || states->count >= NW_STATES_MAX - 1)
        return NW_LIMIT;
    states->slots[at] = tag | states->count;
    append(states, state, parent);
    return NW_OK;
}

static void make_room(NwStates *states, int count) {
    while (4 * ((size_t)states->count + (size_t)count) > 3 * states->slot_count)
        grow_slots(states);
}

NwStatus nw_states_add(NwStates *states, const uint64_t *state, uint32_t parent, uint32_t limit) {
    make_room(states, 1);
    return add(states, state, hash(state, states->words), parent, limit);
}

NwStatus nw_states_add_batch(NwStates *states, const uint64_t *batch, int count, uint32_t parent,
                             uint32_t limit) {
    uint64_t hashes[NW_STATES_BATCH];
    size_t words = (size_t)states->words;
    bool limited = false;
    make_room(states, count);
    for (int i = 0; i < count; i++)
        hashes[i] = hash(batch + (size_t)i * words, states->words);
    fetch(states, hashes, count);
    for (int i = 0; i < count; i++)
        limited |= add(states, batch + (size_t)i * words, hashes[i], parent, limit) == NW_LIMIT;
    return limited ? NW_LIMIT : NW_OK;
}

size_t nw_states_bytes(const NwStates *states) {
    return states->block_count * BLOCK *
               ((size_t)states->words * sizeof(uint64_t) + sizeof(uint32_t)) +
           states->slot_count * sizeof(uint32_t) + 2 * (NW_STATES_MAX / BLOCK) * sizeof(uint64_t *);
}
