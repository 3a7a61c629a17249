#include "text/words.h"

#include <glib/gi18n.h>

#include "base/bits.h"

char *nw_words_body(const NwDesign *design, const NwFoundAssembly *finding, int body) {
    const NwPiece *piece = &design->pieces[finding->placements[body].piece];
    if (piece->copies == 1)
        return g_strdup(piece->name);
    return g_strdup_printf("%s (%d)", piece->name, nw_found_assembly_copy_of(finding, body) + 1);
}

char *nw_words_bodies(const NwDesign *design, const NwFoundAssembly *finding, guint32 bodies) {
    char *list = NULL;
    for (guint32 rest = bodies; rest; rest &= rest - 1) {
        char *name = nw_words_body(design, finding, nw_lowest(rest));
        gboolean last = !(rest & (rest - 1));
        char *longer = !list  ? g_strdup(name)
                       : last ? g_strdup_printf(_("%s and %s"), list, name)
                              : g_strdup_printf(_("%s, %s"), list, name);
        g_free(name);
        g_free(list);
        list = longer;
    }
    return list ? list : g_strdup("");
}

char *nw_words_bodies_short(const NwDesign *design, const NwFoundAssembly *finding,
                            guint32 bodies) {
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    gboolean letters = TRUE;
    for (guint32 rest = bodies; rest; rest &= rest - 1) {
        char *name = nw_words_body(design, finding, nw_lowest(rest));
        letters = letters && g_utf8_strlen(name, -1) == 1;
        g_ptr_array_add(names, name);
    }
    g_ptr_array_add(names, NULL);
    return g_strjoinv(letters ? "" : ", ", (char **)names->pdata);
}

char *nw_words_slide(const NwDesign *design, const NwFoundAssembly *finding, const NwSlide *slide) {
    char direction[NW_DIRECTION_TEXT_SIZE];
    nw_direction_text(slide->direction, direction);
    char *who = nw_words_bodies(design, finding, slide->bodies);
    char *text = slide->cells == NW_SLIDE_OUT
                     ? g_strdup_printf(_("%s out %s"), who, direction)
                     : g_strdup_printf(
                           ngettext("%s %d cell %s", "%s %d cells %s", (unsigned long)slide->cells),
                           who, slide->cells, direction);
    g_free(who);
    return text;
}

static const char *axis_spoken(int axis, int sign) {
    const char *const words[3][2] = {{N_("plus x"), N_("minus x")},
                                     {N_("plus y"), N_("minus y")},
                                     {N_("plus z"), N_("minus z")}};
    return _(words[axis][sign < 0]);
}

char *nw_words_direction_spoken(int direction) {
    NwVec step = nw_direction_step(direction);
    const char *words[3] = {"", "", ""};
    int count = 0;
    for (int axis = 0; axis < 3; axis++)
        if (nw_vec_get(step, axis))
            words[count++] = axis_spoken(axis, nw_vec_get(step, axis));
    return count == 1 ? g_strdup(words[0]) : g_strdup_printf(_("%s and %s"), words[0], words[1]);
}

char *nw_words_slide_spoken(const NwDesign *design, const NwFoundAssembly *finding,
                            const NwSlide *slide) {
    char *who = nw_words_bodies(design, finding, slide->bodies);
    char *where = nw_words_direction_spoken(slide->direction);
    unsigned long bodies = (unsigned long)nw_count_bits(slide->bodies);
    char *text;
    if (slide->cells == NW_SLIDE_OUT)
        /* Translators: the count is of the pieces that slide; the second word is a direction. */
        text = g_strdup_printf(
            ngettext("%s slides out along %s.", "%s slide out along %s.", bodies), who, where);
    else if (bodies == 1)
        text =
            g_strdup_printf(ngettext("%s slides %d cell along %s.", "%s slides %d cells along %s.",
                                     (unsigned long)slide->cells),
                            who, slide->cells, where);
    else
        text = g_strdup_printf(ngettext("%s slide %d cell along %s.", "%s slide %d cells along %s.",
                                        (unsigned long)slide->cells),
                               who, slide->cells, where);
    g_free(where);
    g_free(who);
    return text;
}

char *nw_words_levels(const NwLevels *levels) {
    char text[NW_LEVELS_TEXT_SIZE];
    nw_levels_text(levels, text);
    return g_strdup(text);
}

const char *nw_words_role(const NwFoundAssembly *finding, gboolean has_intended) {
    if (finding->intended)
        return finding->verdict == NW_OPENS         ? _("intended")
               : finding->verdict == NW_UNREACHABLE ? _("intended, unreachable")
               : finding->verdict == NW_UNDECIDED   ? _("intended, undecided")
                                                    : _("intended, not searched");
    if (finding->drawn)
        return finding->verdict == NW_OPENS         ? _("as drawn")
               : finding->verdict == NW_UNREACHABLE ? _("as drawn, unreachable")
               : finding->verdict == NW_UNDECIDED   ? _("as drawn, undecided")
                                                    : _("as drawn, not searched");
    switch (finding->verdict) {
    case NW_OPENS:
        return has_intended ? _("cook") : _("comes apart");
    case NW_UNREACHABLE:
        return _("unreachable");
    case NW_UNDECIDED:
        return _("undecided");
    default:
        return _("slides not searched");
    }
}

char *nw_words_seconds(double seconds) {
    if (seconds < 10)
        return g_strdup_printf(_("%.2f s"), seconds);
    if (seconds < 100)
        return g_strdup_printf(_("%.0f s"), seconds);
    int minutes = (int)(seconds / 60 + 0.5);
    if (minutes < 120)
        return g_strdup_printf(_("%d min"), minutes);
    return g_strdup_printf(_("%d h %d min"), minutes / 60, minutes % 60);
}

char *nw_words_setup(const NwSetupProgress *setup) {
    int percent = setup->total ? (int)(100.0 * setup->done / setup->total) : 0;
    switch (setup->stage) {
    case NW_SETUP_DONE:
        break;
    case NW_SETUP_LISTING:
        return g_strdup_printf(_("listing places: piece %d of %d"),
                               MIN(setup->done + 1, setup->total), setup->total);
    case NW_SETUP_SYMMETRY:
        return g_strdup(_("finding symmetries"));
    case NW_SETUP_MATRIX:
        return g_strdup_printf(_("comparing places: %d %%"), percent);
    case NW_SETUP_PRUNING:
        return g_strdup(_("leaving out places that cannot work"));
    }
    return NULL;
}

const char *nw_words_older(void) {
    return _(
        "An earlier version of Notchwright saved where this search was. It begins anew; what was "
        "found is kept.");
}

static int rank(const NwFoundAssembly *finding) {
    static const int ranks[NW_VERDICT_COUNT] = {
        [NW_OPENS] = 1, [NW_UNDECIDED] = 2, [NW_UNEXAMINED] = 3, [NW_UNREACHABLE] = 4};
    return finding->intended || finding->drawn ? 0 : ranks[finding->verdict];
}

int nw_words_compare(gconstpointer a, gconstpointer b) {
    const NwFoundAssembly *first = *(const NwFoundAssembly *const *)a,
                          *second = *(const NwFoundAssembly *const *)b;
    if (rank(first) != rank(second))
        return rank(first) - rank(second);
    return first->key < second->key ? -1 : first->key > second->key;
}
