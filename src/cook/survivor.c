#include "cook/survivor.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "lattice/symmetry.h"

void nw_survivors_clear(NwSurvivors *survivors) {
    for (size_t i = 0; i < survivors->count; i++) {
        free(survivors->list[i].placements);
        free(survivors->list[i].form);
    }
    free(survivors->list);
    *survivors = (NwSurvivors){0};
}

/* The parts that a solid covers when it is moved; false if it reaches out or leaves the lattice. */
static bool cover(const NwPlacementTable *places, const NwSolid *solid, NwMotion motion,
                  uint64_t *parts) {
    NwSolid *moved;
    memset(parts, 0, (size_t)places->words * sizeof *parts);
    if (nw_solid_moved(solid, motion, &moved) != NW_OK)
        return false;
    bool inside = true;
    for (size_t i = 0; i < moved->count && inside; i++)
        for (int mask = moved->cells[i].mask; mask && inside; mask &= mask - 1) {
            NwPart part = {nw_cell_at(&moved->cells[i]), nw_lowest((uint64_t)mask)};
            int number = nw_placement_table_part(places, part);
            inside = number >= 0;
            if (inside)
                parts[number / 64] |= nw_bit(number % 64);
        }
    nw_solid_free(moved);
    return inside;
}

/* ---- forms ------------------------------------------------------------------------------- */

/* The image of one body's parts, behind its piece number. */
static void turn_body(const int *turn, int words, const uint64_t *parts, uint64_t *image) {
    memset(image, 0, (size_t)words * sizeof *image);
    for (int w = 0; w < words; w++)
        for (uint64_t rest = parts[w]; rest; rest &= rest - 1) {
            int to = turn[64 * w + nw_lowest(rest)];
            image[to / 64] |= nw_bit(to % 64);
        }
}

/* Sorts the bodies of each piece by their parts. Bodies come by piece. */
static void sort_copies(const NwPlacement *placements, int bodies, int words, uint64_t *form) {
    uint64_t *held = nw_alloc((size_t)words, sizeof *held);
    size_t size = (size_t)words * sizeof *held;
    for (int b = 1; b < bodies; b++) {
        int at = b;
        memcpy(held, form + (size_t)b * (size_t)words, size);
        for (; at > 0 && placements[at - 1].piece == placements[b].piece &&
               memcmp(form + (size_t)(at - 1) * (size_t)words, held, size) > 0;
             at--)
            memcpy(form + (size_t)at * (size_t)words, form + (size_t)(at - 1) * (size_t)words,
                   size);
        memcpy(form + (size_t)at * (size_t)words, held, size);
    }
    free(held);
}

static uint64_t *form_of(const NwBaseline *baseline, const NwPlacement *placements,
                         const uint64_t *parts) {
    int words = baseline->fit->places->words, bodies = baseline->bodies;
    size_t all = (size_t)bodies * (size_t)words;
    uint64_t *least = nw_alloc(all, sizeof *least), *image = nw_alloc(all, sizeof *image);
    for (int t = 0; t < baseline->turn_count; t++) {
        const int *turn = baseline->turns + (size_t)t * (size_t)baseline->fit->places->part_count;
        for (int b = 0; b < bodies; b++)
            turn_body(turn, words, parts + (size_t)b * (size_t)words,
                      image + (size_t)b * (size_t)words);
        sort_copies(placements, bodies, words, image);
        if (t == 0 || memcmp(image, least, all * sizeof *least) < 0)
            memcpy(least, image, all * sizeof *least);
    }
    free(image);
    return least;
}

uint64_t *nw_survivor_intended(const NwBaseline *baseline, const NwVariant *variant) {
    const NwDesign *design = variant->design;
    size_t words = (size_t)baseline->fit->places->words;
    uint64_t *parts = nw_alloc((size_t)baseline->bodies * words, sizeof *parts);
    for (int b = 0; b < baseline->bodies; b++)
        cover(baseline->fit->places, design->pieces[design->intended[b].piece].solid,
              design->intended[b].motion, parts + (size_t)b * words);
    uint64_t *form = form_of(baseline, design->intended, parts);
    free(parts);
    return form;
}

/* ---- from known assemblies --------------------------------------------------------------- */

/* Body after body is put into its old place, in every way that its piece has. */
typedef struct Standing {
    const NwBaseline *baseline;
    const NwVariant *variant;
    NwSurvivors *survivors;
    const uint64_t *intended;
    size_t known;
    int set[NW_COPIES_MAX]; /* the places of the known assembly, or of its odd image (sorted) */
    NwPlacement placements[NW_BODIES_MAX];
    uint64_t *parts;  /* of each body */
    uint64_t *filled; /* by the bodies before each, and by all */
    bool odd;
    size_t added;
    bool merged;
} Standing;

static bool is_listed(const NwSurvivors *survivors, const uint64_t *form, size_t size) {
    for (size_t i = 0; i < survivors->count; i++)
        if (memcmp(survivors->list[i].form, form, size) == 0)
            return true;
    return false;
}

static void keep(Standing *standing) {
    NwSurvivors *survivors = standing->survivors;
    size_t bodies = (size_t)standing->baseline->bodies;
    size_t size = bodies * (size_t)standing->baseline->fit->places->words * sizeof(uint64_t);
    uint64_t *form = form_of(standing->baseline, standing->placements, standing->parts);
    bool same = memcmp(form, standing->intended, size) == 0;
    standing->merged = standing->merged || same;
    if (same || is_listed(survivors, form, size)) {
        free(form);
        return;
    }
    survivors->list =
        nw_grow(survivors->list, survivors->count, &survivors->capacity, sizeof *survivors->list);
    NwSurvivor *survivor = &survivors->list[survivors->count++];
    *survivor = (NwSurvivor){standing->known,
                             nw_alloc(bodies, sizeof(NwPlacement)),
                             form,
                             !standing->odd,
                             NW_STOPPED,
                             0,
                             0};
    memcpy(survivor->placements, standing->placements, bodies * sizeof(NwPlacement));
    standing->added++;
}

