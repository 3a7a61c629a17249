#include "session/explain_words.h"

#include <glib/gi18n.h>

#include "session/search_import.h"

enum { NAMED_MAX = 12 };

static char *trouble_words(NwStatus status) {
    switch (status) {
    case NW_EMPTY:
        return g_strdup(_("No piece has this part."));
    case NW_OFF_LATTICE:
        return g_strdup(_("The part belongs to a copy that stands where only whole cells can, so "
                          "its piece cannot be cut."));
    case NW_DOES_NOT_FIT:
        return g_strdup(_("The intended assembly does not fit. Correct the design first."));
    default:
        return g_strdup_printf(_("It cannot be found out: %s."), nw_status_text(status));
    }
}

static void add_line(GString *lines, char *line) {
    g_string_append_printf(lines, "%s%s", lines->len ? "\n\n" : "", line);
    g_free(line);
}

/* "3, 4 and so on": how the list numbers them. */
static char *dup_numbers(NwSearchSession *session, const GArray *keys) {
    GString *numbers = g_string_new(NULL);
    for (guint i = 0; i < MIN(keys->len, NAMED_MAX); i++) {
        guint number = nw_search_session_number_of(session, g_array_index(keys, guint64, i));
        if (number)
            g_string_append_printf(numbers, "%s%u", numbers->len ? ", " : "", number);
    }
    if (keys->len > NAMED_MAX)
        g_string_append(numbers, ", …");
    return g_string_free(numbers, FALSE);
}

static void add_assemblies(GString *lines, NwSearchSession *session, const NwPartRole *role) {
    guint revived = role->revived->len;
    if (revived) {
        char *numbers = dup_numbers(session, role->revived);
        char *line = g_strdup_printf(ngettext("This part is a lock: without it, %u assembly that "
                                              "is now unreachable would come apart.",
                                              "This part is a lock: without it, %u assemblies that "
                                              "are now unreachable would come apart.",
                                              revived),
                                     revived);
        add_line(lines, line);
        if (*numbers)
            add_line(lines, g_strdup_printf(ngettext("In the list it is number %s.",
                                                     "In the list they are numbers %s.", revived),
                                            numbers));
        g_free(numbers);
    }
    if (role->new_cooks)
        add_line(lines,
                 g_strdup_printf(ngettext("It prevents %zu more cook, which does not fit with it.",
                                          "It prevents %zu more cooks, which do not fit with it.",
                                          (unsigned long)role->new_cooks),
                                 role->new_cooks));
    if (role->undecided)
        add_line(lines, g_strdup_printf(ngettext("Without it %zu assembly would be undecided.",
                                                 "Without it %zu assemblies would be undecided.",
                                                 (unsigned long)role->undecided),
                                        role->undecided));
    if (!revived && !role->new_cooks && !role->undecided)
        add_line(lines, g_strdup(_("Without it no further assembly would come apart.")));
}

static void add_level(GString *lines, const NwPartRole *role) {
    if (!role->opens)
        add_line(lines,
                 g_strdup(_("Without it the intended assembly would still not come apart.")));
    else if (!role->opened)
        add_line(lines, g_strdup_printf(_("It blocks the intended assembly, which would come apart "
                                          "without it, with level %d."),
                                        role->level));
    else if (role->level == role->level_before)
        add_line(lines, g_strdup_printf(_("The intended assembly would keep its level of %d."),
                                        role->level));
    else
        add_line(lines, g_strdup_printf(_("The intended assembly would have level %d without it; "
                                          "with it, it has %d."),
                                        role->level, role->level_before));
}

char *nw_explain_words(const NwDesign *design, NwSearchSession *session, const NwPartRole *role) {
    if (role->status != NW_NONE)
        return trouble_words(role->status);
    const char *name = design->pieces[role->piece].name;
    if (!role->holds)
        return g_strdup_printf(_("It holds piece %s together."), name);
    GString *lines = g_string_new(NULL);
    if (role->idle)
        add_line(lines, g_strdup_printf(_("It does nothing: piece %s could do without it."), name));
    add_assemblies(lines, session, role);
    add_level(lines, role);
    if (!role->may_be_empty)
        add_line(
            lines,
            g_strdup(
                _("This assumes that its place may stay empty, which the design does not allow.")));
    return g_string_free(lines, FALSE);
}
