#include "app/bench/colour_menu.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/common/piece_chip.h"
#include "app/common/piece_style.h"

enum { COLUMNS = 4, SWATCH = 22 };

struct _NwColourMenu {
    GtkWidget parent;
    GtkWidget *button; /* GtkMenuButton */
    char *shown;       /* what the chip shows, to make no new one for the same */
    GdkRGBA colour;
};

G_DEFINE_FINAL_TYPE(NwColourMenu, nw_colour_menu, GTK_TYPE_WIDGET)

enum { CHOSEN, SIGNALS };
static guint signals[SIGNALS];

/* ---- choosing ------------------------------------------------------------------------------ */

static void choose(NwColourMenu *self, const char *colour) {
    gtk_menu_button_popdown(GTK_MENU_BUTTON(self->button));
    g_signal_emit(self, signals[CHOSEN], 0, colour);
}

static guint byte(float share) {
    return (guint)lroundf(CLAMP(share, 0, 1) * 255);
}

static void choose_rgba(NwColourMenu *self, const GdkRGBA *colour) {
    char *text = g_strdup_printf("#%02x%02x%02x", byte(colour->red), byte(colour->green),
                                 byte(colour->blue));
    choose(self, text);
    g_free(text);
}

static void on_swatch(NwColourMenu *self, GtkButton *button) {
    int index = GPOINTER_TO_INT(g_object_get_data(G_OBJECT(button), "index"));
    GdkRGBA colour = nw_colour_rgba(nw_palette_piece(index), 1);
    choose_rgba(self, &colour);
}

static void on_usual(NwColourMenu *self) {
    choose(self, "");
}

static void on_response(NwColourMenu *self, int response, GtkDialog *dialog) {
    GdkRGBA colour;
    if (response == GTK_RESPONSE_OK) {
        gtk_color_chooser_get_rgba(GTK_COLOR_CHOOSER(dialog), &colour);
        choose_rgba(self, &colour);
    }
    gtk_window_destroy(GTK_WINDOW(dialog));
}

static void on_another(NwColourMenu *self) {
    GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(self));
    gtk_menu_button_popdown(GTK_MENU_BUTTON(self->button));
    GtkWidget *dialog =
        gtk_color_chooser_dialog_new(_("Colour of the Piece"), root ? GTK_WINDOW(root) : NULL);
    gtk_color_chooser_set_use_alpha(GTK_COLOR_CHOOSER(dialog), FALSE);
    gtk_color_chooser_set_rgba(GTK_COLOR_CHOOSER(dialog), &self->colour);
    g_object_set(dialog, "show-editor", TRUE, NULL);
    gtk_window_set_modal(GTK_WINDOW(dialog), TRUE);
    g_signal_connect_object(dialog, "response", G_CALLBACK(on_response), self, G_CONNECT_SWAPPED);
    gtk_window_present(GTK_WINDOW(dialog));
}

/* ---- the popover --------------------------------------------------------------------------- */

static void draw_swatch(GtkDrawingArea *area G_GNUC_UNUSED, cairo_t *cairo, int width, int height,
                        gpointer data) {
    GdkRGBA colour = nw_colour_rgba(nw_palette_piece(GPOINTER_TO_INT(data)), 1);
    cairo_rectangle(cairo, 0, 0, width, height);
    gdk_cairo_set_source_rgba(cairo, &colour);
    cairo_fill(cairo);
}

static GtkWidget *swatch_new(NwColourMenu *self, int index) {
    GtkWidget *button = gtk_button_new(), *area = gtk_drawing_area_new();
    gtk_drawing_area_set_content_width(GTK_DRAWING_AREA(area), SWATCH);
    gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(area), SWATCH);
    gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), draw_swatch, GINT_TO_POINTER(index),
                                   NULL);
    gtk_button_set_child(GTK_BUTTON(button), area);
    gtk_widget_add_css_class(button, "flat");
    g_object_set_data(G_OBJECT(button), "index", GINT_TO_POINTER(index));
    char *label = g_strdup_printf(_("Colour %d of %d"), index + 1, NW_PALETTE_COLOURS);
    gtk_widget_set_tooltip_text(button, label);
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                   -1);
    g_free(label);
    g_signal_connect_swapped(button, "clicked", G_CALLBACK(on_swatch), self);
    return button;
}