static bool is_filled(const NwPlacementTable *places, const uint64_t *filled) {
    for (int w = 0; w < places->words; w++)
        if (places->required[w] & ~filled[w])
            return false;
    return true;
}

static void stand(Standing *standing, int body);

/* The body covers parts[body]: goes on with the next one if they are free. */
static void stand_here(Standing *standing, int body, NwPlacement placement) {
    int words = standing->baseline->fit->places->words;
    const uint64_t *own = standing->parts + (size_t)body * (size_t)words;
    const uint64_t *before = standing->filled + (size_t)body * (size_t)words;
    uint64_t *after = standing->filled + (size_t)(body + 1) * (size_t)words;
    for (int w = 0; w < words; w++) {
        if (own[w] & before[w])
            return;
        after[w] = own[w] | before[w];
    }
    standing->placements[body] = placement;
    stand(standing, body + 1);
}

static void stand(Standing *standing, int body) {
    const NwBaseline *baseline = standing->baseline;
    const NwPlacementTable *places = baseline->fit->places;
    size_t words = (size_t)places->words;
    if (body == baseline->bodies) {
        if (is_filled(places, standing->filled + (size_t)body * words))
            keep(standing);
        return;
    }
    NwPlacement placement = places->places[standing->set[body]];
    uint64_t *own = standing->parts + (size_t)body * words;
    if (!nw_variant_has(standing->variant, placement.piece)) {
        memcpy(own, nw_placement_table_filled(places, standing->set[body]), words * sizeof *own);
        stand_here(standing, body, placement);
        return;
    }
    const NwSolid *solid = standing->variant->design->pieces[placement.piece].solid;
    for (int s = 0; s < baseline->symmetry_count[placement.piece]; s++) {
        NwPlacement way = {placement.piece, nw_motion_then(baseline->symmetries[placement.piece][s],
                                                           placement.motion)};
        if (cover(places, solid, way.motion, own))
            stand_here(standing, body, way);
    }
}

static int compare_ints(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

size_t nw_survivors_add(NwSurvivors *survivors, const NwBaseline *baseline,
                        const NwVariant *variant, size_t known, const uint64_t *intended,
                        bool *merged) {
    size_t words = (size_t)baseline->fit->places->words, bodies = (size_t)baseline->bodies;
    Standing standing = {.baseline = baseline,
                         .variant = variant,
                         .survivors = survivors,
                         .intended = intended,
                         .known = known};
    standing.parts = nw_alloc(bodies * words, sizeof *standing.parts);
    standing.filled = nw_alloc((bodies + 1) * words, sizeof *standing.filled);
    const int *set = baseline->known[known].stand;
    memcpy(standing.set, set, bodies * sizeof *set);
    stand(&standing, 0);
    if (baseline->odd_image) {
        standing.odd = true;
        for (size_t b = 0; b < bodies; b++)
            standing.set[b] =
                nw_symmetry_group_image(baseline->fit->group, baseline->odd_image, set[b]);
        qsort(standing.set, bodies, sizeof *standing.set, compare_ints);
        stand(&standing, 0);
    }
    free(standing.parts);
    free(standing.filled);
    *merged = standing.merged;
    return standing.added;
}

/* ---- back to known assemblies ------------------------------------------------------------ */

typedef struct Return {
    const NwBaseline *baseline;
    const NwPlacement *placements;
    NwMotion ways[NW_BODIES_MAX][NW_ROTATIONS]; /* in which the altered piece covers the same */
    int way_count[NW_BODIES_MAX];
    int set[NW_COPIES_MAX];
    bool *origins;
    size_t found;
} Return;

static void go_back(Return *back, int body) {
    const NwBaseline *baseline = back->baseline;
    if (body == baseline->bodies) {
        int sorted[NW_COPIES_MAX], least[NW_COPIES_MAX];
        memcpy(sorted, back->set, (size_t)body * sizeof *sorted);
        qsort(sorted, (size_t)body, sizeof *sorted, compare_ints);
        nw_symmetry_group_least(baseline->fit->group, sorted, body, least);
        long known = nw_baseline_find(baseline, least);
        if (known >= 0 && !back->origins[known]) {
            back->origins[known] = true;
            back->found++;
        }
        return;
    }
    for (int w = 0; w < back->way_count[body]; w++) {
        NwPlacement placement = {back->placements[body].piece, back->ways[body][w]};
        back->set[body] =
            nw_placement_table_of_motion(baseline->fit->places, baseline->design, placement);
        if (back->set[body] >= 0)
            go_back(back, body + 1);
    }
}

size_t nw_survivor_origins(const NwBaseline *baseline, const NwVariant *variant,
                           const NwPlacement *placements, bool *origins) {
    Return back = {.baseline = baseline, .placements = placements, .origins = origins};
    for (int b = 0; b < baseline->bodies; b++) {
        int piece = placements[b].piece;
        back.ways[b][0] = placements[b].motion;
        back.way_count[b] = 1;
        if (!nw_variant_has(variant, piece))
            continue;
        const NwSolid *solid = variant->design->pieces[piece].solid;
        NwMotion symmetries[NW_TURNS];
        NwAllowed allowed = {.odd_shifts = nw_solid_is_whole(solid)};
        back.way_count[b] = nw_solid_symmetries(solid, allowed, symmetries);
        for (int s = 0; s < back.way_count[b]; s++)
            back.ways[b][s] = nw_motion_then(symmetries[s], placements[b].motion);
    }
    go_back(&back, 0);
    return back.found;
}
