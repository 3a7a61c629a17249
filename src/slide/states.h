/* The visited states of a slide search: a queue and a hash set in one.
 *
 * A state is the displacement of each body from where it began, less that of the first body: three
 * bytes a body, biased by 128, packed into 64-bit words. So 2 bodies take one word, 6 take two and
 * 12 take five. States are numbered in the order in which they were met, which is breadth first,
 * and each remembers its parent. A slot of the hash table is 4 bytes: 25 bits of number and 7 bits
 * of fingerprint. With at most 3/4 and at least 3/8 of the slots in use, a state of 12 bodies
 * takes at most 40 + 4 + 10.7 bytes.
 *
 * Nearly every state that a search meets has been met before, and a large set lies far away in
 * memory: to look one up is to wait twice, for its slot and for the state that the slot numbers.
 * So a search adds states in batches, and waits for a whole batch at once. Thread: each
 * belongs to one. */
#ifndef NW_SLIDE_STATES_H
#define NW_SLIDE_STATES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/status.h"

enum { NW_STATES_MAX = 1 << 25, NW_STATE_WORDS_MAX = 12, NW_STATES_BATCH = 64 };

typedef struct NwStates NwStates;

NwStates *nw_states_new(void);
void nw_states_free(NwStates *states); /* NULL is allowed */

/* Empties the set for states of `words` words; memory is kept for the next search. */
void nw_states_clear(NwStates *states, int words);

/* Adds a state unless it is there. NW_OK: it is new; NW_NONE: it was there; NW_LIMIT: `limit`
 * states are held (at most NW_STATES_MAX) and it is not among them. */
NwStatus nw_states_add(NwStates *states, const uint64_t *state, uint32_t parent, uint32_t limit);

/* Adds those of `count` states (at most NW_STATES_BATCH), one behind the other in `batch`, that are
 * not there, in that order and with one parent. NW_LIMIT if some were left out, else NW_OK. */
NwStatus nw_states_add_batch(NwStates *states, const uint64_t *batch, int count, uint32_t parent,
                             uint32_t limit);

uint32_t nw_states_count(const NwStates *states);
const uint64_t *nw_states_get(const NwStates *states, uint32_t number); /* borrowed until clear */
uint32_t nw_states_parent(const NwStates *states, uint32_t number);

/* Bytes held now, tables included. */
size_t nw_states_bytes(const NwStates *states);

#endif
