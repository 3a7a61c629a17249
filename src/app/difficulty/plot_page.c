#include "app/difficulty/plot_page.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "app/common/save_chooser.h"
#include "measure/chart.h"
#include "measure/times.h"
#include "session/measure_job.h"

enum { TICK_MILLISECONDS = 100 };

/* What is known of a design that was tried. */
typedef struct Known {
    gint64 version;    /* that was measured */
    gboolean measured; /* else there is nothing to measure it by */
    NwMeasures measures;
} Known;

struct _NwPlotPage {
    GtkWidget parent;
    NwViewState *view_state;
    GtkWidget *content; /* of the template, as the rest up to the area */
    GtkStack *states;
    GtkDropDown *measure;
    GtkWidget *save_button, *work_box, *stop_button;
    GtkLabel *doing, *left_out;
    GtkDrawingArea *area;

    GPtrArray *trials;    /* NwStoredTrial, of all designs */
    GHashTable *versions; /* the current one of each design, both gint64 */
    GHashTable *known;    /* Known by the id of the design */
    NwTimes times;        /* what the chart shows; dots NULL at first */
    NwMeasureJob *job;
    gint64 measuring, measuring_version; /* which design is in work */
    gboolean stopped;
    guint tick;
};

G_DEFINE_FINAL_TYPE(NwPlotPage, nw_plot_page, GTK_TYPE_WIDGET)

enum { TROUBLE, SIGNALS };
static guint signals[SIGNALS];

static NwDocument *document_of(NwPlotPage *self) {
    return nw_view_state_get_document(self->view_state);
}

static NwLibrary *library_of(NwPlotPage *self) {
    return nw_document_get_library(document_of(self));
}

static void take_error(NwPlotPage *self, GError *error) {
    g_signal_emit(self, signals[TROUBLE], 0, error->message);
    g_error_free(error);
}

/* ---- the chart --------------------------------------------------------------------------- */

static NwMeasure chosen(NwPlotPage *self) {
    return (NwMeasure)gtk_drop_down_get_selected(self->measure);
}

static NwChart chart_of(NwPlotPage *self) {
    return (NwChart){nw_measure_axis(chosen(self)), _("Trials"),
                     (const NwChartDot *)self->times.dots->data, self->times.dots->len};
}

/* A white card as large as the area allows. */
static void draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data) {
    NwPlotPage *self = data;
    (void)area;
    if (!self->times.dots)
        return;
    NwChart chart = chart_of(self);
    double scale = MIN((double)width / NW_CHART_WIDTH, (double)height / NW_CHART_HEIGHT);
    cairo_translate(cr, (width - scale * NW_CHART_WIDTH) / 2,
                    (height - scale * NW_CHART_HEIGHT) / 2);
    cairo_scale(cr, scale, scale);
    nw_chart_draw(cr, &chart);
}

static const NwMeasures *measures_of(const NwStoredTrial *trial, gpointer data) {
    NwPlotPage *self = data;
    const Known *known = g_hash_table_lookup(self->known, &trial->design);
    return known && known->measured ? &known->measures : NULL;
}

static void add_sentence(GString *text, char *sentence) {
    g_string_append_printf(text, "%s%s", text->len ? " " : "", sentence);
    g_free(sentence);
}

/* What is missing in the chart, once nothing more is on its way. */
static char *dup_left_out(const NwTimes *times) {
    GString *text = g_string_new(NULL);
    guint designs = times->unmeasured_designs;
    if (designs)
        add_sentence(text, g_strdup_printf(
                               ngettext("%u design is not in the plot: it has no complete search "
                                        "or no such measure.",
                                        "%u designs are not in the plot: they have no complete "
                                        "search or no such measure.",
                                        designs),
                               designs));
    if (times->untimed)
        add_sentence(text,
                     g_strdup_printf(ngettext("%u trial is not in the plot: it has no minutes.",
                                              "%u trials are not in the plot: they have no "
                                              "minutes.",
                                              times->untimed),
                                     times->untimed));
    return g_string_free(text, FALSE);
}

