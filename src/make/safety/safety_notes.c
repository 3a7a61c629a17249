#include "make/safety/safety_notes.h"

#include <glib/gi18n.h>

const char *nw_caution_for(NwTool tool) {
    static const char *const texts[NW_TOOL_COUNT] = {
        [NW_TOOL_PRINTER] = N_("Printing: the nozzle and the bed burn; air the room; break off "
                               "support with eyes covered, and take the burr off edges."),
        [NW_TOOL_KNIFE] = N_("Knives: cut away from the hand, along a metal rule, with a fresh "
                             "blade and in several light strokes."),
        [NW_TOOL_SAW] = N_("Saws: clamp small pieces or use a sled, never hold them by hand near "
                           "the blade; cover eyes and ears; no gloves and no loose sleeves."),
        [NW_TOOL_SANDING] = N_("Sanding: wood dust harms the lungs and burns; use extraction and a "
                               "mask, and clear the dust away."),
        [NW_TOOL_ACRYLIC] = N_(
            "Acrylic: dust and chips fly, so cover the eyes; the sheet cracks and melts where it "
            "gets hot, so cut slowly; flame polishing burns with a flame that is hard to see, "
            "and is not for laser-cut edges that will be cemented."),
        [NW_TOOL_CEMENT] =
            N_("Solvent cement: its fumes are harmful and catch fire; use it outside "
               "or under extraction, away from flames, with gloves that stand it, "
               "and read its safety data sheet."),
        [NW_TOOL_GLUE] = N_("Glue: keep it off skin and eyes, and let it dry before the pieces are "
                            "handled."),
    };
    return (unsigned)tool < NW_TOOL_COUNT ? _(texts[tool]) : "";
}

static void add_lines(GPtrArray *lines, const char *text, int letters) {
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    g_autoptr(GString) line = g_string_new(NULL);
    for (int i = 0; words[i]; i++) {
        glong length = g_utf8_strlen(line->str, -1) + 1 + g_utf8_strlen(words[i], -1);
        if (line->len && length > letters) {
            g_ptr_array_add(lines, g_strdup(line->str));
            g_string_truncate(line, 0);
        }
        g_string_append_printf(line, "%s%s", line->len ? " " : "", words[i]);
    }
    g_ptr_array_add(lines, g_strdup(line->str));
}

char **nw_dup_caution_lines(unsigned tools, int letters) {
    GPtrArray *lines = g_ptr_array_new();
    for (int tool = 0; tool < NW_TOOL_COUNT; tool++)
        if (tools >> tool & 1)
            add_lines(lines, nw_caution_for((NwTool)tool), letters);
    g_ptr_array_add(lines, NULL);
    return (char **)g_ptr_array_free(lines, FALSE);
}

const char *nw_caution_limits(void) {
    return _("These remarks are no test of conformity. The rules where you live come first, and so "
             "does the word of a licensed or trained person.");
}

char *nw_dup_small_part_caution(const char *name, const NwSmallPart *part) {
    if (!part->fits)
        return NULL;
    if (!part->settled)
        return g_strdup_printf(_("piece %s may fit the small-parts cylinder of 16 CFR 1501.4 (it "
                                 "could not be settled): keep it from children under 3 years"),
                               name);
    return g_strdup_printf(_("piece %s fits the small-parts cylinder of 16 CFR 1501.4 (bore 31.75 "
                             "mm, depth 25.4 to 57.15 mm): keep it from children under 3 years"),
                           name);
}

char *nw_dup_tips_caution(const char *name, const NwTip *tips, size_t count) {
    int sharp = 0, seen = 0;
    for (size_t i = 0; i < count; i++) {
        sharp += tips[i].sharp;
        seen += tips[i].sharp && !tips[i].hidden;
    }
    if (!sharp)
        return NULL;
    return g_strdup_printf(
        ngettext("piece %s has %d sharp tip (0.551 sr, that of a regular tetrahedron, or less), "
                 "%d of them outside: blunt it",
                 "piece %s has %d sharp tips (0.551 sr, that of a regular tetrahedron, or less), "
                 "%d of them outside: blunt them",
                 (unsigned long)sharp),
        name, sharp, seen);
}
