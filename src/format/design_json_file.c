/* Designs in files: reading with a limit, writing whole or not at all. */
#include <errno.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "format/design_json.h"
#include "format/replace_file.h"

/* All bytes of a stream, but at most one more than the limit; NULL and errno on failure. */
static GByteArray *read_stream(FILE *stream) {
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    guint8 block[16384];
    size_t got;
    while (bytes->len <= NW_DESIGN_BYTES_MAX && (got = fread(block, 1, sizeof block, stream)) > 0)
        g_byte_array_append(bytes, block, (guint)got);
    return ferror(stream) ? NULL : g_steal_pointer(&bytes);
}

static void set_file_error(GError **error, const char *name, const char *action) {
    int code = errno;
    g_set_error(error, G_FILE_ERROR, (int)g_file_error_from_errno(code), "%s: cannot be %s: %s",
                name, action, g_strerror(code));
}

/* The whole file, or standard input; NULL with an error. */
static GByteArray *read_file(const char *path_or_dash, const char *name, GError **error) {
    gboolean standard = g_str_equal(path_or_dash, "-");
    FILE *stream = standard ? stdin : g_fopen(path_or_dash, "rb");
    if (!stream) {
        set_file_error(error, name, "opened");
        return NULL;
    }
    errno = 0;
    GByteArray *bytes = read_stream(stream);
    if (!bytes)
        set_file_error(error, name, "read");
    if (!standard)
        fclose(stream);
    return bytes;
}

static const char *name_of(const char *path_or_dash) {
    return g_str_equal(path_or_dash, "-") ? "standard input" : path_or_dash;
}

NwDesign *nw_design_load(const char *path_or_dash, GError **error) {
    const char *name = name_of(path_or_dash);
    g_autoptr(GByteArray) bytes = read_file(path_or_dash, name, error);
    if (!bytes)
        return NULL;
    return nw_design_from_json(bytes->len ? (const char *)bytes->data : "", (gssize)bytes->len,
                               name, error);
}

gboolean nw_design_load_placements(NwDesign *design, const char *path_or_dash, GError **error) {
    const char *name = name_of(path_or_dash);
    g_autoptr(GByteArray) bytes = read_file(path_or_dash, name, error);
    if (!bytes)
        return FALSE;
    return nw_design_placements_from_json(design, bytes->len ? (const char *)bytes->data : "",
                                          (gssize)bytes->len, name, error);
}

gboolean nw_design_save(const NwDesign *design, const char *path, GError **error) {
    g_autofree char *text = nw_design_to_json(design);
    NwDesign *again = nw_design_from_json(text, -1, NULL, error);
    if (!again) {
        g_prefix_error(error, "%s: not written, because the file could not be read again: ", path);
        return FALSE;
    }
    nw_design_free(again);
    return nw_replace_file(path, text, strlen(text), error);
}