static void show_chart(NwPlotPage *self) {
    if (!self->trials)
        return;
    nw_times_clear(&self->times);
    nw_times_init(&self->times, self->trials, chosen(self), measures_of, self);
    char *words = nw_times_dup_words(&self->times);
    char *left_out = self->job ? g_strdup("") : dup_left_out(&self->times);
    char *name = g_strdup_printf(_("Times of trials against: %s"), nw_measure_axis(chosen(self)));
    gboolean any = self->times.dots->len > 0;
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->area), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
    gtk_label_set_text(self->left_out, left_out);
    gtk_widget_set_visible(GTK_WIDGET(self->left_out), *left_out != 0);
    gtk_stack_set_visible_child_name(self->states, any ? "chart" : "empty");
    gtk_widget_set_sensitive(self->save_button, any);
    gtk_widget_queue_draw(GTK_WIDGET(self->area));
    g_free(words);
    g_free(left_out);
    g_free(name);
}

/* ---- measuring the others ---------------------------------------------------------------- */

static Known *learn(NwPlotPage *self, gint64 design, gint64 version, const NwMeasures *measures) {
    Known *known = g_new0(Known, 1);
    known->version = version;
    known->measured = measures != NULL;
    if (measures)
        known->measures = *measures;
    g_hash_table_insert(self->known, g_memdup2(&design, sizeof design), known);
    return known;
}

/* The next design that was tried for some time and is not known as it is now. */
static gboolean find_next(NwPlotPage *self, gint64 *design, gint64 *version) {
    gint64 bench = nw_document_get_design_id(document_of(self));
    for (guint i = 0; i < self->trials->len; i++) {
        const NwStoredTrial *trial = self->trials->pdata[i];
        const Known *known = g_hash_table_lookup(self->known, &trial->design);
        const gint64 *current = g_hash_table_lookup(self->versions, &trial->design);
        if (trial->minutes <= 0 || trial->design == bench || !current ||
            (known && known->version == *current))
            continue;
        *design = trial->design;
        *version = *current;
        return TRUE;
    }
    return FALSE;
}

static const char *name_of(NwPlotPage *self, gint64 design) {
    for (guint i = 0; i < self->trials->len; i++) {
        const NwStoredTrial *trial = self->trials->pdata[i];
        if (trial->design == design)
            return trial->design_name;
    }
    return "";
}

static gboolean on_tick(gpointer data) {
    NwPlotPage *self = data;
    char *text = g_strdup_printf(_("Measuring “%s”: %.0f %%"), name_of(self, self->measuring),
                                 100 * nw_measure_job_progress(self->job, NULL));
    gtk_label_set_text(self->doing, text);
    g_free(text);
    return G_SOURCE_CONTINUE;
}

static void stop_work(NwPlotPage *self) {
    g_clear_handle_id(&self->tick, g_source_remove);
    g_clear_pointer(&self->job, nw_measure_job_free);
}

static void go_on(NwPlotPage *self);

static void on_measured(gpointer data) {
    NwPlotPage *self = data;
    const char *message;
    learn(self, self->measuring, self->measuring_version, nw_measure_job_get(self->job, &message));
    stop_work(self);
    go_on(self);
}

/* Measures the next one, and shows what there is until then. */
static void go_on(NwPlotPage *self) {
    gint64 design, version;
    gboolean more = self->trials && find_next(self, &design, &version);
    if (more && !self->stopped && !self->job) {
        const NwMeasuring measuring = {.diagonals = nw_search_session_get_diagonals(
                                           nw_view_state_get_search_session(self->view_state)),
                                       .dives = NW_MEASURE_DIVES,
                                       .seed = NW_MEASURE_SEED};
        self->measuring = design;
        self->measuring_version = version;
        self->job = nw_measure_job_new_from_store(&measuring, nw_library_get_path(library_of(self)),
                                                  version, on_measured, self);
        self->tick = g_timeout_add(TICK_MILLISECONDS, on_tick, self);
        on_tick(self);
    }
    gtk_widget_set_visible(self->work_box, more);
    gtk_button_set_label(GTK_BUTTON(self->stop_button), self->stopped ? _("Resume") : _("Stop"));
    if (more && self->stopped)
        gtk_label_set_text(self->doing,
                           _("Measuring was stopped; some designs are not in the plot."));
    show_chart(self);
}

static void on_stop(NwPlotPage *self) {
    self->stopped = !self->stopped;
    if (self->stopped)
        stop_work(self);
    go_on(self);
}

void nw_plot_page_set_measures(NwPlotPage *self, const NwMeasures *measures) {
    learn(self, nw_document_get_design_id(document_of(self)),
          nw_document_get_version(document_of(self)), measures);
    show_chart(self);
}

