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
    unsigned long long before = nw_cover_effort(cover);
    NwAssembly assembly;
    NwStatus status = nw_fit_search_step(census->search, *effort, &assembly);
    *effort -= (long)(nw_cover_effort(cover) - before) + 1;
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
    return 1 - nw_cover_left(nw_fit_search_cover(census->search));
}

bool nw_census_is_sliding(const NwCensus *census) {
    return census->sliding;
}

/* ---- saved ------------------------------------------------------------------------------- */

void nw_census_write(const NwCensus *census, NwWriter *writer) {
    nw_write_number(writer, census->founds.count);
    for (size_t i = 0; i < census->founds.count; i++)
        nw_found_write(writer, &census->founds.list[i], census->fit->count);
    nw_write_byte(writer, census->sliding);
    NwPosition position;
    nw_cover_save(nw_fit_search_cover(census->search), &position);
    nw_write_number(writer, (uint64_t)position.length);
    for (int d = 0; d < position.length; d++)
        nw_write_signed(writer, position.choice[d]);
}

static void read_founds(NwCensus *census, NwReader *reader) {
    size_t count = nw_read_count(reader);
    NwFounds *founds = &census->founds;
    for (size_t i = 0; i < count && !reader->bad; i++) {
        founds->list =
            nw_grow(founds->list, founds->count, &founds->capacity, sizeof *founds->list);
        nw_found_read_of(reader, census->fit, &founds->list[founds->count]);
        founds->count += !reader->bad;
    }
}

static void read_position(NwCensus *census, NwReader *reader) {
    NwPosition position = {.length = (int)nw_read_number(reader, (uint64_t)census->fit->count + 1)};
    for (int d = 0; d < position.length; d++) {
        position.choice[d] = nw_read_signed(reader, -1, NW_PLACES_MAX);
        position.last[d] = NW_CHOICE_ALL; /* nothing is given away here */
    }
    if (!reader->bad && nw_cover_restore(nw_fit_search_cover(census->search), &position) != NW_OK)
        reader->bad = true;
}

bool nw_census_read(NwCensus *census, NwReader *reader) {
    read_founds(census, reader);
    census->sliding = nw_read_byte(reader, 1) != 0;
    reader->bad = reader->bad || (census->sliding && !census->founds.count);
    read_position(census, reader);
    if (reader->bad)
        return false;
    if (census->sliding)
        nw_census_slide(census->slides, census->fit->design, census->kinds,
                        census->founds.list[census->founds.count - 1].placements,
                        census->fit->count, census->max_states);
    return true;
}
