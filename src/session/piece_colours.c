#include "session/piece_colours.h"

#include <glib.h>
#include <math.h>
#include <string.h>

#include "view/palette.h"

static void write_colour(NwColour colour, char text[NW_COLOUR_SIZE]) {
    g_snprintf(text, NW_COLOUR_SIZE, "#%02x%02x%02x", (guint)lroundf(colour.r * 255) & 255u,
               (guint)lroundf(colour.g * 255) & 255u, (guint)lroundf(colour.b * 255) & 255u);
}

static int users_of(const NwDesign *design, const char *colour) {
    int users = 0;
    for (size_t p = 0; p < design->piece_count; p++)
        users += g_ascii_strcasecmp(design->pieces[p].colour, colour) == 0;
    return users;
}

void nw_piece_colours_keep(NwDesign *design) {
    for (size_t p = 0; p < design->piece_count; p++) {
        char best[NW_COLOUR_SIZE], other[NW_COLOUR_SIZE];
        if (*design->pieces[p].colour)
            continue;
        write_colour(nw_palette_piece((int)p), best);
        for (int i = 0; i < NW_PALETTE_COLOURS; i++) {
            write_colour(nw_palette_piece(i), other);
            if (users_of(design, other) < users_of(design, best))
                memcpy(best, other, sizeof best);
        }
        memcpy(design->pieces[p].colour, best, sizeof best);
    }
}
