#include "fit/symmetry_breaking.h"

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

static bool carries_onto_itself(const NwSymmetryGroup *group, int motion, const Pivot *pivot,
                                const Scratch *scratch) {
    for (int i = 0; i < pivot->count; i++)
        if (!scratch->member[nw_symmetry_group_image(group, motion, pivot->set[i])])
            return false;
    return true;
}

/* Counts the orbits of the pivot; with `disabled`, also marks all but the first of each. */
static void split_orbits(const NwSymmetryGroup *group, Pivot *pivot, Scratch *scratch,
                         bool *disabled) {
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
                scratch->seen[nw_symmetry_group_image(group, g, pivot->set[i])] = true;
    }
    for (int i = 0; i < pivot->count; i++)
        scratch->member[pivot->set[i]] = scratch->seen[pivot->set[i]] = false;
}

static void collect_piece(const NwPlacementTable *places, int piece, Pivot *pivot) {
    pivot->count = 0;
    for (int p = places->first_of_piece[piece]; p < places->first_of_piece[piece + 1]; p++)
        pivot->set[pivot->count++] = p;
}

static void collect_part(const NwPlacementTable *places, int part, Pivot *pivot) {
    pivot->count = 0;
    for (int p = 0; p < places->place_count; p++)
        if (nw_placement_table_filled(places, p)[part / 64] >> part % 64 & 1)
            pivot->set[pivot->count++] = p;
}

/* Marks the parts that are the first of their orbit. */
static void mark_first_parts(const NwPlacementTable *places, const NwSymmetryGroup *group,
                             bool *first) {
    memset(first, true, (size_t)places->part_count * sizeof *first);
    for (int part = 0; part < places->part_count; part++)
        for (int g = 1; g < group->order && first[part]; g++)
            first[part] = nw_symmetry_group_part_image(places, group->motions[g], part) >= part;
}

struct NwSymmetryBreaking {
    const NwDesign *design;
    const NwPlacementTable *places;
    const NwSymmetryGroup *group;
    bool *disabled;
    bool *first_part;
    Scratch scratch;
    Pivot best, tried;
    int candidate; /* the next one: a piece, or after these a part */
};

NwSymmetryBreaking *nw_symmetry_breaking_new(const NwDesign *design, const NwPlacementTable *places,
                                             const NwSymmetryGroup *group, bool *disabled) {
    size_t count = (size_t)places->place_count;
    NwSymmetryBreaking *breaking = nw_alloc(1, sizeof *breaking);
    *breaking = (NwSymmetryBreaking){
        .design = design,
        .places = places,
        .group = group,
        .disabled = disabled,
        .scratch = {nw_alloc(count, sizeof(bool)), nw_alloc(count, sizeof(bool))},
        .best.set = nw_alloc(count, sizeof(int)),
        .tried.set = nw_alloc(count, sizeof(int))};
    breaking->first_part = nw_alloc((size_t)places->part_count, sizeof *breaking->first_part);
    mark_first_parts(places, group, breaking->first_part);
    memset(disabled, 0, count * sizeof *disabled);
    return breaking;
}

void nw_symmetry_breaking_free(NwSymmetryBreaking *breaking) {
    if (!breaking)
        return;
    free(breaking->best.set);
    free(breaking->tried.set);
    free(breaking->scratch.member);
    free(breaking->scratch.seen);
    free(breaking->first_part);
    free(breaking);
}

/* Collects the places of a candidate; there are none if it cannot be a pivot. */
static long collect(NwSymmetryBreaking *breaking, int candidate) {
    const NwPlacementTable *places = breaking->places;
    int part = candidate - places->piece_count;
    breaking->tried.count = 0;
    if (part < 0) {
        if (breaking->design->pieces[candidate].copies == 1)
            collect_piece(places, candidate, &breaking->tried);
    } else if (breaking->first_part[part] && places->required[part / 64] >> part % 64 & 1) {
        collect_part(places, part, &breaking->tried);
        return places->place_count / 64;
    }
    return 0;
}

bool nw_symmetry_breaking_step(NwSymmetryBreaking *breaking, long effort) {
    const NwPlacementTable *places = breaking->places;
    const NwSymmetryGroup *group = breaking->group;
    int candidates = group->order == 1 ? 0 : places->piece_count + places->part_count;
    while (breaking->candidate < candidates) {
        if (effort <= 0)
            return false;
        effort -= 1 + collect(breaking, breaking->candidate++);
        if (!breaking->tried.count)
            continue;
        split_orbits(group, &breaking->tried, &breaking->scratch, NULL);
        effort -= (long)breaking->tried.count * group->order / 64;
        if (!breaking->best.count || is_better(&breaking->tried, &breaking->best)) {
            Pivot swap = breaking->best;
            breaking->best = breaking->tried;
            breaking->tried = swap;
        }
    }
    split_orbits(group, &breaking->best, &breaking->scratch, breaking->disabled);
    return true;
}
