#include "plain/plain_fit.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "plain/plain_class.h"

/* Bit sets over the parts of the envelope, `words` words each, one for every place. */
typedef struct Search {
    const NwDesign *design;
    NwPlainFit *fit;
    size_t words, limit, capacity;
    size_t *base;     /* number of the first place of each piece; base[piece_count] is the end */
    uint64_t *bits;   /* of every place */
    uint64_t *needed; /* parts that must be filled */
    uint64_t *filled;
    int *left;      /* copies of each piece still to place */
    size_t *chosen; /* numbers of the places taken, in the order of the search */
    size_t depth;
    size_t *keys; /* raw * bodies, rising within an assembly */
} Search;

/* The bits of a solid, parts numbered in the order of the envelope's cells and bits. */
static void set_bits(const NwSolid *envelope, const NwSolid *solid, uint64_t *bits) {
    size_t number = 0;
    for (size_t i = 0; i < envelope->count; i++) {
        int mask = nw_solid_mask(solid, nw_cell_at(&envelope->cells[i]));
        for (int bit = 0; bit < NW_PARTS; bit++) {
            if (!(envelope->cells[i].mask >> bit & 1))
                continue;
            if (mask >> bit & 1)
                bits[number / 64] |= nw_bit((int)(number % 64));
            number++;
        }
    }
}

static const uint64_t *bits_of(const Search *search, size_t place) {
    return search->bits + place * search->words;
}

static bool is_free(const Search *search, size_t place) {
    const uint64_t *bits = bits_of(search, place);
    for (size_t w = 0; w < search->words; w++)
        if (bits[w] & search->filled[w])
            return false;
    return true;
}

/* Takes a place, or gives it back: each is the other's undoing. */
static void flip(Search *search, size_t place) {
    const uint64_t *bits = bits_of(search, place);
    for (size_t w = 0; w < search->words; w++)
        search->filled[w] ^= bits[w];
}

/* The lowest part that must be filled and is not; false if there is none. */
static bool first_open(const Search *search, size_t *part) {
    for (size_t w = 0; w < search->words; w++) {
        uint64_t open = search->needed[w] & ~search->filled[w];
        if (open) {
            *part = w * 64 + (size_t)nw_lowest(open);
            return true;
        }
    }
    return false;
}

static int compare_numbers(const void *a, const void *b) {
    size_t x = *(const size_t *)a, y = *(const size_t *)b;
    return (x > y) - (x < y);
}

static void record(Search *search) {
    NwPlainFit *fit = search->fit;
    if (fit->raw == search->limit) {
        fit->status = NW_LIMIT;
        return;
    }
    if ((fit->raw + 1) * fit->bodies > search->capacity) {
        search->capacity = 2 * (fit->raw + 1) * fit->bodies;
        search->keys = nw_resize(search->keys, search->capacity, sizeof *search->keys);
    }
    size_t *key = search->keys + fit->raw++ * fit->bodies;
    memcpy(key, search->chosen, fit->bodies * sizeof *key);
    qsort(key, fit->bodies, sizeof *key, compare_numbers);
}

/* The pieces from `piece` on, the next copy of it at place number `from` or later. */
static void place_by_piece(Search *search, size_t piece, size_t from) {
    size_t part;
    while (piece < search->design->piece_count && !search->left[piece]) {
        piece++;
        from = search->base[piece];
    }
    if (piece == search->design->piece_count) {
        if (!first_open(search, &part))
            record(search);
        return;
    }
    for (size_t at = from; at < search->base[piece + 1] && search->fit->status == NW_OK; at++) {
        if (!is_free(search, at))
            continue;
        search->chosen[search->depth++] = at;
        search->left[piece]--;
        flip(search, at);
        place_by_piece(search, piece, at + 1);
        flip(search, at);
        search->left[piece]++;
        search->depth--;
    }
}

