#include "app/assemblies/slide_card.h"

#include <glib/gi18n.h>

#include "app/common/direction_arrow.h"
#include "app/common/piece_chip.h"
#include "base/bits.h"
#include "text/words.h"

/* More chips than this are told as a number. */
enum { CHIPS_MAX = 6 };

static GtkWidget *new_chips(const NwDesign *design, const NwFoundAssembly *finding,
                            guint32 bodies) {
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 2);
    int shown = 0, count = nw_count_bits(bodies);
    for (guint32 rest = bodies; rest && shown < CHIPS_MAX; rest &= rest - 1, shown++) {
        int body = nw_lowest(rest);
        char *name = nw_words_body(design, finding, body);
        gtk_box_append(GTK_BOX(box),
                       nw_piece_chip_new(design, finding->placements[body].piece,
                                         nw_found_assembly_copy_of(finding, body), name));
        g_free(name);
    }
    if (shown < count) {
        char *more = g_strdup_printf("+%d", count - shown);
        gtk_box_append(GTK_BOX(box), gtk_label_new(more));
        g_free(more);
    }
    gtk_widget_set_halign(box, GTK_ALIGN_CENTER);
    return box;
}

static GtkWidget *new_move(const NwSlide *slide) {
    char direction[NW_DIRECTION_TEXT_SIZE];
    gboolean out = slide->cells == NW_SLIDE_OUT;
    nw_direction_text(slide->direction, direction);
    /* Translators: a direction such as "+x", and "out" or a number of cells. */
    char *text = out ? g_strdup_printf(_("%s out"), direction)
                     : g_strdup_printf(_("%s %d"), direction, slide->cells);
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 3), *label = gtk_label_new(text);
    gtk_widget_add_css_class(label, "numeric");
    gtk_box_append(GTK_BOX(box), nw_direction_arrow_new(slide->direction, out));
    gtk_box_append(GTK_BOX(box), label);
    gtk_widget_set_halign(box, GTK_ALIGN_CENTER);
    g_free(text);
    return box;
}

GtkWidget *nw_slide_card_new(const NwDesign *design, const NwFoundAssembly *finding, int index) {
    const NwSlide *slide = &finding->slides[index];
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1), *card = gtk_toggle_button_new();
    GtkWidget *top = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    char *number = g_strdup_printf("%d", index + 1);
    char *sentence = nw_words_slide_spoken(design, finding, slide);
    GtkWidget *label = gtk_label_new(number);
    gtk_widget_add_css_class(label, "dim-label");
    gtk_widget_add_css_class(label, "numeric");
    gtk_box_append(GTK_BOX(top), label);
    gtk_box_append(GTK_BOX(top), new_chips(design, finding, slide->bodies));
    gtk_box_append(GTK_BOX(box), top);
    gtk_box_append(GTK_BOX(box), new_move(slide));
    gtk_button_set_child(GTK_BUTTON(card), box);
    gtk_button_set_has_frame(GTK_BUTTON(card), FALSE);
    gtk_widget_add_css_class(card, "slide-card");
    gtk_widget_set_tooltip_text(card, sentence);
    gtk_accessible_update_property(GTK_ACCESSIBLE(card), GTK_ACCESSIBLE_PROPERTY_LABEL, sentence,
                                   -1);
    g_free(sentence);
    g_free(number);
    return card;
}
