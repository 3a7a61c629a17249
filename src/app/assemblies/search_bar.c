#include "app/assemblies/search_bar.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#include "text/sentence.h"
#include "text/words.h"

struct _NwSearchBar {
    GtkWidget parent;
    GtkButton *button; /* of the template, as the rest */
    GtkProgressBar *bar;
    GtkLabel *left, *found, *cooks, *unreachable, *undecided, *verdict, *message;
    GtkInfoBar *stale;
    NwSearchSession *session;
};

G_DEFINE_FINAL_TYPE(NwSearchBar, nw_search_bar, GTK_TYPE_WIDGET)

/* The button of each state; a complete search leaves nothing to press. */
static const struct {
    const char *label, *tooltip;
    gboolean sensitive, suggested;
} buttons[] = {
    [NW_SEARCH_SESSION_IDLE] = {N_("Search"),
                                N_("Find every way the pieces fit, and which come apart"), TRUE,
                                TRUE},
    [NW_SEARCH_SESSION_RUNNING] = {N_("Pause"), N_("What is found so far is kept"), TRUE, FALSE},
    [NW_SEARCH_SESSION_PAUSED] = {N_("Resume"), N_("Resume the search"), TRUE, TRUE},
    [NW_SEARCH_SESSION_COMPLETE] =
        {N_("Complete"), N_("There are no others. To search from scratch, use the menu."), FALSE,
         FALSE},
    [NW_SEARCH_SESSION_STALE] = {N_("Search Again"), N_("Search the design as it is now"), TRUE,
                                 TRUE},
    [NW_SEARCH_SESSION_FAILED] = {N_("Search Again"), N_("Search from scratch"), TRUE, TRUE},
    [NW_SEARCH_SESSION_READING] = {N_("Reading…"), N_("What was found before is being read"), FALSE,
                                   FALSE},
};

/* ---- what is shown ----------------------------------------------------------------------- */

static void show_button(NwSearchBar *self, NwSearchSessionState state) {
    gtk_button_set_label(self->button, _(buttons[state].label));
    gtk_widget_set_tooltip_text(GTK_WIDGET(self->button), _(buttons[state].tooltip));
    /* Where there is nothing to press for it is dim, whatever the action is for others. */
    gtk_actionable_set_action_name(GTK_ACTIONABLE(self->button),
                                   buttons[state].sensitive ? "win.search" : NULL);
    if (!buttons[state].sensitive)
        gtk_widget_set_sensitive(GTK_WIDGET(self->button), FALSE);
    if (buttons[state].suggested)
        gtk_widget_add_css_class(GTK_WIDGET(self->button), "suggested-action");
    else
        gtk_widget_remove_css_class(GTK_WIDGET(self->button), "suggested-action");
}

/* Shows the label with the text, or hides it for NULL; frees the text. */
static void take_text(GtkLabel *label, char *text) {
    gtk_widget_set_visible(GTK_WIDGET(label), text != NULL);
    if (text && strcmp(gtk_label_get_text(label), text) != 0)
        gtk_label_set_text(label, text);
    g_free(text);
}

static char *dup_reading(guint64 count) {
    if (!count)
        return g_strdup(_("Reading what was found…"));
    return g_strdup_printf(ngettext("Reading %" PRIu64 " assembly…",
                                    "Reading %" PRIu64 " assemblies…", (unsigned long)count),
                           count);
}

static char *dup_left(NwSearchSession *session, NwSearchSessionState state,
                      const NwSearchProgress *progress) {
    if (nw_search_session_is_examining(session))
        return g_strdup(_("working out the slides"));
    if (state == NW_SEARCH_SESSION_READING)
        return dup_reading(nw_search_session_get_reading(session));
    char *setup = state == NW_SEARCH_SESSION_RUNNING || state == NW_SEARCH_SESSION_PAUSED
                      ? nw_words_setup(&progress->setup)
                      : NULL;
    if (setup)
        return setup;
    if (state == NW_SEARCH_SESSION_COMPLETE || state == NW_SEARCH_SESSION_PAUSED) {
        char *took = nw_words_seconds(progress->seconds);
        char *text = g_strdup_printf(
            state == NW_SEARCH_SESSION_COMPLETE ? _("took %s") : _("%s so far"), took);
        g_free(took);
        return text;
    }
    if (state != NW_SEARCH_SESSION_RUNNING || progress->seconds_left < 0)
        return NULL;
    char *left = nw_words_seconds(progress->seconds_left);
    char *text = g_strdup_printf(_("about %s left"), left);
    g_free(left);
    return text;
}

