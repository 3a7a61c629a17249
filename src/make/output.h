/* Files written whole or not at all, several together.
 *
 * Everything is made in memory first. Then each file is written beside its place under a name of
 * its own, and only when all are on the disk do they take their places. Whatever fails before that
 * leaves older files as they were. A link is followed, and the permissions of an older file are
 * kept, as in format/replace_file.h; but a device or a pipe is refused, for it cannot be kept as it
 * was. Thread: one at a time. */
#ifndef NW_MAKE_OUTPUT_H
#define NW_MAKE_OUTPUT_H

#include <glib.h>

typedef struct NwOutput NwOutput;

NwOutput *nw_output_new(void);
void nw_output_free(NwOutput *output); /* NULL is allowed */

/* Adds a file; takes the bytes over. */
void nw_output_take(NwOutput *output, const char *path, GBytes *bytes);

/* The same for a text, which it takes over too. */
void nw_output_take_text(NwOutput *output, const char *path, char *text);

guint nw_output_count(const NwOutput *output);
const char *nw_output_path(const NwOutput *output, guint index);

/* FALSE with an error (G_FILE_ERROR) if one cannot be written. */
gboolean nw_output_write(const NwOutput *output, GError **error);

#endif
