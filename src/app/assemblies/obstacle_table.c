#include "app/assemblies/obstacle_table.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>

#include "app/common/direction_arrow.h"
#include "app/common/piece_chip.h"
#include "base/bits.h"
#include "text/obstacle_words.h"
#include "text/words.h"

struct _NwObstacleTable {
    GtkWidget parent;
    GtkGrid *grid; /* of the template, as the rest */
    GtkLabel *heading, *legend, *detail;

    NwViewState *view_state;
    GtkWidget *pressed;   /* the cell that stays told of; NULL: none */
    NwAssemblyItem *item; /* that the table is of; NULL: it is empty */
    int slides_done;      /* when things stand so */
};

G_DEFINE_FINAL_TYPE(NwObstacleTable, nw_obstacle_table, GTK_TYPE_WIDGET)

/* What a cell has to tell. */
typedef struct Told {
    char *sentence;
    NwStoppingPart *stops;
    size_t count;
} Told;

static const char told_key[] = "nw-told";

static void told_free(gpointer data) {
    Told *told = data;
    g_free(told->sentence);
    free(told->stops);
    g_free(told);
}

/* ---- telling ----------------------------------------------------------------------------- */

/* NULL: of none. */
static void tell_of(NwObstacleTable *self, GtkWidget *cell) {
    if (!self->view_state) /* the pointer leaves while the window closes */
        return;
    const Told *told = cell ? g_object_get_data(G_OBJECT(cell), told_key) : NULL;
    gtk_label_set_text(self->detail,
                       told ? told->sentence
                            : _("Point at a cell of the table to see which parts block."));
    nw_view_state_set_stops(self->view_state, told ? told->stops : NULL, told ? told->count : 0);
}

static void on_cell(NwObstacleTable *self, GtkWidget *cell) {
    if (self->pressed)
        gtk_widget_remove_css_class(self->pressed, "told");
    self->pressed = cell;
    gtk_widget_add_css_class(cell, "told");
    tell_of(self, cell);
}

static void on_reached(GtkEventController *controller, gpointer self) {
    tell_of(self, gtk_event_controller_get_widget(controller));
}

static void on_entered(GtkEventController *controller, double x, double y, gpointer self) {
    (void)x;
    (void)y;
    on_reached(controller, self);
}

static void on_left(GtkEventController *controller, gpointer data) {
    (void)controller;
    NwObstacleTable *self = data;
    tell_of(self, self->pressed);
}

static void follow(NwObstacleTable *self, GtkWidget *cell) {
    GtkEventController *pointer = gtk_event_controller_motion_new();
    GtkEventController *focus = gtk_event_controller_focus_new();
    g_signal_connect_object(pointer, "enter", G_CALLBACK(on_entered), self, 0);
    g_signal_connect_object(pointer, "leave", G_CALLBACK(on_left), self, 0);
    g_signal_connect_object(focus, "enter", G_CALLBACK(on_reached), self, 0);
    gtk_widget_add_controller(cell, pointer);
    gtk_widget_add_controller(cell, focus);
}

/* ---- the table --------------------------------------------------------------------------- */

static void add_heads(NwObstacleTable *self) {
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++) {
        char name[NW_DIRECTION_TEXT_SIZE];
        nw_direction_text(d, name);
        GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 2);
        gtk_box_append(GTK_BOX(head), nw_direction_arrow_new(d, FALSE));
        gtk_box_append(GTK_BOX(head), gtk_label_new(name));
        gtk_widget_set_halign(head, GTK_ALIGN_CENTER);
        gtk_grid_attach(self->grid, head, d + 1, 0, 1, 1);
    }
}

static void add_cell(NwObstacleTable *self, const NwObstacleView *view, int body, int direction,
                     int row) {
    char *text = nw_obstacle_words_short(view, body, direction);
    Told *told = g_new0(Told, 1);
    told->sentence = nw_obstacle_words_long(view, body, direction);
    if (view->obstacles.of[body][direction].stops)
        told->count = nw_obstacles_parts(view->bodies, &view->standing, &view->obstacles, body,
                                         direction, &told->stops);
    GtkWidget *label = gtk_label_new(text), *cell = gtk_button_new();
    gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 10);
    if (nw_obstacles_holds(&view->obstacles, &view->standing, body, direction))
        gtk_widget_add_css_class(label, "held");
    gtk_button_set_child(GTK_BUTTON(cell), label);
    gtk_button_set_has_frame(GTK_BUTTON(cell), FALSE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(cell), GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, told->sentence, -1);
    g_object_set_data_full(G_OBJECT(cell), told_key, told, told_free);
    follow(self, cell);
    g_signal_connect_swapped(cell, "clicked", G_CALLBACK(on_cell), self);
    gtk_grid_attach(self->grid, cell, direction + 1, row, 1, 1);
    g_free(text);
}

