#include "cook/enumeration.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct NwEnumeration {
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

NwEnumeration *nw_enumeration_new(const NwFit *fit, NwTakeApart *slides, const int *kinds,
                                  uint32_t max_states) {
    NwEnumeration *enumeration = nw_alloc(1, sizeof *enumeration);
    enumeration->fit = fit;
    enumeration->slides = slides;
    memcpy(enumeration->kinds, kinds, fit->design->piece_count * sizeof *kinds);
    enumeration->max_states = max_states;
    enumeration->search = nw_fit_search_new(fit);
    return enumeration;
}

void nw_enumeration_free(NwEnumeration *enumeration) {
    if (!enumeration)
        return;
    nw_fit_search_free(enumeration->search);
    nw_founds_clear(&enumeration->founds);
    free(enumeration);
}

NwStatus nw_enumeration_slide(NwTakeApart *slides, const NwDesign *design, const int *kinds,
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

NwStatus nw_enumeration_slide_on(NwTakeApart *slides, long *effort) {
    if (*effort <= 0)
        return NW_STOPPED;
    unsigned long long before = nw_take_apart_expansions(slides);
    NwStatus status = nw_take_apart_step(slides, *effort);
    *effort -= (long)(nw_take_apart_expansions(slides) - before) + 1;
    return status;
}

void nw_enumeration_spare(NwEnumeration *enumeration, uint64_t key) {
    enumeration->spares = true;
    enumeration->spared = key;
}

/* Looks for the next assembly and puts it on the list. */
static NwStatus fit_on(NwEnumeration *enumeration, long *effort) {
    if (*effort <= 0)
        return NW_STOPPED;
    const NwCover *cover = nw_fit_search_cover(enumeration->search);
    unsigned long long before = nw_cover_effort(cover);
    NwAssembly assembly;
    NwStatus status = nw_fit_search_step(enumeration->search, *effort, &assembly);
    *effort -= (long)(nw_cover_effort(cover) - before) + 1;
    if (status != NW_OK)
        return status;
    NwFound *found =
        nw_founds_add(&enumeration->founds, assembly.placements, (size_t)assembly.count);
    found->key = assembly.key;
    found->opens = NW_LIMIT;
    enumeration->sliding = !enumeration->spares || enumeration->spared != found->key;
    if (!enumeration->sliding) {
        found->opens = NW_OK;
        return NW_OK;
    }
    return nw_enumeration_slide(enumeration->slides, enumeration->fit->design, enumeration->kinds,
                                found->placements, assembly.count, enumeration->max_states);
}

NwStatus nw_enumeration_step(NwEnumeration *enumeration, long *effort) {
    if (!enumeration->sliding) {
        NwStatus status = fit_on(enumeration, effort);
        if (status != NW_OK || !enumeration->sliding)
            return status;
    }
    NwStatus status = nw_enumeration_slide_on(enumeration->slides, effort);
    if (status == NW_STOPPED)
        return status;
    enumeration->sliding = false;
    NwFound *found = &enumeration->founds.list[enumeration->founds.count - 1];
    const NwWayOut *way = nw_take_apart_result(enumeration->slides);
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

const NwFounds *nw_enumeration_get(const NwEnumeration *enumeration) {
    return &enumeration->founds;
}

double nw_enumeration_share(const NwEnumeration *enumeration) {
    return 1 - nw_cover_left(nw_fit_search_cover(enumeration->search));
}

bool nw_enumeration_is_sliding(const NwEnumeration *enumeration) {
    return enumeration->sliding;
}

/* ---- saved ------------------------------------------------------------------------------- */

void nw_enumeration_write(const NwEnumeration *enumeration, NwWriter *writer) {
    nw_write_number(writer, enumeration->founds.count);
    for (size_t i = 0; i < enumeration->founds.count; i++)
        nw_found_write(writer, &enumeration->founds.list[i], enumeration->fit->count);
    nw_write_byte(writer, enumeration->sliding);
    NwPosition position;
    nw_cover_save(nw_fit_search_cover(enumeration->search), &position);
    nw_write_number(writer, (uint64_t)position.length);
    for (int d = 0; d < position.length; d++)
        nw_write_signed(writer, position.choice[d]);
}

static void read_founds(NwEnumeration *enumeration, NwReader *reader) {
    size_t count = nw_read_count(reader);
    NwFounds *founds = &enumeration->founds;
    for (size_t i = 0; i < count && !reader->bad; i++) {
        founds->list =
            nw_grow(founds->list, founds->count, &founds->capacity, sizeof *founds->list);
        nw_found_read_of(reader, enumeration->fit, &founds->list[founds->count]);
        founds->count += !reader->bad;
    }
}

static void read_position(NwEnumeration *enumeration, NwReader *reader) {
    NwPosition position = {.length =
                               (int)nw_read_number(reader, (uint64_t)enumeration->fit->count + 1)};
    for (int d = 0; d < position.length; d++) {
        position.choice[d] = nw_read_signed(reader, -1, NW_PLACEMENT_TABLE_MAX);
        position.last[d] = NW_ITEM_SELECTION_ALL; /* nothing is given away here */
    }
    if (!reader->bad &&
        nw_cover_restore(nw_fit_search_cover(enumeration->search), &position) != NW_OK)
        reader->bad = true;
}

bool nw_enumeration_read(NwEnumeration *enumeration, NwReader *reader) {
    read_founds(enumeration, reader);
    enumeration->sliding = nw_read_byte(reader, 1) != 0;
    reader->bad = reader->bad || (enumeration->sliding && !enumeration->founds.count);
    read_position(enumeration, reader);
    if (reader->bad)
        return false;
    if (enumeration->sliding)
        nw_enumeration_slide(enumeration->slides, enumeration->fit->design, enumeration->kinds,
                             enumeration->founds.list[enumeration->founds.count - 1].placements,
                             enumeration->fit->count, enumeration->max_states);
    return true;
}
