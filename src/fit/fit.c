#include "fit/fit.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

void nw_fit_free(NwFit *fit) {
    if (!fit)
        return;
    nw_matrix_free(fit->matrix);
    free(fit->disabled);
    nw_symmetry_group_free(fit->group);
    nw_placement_table_free(fit->places);
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
    nw_symmetry_group_least(fit->group, set, fit->count, least);
    assembly->count = fit->count;
    for (int i = 0; i < fit->count; i++)
        assembly->placements[i] = fit->places->places[least[i]];
    assembly->key = key_of(assembly);
}

/* Whether these places are an assembly: the right copies, no part twice, nothing left to fill. */
static bool is_assembly(const NwFit *fit, const int *set) {
    const NwPlacementTable *places = fit->places;
    uint64_t *filled = nw_alloc((size_t)places->words, sizeof *filled);
    int *copies = nw_alloc((size_t)places->piece_count, sizeof *copies);
    bool good = true;
    for (int i = 0; i < fit->count; i++) {
        const uint64_t *add = nw_placement_table_filled(places, set[i]);
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
                     ? nw_placement_table_of_motion(fit->places, fit->design, placements[i])
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

NwStatus nw_fit_search_step(NwFitSearch *search, long effort, NwAssembly *assembly) {
    const NwFit *fit = search->fit;
    unsigned long long begun = nw_cover_effort(search->cover);
    for (;;) {
        long left = effort - (long)(nw_cover_effort(search->cover) - begun);
        NwStatus status = nw_cover_step(search->cover, left);
        if (status != NW_OK)
            return status;
        search->raw++;
        int set[NW_COPIES_MAX];
        read_places(search, set);
        if (!nw_symmetry_group_is_first(fit->group, fit->disabled, set, fit->count))
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
