#include "app/blocking/proposal_matrix.h"

#include <glib/gi18n.h>

#include "session/assembly_state.h"
#include "session/proposal_words.h"

/* The keys of the cooks in the list. */
static GArray *list_cooks(NwSearchSession *session) {
    GArray *keys = g_array_new(FALSE, FALSE, sizeof(guint64));
    GListModel *findings = nw_search_session_get_assemblies(session);
    for (guint i = 0; i < g_list_model_get_n_items(findings); i++) {
        NwAssemblyItem *item = g_list_model_get_item(findings, i);
        if (nw_assembly_item_get_state(item) == NW_STATE_COOK)
            g_array_append_val(keys, nw_assembly_item_get(item)->key);
        g_object_unref(item);
    }
    return keys;
}

static void clear(GtkGrid *grid) {
    for (GtkWidget *child; (child = gtk_widget_get_first_child(GTK_WIDGET(grid)));)
        gtk_grid_remove(grid, child);
}

static void attach_text(GtkGrid *grid, char *text, int column, int line) {
    gtk_grid_attach(grid, gtk_label_new(text), column, line, 1, 1);
    g_free(text);
}

static void on_cell(GtkWidget *cell, NwViewState *view_state) {
    nw_view_state_set_proposal(view_state, g_object_get_data(G_OBJECT(cell), "advice"),
                               GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(cell), "kill")));
}

static void attach_kill(GtkGrid *grid, NwViewState *view_state, NwProposalItem *advice, gsize kill,
                        int column, int line) {
    GtkWidget *cell = gtk_button_new_with_label(_("gone"));
    char *words = nw_proposal_words_kill(advice, nw_proposal_item_get_kill(advice, kill));
    gtk_widget_add_css_class(cell, "flat");
    gtk_widget_set_tooltip_text(cell, words);
    g_object_set_data_full(G_OBJECT(cell), "advice", g_object_ref(advice), g_object_unref);
    g_object_set_data(G_OBJECT(cell), "kill", GSIZE_TO_POINTER(kill));
    g_signal_connect_object(cell, "clicked", G_CALLBACK(on_cell), view_state, 0);
    gtk_grid_attach(grid, cell, column, line, 1, 1);
    g_free(words);
}

static void fill_cell(GtkGrid *grid, NwViewState *view_state, NwProposalItem *advice, guint64 cook,
                      int column, int line) {
    const NwKill *kill;
    for (gsize k = 0; (kill = nw_proposal_item_get_kill(advice, k)); k++)
        if (kill->key == cook) {
            attach_kill(grid, view_state, advice, k, column, line);
            return;
        }
    attach_text(grid, g_strdup(nw_advice_kills(advice, cook) ? _("gone") : _("stays")), column,
                line);
}

static void fill_line(GtkGrid *grid, NwViewState *view_state, NwProposalItem *advice,
                      const GArray *cooks, int line) {
    attach_text(grid, g_strdup_printf("%d", line), 0, line);
    for (int c = 0; c < (int)MIN(cooks->len, NW_PROPOSAL_MATRIX_MAX); c++)
        fill_cell(grid, view_state, advice, g_array_index(cooks, guint64, c), c + 1, line);
}

guint nw_proposal_matrix_fill(GtkGrid *grid, NwViewState *view_state, GListModel *advices) {
    NwSearchSession *session = nw_view_state_get_search_session(view_state);
    GArray *cooks = list_cooks(session);
    guint count = cooks->len,
          lines = MIN(g_list_model_get_n_items(advices), NW_PROPOSAL_MATRIX_MAX);
    clear(grid);
    for (int c = 0; lines && c < (int)MIN(count, NW_PROPOSAL_MATRIX_MAX); c++)
        attach_text(grid, nw_proposal_words_cook(session, g_array_index(cooks, guint64, c)), c + 1,
                    0);
    for (guint i = 0; i < lines; i++) {
        NwProposalItem *advice = g_list_model_get_item(advices, i);
        fill_line(grid, view_state, advice, cooks, (int)i + 1);
        g_object_unref(advice);
    }
    g_array_unref(cooks);
    return count;
}
