#include "app/blocking/proposal_row.h"

#include <glib/gi18n.h>

#include "session/proposal_words.h"

enum { NAMED_MAX = 6 }; /* cooks that a row names; the table has them all */

/* Frees the words; NULL adds nothing. */
static void add_line(GtkWidget *box, char *words, const char *css_class) {
    if (!words)
        return;
    GtkWidget *label = gtk_label_new(words);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    if (css_class)
        gtk_widget_add_css_class(label, css_class);
    gtk_box_append(GTK_BOX(box), label);
    g_free(words);
}

/* "Cook 2, Cook 5, … are gone." */
static char *dup_killed(NwProposalItem *advice, NwSearchSession *session) {
    gsize count = nw_proposal_item_get_kill_count(advice);
    GString *names = g_string_new(NULL);
    for (gsize i = 0; i < MIN(count, NAMED_MAX); i++) {
        char *name = nw_proposal_words_cook(session, nw_proposal_item_get_kill(advice, i)->key);
        g_string_append_printf(names, "%s%s", i ? ", " : "", name);
        g_free(name);
    }
    char *words = count > NAMED_MAX
                      ? g_strdup_printf(ngettext("Kills %zu cook: %s, …", "Kills %zu cooks: %s, …",
                                                 (unsigned long)count),
                                        count, names->str)
                      : g_strdup_printf(_("Removes %s"), names->str);
    g_string_free(names, TRUE);
    return words;
}

static void add_kills(GtkWidget *box, NwProposalItem *advice, NwSearchSession *session) {
    const NwKill *kill = nw_proposal_item_get_kill(advice, 0);
    if (kill)
        add_line(box, nw_proposal_words_kill(advice, kill), NULL);
    if (nw_proposal_item_get_kill_count(advice) > 1)
        add_line(box, dup_killed(advice, session), NULL);
}

static GtkWidget *words_of(NwProposalItem *advice, NwViewState *view_state) {
    const NwProposalFacts *facts = nw_proposal_item_get_facts(advice);
    const NwDesign *design = nw_proposal_item_get_before(advice);
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
    gtk_widget_set_hexpand(box, TRUE);
    add_line(box,
             nw_proposal_words_changes(design, facts->changes, facts->count,
                                       nw_view_state_get_board_axis(view_state)),
             "heading");
    add_kills(box, advice, nw_view_state_get_search_session(view_state));
    add_line(box, nw_proposal_words_left(facts), NULL);
    add_line(box, nw_proposal_words_level(facts), NULL);
    add_line(box, nw_proposal_words_marks(facts), NULL);
    add_line(box, nw_proposal_words_proof(facts), "dim-label");
    return box;
}

GtkWidget *nw_proposal_row_new(NwProposalItem *advice, NwViewState *view_state, guint number) {
    GtkWidget *row = gtk_list_box_row_new(), *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    GtkWidget *rank = gtk_label_new(NULL), *apply = gtk_button_new_with_label(_("Apply"));
    char *text = g_strdup_printf("%u", number + 1);
    char *name = g_strdup_printf(_("Apply proposal %u"), number + 1);
    char *title = g_strdup_printf(_("Proposal %u"), number + 1);
    gtk_label_set_text(GTK_LABEL(rank), text);
    gtk_widget_set_valign(rank, GTK_ALIGN_START);
    gtk_widget_add_css_class(rank, "numeric");
    gtk_widget_set_valign(apply, GTK_ALIGN_CENTER);
    gtk_widget_set_tooltip_text(apply, _("Make this change as a new version; undo takes it back"));
    gtk_accessible_update_property(GTK_ACCESSIBLE(apply), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
    gtk_actionable_set_action_name(GTK_ACTIONABLE(apply), "block.apply");
    gtk_actionable_set_action_target(GTK_ACTIONABLE(apply), "u", number);
    gtk_box_append(GTK_BOX(box), rank);
    gtk_box_append(GTK_BOX(box), words_of(advice, view_state));
    gtk_box_append(GTK_BOX(box), apply);
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_widget_add_css_class(row, "advice-row");
    g_object_set_data_full(G_OBJECT(row), "advice", g_object_ref(advice), g_object_unref);
    g_free(text);
    g_free(name);
    g_free(title);
    return row;
}

NwProposalItem *nw_proposal_row_get(GtkWidget *row) {
    return g_object_get_data(G_OBJECT(row), "advice");
}
