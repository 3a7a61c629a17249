/* Sentences of the library, which begin small as they follow a colon on the command line, set for
 * the window: with a great letter. And a label for one, with a mark before it. Thread: the main
 * one. */
#ifndef NW_APP_SENTENCE_H
#define NW_APP_SENTENCE_H

#include <gtk/gtk.h>

/* The caller frees. */
char *nw_sentence_dup(const char *text);

/* A row: a symbolic icon, and the sentence, wrapped. */
GtkWidget *nw_sentence_row_new(const char *icon_name, const char *text);

/* Takes all children out of a box. */
void nw_sentences_clear(GtkBox *box);

/* Adds a row for each text of the array. */
void nw_sentences_add(GtkBox *box, const char *icon_name, GPtrArray *texts);

#endif
