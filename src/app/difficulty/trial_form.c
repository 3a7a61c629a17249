#include "app/difficulty/trial_form.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "app/common/config.h"
#include "text/trial_words.h"

enum { MINUTES_DIGITS = 1, MINUTES_MOST = 1000000 };

struct _NwTrialForm {
    GtkWindow parent;
    GtkEntry *who, *when; /* of the template, as the rest up to the label */
    GtkCalendar *calendar;
    GtkSwitch *gave_up, *colours;
    GtkSpinButton *minutes;
    GtkTextView *remark;
    GtkButton *save_button;
    GtkLabel *trouble, *hint;

    NwLibrary *library;
    gint64 id, design;
    double minutes_before; /* may be finer than the field shows */
    gint64 tried_before;   /* to the second, as is no field */
    char *when_before;
    gboolean showing_day; /* the calendar follows the field, not the other way round */
};

G_DEFINE_FINAL_TYPE(NwTrialForm, nw_trial_form, GTK_TYPE_WINDOW)

enum { SAVED, SIGNALS };
static guint signals[SIGNALS];

/* ---- reading the fields ------------------------------------------------------------------ */

static const char *text_of(GtkEntry *entry) {
    return gtk_editable_get_text(GTK_EDITABLE(entry));
}

static char *dup_remark(NwTrialForm *self) {
    GtkTextIter start, end;
    GtkTextBuffer *buffer = gtk_text_view_get_buffer(self->remark);
    gtk_text_buffer_get_bounds(buffer, &start, &end);
    return gtk_text_buffer_get_text(buffer, &start, &end, FALSE);
}

/* What is not touched stays as fine as it was. */
static double minutes_of(NwTrialForm *self) {
    gtk_spin_button_update(self->minutes);
    double shown = gtk_spin_button_get_value(self->minutes);
    double coarse = fabs(shown - self->minutes_before);
    return coarse <= 0.5 * pow(10, -MINUTES_DIGITS) ? self->minutes_before : shown;
}

static gboolean read_when(NwTrialForm *self, gint64 *tried, GError **error) {
    *tried = self->tried_before;
    return g_strcmp0(text_of(self->when), self->when_before) == 0 ||
           nw_trial_words_read_time(text_of(self->when), tried, error);
}

static gboolean read_trial(NwTrialForm *self, NwStoredTrial *trial, GError **error) {
    if (!read_when(self, &trial->tried, error))
        return FALSE;
    trial->gave_up = gtk_switch_get_active(self->gave_up);
    trial->minutes = minutes_of(self);
    if (trial->minutes > 0 || trial->gave_up)
        return TRUE;
    g_set_error_literal(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                        _("Enter the minutes, or choose “Gave Up”."));
    return FALSE;
}

/* ---- saving ------------------------------------------------------------------------------ */

static void show_trouble(NwTrialForm *self, const char *message) {
    gtk_label_set_text(self->trouble, message ? message : "");
    gtk_widget_set_visible(GTK_WIDGET(self->trouble), message != NULL);
}

static void on_save(NwTrialForm *self) {
    GError *error = NULL;
    NwStoredTrial trial = {.id = self->id,
                           .design = self->design,
                           .who = g_strstrip(g_strdup(text_of(self->who))),
                           .remark = dup_remark(self),
                           .colours = gtk_switch_get_active(self->colours)};
    gboolean saved = read_trial(self, &trial, &error) &&
                     (trial.id ? nw_library_edit_trial(self->library, &trial, &error)
                               : nw_library_add_trial(self->library, &trial, NULL, &error));
    g_free(trial.who);
    g_free(trial.remark);
    if (!saved) {
        show_trouble(self, error->message);
        g_error_free(error);
        return;
    }
    g_signal_emit(self, signals[SAVED], 0);
    gtk_window_close(GTK_WINDOW(self));
}

/* ---- hints ------------------------------------------------------------------------------- */

static void on_edited(NwTrialForm *self) {
    gint64 tried;
    gboolean read = nw_trial_words_read_time(text_of(self->when), &tried, NULL);
    gboolean future = read && tried > g_get_real_time() / G_USEC_PER_SEC + 60;
    gtk_label_set_text(self->hint,
                       future ? _("This time is in the future.") : _("Such as 2026-03-01 14:30"));
    show_trouble(self, NULL);
}

