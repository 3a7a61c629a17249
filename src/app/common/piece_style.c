#include "app/common/piece_style.h"

enum { SHORT_LETTERS = 2 };

GdkRGBA nw_colour_rgba(NwColour colour, float alpha) {
    return (GdkRGBA){colour.r, colour.g, colour.b, alpha};
}

GdkRGBA nw_piece_style_colour(const NwDesign *design, int piece, gboolean one_colour) {
    NwColour colour;
    if (one_colour)
        colour = nw_palette_wood(piece);
    else if (!nw_palette_parse(design->pieces[piece].colour, &colour))
        colour = nw_palette_piece(piece);
    return nw_colour_rgba(colour, 1);
}

GdkRGBA nw_piece_style_ink(const GdkRGBA *ground) {
    /* Weights of the luminance of sRGB primaries (ITU-R BT.709). */
    float luminance = 0.2126f * ground->red + 0.7152f * ground->green + 0.0722f * ground->blue;
    return luminance > 0.5f ? (GdkRGBA){0, 0, 0, 1} : (GdkRGBA){1, 1, 1, 1};
}

char *nw_piece_style_dup_short(const char *name) {
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
