#include "fit/filter.h"

#include <string.h>

#include "base/bits.h"

/* Adds the items of one row to the counts: a ripple-carry adder across bit slices. */
static inline void count_row(NwCounts *counts, const uint64_t *row, uint64_t keep, int words) {
    for (int w = 0; w < words; w++) {
        uint64_t carry = row[w] & keep, next;
        next = counts->ones[w] & carry;
        counts->ones[w] ^= carry;
        carry = counts->twos[w] & next;
        counts->twos[w] ^= next;
        next = counts->fours[w] & carry;
        counts->fours[w] ^= carry;
        counts->many[w] |= next;
    }
}

static inline void clear(NwCounts *counts, int words) {
    for (int w = 0; w < words; w++)
        counts->ones[w] = counts->twos[w] = counts->fours[w] = counts->many[w] = 0;
}

/* Every entry is copied; the place to copy to moves on only past one that stays. There is no
 * branch to mispredict on a test that goes either way half of the time. */
static inline __attribute__((always_inline)) int filter(const uint64_t *from, int entries,
                                                        const uint64_t *forbidden, uint64_t *to,
                                                        NwCounts *counts, int words) {
    NwCounts local;
    clear(&local, words);
    int kept = 0;
    for (int i = 0; i < entries; i++) {
        uint64_t conflict = 0;
        for (int w = 0; w < words; w++) {
            conflict |= from[w] & forbidden[w];
            to[w] = from[w];
        }
        to[words] = from[words];
        bool stays = conflict == 0;
        count_row(&local, from, -(uint64_t)stays, words);
        kept += stays;
        to += stays ? words + 1 : 0;
        from += words + 1;
    }
    for (int w = 0; w < words; w++) {
        counts->ones[w] = local.ones[w];
        counts->twos[w] = local.twos[w];
        counts->fours[w] = local.fours[w];
        counts->many[w] = local.many[w];
    }
    return kept;
}

#define FILTER_OF(n)                                                                               \
    static int filter_##n(const uint64_t *from, int entries, const uint64_t *forbidden,            \
                          uint64_t *to, NwCounts *counts, int words) {                             \
        (void)words;                                                                               \
        return filter(from, entries, forbidden, to, counts, n);                                    \
    }

FILTER_OF(1)
FILTER_OF(2)
FILTER_OF(3)
FILTER_OF(4)
FILTER_OF(5)
FILTER_OF(6)
FILTER_OF(7)
FILTER_OF(8)
FILTER_OF(9)
FILTER_OF(10)

static int filter_any(const uint64_t *from, int entries, const uint64_t *forbidden, uint64_t *to,
                      NwCounts *counts, int words) {
    return filter(from, entries, forbidden, to, counts, words);
}

NwFilter nw_filter_for(int words) {
    static NwFilterRun *const runs[] = {filter_any, filter_1, filter_2, filter_3,
                                        filter_4,   filter_5, filter_6, filter_7,
                                        filter_8,   filter_9, filter_10};
    const int count = (int)(sizeof runs / sizeof runs[0]);
    return (NwFilter){runs[words < count ? words : 0], words + 1};
}

void nw_counts_take(NwCounts *counts, const uint64_t *entries, int count, int words) {
    clear(counts, words);
    for (int i = 0; i < count; i++)
        count_row(counts, entries + (size_t)i * (size_t)(words + 1), ~UINT64_C(0), words);
}

bool nw_counts_miss(const NwCounts *counts, const uint64_t *open, int words) {
    uint64_t missed = 0;
    for (int w = 0; w < words; w++)
        missed |=
            open[w] & ~(counts->ones[w] | counts->twos[w] | counts->fours[w] | counts->many[w]);
    return missed != 0;
}

int nw_counts_fewest(const NwCounts *counts, const uint64_t *open, int words) {
    for (int wanted = 1; wanted < 8; wanted++) {
        uint64_t one = wanted & 1 ? 0 : ~UINT64_C(0), two = wanted & 2 ? 0 : ~UINT64_C(0),
                 four = wanted & 4 ? 0 : ~UINT64_C(0);
        for (int w = 0; w < words; w++) {
            uint64_t equal = open[w] & ~counts->many[w] & (counts->ones[w] ^ one) &
                             (counts->twos[w] ^ two) & (counts->fours[w] ^ four);
            if (equal)
                return 64 * w + nw_lowest(equal);
        }
    }
    return -1;
}
