#include "make/output.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "format/replace_file.h"

typedef struct Entry {
    char *path;
    char *target; /* where its links lead */
    char *beside; /* what is written first */
    GBytes *bytes;
} Entry;

struct NwOutput {
    GArray *entries;
};

static void clear_entry(void *data) {
    Entry *entry = data;
    g_free(entry->path);
    g_free(entry->target);
    g_free(entry->beside);
    g_bytes_unref(entry->bytes);
}

NwOutput *nw_output_new(void) {
    NwOutput *output = g_new(NwOutput, 1);
    output->entries = g_array_new(FALSE, TRUE, sizeof(Entry));
    g_array_set_clear_func(output->entries, clear_entry);
    return output;
}

void nw_output_free(NwOutput *output) {
    if (!output)
        return;
    g_array_free(output->entries, TRUE);
    g_free(output);
}

void nw_output_take(NwOutput *output, const char *path, GBytes *bytes) {
    char *target = nw_follow_links(path);
    Entry entry = {g_strdup(path), target, g_strconcat(target, ".XXXXXX", NULL), bytes};
    g_array_append_val(output->entries, entry);
}

void nw_output_take_text(NwOutput *output, const char *path, char *text) {
    nw_output_take(output, path, g_bytes_new_take(text, strlen(text)));
}

guint nw_output_count(const NwOutput *output) {
    return output->entries->len;
}

const char *nw_output_path(const NwOutput *output, guint index) {
    return g_array_index(output->entries, Entry, index).path;
}

static gboolean fail(const char *path, GError **error) {
    int number = errno;
    g_set_error(
        error, G_FILE_ERROR, g_file_error_from_errno(number),
        _("Could not save “%s” (%s): check that the folder exists, is writable and has room."),
        path, g_strerror(number));
    return FALSE;
}

static gboolean write_beside(Entry *entry, GError **error) {
    gsize left;
    const char *data = g_bytes_get_data(entry->bytes, &left);
    struct stat old;
    gboolean is_there = stat(entry->target, &old) == 0;
    if (is_there && !S_ISREG(old.st_mode) && !S_ISDIR(old.st_mode)) {
        g_set_error(error, G_FILE_ERROR, G_FILE_ERROR_INVAL,
                    _("“%s” is a device or a pipe and cannot be replaced by a file: choose another "
                      "name, or remove it first"),
                    entry->path);
        return FALSE;
    }
    int file = g_mkstemp_full(entry->beside, O_WRONLY | O_CLOEXEC, 0666);
    if (file >= 0 && is_there)
        fchmod(file, old.st_mode & 0777);
    if (file < 0)
        return fail(entry->path, error);
    while (left) {
        gssize written = write(file, data, left);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            break;
        data += written;
        left -= (gsize)written;
    }
    if (left || fsync(file) < 0) {
        fail(entry->path, error);
        close(file);
        g_unlink(entry->beside);
        return FALSE;
    }
    close(file);
    return TRUE;
}

gboolean nw_output_write(const NwOutput *output, GError **error) {
    guint count = output->entries->len, written = 0, placed = 0;
    Entry *entries = (Entry *)(void *)output->entries->data;
    while (written < count && write_beside(&entries[written], error))
        written++;
    while (written == count && placed < count) {
        if (g_rename(entries[placed].beside, entries[placed].target) < 0) {
            fail(entries[placed].path, error);
            break;
        }
        placed++;
    }
    for (guint i = placed; i < written; i++)
        g_unlink(entries[i].beside);
    return placed == count;
}
