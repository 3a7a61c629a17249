#include "fit/fit.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "fit/filter.h"
#include "fit/pivot.h"

/* Whether a search is longer than a try tells: then it is worth while to prune its matrix. */
static bool is_long(const NwMatrix *matrix) {
    enum { TRY_NODES = 300 };
    NwCover *cover = nw_cover_new(matrix);
    NwStatus status;
    do
        status = nw_cover_step(cover, TRY_NODES - (long)nw_cover_nodes(cover));
    while (status == NW_OK);
    nw_cover_free(cover);
    return status == NW_STOPPED;
}

/* Breaks the symmetry and builds the matrix of a fit that has its design and places; frees it if
 * that is too large. */
static NwStatus finish(NwFit *fit, bool breaks_symmetry, bool prunes, NwFit **result) {
    fit->count = nw_design_copies(fit->design);
    fit->group = nw_group_build(fit->design, fit->places);
    fit->disabled = nw_alloc((size_t)fit->places->place_count, sizeof *fit->disabled);
    if (breaks_symmetry)
        nw_pivot_choose(fit->design, fit->places, fit->group, fit->disabled);
    fit->matrix = nw_matrix_build(fit->design, fit->places, fit->disabled, false);
    if (prunes && fit->matrix->words <= NW_FILTER_WORDS_MAX && is_long(fit->matrix)) {
        nw_matrix_free(fit->matrix);
        fit->matrix = nw_matrix_build(fit->design, fit->places, fit->disabled, true);
    }
    if (fit->matrix->words > NW_FILTER_WORDS_MAX) {
        nw_fit_free(fit);
        return NW_TOO_MANY;
    }
    *result = fit;
    return NW_OK;
}

NwStatus nw_fit_new(const NwDesign *design, NwFitOptions options, NwFit **result) {
    *result = NULL;
    int copies = nw_design_copies(design);
    if (!copies)
        return NW_EMPTY;
    if (copies > NW_COPIES_MAX)
        return NW_TOO_MANY;
    NwFit *fit = nw_alloc(1, sizeof *fit);
    fit->design = nw_design_copy(design);
    NwStatus status = nw_places_build(fit->design, &fit->places);
    if (status != NW_OK) {
        nw_fit_free(fit);
        return status;
    }
    return finish(fit, !options.keep_symmetry, true, result);
}

NwStatus nw_fit_new_with(const NwDesign *design, NwPlaces *places, NwFit **result) {
    *result = NULL;
    NwFit *fit = nw_alloc(1, sizeof *fit);
    fit->design = nw_design_copy(design);
    fit->places = places;
    return finish(fit, true, false, result);
}

void nw_fit_free(NwFit *fit) {
    if (!fit)
        return;
    nw_matrix_free(fit->matrix);
    free(fit->disabled);
    nw_group_free(fit->group);
    nw_places_free(fit->places);
    nw_design_free(fit->design);
    free(fit);
}

static uint64_t key_of(const NwAssembly *assembly) {
    uint64_t key = nw_mix((uint64_t)assembly->count);
    for (int i = 0; i < assembly->count; i++) {
        const NwPlacement *p = &assembly->placements[i];
        const int fields[5] = {p->piece, p->motion.turn, p->motion.shift.x, p->motion.shift.y,
                               p->motion.shift.z};
        for (int k = 0; k < 5; k++)
            key = nw_mix(key + (uint64_t)(int64_t)fields[k] + UINT64_C(0x9e3779b97f4a7c15));
    }
    return key;
}

/* The assembly of the least image of these places. Places are numbered piece by piece, so the
 * sorted places give placements sorted by piece. */
static void canonical_assembly(const NwFit *fit, const int *set, NwAssembly *assembly) {
    int least[NW_COPIES_MAX];
    nw_group_least(fit->group, set, fit->count, least);
    assembly->count = fit->count;
    for (int i = 0; i < fit->count; i++)
        assembly->placements[i] = fit->places->places[least[i]];
    assembly->key = key_of(assembly);
}

