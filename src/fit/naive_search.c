#include "fit/naive_search.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct NwNaiveSearch {
    const NwFit *fit;
    int *pieces; /* the piece that is put in at each depth */
    int total;
    int depth, last; /* the place chosen last, -1 for none */
    uint64_t *filled;
    int *choices; /* the places that the next piece can take */
    int width;
};

/* Whether no symmetry carries the place to a lesser one of the same piece. */
static bool is_least(const NwFit *fit, int place) {
    const NwPlacement *places = fit->places->places;
    for (int g = 1; g < fit->group->order; g++) {
        int image = nw_symmetry_group_image(fit->group, g, place);
        if (image < place && places[image].piece == places[place].piece)
            return false;
    }
    return true;
}

static bool is_free(const NwNaiveSearch *blind, int place) {
    const NwPlacementTable *places = blind->fit->places;
    const uint64_t *wanted = nw_placement_table_filled(places, place);
    for (int w = 0; w < places->words; w++)
        if (wanted[w] & blind->filled[w])
            return false;
    return true;
}

static void list_choices(NwNaiveSearch *blind) {
    const NwPlacementTable *places = blind->fit->places;
    blind->width = 0;
    if (blind->depth == blind->total)
        return;
    int piece = blind->pieces[blind->depth];
    int first = places->first_of_piece[piece];
    if (blind->depth && blind->pieces[blind->depth - 1] == piece)
        first = blind->last + 1;
    for (int place = first; place < places->first_of_piece[piece + 1]; place++)
        if (is_free(blind, place) && (blind->depth || is_least(blind->fit, place)))
            blind->choices[blind->width++] = place;
}

/* Largest first; pieces of one volume in the order of the design. */
static void order_pieces(NwNaiveSearch *blind) {
    const NwDesign *design = blind->fit->design;
    bool *taken = nw_alloc(design->piece_count, sizeof *taken);
    for (size_t round = 0; round < design->piece_count; round++) {
        int best = -1;
        for (int p = 0; p < (int)design->piece_count; p++)
            if (!taken[p] && (best < 0 || nw_solid_volume6(design->pieces[p].solid) >
                                              nw_solid_volume6(design->pieces[best].solid)))
                best = p;
        taken[best] = true;
        for (int copy = 0; copy < design->pieces[best].copies; copy++)
            blind->pieces[blind->total++] = best;
    }
    free(taken);
}

NwNaiveSearch *nw_naive_search_new(const NwFit *fit) {
    NwNaiveSearch *blind = nw_alloc(1, sizeof *blind);
    blind->fit = fit;
    blind->pieces = nw_alloc((size_t)fit->count, sizeof *blind->pieces);
    blind->filled = nw_alloc((size_t)fit->places->words, sizeof *blind->filled);
    blind->choices = nw_alloc((size_t)fit->places->place_count, sizeof *blind->choices);
    order_pieces(blind);
    nw_naive_search_restart(blind);
    return blind;
}

void nw_naive_search_free(NwNaiveSearch *blind) {
    if (!blind)
        return;
    free(blind->pieces);
    free(blind->filled);
    free(blind->choices);
    free(blind);
}

void nw_naive_search_restart(NwNaiveSearch *blind) {
    memset(blind->filled, 0, (size_t)blind->fit->places->words * sizeof *blind->filled);
    blind->depth = 0;
    blind->last = -1;
    list_choices(blind);
}

int nw_naive_search_width(const NwNaiveSearch *blind) {
    return blind->width;
}

void nw_naive_search_choose(NwNaiveSearch *blind, int choice) {
    const NwPlacementTable *places = blind->fit->places;
    blind->last = blind->choices[choice];
    const uint64_t *add = nw_placement_table_filled(places, blind->last);
    for (int w = 0; w < places->words; w++)
        blind->filled[w] |= add[w];
    blind->depth++;
    list_choices(blind);
}

int nw_naive_search_depth(const NwNaiveSearch *blind) {
    return blind->depth;
}

int nw_naive_search_total(const NwNaiveSearch *blind) {
    return blind->total;
}
