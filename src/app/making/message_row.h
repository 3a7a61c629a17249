/* Sentences of the library, which begin small as they follow a colon on the command line, set for
 * the window: with a great letter, and in rows. Thread: the main one. */
#ifndef NW_APP_MAKING_MESSAGE_ROW_H
#define NW_APP_MAKING_MESSAGE_ROW_H

#include <gtk/gtk.h>

/* The caller frees. */
char *nw_message_row_dup(const char *text);

/* Puts an empty box for rows of sentences at the end of a box, in place of `old`, which may be
 * NULL. A new one each time: GTK keeps how an empty box asked for its height, also when it is
 * filled while it is hidden, and its rows would get too little. */
GtkBox *nw_message_rows_replace(GtkBox *parent, GtkBox *old);

/* A row: a symbolic icon, or its room if it is NULL, and the sentence, wrapped. */
void nw_message_rows_add(GtkBox *box, const char *icon_name, const char *text);
void nw_message_rows_add_all(GtkBox *box, const char *icon_name, GPtrArray *texts);

#endif
