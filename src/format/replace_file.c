#include "format/replace_file.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <sys/stat.h>

/* A chain of links longer than this is a circle, which the system refuses by itself. */
enum { LINKS_MAX = 40 };

char *nw_follow_links(const char *path) {
    char *at = g_strdup(path), *next;
    for (int i = 0; i < LINKS_MAX && (next = g_file_read_link(at, NULL)); i++) {
        char *folder = g_path_get_dirname(at);
        g_free(at);
        at = g_path_is_absolute(next) ? g_strdup(next) : g_build_filename(folder, next, NULL);
        g_free(folder);
        g_free(next);
    }
    return at;
}

static gboolean write_to(const char *path, const void *bytes, gsize size, GError **error) {
    FILE *stream = g_fopen(path, "wb");
    gboolean written = stream && fwrite(bytes, 1, size, stream) == size;
    written = (!stream || fclose(stream) == 0) && written;
    if (!written)
        g_set_error(error, G_FILE_ERROR, (int)g_file_error_from_errno(errno),
                    "%s cannot be written to: %s", path, g_strerror(errno));
    return written;
}

gboolean nw_replace_file(const char *path, const void *bytes, gsize size, GError **error) {
    struct stat old;
    gboolean is_there = stat(path, &old) == 0;
    if (is_there && !S_ISREG(old.st_mode) && !S_ISDIR(old.st_mode))
        return write_to(path, bytes, size, error);
    char *followed = nw_follow_links(path);
    gboolean written =
        g_file_set_contents_full(followed, bytes, (gssize)size, G_FILE_SET_CONTENTS_CONSISTENT,
                                 is_there ? (int)(old.st_mode & 0777) : 0666, error);
    g_free(followed);
    return written;
}