static void place_by_part(Search *search) {
    size_t part;
    if (!first_open(search, &part)) {
        place_by_piece(search, 0, 0);
        return;
    }
    for (size_t piece = 0; piece < search->design->piece_count; piece++) {
        if (!search->left[piece])
            continue;
        for (size_t at = search->base[piece]; at < search->base[piece + 1]; at++) {
            bool covers = bits_of(search, at)[part / 64] >> part % 64 & 1;
            if (!covers || !is_free(search, at) || search->fit->status != NW_OK)
                continue;
            search->chosen[search->depth++] = at;
            search->left[piece]--;
            flip(search, at);
            place_by_part(search);
            flip(search, at);
            search->left[piece]++;
            search->depth--;
        }
    }
}

static void list_places(Search *search) {
    const NwDesign *design = search->design;
    NwPlainFit *fit = search->fit;
    fit->places = nw_alloc(fit->piece_count, sizeof *fit->places);
    search->base = nw_alloc(fit->piece_count + 1, sizeof *search->base);
    for (size_t p = 0; p < fit->piece_count; p++) {
        fit->places[p] = nw_plain_places(design->envelope, design->pieces[p].solid);
        search->base[p + 1] = search->base[p] + fit->places[p].count;
    }
    search->bits = nw_alloc(search->base[fit->piece_count] * search->words, sizeof(uint64_t));
    for (size_t p = 0; p < fit->piece_count; p++)
        for (size_t i = 0; i < fit->places[p].count; i++)
            set_bits(design->envelope, fit->places[p].list[i].solid,
                     search->bits + (search->base[p] + i) * search->words);
}

/* Turns the keys into placements and solids. */
static void write_out(const Search *search) {
    NwPlainFit *fit = search->fit;
    size_t total = fit->raw * fit->bodies;
    fit->placements = nw_alloc(total, sizeof *fit->placements);
    fit->solids = nw_alloc(total, sizeof *fit->solids);
    for (size_t i = 0; i < total; i++) {
        size_t piece = 0;
        while (search->keys[i] >= search->base[piece + 1])
            piece++;
        const NwPlainPlace *place = &fit->places[piece].list[search->keys[i] - search->base[piece]];
        fit->placements[i] = (NwPlacement){(int)piece, place->motion};
        fit->solids[i] = place->solid;
    }
}

NwPlainFit *nw_plain_fit(const NwDesign *design, NwPlainOrder order, size_t limit) {
    NwPlainFit *fit = nw_alloc(1, sizeof *fit);
    fit->status = NW_OK;
    fit->bodies = (size_t)nw_design_copies(design);
    fit->piece_count = design->piece_count;
    Search search = {.design = design, .fit = fit, .limit = limit};
    search.words = (nw_solid_parts(design->envelope) + 63) / 64;
    list_places(&search);
    search.needed = nw_alloc(search.words, sizeof(uint64_t));
    search.filled = nw_alloc(search.words, sizeof(uint64_t));
    NwSolid *needed = nw_solid_difference(design->envelope, design->may_be_empty);
    set_bits(design->envelope, needed, search.needed);
    nw_solid_free(needed);
    search.left = nw_alloc(fit->piece_count, sizeof *search.left);
    search.chosen = nw_alloc(fit->bodies, sizeof *search.chosen);
    for (size_t p = 0; p < fit->piece_count; p++)
        search.left[p] = design->pieces[p].copies;
    if (order == NW_PLAIN_BY_PIECE)
        place_by_piece(&search, 0, 0);
    else
        place_by_part(&search);
    write_out(&search);
    if (fit->status == NW_OK)
        nw_plain_classify(design, fit, search.keys, search.base);
    free(search.keys);
    free(search.chosen);
    free(search.left);
    free(search.filled);
    free(search.needed);
    free(search.bits);
    free(search.base);
    return fit;
}

void nw_plain_fit_free(NwPlainFit *fit) {
    if (!fit)
        return;
    for (size_t p = 0; p < fit->piece_count; p++)
        nw_plain_places_free(&fit->places[p]);
    free(fit->places);
    free(fit->placements);
    free(fit->solids);
    free(fit->class_of);
    free(fit);
}