/* ---- what was tried ---------------------------------------------------------------------- */

static void list_versions(NwPlotPage *self) {
    GPtrArray *entries = nw_library_list_designs(library_of(self), NULL);
    g_hash_table_remove_all(self->versions);
    for (guint i = 0; entries && i < entries->len; i++) {
        const NwDesignEntry *entry = entries->pdata[i];
        g_hash_table_insert(self->versions, g_memdup2(&entry->id, sizeof entry->id),
                            g_memdup2(&entry->current_version, sizeof entry->current_version));
    }
    g_clear_pointer(&entries, g_ptr_array_unref);
}

void nw_plot_page_refresh(NwPlotPage *self) {
    GError *error = NULL;
    GPtrArray *trials = nw_library_list_trials(library_of(self), 0, &error);
    if (!trials) {
        take_error(self, error);
        return;
    }
    nw_times_clear(&self->times); /* whose names are those of the old ones */
    g_clear_pointer(&self->trials, g_ptr_array_unref);
    self->trials = trials;
    list_versions(self);
    go_on(self);
}

/* ---- saving ------------------------------------------------------------------------------ */

static void save_to(const char *path, gpointer owner) {
    NwPlotPage *self = owner;
    NwChart chart = chart_of(self);
    GError *error = NULL;
    gboolean pdf = g_str_has_suffix(path, ".pdf"), svg = g_str_has_suffix(path, ".svg");
    if (!pdf && !svg) {
        g_signal_emit(self, signals[TROUBLE], 0,
                      _("The plot was not saved: the name must end in .pdf or .svg."));
        return;
    }
    GBytes *bytes = (pdf ? nw_chart_to_pdf : nw_chart_to_svg)(&chart, &error);
    gsize size = 0;
    const char *data = bytes ? g_bytes_get_data(bytes, &size) : NULL;
    if (data)
        nw_save_chooser_write(path, data, size, &error);
    if (error)
        take_error(self, error);
    g_clear_pointer(&bytes, g_bytes_unref);
}

static void on_save(NwPlotPage *self) {
    nw_save_chooser_ask(GTK_WIDGET(self), _("Save the plot as PDF or SVG"), _("Trials.pdf"),
                        save_to);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_plot_page_dispose(GObject *object) {
    NwPlotPage *self = NW_PLOT_PAGE(object);
    stop_work(self);
    g_clear_object(&self->view_state);
    g_clear_pointer(&self->content, gtk_widget_unparent);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_PLOT_PAGE);
    nw_times_clear(&self->times);
    g_clear_pointer(&self->trials, g_ptr_array_unref);
    g_clear_pointer(&self->versions, g_hash_table_unref);
    g_clear_pointer(&self->known, g_hash_table_unref);
    G_OBJECT_CLASS(nw_plot_page_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwPlotPage, name)

static void nw_plot_page_class_init(NwPlotPageClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_plot_page_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/plot_page.ui");
    BIND(content);
    BIND(states);
    BIND(measure);
    BIND(save_button);
    BIND(work_box);
    BIND(doing);
    BIND(stop_button);
    BIND(left_out);
    BIND(area);
    signals[TROUBLE] = g_signal_new("trouble", NW_TYPE_PLOT_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void nw_plot_page_init(NwPlotPage *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    self->known = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
    self->versions = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
    GtkStringList *axes = gtk_string_list_new(NULL);
    for (int i = 0; i < NW_MEASURE_COUNT; i++)
        gtk_string_list_append(axes, nw_measure_axis((NwMeasure)i));
    gtk_drop_down_set_model(self->measure, G_LIST_MODEL(axes));
    gtk_drop_down_set_selected(self->measure, NW_MEASURE_TOTAL);
    g_object_unref(axes);
    gtk_drawing_area_set_draw_func(self->area, draw, self, NULL);
    g_signal_connect_swapped(self->measure, "notify::selected", G_CALLBACK(show_chart), self);
    g_signal_connect_swapped(self->stop_button, "clicked", G_CALLBACK(on_stop), self);
    g_signal_connect_swapped(self->save_button, "clicked", G_CALLBACK(on_save), self);
}

void nw_plot_page_set_view_state(NwPlotPage *self, NwViewState *view_state) {
    g_set_object(&self->view_state, view_state);
    nw_plot_page_refresh(self);
}
