#include "app/bench/apart_line.h"

#include <glib/gi18n.h>

#include "session/apart_worker.h"
#include "slide/levels.h"
#include "text/words.h"

/* An edit is looked at when it has been left alone for a moment, and then for no longer than
 * nobody minds; news are shown of what takes longer. */
enum { REST_MILLISECONDS = 150 };
static const double quick_seconds = 1.5;

typedef enum Doing { NOTHING, GLANCING, TAKING } Doing;

struct _NwApartLine {
    GtkWidget parent;
    GtkWidget *box; /* of the template, as the next */
    GtkLabel *label;
    GtkButton *button, *intend_button;
    NwViewState *view_state;
    NwApartWorker *worker;
    Doing doing;
    gboolean shows_when_done; /* the maker has pressed the button, and waits */
    guint rest;
    NwShown shown;
    NwTakeApartProgress progress;
    NwAssemblyItem *item; /* once it is known; unexamined if it was given up */
    NwDesign *design;     /* that the item is of */
    char *trouble;
    gboolean diagonals;
};

G_DEFINE_FINAL_TYPE(NwApartLine, nw_apart_line, GTK_TYPE_WIDGET)

static NwDocument *document_of(NwApartLine *self) {
    return nw_view_state_get_document(self->view_state);
}

/* ---- words ------------------------------------------------------------------------------- */

static char *dup_seen(NwApartLine *self) {
    return g_strdup_printf(
        ngettext("%llu position seen", "%llu positions seen", (unsigned long)self->progress.states),
        self->progress.states);
}

static char *dup_opens(NwApartLine *self, const NwFoundAssembly *finding) {
    NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
    g_autofree char *list = nw_words_levels(&levels);
    return g_strdup_printf(self->shown == NW_SHOWS_DRAWN ? _("The pieces as drawn come apart: %s")
                                                         : _("Comes apart: %s"),
                           list);
}

static char *dup_locked(NwApartLine *self, const NwFoundAssembly *finding) {
    g_autofree char *stuck = nw_words_bodies(self->design, finding, finding->stuck);
    return g_strdup_printf(self->shown == NW_SHOWS_DRAWN
                               ? _("As drawn, it is locked: nothing comes free of %s")
                               : _("Locked: nothing comes free of %s"),
                           stuck);
}

/* NULL while there is nothing to say. */
static char *dup_text(NwApartLine *self) {
    const NwFoundAssembly *finding = self->item ? nw_assembly_item_get(self->item) : NULL;
    g_autofree char *seen = dup_seen(self);
    if (self->doing != NOTHING && (self->doing == TAKING || self->progress.states > 0))
        return g_strdup_printf(ngettext("Taking it apart: %s, %d slide deep",
                                        "Taking it apart: %s, %d slides deep",
                                        (unsigned long)self->progress.depth),
                               seen, self->progress.depth);
    if (self->doing != NOTHING)
        return NULL;
    if (self->trouble)
        return g_strdup(self->trouble);
    if (!finding)
        return g_strdup(_("The pieces as drawn are not an assembly yet."));
    if (finding->verdict == NW_OPENS)
        return dup_opens(self, finding);
    if (finding->verdict == NW_UNREACHABLE)
        return dup_locked(self, finding);
    return g_strdup_printf(_("Whether it comes apart is not known yet: %s"), seen);
}

static gboolean has_parts(const NwDesign *design) {
    for (size_t i = 0; design && i < design->piece_count; i++)
        if (design->pieces[i].solid->count)
            return TRUE;
    return FALSE;
}

static gboolean is_in_view(NwApartLine *self) {
    return self->item && nw_view_state_get_item(self->view_state) == self->item;
}

static void show(NwApartLine *self) {
    const NwDesign *design = document_of(self) ? nw_document_get_design(document_of(self)) : NULL;
    gboolean other = nw_view_state_get_item(self->view_state) && !is_in_view(self);
    g_autofree char *text = dup_text(self);
    gtk_widget_set_visible(self->box, has_parts(design) && !other);
    if (text && strcmp(gtk_label_get_text(self->label), text) != 0) {
        gtk_label_set_text(self->label, text);
        gtk_widget_set_tooltip_text(GTK_WIDGET(self->label), text);
    }
    gtk_button_set_label(self->button, self->doing == TAKING ? _("Stop")
                                       : is_in_view(self)    ? _("Back to Design")
                                                             : _("Take Apart"));
    gtk_widget_set_visible(GTK_WIDGET(self->button), self->shown != NW_SHOWS_NONE);
    gtk_widget_set_visible(GTK_WIDGET(self->intend_button), self->shown == NW_SHOWS_DRAWN);
}

/* ---- the work ---------------------------------------------------------------------------- */

static void show_in_view(NwApartLine *self) {
    self->shows_when_done = FALSE;
    nw_view_state_set_lone(self->view_state, self->item, self->design);
}

