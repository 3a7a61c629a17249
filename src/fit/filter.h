/* The inner loop of the cover search: copy the rows that do not conflict, and count as they go by.
 *
 * An entry of a list is `words` words of items followed by one word that names its row. Counts are
 * exact from 0 to 7 and say "8 or more" beyond, for 64 items a word at once. Thread: any. */
#ifndef NW_FIT_FILTER_H
#define NW_FIT_FILTER_H

#include <stdbool.h>
#include <stdint.h>

enum { NW_FILTER_WORDS_MAX = 64 }; /* 4096 items */

/* Bit b of ones, twos and fours makes the count of item b; `many` is set for 8 and more. */
typedef struct NwCounts {
    uint64_t ones[NW_FILTER_WORDS_MAX];
    uint64_t twos[NW_FILTER_WORDS_MAX];
    uint64_t fours[NW_FILTER_WORDS_MAX];
    uint64_t many[NW_FILTER_WORDS_MAX];
} NwCounts;

/* Copies the entries that share no item with `forbidden` to `to`, which has room for all and one
 * more; counts the copied ones; returns how many. */
typedef int NwFilterRun(const uint64_t *from, int entries, const uint64_t *forbidden, uint64_t *to,
                        NwCounts *counts, int words);

typedef struct NwFilter {
    NwFilterRun *run;
    int stride; /* words in an entry */
} NwFilter;

/* The filter for that many words: up to ten have a loop of their own. */
NwFilter nw_filter_for(int words);

/* Counts a list without filtering. */
void nw_counts_take(NwCounts *counts, const uint64_t *entries, int count, int words);

/* Whether some item of `open` has no row. */
bool nw_counts_miss(const NwCounts *counts, const uint64_t *open, int words);

/* The first item of `open` with the fewest rows; -1 if all of them have 8 or more. */
int nw_counts_fewest(const NwCounts *counts, const uint64_t *open, int words);

#endif
