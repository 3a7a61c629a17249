#include "cook/census.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct NwCensus {
    const NwFit *fit;
    NwTakeApart *slides;
    int kinds[NW_PIECES_MAX];
    uint32_t max_states;
    NwFitSearch *search;
    NwFounds founds;
    bool spares;
    uint64_t spared;
    bool sliding; /* the last of the list is being taken apart */
};

void nw_founds_clear(NwFounds *founds) {
    for (size_t i = 0; i < founds->count; i++) {
        free(founds->list[i].placements);
        free(founds->list[i].slides);
    }
    free(founds->list);
    *founds = (NwFounds){0};
}

NwFound *nw_founds_add(NwFounds *founds, const NwPlacement *placements, size_t count) {
    founds->list = nw_grow(founds->list, founds->count, &founds->capacity, sizeof *founds->list);
    NwFound *found = &founds->list[founds->count++];
    *found = (NwFound){.placements = nw_alloc(count, sizeof *placements)};
    memcpy(found->placements, placements, count * sizeof *placements);
    return found;
}

NwFounds nw_founds_copy(const NwFounds *founds, size_t bodies) {
    NwFounds copy = {0};
    for (size_t i = 0; i < founds->count; i++) {
        const NwFound *from = &founds->list[i];
        NwFound *found = nw_founds_add(&copy, from->placements, bodies);
        found->key = from->key;
        found->opens = from->opens;
        found->level = from->level;
        found->total = from->total;
    }
    return copy;
}

NwCensus *nw_census_new(const NwFit *fit, NwTakeApart *slides, const int *kinds,
                        uint32_t max_states) {
    NwCensus *census = nw_alloc(1, sizeof *census);
    census->fit = fit;
    census->slides = slides;
    memcpy(census->kinds, kinds, fit->design->piece_count * sizeof *kinds);
    census->max_states = max_states;
    census->search = nw_fit_search_new(fit);
    return census;
}

void nw_census_free(NwCensus *census) {
    if (!census)
        return;
    nw_fit_search_free(census->search);
    nw_founds_clear(&census->founds);
    free(census);
}

NwStatus nw_census_slide(NwTakeApart *slides, const NwDesign *design, const int *kinds,
                         const NwPlacement *placements, int count, uint32_t max_states) {
    NwBody bodies[NW_BODIES_MAX];
    if (count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    for (int b = 0; b < count; b++) {
        int piece = placements[b].piece;
        bodies[b] = (NwBody){kinds[piece], design->pieces[piece].solid, placements[b].motion};
    }
    return nw_take_apart_start(slides, bodies, count, max_states);
}

NwStatus nw_census_slide_on(NwTakeApart *slides, long *effort) {
    if (*effort <= 0)
        return NW_STOPPED;
    unsigned long long before = nw_take_apart_expansions(slides);
    NwStatus status = nw_take_apart_step(slides, *effort);
    *effort -= (long)(nw_take_apart_expansions(slides) - before) + 1;
    return status;
}

void nw_census_spare(NwCensus *census, uint64_t key) {
    census->spares = true;
    census->spared = key;
}

/* Looks for the next assembly and puts it on the list. */
static NwStatus fit_on(NwCensus *census, long *effort) {
    if (*effort <= 0)
        return NW_STOPPED;
    const NwCover *cover = nw_fit_search_cover(census->search);
    unsigned long long before = nw_cover_nodes(cover);
    NwAssembly assembly;
    NwStatus status = nw_fit_search_step(census->search, *effort, &assembly);
    *effort -= (long)(nw_cover_nodes(cover) - before) + 1;
    if (status != NW_OK)
        return status;
    NwFound *found = nw_founds_add(&census->founds, assembly.placements, (size_t)assembly.count);
    found->key = assembly.key;
    found->opens = NW_LIMIT;
    census->sliding = !census->spares || census->spared != found->key;
    if (!census->sliding) {
        found->opens = NW_OK;
        return NW_OK;
    }
    return nw_census_slide(census->slides, census->fit->design, census->kinds, found->placements,
                           assembly.count, census->max_states);
}

NwStatus nw_census_step(NwCensus *census, long *effort) {
    if (!census->sliding) {
        NwStatus status = fit_on(census, effort);
        if (status != NW_OK || !census->sliding)
            return status;
    }
    NwStatus status = nw_census_slide_on(census->slides, effort);
    if (status == NW_STOPPED)
        return status;
    census->sliding = false;
    NwFound *found = &census->founds.list[census->founds.count - 1];
    const NwWayOut *way = nw_take_apart_result(census->slides);
    found->opens = status;
    if (status == NW_OK) {
        found->level = way->level;
        found->total = way->total;
        found->slides = nw_alloc((size_t)way->total, sizeof *found->slides);
        if (way->total)
            memcpy(found->slides, way->slides, (size_t)way->total * sizeof *found->slides);
    }
    return NW_OK;
}

const NwFounds *nw_census_get(const NwCensus *census) {
    return &census->founds;
}

NwFounds nw_census_take(NwCensus *census) {
    NwFounds founds = census->founds;
    census->founds = (NwFounds){0};
    return founds;
}

double nw_census_share(const NwCensus *census) {
    return nw_cover_share(nw_fit_search_cover(census->search));
}
