#include "cook/weak_spots.h"

#include <stdlib.h>

#include "design/sharp_vertices.h"
#include "design/warnings.h"

static size_t hanging(const NwSolid *solid) {
    NwBridge *bridges;
    size_t count = nw_solid_bridges(solid, &bridges), hangs = 0;
    for (size_t i = 0; i < count; i++)
        hangs += bridges[i].side > 1 || bridges[i].part.bit == 0 || bridges[i].face != 0;
    free(bridges);
    return hangs;
}

static size_t pricking(const NwDesign *design, int piece) {
    NwTip *tips;
    size_t count = nw_piece_tips(design, piece, &tips), sharp = 0;
    for (size_t i = 0; i < count; i++)
        sharp += tips[i].sharp && !tips[i].hidden;
    free(tips);
    return sharp;
}

NwWeakSpots nw_weak_spots_of(const NwDesign *design, int piece) {
    return (NwWeakSpots){hanging(design->pieces[piece].solid), pricking(design, piece)};
}
