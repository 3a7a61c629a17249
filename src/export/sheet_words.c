#include "export/sheet_words.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#include "base/bits.h"
#include "make/safety/safety_notes.h"
#include "store/design_rows.h"
#include "text/words.h"

/* "1 cell (20 mm)" */
static char *dup_distance(int cells, double cell_mm) {
    return g_strdup_printf(
        ngettext("%d cell (%.6g\u00a0mm)", "%d cells (%.6g\u00a0mm)", (gulong)cells), cells,
        cells * cell_mm);
}

char *nw_sheet_words_step(const NwDesign *design, const NwFoundAssembly *answer,
                          const NwSlide *slide, int cells, double cell_mm) {
    g_autofree char *who = nw_words_bodies(design, answer, slide->bodies);
    g_autofree char *far = dup_distance(cells, cell_mm);
    gulong bodies = (gulong)nw_count_bits(slide->bodies);
    if (slide->cells == NW_SLIDE_OUT)
        /* Translators: a piece, or pieces held as one, and a distance such as “2 cells (40 mm)”. */
        return g_strdup_printf(ngettext("Slide %s in along the arrow, %s deep.",
                                        "Slide %s in together along the arrow, %s deep.", bodies),
                               who, far);
    return g_strdup_printf(ngettext("Slide %s along the arrow by %s.",
                                    "Slide %s together along the arrow by %s.", bodies),
                           who, far);
}

char *nw_sheet_words_hold(const NwDesign *design, const NwFoundAssembly *answer,
                          const NwGrips *hold) {
    g_autofree char *movers = nw_words_bodies(design, answer, hold->movers);
    g_autofree char *rest = nw_words_bodies(design, answer, hold->rest);
    return g_strdup_printf(_("Move %s; hold %s still."), movers, rest);
}

/* 2000000 as "2 000 000", with narrow spaces that do not break. */
static char *dup_grouped(guint32 number) {
    GString *text = g_string_new(NULL);
    g_string_printf(text, "%u", number);
    for (gssize at = (gssize)text->len - 3; at > 0; at -= 3)
        g_string_insert(text, at, "\u202f");
    return g_string_free(text, FALSE);
}

char *nw_sheet_words_search(const NwSearch *search, const NwSearchOptions *options) {
    const NwFit *fit = nw_search_fit(search);
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    g_autofree char *date = g_date_time_format(now, "%F");
    g_autofree char *states =
        dup_grouped(options->max_states ? options->max_states : NW_STATES_DEFAULT);
    int part_count = fit->places->part_count, place_count = fit->places->place_count;
    g_autofree char *parts =
        g_strdup_printf(ngettext("%d part", "%d parts", (gulong)part_count), part_count);
    /* Translators: of pieces in the outside shape */
    g_autofree char *places =
        g_strdup_printf(ngettext("%d place", "%d places", (gulong)place_count), place_count);
    return g_strdup_printf(
        /* Translators: the first two are such as "60 parts" and "1203 places" */
        ngettext(
            "The search: every assembly by exact cover of %s by %s of the pieces, "
            "with %d symmetry of the whole; then each taken apart by slides along %s, breadth "
            "first, with room for %s positions a group. The way in was replayed slide by slide by "
            "a checker that shares no code with the search. Notchwright %s, %s.",
            "The search: every assembly by exact cover of %s by %s of the pieces, "
            "with %d symmetries of the whole; then each taken apart by slides along %s, breadth "
            "first, with room for %s positions a group. The way in was replayed slide by slide by "
            "a checker that shares no code with the search. Notchwright %s, %s.",
            (gulong)fit->group->order),
        parts, places, fit->group->order,
        options->diagonals ? _("the cube's edges and the diagonals of its faces")
                           : _("the cube's edges"),
        states, NW_VERSION, date);
}

char *nw_sheet_words_version(const NwDesign *design, gint64 version) {
    g_autoptr(GBytes) digest = nw_design_rows_dup_digest(design);
    const guint8 *bytes = g_bytes_get_data(digest, NULL);
    g_autoptr(GString) hex = g_string_new(NULL);
    for (int i = 0; i < 8; i++)
        g_string_append_printf(hex, "%s%02x", i && i % 2 == 0 ? " " : "", bytes[i]);
    if (version > 0)
        return g_strdup_printf(_("The design: version %" PRId64 " of its store, fingerprint %s."),
                               version, hex->str);
    return g_strdup_printf(_("The design: fingerprint %s."), hex->str);
}

/* "A, C and D" */
static char *dup_list(const GPtrArray *names) {
    char *list = g_strdup(names->pdata[0]);
    for (guint i = 1; i < names->len; i++) {
        char *longer = g_strdup_printf(i + 1 < names->len ? _("%s, %s") : _("%s and %s"), list,
                                       (const char *)names->pdata[i]);
        g_free(list);
        list = longer;
    }
    return list;
}

static void add_sentence(GString *text, char *sentence) {
    g_string_append(text, sentence);
    g_string_append_c(text, ' ');
    g_free(sentence);
}

static char *dup_small(const GPtrArray *names, gboolean all) {
    g_autofree char *list = dup_list(names);
    if (all)
        return g_strdup(_("Every piece is small enough to be swallowed: keep the puzzle from "
                          "children under 3 years."));
    return g_strdup_printf(
        ngettext("Piece %s is small enough to be swallowed: keep it from children under 3 years.",
                 "Pieces %s are small enough to be swallowed: keep them from children under 3 "
                 "years.",
                 (gulong)names->len),
        list);
}

static char *dup_sharp(const GPtrArray *names, gboolean all) {
    g_autofree char *list = dup_list(names);
    if (all)
        return g_strdup(_("Every piece has sharp tips: handle it with care."));
    return g_strdup_printf(ngettext("Piece %s has sharp tips: handle it with care.",
                                    "Pieces %s have sharp tips: handle them with care.",
                                    (gulong)names->len),
                           list);
}

char *nw_sheet_words_caution(const GPtrArray *small, const GPtrArray *sharp, gsize pieces) {
    if (!small->len && !sharp->len)
        return NULL;
    GString *text = g_string_new(NULL);
    if (small->len)
        add_sentence(text, dup_small(small, pieces > 1 && small->len == pieces));
    if (sharp->len)
        add_sentence(text, dup_sharp(sharp, pieces > 1 && sharp->len == pieces));
    g_string_append(text, nw_caution_limits());
    return g_string_free(text, FALSE);
}
