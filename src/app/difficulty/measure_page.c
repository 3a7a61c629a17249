#include "app/difficulty/measure_page.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "session/measure_job.h"
#include "session/search_answer.h"

enum { TICK_MILLISECONDS = 100 };

typedef enum Stand {
    STAND_NOTHING, /* no complete search */
    STAND_AT_WORK,
    STAND_KNOWN,
    STAND_STOPPED,
    STAND_FAILED,
} Stand;

struct _NwMeasurePage {
    GtkWidget parent;
    NwViewState *view_state;
    GtkWidget *content; /* of the template, as the rest up to the list */
    GtkStack *states;
    GtkLabel *missing, *subject, *doing;
    GtkButton *search_button, *stop_button;
    GtkProgressBar *bar;
    GtkWidget *work_box;
    GtkListBox *list;
    GtkLabel *values[NW_MEASURE_COUNT];

    Stand stand;
    NwMeasureJob *job;
    NwMeasures measures;
    gboolean diagonals; /* of the search that is measured */
    gint64 version;
    char *message; /* why it failed */
    guint tick;
};

G_DEFINE_FINAL_TYPE(NwMeasurePage, nw_measure_page, GTK_TYPE_WIDGET)

enum { MEASURED, SIGNALS };
static guint signals[SIGNALS];

static NwSearchSession *session_of(NwMeasurePage *self) {
    return nw_view_state_get_search_session(self->view_state);
}

/* ---- what is shown ----------------------------------------------------------------------- */

/* Why there is nothing to measure, and what the button does about it. */
static char *dup_missing(NwSearchSession *session) {
    NwSearchProgress progress;
    nw_search_session_get_progress(session, &progress);
    switch (nw_search_session_get_state(session)) {
    case NW_SEARCH_SESSION_RUNNING:
        return g_strdup_printf(
            _("Searching: %.0f %% done. The measures appear when the search is complete."),
            100 * progress.share);
    case NW_SEARCH_SESSION_PAUSED:
        return g_strdup_printf(_("The search is only %.0f %% done. Complete it first."),
                               100 * progress.share);
    case NW_SEARCH_SESSION_STALE:
        return g_strdup(_("The design has changed since it was searched. Search it again first."));
    case NW_SEARCH_SESSION_FAILED:
        return g_strdup(nw_search_session_get_message(session));
    case NW_SEARCH_SESSION_COMPLETE:
        if (nw_search_session_is_examining(session))
            return g_strdup(_("All assemblies are known; their slides are being worked out."));
        return g_strdup(_("The search is complete; its assemblies are being listed."));
    default:
        return g_strdup(
            _("Search the design first: its difficulty is known once all assemblies are."));
    }
}

static void show_missing(NwMeasurePage *self) {
    NwSearchSessionState state = nw_search_session_get_state(session_of(self));
    char *text = dup_missing(session_of(self));
    gtk_label_set_text(self->missing, text);
    gtk_button_set_label(self->search_button, state == NW_SEARCH_SESSION_RUNNING
                                                  ? _("Pause the Search")
                                              : state == NW_SEARCH_SESSION_PAUSED ? _("Resume")
                                                                                  : _("Search"));
    gtk_widget_set_visible(GTK_WIDGET(self->search_button), state != NW_SEARCH_SESSION_COMPLETE);
    g_free(text);
}

static char *dup_subject(NwMeasurePage *self) {
    const NwDesign *design = nw_document_get_design(nw_view_state_get_document(self->view_state));
    char *what = g_strdup_printf(
        design->intended_count
            ? _("Measured of the intended assembly, with %d random samples and seed %d.")
            : _("No assembly is intended: these are measures of the first that comes apart, with "
                "%d random samples and seed %d."),
        NW_MEASURE_DIVES, NW_MEASURE_SEED);
    if (!self->diagonals)
        return what;
    char *longer = g_strdup_printf("%s %s", what, _("Slides along diagonals count too."));
    g_free(what);
    return longer;
}

static void show_values(NwMeasurePage *self) {
    for (int i = 0; i < NW_MEASURE_COUNT; i++) {
        char *text = self->stand == STAND_KNOWN
                         ? nw_measure_dup_text(&self->measures, (NwMeasure)i)
                         : g_strdup(self->stand == STAND_AT_WORK ? "…" : "–");
        gtk_label_set_text(self->values[i], text);
        g_free(text);
    }
}

/* Moves on while it measures. */
static gboolean on_tick(gpointer data) {
    NwMeasurePage *self = data;
    char *what;
    gtk_progress_bar_set_fraction(self->bar, nw_measure_job_progress(self->job, &what));
    gtk_label_set_text(self->doing, *what ? what : _("Measuring…"));
    g_free(what);
    return G_SOURCE_CONTINUE;
}

static void show(NwMeasurePage *self) {
    gboolean at_work = self->stand == STAND_AT_WORK;
    gtk_stack_set_visible_child_name(self->states,
                                     self->stand == STAND_NOTHING ? "missing" : "figures");
    if (self->stand == STAND_NOTHING) {
        show_missing(self);
        return;
    }
    char *subject = dup_subject(self);
    gtk_label_set_text(self->subject, subject);
    g_free(subject);
    gtk_widget_set_visible(self->work_box, self->stand != STAND_KNOWN);
    gtk_widget_set_visible(GTK_WIDGET(self->bar), at_work);
    gtk_widget_set_hexpand(GTK_WIDGET(self->doing), !at_work);
    gtk_button_set_label(self->stop_button, at_work ? _("Stop") : _("Measure Again"));
    if (!at_work)
        gtk_label_set_text(self->doing, self->stand == STAND_STOPPED ? _("Measuring was stopped.")
                                                                     : self->message);
    show_values(self);
}

