#include "store/create.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <unistd.h>

#include "store/error.h"
#include "store/schema.h"

/* The bytes of an empty store; free with sqlite3_free. */
static guint8 *build(gsize *size) {
    sqlite3 *db = NULL;
    sqlite3_int64 length = 0;
    guint8 *bytes = NULL;
    g_autofree char *mark = g_strdup_printf("PRAGMA application_id = %d", NW_STORE_APPLICATION_ID);
    if (sqlite3_open(":memory:", &db) == SQLITE_OK &&
        sqlite3_exec(db, mark, NULL, NULL, NULL) == SQLITE_OK &&
        nw_schema_apply(db, nw_schema, 0) == SQLITE_OK)
        bytes = sqlite3_serialize(db, "main", &length, 0);
    sqlite3_close(db);
    /* A database in memory has no write-ahead log; the file is to have one from birth. Bytes 18
     * and 19 of the header say so (SQLite file format, section 1.3.3). */
    if (bytes)
        bytes[18] = bytes[19] = 2;
    *size = (gsize)length;
    return bytes;
}

static gboolean write_all(int fd, const guint8 *bytes, gsize size) {
    while (size) {
        ssize_t written = write(fd, bytes, size);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return FALSE;
        bytes += written;
        size -= (gsize)written;
    }
    return fsync(fd) == 0;
}

/* Gives the file its name unless that is taken. */
static gboolean settle(const char *passing, const char *path) {
    if (renameat2(AT_FDCWD, passing, AT_FDCWD, path, RENAME_NOREPLACE) == 0)
        return TRUE;
    if (errno == EEXIST)
        return FALSE;
    return link(passing, path) == 0 && unlink(passing) == 0; /* file systems without it */
}

static void sync_folder(const char *path) {
    g_autofree char *folder = g_path_get_dirname(path);
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0)
        return;
    fsync(fd);
    close(fd);
}

static gboolean left_behind(const char *path, GError **error) {
    static const char *const endings[] = {"-wal", "-journal"};
    for (gsize i = 0; i < G_N_ELEMENTS(endings); i++) {
        g_autofree char *side = g_strconcat(path, endings[i], NULL);
        if (!g_file_test(side, G_FILE_TEST_EXISTS))
            continue;
        g_autofree char *shown = g_filename_display_name(side);
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_NOT_FOUND,
                    "%s was left by a store that is gone; bring that store back or move this "
                    "file away, then try again",
                    shown);
        return TRUE;
    }
    return FALSE;
}

gboolean nw_store_create(const char *path, GError **error) {
    if (left_behind(path, error))
        return FALSE;
    gsize size;
    guint8 *bytes = build(&size);
    g_autofree char *passing = g_strconcat(path, ".XXXXXX", NULL);
    int fd = bytes ? g_mkstemp_full(passing, O_RDWR | O_CLOEXEC, 0644) : -1;
    int why = bytes ? errno : ENOMEM;
    gboolean made = FALSE;
    if (fd >= 0) {
        made = write_all(fd, bytes, size);
        made = close(fd) == 0 && made && settle(passing, path);
        why = errno;
        if (!made)
            g_unlink(passing);
    }
    sqlite3_free(bytes);
    if (made)
        sync_folder(path);
    if (made || why == EEXIST)
        return TRUE;
    g_autofree char *shown = g_filename_display_name(path);
    g_set_error(error, NW_LIBRARY_ERROR,
                why == EACCES || why == EROFS || why == EPERM ? NW_LIBRARY_ERROR_READ_ONLY
                : why == ENOENT || why == ENOTDIR             ? NW_LIBRARY_ERROR_NOT_FOUND
                                                              : NW_LIBRARY_ERROR_FAILED,
                "cannot create a store at %s (%s); choose an existing, writable folder", shown,
                g_strerror(why));
    return FALSE;
}