/* Puts the chosen day in place of the one in the field; the time of day stays. */
static void on_day(NwTrialForm *self) {
    if (self->showing_day)
        return;
    GDateTime *day = gtk_calendar_get_date(self->calendar);
    char *date = g_date_time_format(day, "%Y-%m-%d");
    const char *text = text_of(self->when), *time = strpbrk(text, " T");
    char *changed = g_strconcat(date, time ? time : "", NULL);
    gtk_editable_set_text(GTK_EDITABLE(self->when), changed);
    g_free(changed);
    g_free(date);
    g_date_time_unref(day);
}

static void show_day(NwTrialForm *self) {
    gint64 tried;
    if (!nw_trial_words_read_time(text_of(self->when), &tried, NULL))
        return;
    GDateTime *day = g_date_time_new_from_unix_local(tried);
    self->showing_day = TRUE;
    gtk_calendar_select_day(self->calendar, day);
    self->showing_day = FALSE;
    g_date_time_unref(day);
}

/* ---- the object -------------------------------------------------------------------------- */

static void nw_trial_form_dispose(GObject *object) {
    gtk_widget_dispose_template(GTK_WIDGET(object), NW_TYPE_TRIAL_FORM);
    g_clear_pointer(&NW_TRIAL_FORM(object)->when_before, g_free);
    G_OBJECT_CLASS(nw_trial_form_parent_class)->dispose(object);
}

#define BIND(name) gtk_widget_class_bind_template_child(widget, NwTrialForm, name)

static void nw_trial_form_class_init(NwTrialFormClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_trial_form_dispose;
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/trial_form.ui");
    BIND(who);
    BIND(when);
    BIND(calendar);
    BIND(hint);
    BIND(minutes);
    BIND(gave_up);
    BIND(colours);
    BIND(remark);
    BIND(trouble);
    BIND(save_button);
    gtk_widget_class_bind_template_callback(widget, show_day);
    gtk_widget_class_add_binding_action(widget, GDK_KEY_Escape, 0, "window.close", NULL);
    signals[SAVED] = g_signal_new("saved", NW_TYPE_TRIAL_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void nw_trial_form_init(NwTrialForm *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
    gtk_spin_button_set_digits(self->minutes, MINUTES_DIGITS);
    gtk_spin_button_set_increments(self->minutes, 1, 10);
    gtk_text_set_activates_default(GTK_TEXT(gtk_editable_get_delegate(GTK_EDITABLE(self->minutes))),
                                   TRUE);
}

static void fill(NwTrialForm *self, const NwStoredTrial *trial) {
    self->id = trial->id;
    self->design = trial->design;
    self->minutes_before = trial->minutes;
    self->tried_before = trial->tried;
    self->when_before = nw_trial_words_time(trial->tried);
    gtk_editable_set_text(GTK_EDITABLE(self->who), trial->who);
    gtk_editable_set_text(GTK_EDITABLE(self->when), self->when_before);
    gtk_spin_button_set_range(self->minutes, 0, fmax(MINUTES_MOST, trial->minutes));
    gtk_spin_button_set_value(self->minutes, trial->minutes);
    gtk_switch_set_active(self->gave_up, trial->gave_up);
    gtk_switch_set_active(self->colours, trial->colours);
    gtk_text_buffer_set_text(gtk_text_view_get_buffer(self->remark), trial->remark, -1);
}

GtkWidget *nw_trial_form_new(GtkWindow *parent, NwLibrary *library, const NwStoredTrial *trial) {
    NwTrialForm *self = g_object_new(NW_TYPE_TRIAL_FORM, "transient-for", parent, NULL);
    self->library = library;
    fill(self, trial);
    gtk_window_set_title(GTK_WINDOW(self), trial->id ? _("Edit the Trial") : _("New Trial"));
    gtk_button_set_label(self->save_button, trial->id ? _("Save") : _("Add"));
    g_signal_connect_swapped(self->when, "changed", G_CALLBACK(on_edited), self);
    g_signal_connect_swapped(self->minutes, "changed", G_CALLBACK(on_edited), self);
    g_signal_connect_swapped(self->gave_up, "notify::active", G_CALLBACK(on_edited), self);
    g_signal_connect_swapped(self->calendar, "day-selected", G_CALLBACK(on_day), self);
    g_signal_connect_swapped(self->save_button, "clicked", G_CALLBACK(on_save), self);
    on_edited(self);
    return GTK_WIDGET(self);
}