/* Whether these places are an assembly: the right copies, no part twice, nothing left to fill. */
static bool is_assembly(const NwFit *fit, const int *set) {
    const NwPlaces *places = fit->places;
    uint64_t *filled = nw_alloc((size_t)places->words, sizeof *filled);
    int *copies = nw_alloc((size_t)places->piece_count, sizeof *copies);
    bool good = true;
    for (int i = 0; i < fit->count; i++) {
        const uint64_t *add = nw_places_filled(places, set[i]);
        for (int w = 0; w < places->words; w++) {
            good = good && !(filled[w] & add[w]);
            filled[w] |= add[w];
        }
        copies[places->places[set[i]].piece]++;
    }
    for (int w = 0; w < places->words; w++)
        good = good && !(places->required[w] & ~filled[w]);
    for (int piece = 0; piece < places->piece_count; piece++)
        good = good && copies[piece] == fit->design->pieces[piece].copies;
    free(filled);
    free(copies);
    return good;
}

/* Whether a placement can be looked up at all. */
static bool is_motion(const NwFit *fit, const NwPlacement *placement) {
    return placement->piece >= 0 && (size_t)placement->piece < fit->design->piece_count &&
           placement->motion.turn >= 0 && placement->motion.turn < NW_ROTATIONS;
}

NwStatus nw_fit_canonical(const NwFit *fit, const NwPlacement *placements, size_t count,
                          NwAssembly *assembly) {
    if (count != (size_t)fit->count)
        return NW_DOES_NOT_FIT;
    int set[NW_COPIES_MAX];
    for (int i = 0; i < fit->count; i++) {
        set[i] = is_motion(fit, &placements[i])
                     ? nw_places_of_motion(fit->places, fit->design, placements[i])
                     : -1;
        if (set[i] < 0)
            return NW_DOES_NOT_FIT;
    }
    if (!is_assembly(fit, set))
        return NW_DOES_NOT_FIT;
    canonical_assembly(fit, set, assembly);
    return NW_OK;
}

NwStatus nw_fit_intended(const NwFit *fit, NwAssembly *assembly) {
    const NwDesign *design = fit->design;
    if (!design->intended_count)
        return NW_NONE;
    return nw_fit_canonical(fit, design->intended, design->intended_count, assembly);
}

struct NwFitSearch {
    const NwFit *fit;
    NwCover *cover;
    unsigned long long raw;
};

NwFitSearch *nw_fit_search_new(const NwFit *fit) {
    NwFitSearch *search = nw_alloc(1, sizeof *search);
    search->fit = fit;
    search->cover = nw_cover_new(fit->matrix);
    return search;
}

void nw_fit_search_free(NwFitSearch *search) {
    if (!search)
        return;
    nw_cover_free(search->cover);
    free(search);
}

static int compare_ints(const void *a, const void *b) {
    return *(const int *)a - *(const int *)b;
}

/* The cover just found as a sorted set of places. */
static void read_places(const NwFitSearch *search, int *set) {
    int count;
    const int *rows = nw_cover_rows(search->cover, &count);
    for (int i = 0; i < count; i++)
        set[i] = search->fit->matrix->place_of_row[rows[i]];
    qsort(set, (size_t)count, sizeof *set, compare_ints);
}

NwStatus nw_fit_search_step(NwFitSearch *search, long nodes, NwAssembly *assembly) {
    const NwFit *fit = search->fit;
    unsigned long long end = nw_cover_nodes(search->cover) + (unsigned long long)nodes;
    for (;;) {
        long left = (long)(end - nw_cover_nodes(search->cover));
        NwStatus status = nw_cover_step(search->cover, left);
        if (status != NW_OK)
            return status;
        search->raw++;
        int set[NW_COPIES_MAX];
        read_places(search, set);
        if (!nw_group_is_first(fit->group, fit->disabled, set, fit->count))
            continue;
        canonical_assembly(fit, set, assembly);
        return NW_OK;
    }
}

NwCover *nw_fit_search_cover(NwFitSearch *search) {
    return search->cover;
}

unsigned long long nw_fit_search_raw(const NwFitSearch *search) {
    return search->raw;
}

int nw_fit_split(const NwFit *fit, int wanted, NwPath **paths) {
    *paths = NULL;
    int count = 0;
    for (int depth = 1; depth <= fit->count; depth++) {
        NwCover *cover = nw_cover_new(fit->matrix);
        nw_cover_stop_at(cover, depth);
        size_t capacity = 0;
        free(*paths);
        *paths = NULL;
        count = 0;
        while (nw_cover_step(cover, LONG_MAX) == NW_OK) {
            *paths = nw_grow(*paths, (size_t)count, &capacity, sizeof **paths);
            nw_cover_path(cover, &(*paths)[count++]);
        }
        nw_cover_free(cover);
        if (count >= wanted || count == 0)
            break;
    }
    return count;
}
