#include "store/error.h"

#include <sqlite3.h>

G_DEFINE_QUARK(nw_library_error, nw_library_error)

static const char *const sentences[] = {
    [NW_LIBRARY_ERROR_NOT_FOUND] = "there is no store at %s, or no permission to read it; "
                                   "check the name and the folder",
    [NW_LIBRARY_ERROR_NOT_OURS] =
        "%s is not a Notchwright store and was left as it is; choose another file",
    [NW_LIBRARY_ERROR_NEWER] = "%s was written by a newer Notchwright and was left as it is; "
                               "update Notchwright to open it",
    [NW_LIBRARY_ERROR_DAMAGED] =
        "%s is damaged and was left as it is; restore it from a copy, or choose another file",
    [NW_LIBRARY_ERROR_READ_ONLY] =
        "%s is read-only; make the file and its folder writable, or choose another file",
    [NW_LIBRARY_ERROR_IN_USE] = "%s is in use by another program; wait for it or close it, "
                                "then try again",
    [NW_LIBRARY_ERROR_FAILED] = "cannot read or write %s; check the disk and try again",
};

gboolean nw_library_refuse(const char *path, NwLibraryError what, GError **error) {
    g_autofree char *shown = g_filename_display_name(path);
    g_autoptr(GString) sentence = g_string_new(sentences[what]);
    g_string_replace(sentence, "%s", shown, 1);
    g_set_error_literal(error, NW_LIBRARY_ERROR, (int)what, sentence->str);
    return FALSE;
}

static NwLibraryError meaning(int code) {
    switch (code & 0xff) { /* the low byte is the primary code */
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
        return NW_LIBRARY_ERROR_IN_USE;
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return NW_LIBRARY_ERROR_READ_ONLY;
    case SQLITE_CANTOPEN:
        return NW_LIBRARY_ERROR_NOT_FOUND;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_ERROR: /* a table is not as we made it */
    case SQLITE_CONSTRAINT:
        return NW_LIBRARY_ERROR_DAMAGED;
    default:
        return NW_LIBRARY_ERROR_FAILED;
    }
}

gboolean nw_library_fail(const char *path, int code, GError **error) {
    return nw_library_refuse(path, meaning(code), error);
}
