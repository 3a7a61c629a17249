#include "slide/way_out.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

struct NwTakeApart {
    NwSeparation *separation;
    NwBody bodies[NW_BODIES_MAX];
    NwVec at[NW_BODIES_MAX]; /* displacements reached so far */
    uint32_t groups[NW_BODIES_MAX];
    int group_count; /* groups of two bodies or more that wait; the last one is in work */
    bool started;    /* the search of the group in work has begun */
    uint32_t max_states;
    size_t slide_capacity;
    NwWayOut way;
};

NwTakeApart *nw_take_apart_new(bool diagonals) {
    NwTakeApart *search = nw_alloc(1, sizeof *search);
    search->separation = nw_separation_new(diagonals);
    return search;
}

void nw_take_apart_free(NwTakeApart *search) {
    if (!search)
        return;
    nw_separation_free(search->separation);
    free(search->way.slides);
    free(search);
}

static void push_group(NwTakeApart *search, uint32_t group) {
    if (nw_count_bits(group) > 1)
        search->groups[search->group_count++] = group;
}

NwStatus nw_take_apart_start(NwTakeApart *search, const NwBody *bodies, int count,
                             uint32_t max_states) {
    if (count < 1 || count > NW_BODIES_MAX)
        return NW_TOO_MANY;
    memcpy(search->bodies, bodies, (size_t)count * sizeof *bodies);
    memset(search->at, 0, sizeof search->at);
    search->group_count = 0;
    search->started = false;
    search->max_states = max_states;
    NwSlide *slides = search->way.slides;
    search->way = (NwWayOut){.slides = slides};
    push_group(search, (uint32_t)((UINT64_C(1) << count) - 1));
    return NW_OK;
}

/* Takes over the slides that set a part of the group free, and makes its two halves groups. */
static void divide(NwTakeApart *search, uint32_t group) {
    NwWayOut *way = &search->way;
    NwVec scratch[NW_BODIES_MAX];
    int more = nw_separation_slides(search->separation, NULL, 0, scratch);
    size_t needed = (size_t)(way->total + more);
    if (needed > search->slide_capacity) {
        search->slide_capacity = 2 * needed;
        way->slides = nw_resize(way->slides, search->slide_capacity, sizeof *way->slides);
    }
    nw_separation_slides(search->separation, way->slides + way->total, more, search->at);
    way->total += more;
    if (!way->level)
        way->level = way->total;
    uint32_t out = way->slides[way->total - 1].bodies, rest = group & ~out;
    bool out_is_larger = nw_count_bits(out) > nw_count_bits(rest);
    push_group(search, out_is_larger ? rest : out); /* the last pushed is in work next */
    push_group(search, out_is_larger ? out : rest);
}

NwStatus nw_take_apart_step(NwTakeApart *search, long expansions) {
    unsigned long long end =
        nw_separation_expansions(search->separation) + (unsigned long long)expansions;
    while (search->group_count) {
        uint32_t group = search->groups[search->group_count - 1];
        if (!search->started) {
            if (nw_separation_start(search->separation, search->bodies, group, search->at,
                                    search->max_states) != NW_OK)
                return NW_LIMIT;
            search->started = true;
        }
        long left = (long)(end - nw_separation_expansions(search->separation));
        NwStatus status = nw_separation_step(search->separation, left);
        if (status == NW_STOPPED)
            return status;
        search->started = false;
        search->way.states += nw_separation_states(search->separation);
        if (status != NW_OK) {
            search->way.stuck = group;
            return status;
        }
        search->group_count--;
        divide(search, group);
    }
    return NW_OK;
}

const NwWayOut *nw_take_apart_result(const NwTakeApart *search) {
    return &search->way;
}

NwTakeApartProgress nw_take_apart_progress(const NwTakeApart *search) {
    NwTakeApartProgress progress = {.states = search->way.states};
    for (int i = 0; i < search->way.total; i++)
        progress.separations += search->way.slides[i].cells == NW_SLIDE_OUT;
    if (search->started) {
        progress.states += nw_separation_states(search->separation);
        progress.depth = nw_separation_depth(search->separation);
    }
    return progress;
}

unsigned long long nw_take_apart_expansions(const NwTakeApart *search) {
    return nw_separation_expansions(search->separation);
}

size_t nw_take_apart_state_bytes(const NwTakeApart *search) {
    return nw_separation_state_bytes(search->separation);
}