/* ---- measuring --------------------------------------------------------------------------- */

static void stop(NwMeasurePage *self, Stand stand) {
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->job, nw_measure_job_free);
    gboolean was_known = self->stand == STAND_KNOWN;
    self->stand = stand;
    if (was_known)
        g_signal_emit(self, signals[MEASURED], 0);
}

static void on_done(gpointer data) {
    NwMeasurePage *self = data;
    const char *message;
    const NwMeasures *measures = nw_measure_job_get(self->job, &message);
    if (measures)
        self->measures = *measures;
    g_free(self->message);
    self->message = g_strdup(message ? message : "");
    stop(self, measures ? STAND_KNOWN : STAND_FAILED);
    show(self);
    g_signal_emit(self, signals[MEASURED], 0);
}

static void begin(NwMeasurePage *self) {
    NwTally tally;
    NwAssemblyItem *answer;
    NwDocument *document = nw_view_state_get_document(self->view_state);
    if (!nw_search_session_answer(session_of(self), &tally, &answer))
        return;
    self->diagonals = nw_search_session_get_diagonals(session_of(self));
    self->version = nw_document_get_version(document);
    const NwMeasuring measuring = {
        .diagonals = self->diagonals, .dives = NW_MEASURE_DIVES, .seed = NW_MEASURE_SEED};
    self->job = nw_measure_job_new(&measuring, nw_document_get_design(document), &tally, answer,
                                   on_done, self);
    self->stand = STAND_AT_WORK;
    self->tick = g_timeout_add(TICK_MILLISECONDS, on_tick, self);
    on_tick(self);
    g_clear_object(&answer);
}

/* The search is another one, or has come farther. */
static void update(NwMeasurePage *self) {
    gboolean ready = nw_document_get_design(nw_view_state_get_document(self->view_state)) &&
                     nw_search_session_has_answer(session_of(self));
    gboolean same =
        self->version == nw_document_get_version(nw_view_state_get_document(self->view_state)) &&
        self->diagonals == nw_search_session_get_diagonals(session_of(self));
    if (self->stand != STAND_NOTHING && (!ready || !same))
        stop(self, STAND_NOTHING);
    if (self->stand == STAND_NOTHING && ready)
        begin(self);
    show(self);
}

static void on_stop_or_again(NwMeasurePage *self) {
    if (self->stand == STAND_AT_WORK)
        stop(self, STAND_STOPPED);
    else
        begin(self);
    show(self);
}

const NwMeasures *nw_measure_page_get(NwMeasurePage *self) {
    return self->stand == STAND_KNOWN ? &self->measures : NULL;
}

/* ---- the object -------------------------------------------------------------------------- */

static GtkWidget *new_label(const char *text, const char *style, gboolean wrap) {
    GtkWidget *label = gtk_label_new(text);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), wrap);
    if (style)
        gtk_widget_add_css_class(label, style);
    return label;
}

/* The title with its value to the right, and the definition under both. */
static void add_row(NwMeasurePage *self, NwMeasure measure) {
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 3);
    GtkWidget *line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 18);
    GtkWidget *title = new_label(nw_measure_title(measure), "heading", FALSE);
    GtkWidget *value = new_label("", "measure-value", TRUE);
    GtkWidget *definition = new_label(nw_measure_definition(measure), "caption", TRUE);
    gtk_widget_add_css_class(definition, "dim-label");
    gtk_widget_set_hexpand(title, TRUE);
    gtk_label_set_xalign(GTK_LABEL(value), 1);
    gtk_label_set_justify(GTK_LABEL(value), GTK_JUSTIFY_RIGHT);
    gtk_label_set_natural_wrap_mode(GTK_LABEL(value), GTK_NATURAL_WRAP_NONE);
    gtk_label_set_selectable(GTK_LABEL(value), TRUE);
    gtk_box_append(GTK_BOX(line), title);
    gtk_box_append(GTK_BOX(line), value);
    gtk_box_append(GTK_BOX(box), line);
    gtk_box_append(GTK_BOX(box), definition);
    gtk_list_box_append(self->list, box);
    GtkWidget *row = gtk_widget_get_parent(box);
    gtk_list_box_row_set_activatable(GTK_LIST_BOX_ROW(row), FALSE);
    gtk_widget_set_focusable(row, FALSE);
    self->values[measure] = GTK_LABEL(value);
}

static void nw_measure_page_dispose(GObject *object) {
    NwMeasurePage *self = NW_MEASURE_PAGE(object);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(session_of(self), self);
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->job, nw_measure_job_free);
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_MEASURE_PAGE);
    g_clear_pointer(&self->message, g_free);
    G_OBJECT_CLASS(nw_measure_page_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwMeasurePage, name)

static void nw_measure_page_class_init(NwMeasurePageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_measure_page_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/measure_page.ui");
    BIND(content);
    BIND(states);
    BIND(missing);
    BIND(search_button);
    BIND(subject);
    BIND(work_box);
    BIND(doing);
    BIND(bar);
    BIND(stop_button);
    BIND(list);
    signals[MEASURED] = g_signal_new("measured", NW_TYPE_MEASURE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL,
                                     NULL, NULL, G_TYPE_NONE, 0);
}

static void nw_measure_page_init(NwMeasurePage *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    for (int i = 0; i < NW_MEASURE_COUNT; i++)
        add_row(self, (NwMeasure)i);
    g_signal_connect_swapped(self->stop_button, "clicked", G_CALLBACK(on_stop_or_again), self);
}

void nw_measure_page_set_view_state(NwMeasurePage *self, NwViewState *view_state) {
    g_set_object(&self->view_state, view_state);
    g_signal_connect_swapped(session_of(self), "changed", G_CALLBACK(update), self);
    update(self);
}
