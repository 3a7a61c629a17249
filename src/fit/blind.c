#include "fit/blind.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

struct NwBlind {
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
        int image = nw_group_image(fit->group, g, place);
        if (image < place && places[image].piece == places[place].piece)
            return false;
    }
    return true;
}

static bool is_free(const NwBlind *blind, int place) {
    const NwPlaces *places = blind->fit->places;
    const uint64_t *wanted = nw_places_filled(places, place);
    for (int w = 0; w < places->words; w++)
        if (wanted[w] & blind->filled[w])
            return false;
    return true;
}

static void list_choices(NwBlind *blind) {
    const NwPlaces *places = blind->fit->places;
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
static void order_pieces(NwBlind *blind) {
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

NwBlind *nw_blind_new(const NwFit *fit) {
    NwBlind *blind = nw_alloc(1, sizeof *blind);
    blind->fit = fit;
    blind->pieces = nw_alloc((size_t)fit->count, sizeof *blind->pieces);
    blind->filled = nw_alloc((size_t)fit->places->words, sizeof *blind->filled);
    blind->choices = nw_alloc((size_t)fit->places->place_count, sizeof *blind->choices);
    order_pieces(blind);
    nw_blind_restart(blind);
    return blind;
}

void nw_blind_free(NwBlind *blind) {
    if (!blind)
        return;
    free(blind->pieces);
    free(blind->filled);
    free(blind->choices);
    free(blind);
}

void nw_blind_restart(NwBlind *blind) {
    memset(blind->filled, 0, (size_t)blind->fit->places->words * sizeof *blind->filled);
    blind->depth = 0;
    blind->last = -1;
    list_choices(blind);
}

int nw_blind_width(const NwBlind *blind) {
    return blind->width;
}

void nw_blind_choose(NwBlind *blind, int choice) {
    const NwPlaces *places = blind->fit->places;
    blind->last = blind->choices[choice];
    const uint64_t *add = nw_places_filled(places, blind->last);
    for (int w = 0; w < places->words; w++)
        blind->filled[w] |= add[w];
    blind->depth++;
    list_choices(blind);
}

int nw_blind_depth(const NwBlind *blind) {
    return blind->depth;
}

int nw_blind_total(const NwBlind *blind) {
    return blind->total;
}
