#include "session/piece_marks.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "design/bodies.h"
#include "design/sharp_vertices.h"
#include "design/warnings.h"
#include "fit/placement_table.h"
#include "lattice/number_text.h"

/* Parts of the envelope, times those of all pieces, up to which the places are looked for while the
 * maker draws: some tens of milliseconds. */
enum { SMALL_WORK = 400000 };

static void add_line(GString *lines, char *line) {
    if (lines->len)
        g_string_append_c(lines, '\n');
    g_string_append(lines, line);
    g_free(line);
}

static char *take_lines(GString *lines) {
    gboolean empty = lines->len == 0;
    char *text = g_string_free(lines, empty);
    return empty ? NULL : text;
}

char *nw_piece_mark_words(const NwDesign *design, int piece, gboolean fits) {
    GString *lines = g_string_new(NULL);
    NwPieceWarnings marks = nw_piece_warnings(design, piece);
    if (marks.lumps == 0)
        add_line(lines, g_strdup(_("no parts yet: paint in the layers or the view")));
    if (marks.lumps > 1)
        add_line(lines, g_strdup_printf(
                            ngettext("in %zu separate bit", "in %zu separate bits", marks.lumps),
                            marks.lumps));
    if (marks.necks == 1)
        add_line(lines, g_strdup(_("joined by a single face")));
    if (marks.necks > 1)
        add_line(lines,
                 g_strdup_printf(ngettext("joined by a single face in %zu place",
                                          "joined by a single face in %zu places", marks.necks),
                                 marks.necks));
    if (marks.lumps > 0 && !fits)
        add_line(lines, g_strdup(_("does not fit anywhere")));
    return take_lines(lines);
}

guint64 nw_pieces_that_fit(const NwDesign *design, gboolean *known) {
    size_t work = 0;
    NwPlacementTable *places;
    for (size_t p = 0; p < design->piece_count; p++)
        work += nw_solid_parts(design->pieces[p].solid);
    work *= nw_solid_parts(design->envelope);
    *known = work <= SMALL_WORK && nw_placement_table_build(design, &places) == NW_OK;
    if (!*known)
        return ~UINT64_C(0);
    guint64 fit = 0;
    for (int p = 0; p < places->piece_count; p++)
        if (places->first_of_piece[p] < places->first_of_piece[p + 1])
            fit |= UINT64_C(1) << p;
    nw_placement_table_free(places);
    return fit;
}

char *nw_piece_tip_words(const NwDesign *design, int piece) {
    GString *lines = g_string_new(NULL);
    NwTip *tips;
    size_t count = nw_piece_tips(design, piece, &tips);
    for (size_t i = 0; i < count; i++) {
        if (!tips[i].sharp)
            continue;
        /* Where the first copy stands, as the maker sees it. */
        NwMotion motion = nw_design_motion(design, piece);
        char text[NW_VEC_TEXT_SIZE];
        NwVec at = nw_vec_add(nw_turn_vec(motion.turn, tips[i].vertex), motion.shift);
        add_line(lines, g_strdup_printf(tips[i].hidden ? _("point %s, hidden inside")
                                                       : _("point %s, exposed"),
                                        nw_vec_text(at, ',', text)));
    }
    free(tips);
    return take_lines(lines);
}