static void add_row(NwObstacleTable *self, const NwObstacleView *view, int body, int row) {
    char *name = nw_words_body(view->design, view->finding, body);
    GtkWidget *chip = nw_piece_chip_new(view->design, view->finding->placements[body].piece,
                                        nw_found_assembly_copy_of(view->finding, body), name);
    gtk_grid_attach(self->grid, chip, 0, row, 1, 1);
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++)
        add_cell(self, view, body, d, row);
    g_free(name);
}

static void clear(NwObstacleTable *self) {
    self->pressed = NULL;
    tell_of(self, NULL);
    for (GtkWidget *child; (child = gtk_widget_get_first_child(GTK_WIDGET(self->grid)));)
        gtk_grid_remove(self->grid, child);
}

static void fill(NwObstacleTable *self) {
    NwObstacleView *view = g_new(NwObstacleView, 1);
    const NwDesign *design = nw_view_state_get_item_design(self->view_state);
    const NwFoundAssembly *finding = nw_assembly_item_get(self->item);
    int slides_done = self->slides_done;
    if (!nw_obstacle_view_fill(view, design, finding, slides_done)) {
        gtk_label_set_text(self->heading, _("There are too many pieces to slide."));
        gtk_widget_set_visible(GTK_WIDGET(self->legend), FALSE);
        g_free(view);
        return;
    }
    char *heading = slides_done ? g_strdup_printf(ngettext("What stops each piece after %d slide",
                                                           "What stops each piece after %d slides",
                                                           (unsigned long)slides_done),
                                                  slides_done)
                                : g_strdup(_("What stops each piece"));
    gtk_label_set_text(self->heading, heading);
    int row = 1;
    for (int b = 0; b < view->standing.count; b++)
        if (nw_count_bits(view->standing.group[b]) > 1)
            add_row(self, view, b, row++);
    if (row > 1)
        add_heads(self);
    else
        gtk_label_set_text(self->detail, _("All pieces are separate now."));
    gtk_widget_set_visible(GTK_WIDGET(self->legend), row > 1);
    g_free(heading);
    g_free(view);
}

/* Fills the table anew if it is to be of something else. On the way from one slide to the next it
 * stays as it is. */
static void update(NwObstacleTable *self) {
    NwAssemblyItem *item = nw_view_state_get_obstacles(self->view_state)
                               ? nw_view_state_get_item(self->view_state)
                               : NULL;
    int slides_done = (int)floor(nw_view_state_get_position(self->view_state) + 1e-9);
    if (item == self->item && slides_done == self->slides_done)
        return;
    g_set_object(&self->item, item);
    self->slides_done = slides_done;
    clear(self);
    if (item)
        fill(self);
}

void nw_obstacle_table_set_view_state(NwObstacleTable *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    g_signal_connect_swapped(view_state, "notify::item", G_CALLBACK(update), self);
    g_signal_connect_swapped(view_state, "notify::obstacles", G_CALLBACK(update), self);
    g_signal_connect_swapped(view_state, "notify::position", G_CALLBACK(update), self);
}

static void nw_obstacle_table_dispose(GObject *object) {
    NwObstacleTable *self = NW_OBSTACLE_TABLE(object);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(self->view_state, self);
    g_clear_object(&self->view_state);
    g_clear_object(&self->item);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(object));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_obstacle_table_parent_class)->dispose(object);
}

static void nw_obstacle_table_class_init(NwObstacleTableClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_obstacle_table_dispose;
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(
        widget_class, "/net/notchwright/Notchwright/ui/obstacle_table.ui");
    gtk_widget_class_bind_template_child(widget_class, NwObstacleTable, grid);
    gtk_widget_class_bind_template_child(widget_class, NwObstacleTable, heading);
    gtk_widget_class_bind_template_child(widget_class, NwObstacleTable, legend);
    gtk_widget_class_bind_template_child(widget_class, NwObstacleTable, detail);
}

static void nw_obstacle_table_init(NwObstacleTable *self) {
    gtk_widget_init_template(GTK_WIDGET(self));
}
