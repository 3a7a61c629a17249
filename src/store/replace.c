#include "store/replace.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

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
    char *followed = realpath(path, NULL);
    gboolean written = g_file_set_contents_full(followed ? followed : path, bytes, (gssize)size,
                                                G_FILE_SET_CONTENTS_CONSISTENT,
                                                is_there ? (int)(old.st_mode & 0777) : 0666, error);
    free(followed);
    return written;
}
