/* Writing a file in the place of an older one, whole or not at all.
 *
 * A link is followed: the file that it leads to is replaced, not the link. The permissions of a
 * file that was there are kept. What is no regular file, such as /dev/stdout or a pipe, cannot be
 * replaced and is written to. Errors: G_FILE_ERROR. Thread: any. */
#ifndef NW_FORMAT_REPLACE_FILE_H
#define NW_FORMAT_REPLACE_FILE_H

#include <glib.h>

/* Where the links at `path` lead, or `path` itself, whether a file is there or not. Free with
 * g_free. */
char *nw_follow_links(const char *path);

gboolean nw_replace_file(const char *path, const void *bytes, gsize size, GError **error);

#endif