static void show_bar(NwSearchBar *self, NwSearchSessionState state,
                     const NwSearchProgress *progress) {
    gboolean begun = state != NW_SEARCH_SESSION_IDLE && state != NW_SEARCH_SESSION_STALE &&
                     state != NW_SEARCH_SESSION_READING;
    double share = state == NW_SEARCH_SESSION_COMPLETE ? 1 : CLAMP(progress->share, 0, 1);
    char *percent = g_strdup_printf(_("%.0f %%"), 100 * share);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), begun);
    gtk_progress_bar_set_fraction(self->bar, share);
    gtk_progress_bar_set_text(self->bar, percent);
    take_text(self->left, dup_left(self->session, state, progress));
    g_free(percent);
}

static void show_figures(NwSearchBar *self, const NwSearchProgress *p, gboolean begun) {
    const guint64 unreachable = p->verdicts[NW_UNREACHABLE];
    const guint64 undecided = p->verdicts[NW_UNDECIDED] + p->verdicts[NW_UNEXAMINED];
    const NwDesign *design = nw_search_session_get_design(self->session);
    gboolean has_intended = design && design->intended_count;
    const guint64 open = has_intended ? p->cooks : p->verdicts[NW_OPENS];
    char *cooks =
        has_intended
            ? g_strdup_printf(
                  ngettext("%" PRIu64 " cook", "%" PRIu64 " cooks", (unsigned long)open), open)
            : g_strdup_printf(ngettext("%" PRIu64 " comes apart", "%" PRIu64 " come apart",
                                       (unsigned long)open),
                              open);
    take_text(self->found,
              begun ? g_strdup_printf(ngettext("%" PRIu64 " assembly", "%" PRIu64 " assemblies",
                                               (unsigned long)p->found),
                                      p->found)
                    : NULL);
    take_text(self->cooks, begun ? g_strdup(cooks) : NULL);
    take_text(self->unreachable,
              begun ? g_strdup_printf(_("%" PRIu64 " unreachable"), unreachable) : NULL);
    take_text(self->undecided,
              begun && undecided ? g_strdup_printf(_("%" PRIu64 " undecided"), undecided) : NULL);
    g_free(cooks);
}

/* The one sentence that everybody searches for. */
static char *dup_verdict(NwSearchBar *self, NwSearchSessionState state, const NwSearchProgress *p) {
    const NwDesign *design = nw_search_session_get_design(self->session);
    if (state != NW_SEARCH_SESSION_COMPLETE || !design || !design->intended_count || !p->found)
        return NULL;
    if (p->verdicts[NW_UNDECIDED] || p->verdicts[NW_UNEXAMINED])
        return NULL;
    if (!p->intended_opens)
        return g_strdup(_("The intended assembly does not come apart."));
    return p->cooks ? NULL : g_strdup(_("The intended assembly is the only answer."));
}

static void update(NwSearchBar *self) {
    NwSearchSessionState state = nw_search_session_get_state(self->session);
    NwSearchProgress progress;
    nw_search_session_get_progress(self->session, &progress);
    show_button(self, state);
    show_bar(self, state, &progress);
    show_figures(self, &progress,
                 state != NW_SEARCH_SESSION_IDLE && state != NW_SEARCH_SESSION_READING);
    take_text(self->verdict, dup_verdict(self, state, &progress));
    take_text(self->message, nw_sentence_of(nw_search_session_get_message(self->session)));
    gtk_info_bar_set_revealed(self->stale, state == NW_SEARCH_SESSION_STALE);
    gtk_widget_set_visible(GTK_WIDGET(self->stale), state == NW_SEARCH_SESSION_STALE);
}

/* ---- the widget -------------------------------------------------------------------------- */

void nw_search_bar_set_session(NwSearchBar *self, NwSearchSession *session) {
    g_return_if_fail(!self->session);
    self->session = g_object_ref(session);
    g_signal_connect_swapped(session, "changed", G_CALLBACK(update), self);
    update(self);
}

static void nw_search_bar_dispose(GObject *object) {
    NwSearchBar *self = NW_SEARCH_BAR(object);
    if (self->session)
        g_signal_handlers_disconnect_by_data(self->session, self);
    g_clear_object(&self->session);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_search_bar_parent_class)->dispose(object);
}

static void nw_search_bar_class_init(NwSearchBarClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_search_bar_dispose;
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/search_bar.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget_class, NwSearchBar, name)
    CHILD(button);
    CHILD(bar);
    CHILD(left);
    CHILD(found);
    CHILD(cooks);
    CHILD(unreachable);
    CHILD(undecided);
    CHILD(verdict);
    CHILD(message);
    CHILD(stale);
#undef CHILD
}

static void nw_search_bar_init(NwSearchBar *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
