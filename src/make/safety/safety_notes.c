#include "make/safety/safety_notes.h"

#include <glib/gi18n.h>

const char *nw_caution_for(NwTool tool) {
    static const char *const texts[NW_TOOL_COUNT] = {
        [NW_TOOL_PRINTER] = N_("Printing: nozzle and bed are hot; ventilate the room; wear eye "
                               "protection when you remove supports; deburr the edges."),
        [NW_TOOL_KNIFE] = N_("Knives: use a fresh blade and a metal ruler; cut away from yourself, "
                             "in several light strokes."),
        [NW_TOOL_SAW] = N_("Saws: clamp small pieces or use a sled, never hold them near the "
                           "blade; wear eye and ear protection; no gloves, no loose sleeves."),
        [NW_TOOL_SANDING] = N_("Sanding: wood dust harms the lungs and is flammable; use dust "
                               "extraction and a mask, and clean up the dust."),
        [NW_TOOL_ACRYLIC] =
            N_("Acrylic: wear eye protection against dust and chips; cut slowly, since the sheet "
               "cracks and melts when hot. The flame of flame polishing is hard to see; never "
               "flame-polish laser-cut edges that you will cement."),
        [NW_TOOL_CEMENT] = N_(
            "Solvent cement: the fumes are harmful and flammable; use it outdoors or with "
            "extraction, away from flames, with resistant gloves, and read its safety data sheet."),
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
    return _("These notes are no test of conformity. Local rules and the advice of a licensed or "
             "trained person come first.");
}

char *nw_dup_small_part_caution(const char *name, const NwSmallPart *part) {
    if (!part->fits)
        return NULL;
    if (!part->settled)
        return g_strdup_printf(_("piece %s may fit the small-parts cylinder of 16 CFR 1501.4 "
                                 "(undecided): keep it away from children under 3"),
                               name);
    return g_strdup_printf(_("piece %s fits the small-parts cylinder of 16 CFR 1501.4 (bore 31.75 "
                             "mm, depth 25.4 to 57.15 mm): keep it away from children under 3"),
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
    return g_strdup_printf(ngettext("piece %s has %d sharp tip, %d exposed: blunt it",
                                    "piece %s has %d sharp tips, %d exposed: blunt them",
                                    (unsigned long)sharp),
                           name, sharp, seen);
}
