#include "app/common/piece_chip.h"

#include "app/common/piece_style.h"

enum { PAD_X = 5, PAD_Y = 1 };

struct _NwPieceChip {
    GtkWidget parent;
    GdkRGBA colour;
    char *text;
};

G_DEFINE_FINAL_TYPE(NwPieceChip, nw_piece_chip, GTK_TYPE_WIDGET)

static PangoLayout *layout_of(GtkWidget *widget) {
    return gtk_widget_create_pango_layout(widget, NW_PIECE_CHIP(widget)->text);
}

static void nw_piece_chip_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                                  int *minimum, int *natural, int *minimum_baseline,
                                  int *natural_baseline) {
    (void)for_size;
    int width, height;
    PangoLayout *layout = layout_of(widget);
    pango_layout_get_pixel_size(layout, &width, &height);
    g_object_unref(layout);
    height += 2 * PAD_Y;
    width = MAX(width + 2 * PAD_X, height);
    *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? width : height;
    *minimum_baseline = *natural_baseline = -1;
}

static void nw_piece_chip_snapshot(GtkWidget *widget, GtkSnapshot *snapshot) {
    NwPieceChip *self = NW_PIECE_CHIP(widget);
    int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
    int text_width, text_height;
    GskRoundedRect field;
    graphene_rect_t all = GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height);
    gsk_rounded_rect_init_from_rect(&field, &all, 4);
    GdkRGBA ink = nw_piece_style_ink(&self->colour), rim;
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &rim);
    rim.alpha *= 0.4f;
    gtk_snapshot_push_rounded_clip(snapshot, &field);
    gtk_snapshot_append_color(snapshot, &self->colour, &all);
    gtk_snapshot_pop(snapshot);
    gtk_snapshot_append_border(snapshot, &field, (float[4]){1, 1, 1, 1},
                               (GdkRGBA[4]){rim, rim, rim, rim});
    PangoLayout *layout = layout_of(widget);
    pango_layout_get_pixel_size(layout, &text_width, &text_height);
    gtk_snapshot_save(snapshot);
    gtk_snapshot_translate(snapshot, &GRAPHENE_POINT_INIT((float)(width - text_width) / 2,
                                                          (float)(height - text_height) / 2));
    gtk_snapshot_append_layout(snapshot, layout, &ink);
    gtk_snapshot_restore(snapshot);
    g_object_unref(layout);
}

static void nw_piece_chip_finalize(GObject *object) {
    g_free(NW_PIECE_CHIP(object)->text);
    G_OBJECT_CLASS(nw_piece_chip_parent_class)->finalize(object);
}

static void nw_piece_chip_class_init(NwPieceChipClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->finalize = nw_piece_chip_finalize;
    widget_class->measure = nw_piece_chip_measure;
    widget_class->snapshot = nw_piece_chip_snapshot;
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_IMG);
    gtk_widget_class_set_css_name(widget_class, "piecechip");
}

static void nw_piece_chip_init(NwPieceChip *self) {
    gtk_widget_set_valign(GTK_WIDGET(self), GTK_ALIGN_CENTER);
    gtk_widget_set_halign(GTK_WIDGET(self), GTK_ALIGN_CENTER);
}

/* The short name, and the number of a copy where there are several. */
static char *dup_short(const NwPiece *piece, int copy) {
    char *text = nw_piece_style_dup_short(piece->name);
    if (piece->copies == 1)
        return text;
    char *both = g_strdup_printf("%s%d", text, copy + 1);
    g_free(text);
    return both;
}

GtkWidget *nw_piece_chip_new(const NwDesign *design, int piece, int copy, const char *name) {
    NwPieceChip *self = g_object_new(NW_TYPE_PIECE_CHIP, NULL);
    self->colour = nw_piece_style_colour(design, piece, FALSE);
    self->text = dup_short(&design->pieces[piece], copy);
    gtk_widget_set_tooltip_text(GTK_WIDGET(self), name);
    gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    return GTK_WIDGET(self);
}
