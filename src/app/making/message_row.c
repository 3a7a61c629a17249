#include "app/making/message_row.h"

char *nw_message_row_dup(const char *text) {
    const char *rest = *text ? g_utf8_next_char(text) : text;
    g_autofree char *first = g_utf8_strup(text, rest - text);
    return g_strconcat(first, rest, NULL);
}

static GtkWidget *row_new(const char *icon_name, const char *text) {
    g_autofree char *sentence = nw_message_row_dup(text);
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 9);
    GtkWidget *icon = gtk_image_new_from_icon_name(icon_name), *label = gtk_label_new(sentence);
    gtk_widget_set_valign(icon, GTK_ALIGN_START);
    gtk_accessible_update_state(GTK_ACCESSIBLE(icon), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE, -1);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 45); /* more where there is room */
    gtk_widget_set_hexpand(label, TRUE);
    gtk_box_append(GTK_BOX(row), icon);
    gtk_box_append(GTK_BOX(row), label);
    gtk_widget_add_css_class(row, "sentence");
    gtk_widget_add_css_class(row, "marked-line");
    return row;
}

GtkBox *nw_message_rows_replace(GtkBox *parent, GtkBox *old) {
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
    if (old)
        gtk_box_remove(parent, GTK_WIDGET(old));
    gtk_box_append(parent, box);
    return GTK_BOX(box);
}

void nw_message_rows_add(GtkBox *box, const char *icon_name, const char *text) {
    gtk_box_append(box, row_new(icon_name, text));
}

void nw_message_rows_add_all(GtkBox *box, const char *icon_name, GPtrArray *texts) {
    for (guint i = 0; i < texts->len; i++)
        nw_message_rows_add(box, icon_name, texts->pdata[i]);
}