static void on_news(NwApartNews *news, gpointer data) {
    NwApartLine *self = data;
    self->shown = news->shown;
    self->progress = news->progress;
    if (news->over) {
        self->doing = NOTHING;
        g_free(self->trouble);
        self->trouble = g_strdup(news->trouble);
        if (news->finding)
            self->item = nw_assembly_item_new_take(g_steal_pointer(&news->finding), 0, -1, 0);
        g_clear_pointer(&self->worker, nw_apart_worker_free);
        if (self->shows_when_done && self->item)
            show_in_view(self);
    }
    show(self);
}

static void forget(NwApartLine *self) {
    g_clear_handle_id(&self->rest, g_source_remove);
    g_clear_pointer(&self->worker, nw_apart_worker_free);
    g_clear_object(&self->item);
    g_clear_pointer(&self->design, nw_design_free);
    g_clear_pointer(&self->trouble, g_free);
    self->progress = (NwTakeApartProgress){0};
    self->doing = NOTHING;
    self->shows_when_done = FALSE;
}

static void begin(NwApartLine *self, Doing doing) {
    const NwDesign *design = nw_document_get_design(document_of(self));
    forget(self);
    self->diagonals =
        nw_search_session_get_diagonals(nw_view_state_get_search_session(self->view_state));
    if (!has_parts(design))
        return;
    self->design = nw_design_copy(design);
    self->doing = doing;
    self->worker = nw_apart_worker_new(design, &(NwApartOptions){.diagonals = self->diagonals},
                                       doing == GLANCING ? quick_seconds : 0, on_news, self);
}

static gboolean on_rest(gpointer data) {
    NwApartLine *self = data;
    self->rest = 0;
    begin(self, GLANCING);
    return G_SOURCE_REMOVE;
}

/* What was found out of the design before the edit is of no use any more. */
static void look_anew(NwApartLine *self) {
    forget(self);
    self->doing = GLANCING;
    self->rest = g_timeout_add(REST_MILLISECONDS, on_rest, self);
    show(self);
}

static void on_search_changed(NwApartLine *self) {
    if (self->diagonals !=
        nw_search_session_get_diagonals(nw_view_state_get_search_session(self->view_state)))
        look_anew(self);
}

/* ---- the buttons ------------------------------------------------------------------------- */

void nw_apart_line_press(NwApartLine *self) {
    const NwFoundAssembly *finding = self->item ? nw_assembly_item_get(self->item) : NULL;
    if (is_in_view(self)) {
        nw_view_state_set_item(self->view_state, NULL);
    } else if (self->doing == TAKING) {
        NwShown shown = self->shown;
        NwTakeApartProgress progress = self->progress;
        NwDesign *design = g_steal_pointer(&self->design);
        forget(self);
        self->shown = shown;
        self->progress = progress;
        self->design = design;
        self->trouble = g_strdup(_("Stopped: it is not known yet whether it comes apart."));
    } else if (finding && finding->verdict != NW_UNEXAMINED) {
        show_in_view(self);
    } else if (self->shown != NW_SHOWS_NONE) {
        begin(self, TAKING);
        self->shows_when_done = TRUE;
    }
    show(self);
}

static void on_intend(NwApartLine *self) {
    if (!self->item || self->shown != NW_SHOWS_DRAWN)
        return;
    show_in_view(self);
    gtk_widget_activate_action(GTK_WIDGET(self), "win.make-intended", NULL);
}

/* ---- the widget -------------------------------------------------------------------------- */

void nw_apart_line_set_view_state(NwApartLine *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    g_signal_connect_swapped(document_of(self), "notify::version", G_CALLBACK(look_anew), self);
    g_signal_connect_swapped(nw_view_state_get_search_session(view_state), "changed",
                             G_CALLBACK(on_search_changed), self);
    g_signal_connect_swapped(view_state, "notify::item", G_CALLBACK(show), self);
    look_anew(self);
}

static void nw_apart_line_dispose(GObject *object) {
    NwApartLine *self = NW_APART_LINE(object);
    forget(self);
    if (self->view_state) {
        g_signal_handlers_disconnect_by_data(document_of(self), self);
        g_signal_handlers_disconnect_by_data(nw_view_state_get_search_session(self->view_state),
                                             self);
        g_signal_handlers_disconnect_by_data(self->view_state, self);
    }
    g_clear_object(&self->view_state);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_apart_line_parent_class)->dispose(object);
}

static void nw_apart_line_class_init(NwApartLineClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_apart_line_dispose;
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/apart_line.ui");
    gtk_widget_class_bind_template_child(widget_class, NwApartLine, box);
    gtk_widget_class_bind_template_child(widget_class, NwApartLine, label);
    gtk_widget_class_bind_template_child(widget_class, NwApartLine, button);
    gtk_widget_class_bind_template_child(widget_class, NwApartLine, intend_button);
    gtk_widget_class_bind_template_callback(widget_class, on_intend);
}

static void nw_apart_line_init(NwApartLine *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
