/* Bits of a machine word, by the names the kernel uses. `word` must not be 0 in nw_lowest. */
#ifndef NW_BASE_BITS_H
#define NW_BASE_BITS_H

#include <stdint.h>

static inline int nw_count_bits(uint64_t word) {
    return __builtin_popcountll(word);
}

static inline int nw_lowest(uint64_t word) {
    return __builtin_ctzll(word);
}

static inline uint64_t nw_bit(int index) {
    return UINT64_C(1) << index;
}

/* Spreads a word over all 64 bits: the finaliser of SplitMix64 (Steele, Lea, Flood, 2014). */
static inline uint64_t nw_mix(uint64_t word) {
    word ^= word >> 30;
    word *= UINT64_C(0xbf58476d1ce4e5b9);
    word ^= word >> 27;
    word *= UINT64_C(0x94d049bb133111eb);
    return word ^ (word >> 31);
}

#endif
