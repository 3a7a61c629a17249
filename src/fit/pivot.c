#include "fit/pivot.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

/* One candidate: its places, and its score. */
typedef struct Pivot {
    int *set;
    int count;
    int kept; /* orbits */
} Pivot;

/* Membership flags and orbit marks, shared by all candidates. */
typedef struct Scratch {
    bool *member, *seen;
} Scratch;

/* Fewer kept of more is better; then fewer kept. */
static bool is_better(const Pivot *a, const Pivot *b) {
    long left = (long)a->kept * b->count, right = (long)b->kept * a->count;
    return left != right ? left < right : a->kept < b->kept;
}

static bool carries_onto_itself(const NwGroup *group, int motion, const Pivot *pivot,
                                const Scratch *scratch) {
    for (int i = 0; i < pivot->count; i++)
        if (!scratch->member[nw_group_image(group, motion, pivot->set[i])])
            return false;
    return true;
}

/* Counts the orbits of the pivot; with `disabled`, also marks all but the first of each. */
static void split_orbits(const NwGroup *group, Pivot *pivot, Scratch *scratch, bool *disabled) {
    for (int i = 0; i < pivot->count; i++)
        scratch->member[pivot->set[i]] = true;
    bool keeps[NW_TURNS];
    for (int g = 0; g < group->order; g++)
        keeps[g] = carries_onto_itself(group, g, pivot, scratch);
    pivot->kept = 0;
    for (int i = 0; i < pivot->count; i++) {
        if (scratch->seen[pivot->set[i]]) {
            if (disabled)
                disabled[pivot->set[i]] = true;
            continue;
        }
        pivot->kept++;
        for (int g = 0; g < group->order; g++)
            if (keeps[g])
                scratch->seen[nw_group_image(group, g, pivot->set[i])] = true;
    }
    for (int i = 0; i < pivot->count; i++)
        scratch->member[pivot->set[i]] = scratch->seen[pivot->set[i]] = false;
}

static void collect_piece(const NwPlaces *places, int piece, Pivot *pivot) {
    pivot->count = 0;
    for (int p = places->first_of_piece[piece]; p < places->first_of_piece[piece + 1]; p++)
        pivot->set[pivot->count++] = p;
}

static void collect_part(const NwPlaces *places, int part, Pivot *pivot) {
    pivot->count = 0;
    for (int p = 0; p < places->place_count; p++)
        if (nw_places_filled(places, p)[part / 64] >> part % 64 & 1)
            pivot->set[pivot->count++] = p;
}

void nw_pivot_choose(const NwDesign *design, const NwPlaces *places, const NwGroup *group,
                     bool *disabled) {
    size_t count = (size_t)places->place_count;
    memset(disabled, 0, count * sizeof *disabled);
    if (group->order == 1)
        return;
    Scratch scratch = {nw_alloc(count, sizeof(bool)), nw_alloc(count, sizeof(bool))};
    Pivot best = {nw_alloc(count, sizeof(int)), 0, 0}, tried = {nw_alloc(count, sizeof(int)), 0, 0};
    int candidates = places->piece_count + places->part_count;
    for (int c = 0; c < candidates; c++) {
        int part = c - places->piece_count;
        if (part < 0) {
            if (design->pieces[c].copies != 1)
                continue;
            collect_piece(places, c, &tried);
        } else {
            if (!(places->required[part / 64] >> part % 64 & 1))
                continue;
            collect_part(places, part, &tried);
        }
        if (!tried.count)
            continue;
        split_orbits(group, &tried, &scratch, NULL);
        if (!best.count || is_better(&tried, &best)) {
            Pivot swap = best;
            best = tried;
            tried = swap;
        }
    }
    split_orbits(group, &best, &scratch, disabled);
    free(best.set);
    free(tried.set);
    free(scratch.member);
    free(scratch.seen);
}
