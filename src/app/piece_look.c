#include "app/piece_look.h"

#include <math.h>
#include <string.h>

enum { SHORT_LETTERS = 2 };

GdkRGBA nw_colour_rgba(NwColour colour, float alpha) {
    return (GdkRGBA){colour.r, colour.g, colour.b, alpha};
}

GdkRGBA nw_piece_look_colour(const NwDesign *design, int piece, gboolean one_colour) {
    NwColour colour;
    if (one_colour)
        colour = nw_palette_wood(piece);
    else if (!nw_palette_parse(design->pieces[piece].colour, &colour))
        colour = nw_palette_piece(piece);
    return nw_colour_rgba(colour, 1);
}

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

void nw_piece_look_keep(NwDesign *design) {
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

GdkRGBA nw_piece_look_ink(const GdkRGBA *ground) {
    /* Weights of the luminance of sRGB primaries (ITU-R BT.709). */
    float luminance = 0.2126f * ground->red + 0.7152f * ground->green + 0.0722f * ground->blue;
    return luminance > 0.5f ? (GdkRGBA){0, 0, 0, 1} : (GdkRGBA){1, 1, 1, 1};
}

char *nw_piece_look_dup_short(const char *name) {
    GString *text = g_string_new(NULL);
    int letters = 0;
    for (const char *at = name; *at && letters < SHORT_LETTERS; at = g_utf8_next_char(at)) {
        gunichar letter = g_utf8_get_char(at);
        if (g_unichar_isspace(letter))
            continue;
        g_string_append_unichar(text, letter);
        letters++;
    }
    return g_string_free(text, FALSE);
}
