/* Every place that a piece can take in an envelope, the plain way: all 24 rotations, all shifts
 * that keep the box of the turned piece in the box of the envelope (even ones only, when the piece
 * has a cut cell), and of those the ones that stay inside. Places that hold the same parts, as a
 * symmetric piece has, are listed once. The order is that of turns, then of shifts.
 * Ownership: the list owns its solids; free it. Cost: turns * shifts * size of the piece. */
#ifndef NW_TESTS_PLAIN_PLACES_H
#define NW_TESTS_PLAIN_PLACES_H

#include "lattice/solid.h"

typedef struct NwPlainPlace {
    NwMotion motion;
    NwSolid *solid;
} NwPlainPlace;

typedef struct NwPlainPlaces {
    NwPlainPlace *list;
    size_t count, capacity;
} NwPlainPlaces;

NwPlainPlaces nw_plain_places(const NwSolid *envelope, const NwSolid *piece);
void nw_plain_places_free(NwPlainPlaces *places);

/* The place that holds exactly these parts; places->count if none does. */
size_t nw_plain_places_find(const NwPlainPlaces *places, const NwSolid *solid);

#endif
