#include "app/obstacle_table.h"

#include <glib/gi18n.h>

#include "app/direction_arrow.h"
#include "app/obstacle_words.h"
#include "app/piece_chip.h"
#include "base/bits.h"
#include "job/words.h"

struct _NwObstacleTable {
    GtkWidget parent;
    GtkGrid *grid; /* of the template, as the rest */
    GtkLabel *heading, *legend, *detail;
};

G_DEFINE_FINAL_TYPE(NwObstacleTable, nw_obstacle_table, GTK_TYPE_WIDGET)

static const char long_key[] = "nw-long";

static void on_cell(NwObstacleTable *self, GtkWidget *cell) {
    gtk_label_set_text(self->detail, g_object_get_data(G_OBJECT(cell), long_key));
}

static void add_heads(NwObstacleTable *self) {
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++) {
        char name[NW_DIRECTION_NAME_SIZE];
        nw_direction_name(d, name);
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
    char *sentence = nw_obstacle_words_long(view, body, direction);
    GtkWidget *label = gtk_label_new(text), *cell = gtk_button_new();
    gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 10);
    if (nw_obstacles_holds(&view->obstacles, &view->standing, body, direction))
        gtk_widget_add_css_class(label, "held");
    gtk_button_set_child(GTK_BUTTON(cell), label);
    gtk_button_set_has_frame(GTK_BUTTON(cell), FALSE);
    gtk_accessible_update_property(GTK_ACCESSIBLE(cell), GTK_ACCESSIBLE_PROPERTY_LABEL, text,
                                   GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, sentence, -1);
    g_object_set_data_full(G_OBJECT(cell), long_key, sentence, g_free);
    g_signal_connect_swapped(cell, "clicked", G_CALLBACK(on_cell), self);
    gtk_grid_attach(self->grid, cell, direction + 1, row, 1, 1);
    g_free(text);
}

static void add_row(NwObstacleTable *self, const NwObstacleView *view, int body, int row) {
    char *name = nw_words_body(view->design, view->finding, body);
    GtkWidget *chip = nw_piece_chip_new(view->design, view->finding->placements[body].piece,
                                        nw_finding_copy_of(view->finding, body), name);
    gtk_grid_attach(self->grid, chip, 0, row, 1, 1);
    for (int d = 0; d < NW_CUBE_DIRECTIONS; d++)
        add_cell(self, view, body, d, row);
    g_free(name);
}

static void clear(NwObstacleTable *self) {
    for (GtkWidget *child; (child = gtk_widget_get_first_child(GTK_WIDGET(self->grid)));)
        gtk_grid_remove(self->grid, child);
}

void nw_obstacle_table_show(NwObstacleTable *self, const NwDesign *design, const NwFinding *finding,
                            int slides_done) {
    NwObstacleView *view = g_new(NwObstacleView, 1);
    clear(self);
    gtk_label_set_text(self->detail, _("Press a field to see which parts do the stopping."));
    if (!nw_obstacle_view_fill(view, design, finding, slides_done)) {
        gtk_label_set_text(self->heading, _("There are too many pieces to slide."));
        g_free(view);
        return;
    }
    char *heading = slides_done ? g_strdup_printf(ngettext("What stops each piece after %d slide",
                                                           "What stops each piece after %d slides",
                                                           (unsigned long)slides_done),
                                                  slides_done)
                                : g_strdup(_("What stops each piece in the assembly"));
    gtk_label_set_text(self->heading, heading);
    int row = 1;
    for (int b = 0; b < view->standing.count; b++)
        if (nw_count_bits(view->standing.group[b]) > 1)
            add_row(self, view, b, row++);
    if (row > 1)
        add_heads(self);
    else
        gtk_label_set_text(self->detail, _("Every piece is on its own by now."));
    gtk_widget_set_visible(GTK_WIDGET(self->legend), row > 1);
    g_free(heading);
    g_free(view);
}

static void nw_obstacle_table_dispose(GObject *object) {
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