static GtkWidget *text_button_new(NwColourMenu *self, const char *label, GCallback clicked) {
    GtkWidget *button = gtk_button_new_with_label(label);
    gtk_widget_add_css_class(button, "flat");
    g_signal_connect_swapped(button, "clicked", clicked, self);
    return button;
}

/* Made when it is first opened: a list of sixty pieces has sixty of these buttons. */
static void make_popover(GtkMenuButton *button, gpointer data) {
    NwColourMenu *self = data;
    if (gtk_menu_button_get_popover(button))
        return;
    GtkWidget *popover = gtk_popover_new();
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4), *grid = gtk_grid_new();
    for (int i = 0; i < NW_PALETTE_COLOURS; i++)
        gtk_grid_attach(GTK_GRID(grid), swatch_new(self, i), i % COLUMNS, i / COLUMNS, 1, 1);
    gtk_box_append(GTK_BOX(box), grid);
    gtk_box_append(GTK_BOX(box), text_button_new(self, _("Default Colour"), G_CALLBACK(on_usual)));
    gtk_box_append(GTK_BOX(box),
                   text_button_new(self, _("Custom Colour…"), G_CALLBACK(on_another)));
    gtk_popover_set_child(GTK_POPOVER(popover), box);
    gtk_menu_button_set_popover(button, popover);
}

/* ---- the object ---------------------------------------------------------------------------- */

void nw_colour_menu_update(NwColourMenu *self, const NwDesign *design, int piece) {
    const char *name = design->pieces[piece].name;
    self->colour = nw_piece_style_colour(design, piece, FALSE);
    char *colour = gdk_rgba_to_string(&self->colour);
    char *shows = g_strdup_printf("%s %s", colour, name);
    g_free(colour);
    if (g_strcmp0(shows, self->shown) == 0) {
        g_free(shows);
        return;
    }
    g_free(self->shown);
    self->shown = shows;
    /* The chip of a piece, not of one of its copies. */
    NwDesign one = *design;
    NwPiece alone = design->pieces[piece];
    alone.copies = 1;
    g_snprintf(alone.colour, sizeof alone.colour, "#%02x%02x%02x", byte(self->colour.red),
               byte(self->colour.green), byte(self->colour.blue));
    one.pieces = &alone;
    one.piece_count = 1;
    gtk_menu_button_set_child(GTK_MENU_BUTTON(self->button), nw_piece_chip_new(&one, 0, 0, name));
    char *label = g_strdup_printf(_("Colour of piece %s"), name);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   label, -1);
    g_free(label);
}

static void nw_colour_menu_dispose(GObject *object) {
    NwColourMenu *self = NW_COLOUR_MENU(object);
    g_clear_pointer(&self->button, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_colour_menu_parent_class)->dispose(object);
}

static void nw_colour_menu_finalize(GObject *object) {
    g_free(NW_COLOUR_MENU(object)->shown);
    G_OBJECT_CLASS(nw_colour_menu_parent_class)->finalize(object);
}

static void nw_colour_menu_class_init(NwColourMenuClass *class) {
    G_OBJECT_CLASS(class)->dispose = nw_colour_menu_dispose;
    G_OBJECT_CLASS(class)->finalize = nw_colour_menu_finalize;
    gtk_widget_class_set_layout_manager_type(GTK_WIDGET_CLASS(class), GTK_TYPE_BIN_LAYOUT);
    signals[CHOSEN] = g_signal_new("chosen", NW_TYPE_COLOUR_MENU, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void nw_colour_menu_init(NwColourMenu *self) {
    self->button = gtk_menu_button_new();
    gtk_widget_set_parent(self->button, GTK_WIDGET(self));
    gtk_menu_button_set_has_frame(GTK_MENU_BUTTON(self->button), FALSE);
    gtk_menu_button_set_create_popup_func(GTK_MENU_BUTTON(self->button), make_popover, self, NULL);
}
