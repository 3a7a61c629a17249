#include "store/file_probe.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "store/schema.h"
#include "store/statement.h"

/* Where SQLite's header has what we ask for (SQLite file format, section 1.3); numbers are
 * big-endian. */
enum { HEADER_SIZE = 100, PAGE_SIZE_AT = 16, USER_VERSION_AT = 60, APPLICATION_ID_AT = 68 };

static const char magic[16] = "SQLite format 3";

static guint32 number_at(const guint8 *header, int at) {
    guint32 raw;
    memcpy(&raw, header + at, sizeof raw);
    return GUINT32_FROM_BE(raw);
}

static gboolean has_content(const char *path, const char *ending) {
    g_autofree char *side = g_strconcat(path, ending, NULL);
    struct stat info;
    return stat(side, &info) == 0 && info.st_size > 0;
}

static gboolean can_write(const char *path) {
    g_autofree char *folder = g_path_get_dirname(path);
    return access(path, W_OK) == 0 && access(folder, W_OK | X_OK) == 0;
}

static gboolean judge(const char *path, const guint8 *header, int got, GError **error) {
    if (got < HEADER_SIZE || memcmp(header, magic, sizeof magic) != 0 ||
        number_at(header, APPLICATION_ID_AT) != NW_STORE_APPLICATION_ID)
        return nw_library_refuse(path, NW_LIBRARY_ERROR_NOT_OURS, error);
    gint32 version = (gint32)number_at(header, USER_VERSION_AT);
    if (version > nw_schema.count)
        return nw_library_refuse(path, NW_LIBRARY_ERROR_NEWER, error);
    if (version < 1)
        return nw_library_refuse(path, NW_LIBRARY_ERROR_DAMAGED, error);
    return TRUE;
}

/* At rest a store is whole pages. SQLite would read a last page that was cut short as one that
 * ends in zeros, and so lose rows without a word. */
static gboolean is_cut(const guint8 *header, gint64 size) {
    int page_size = header[PAGE_SIZE_AT] << 8 | header[PAGE_SIZE_AT + 1];
    if (page_size == 1) /* stands for 65536 */
        page_size = 65536;
    return page_size == 0 || size % page_size != 0;
}

/* Reads the header as SQLite itself would. The first close of a file lets go of all locks that the
 * process has on it (POSIX, fcntl), also those of another connection to the same store: another
 * program would then take itself for the last one, and remove the log that is in use here. SQLite
 * knows of that, and puts the closing off. FALSE: it cannot be opened. */
static gboolean read_header(const char *path, guint8 header[HEADER_SIZE], int *got) {
    sqlite3_vfs *vfs = sqlite3_vfs_find(NULL);
    g_autofree sqlite3_file *file = g_malloc0((gsize)vfs->szOsFile);
    sqlite3_filename name = sqlite3_create_filename(path, "", "", 0, NULL);
    int code = name ? vfs->xOpen(vfs, name, file, SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB, NULL)
                    : SQLITE_NOMEM;
    if (code == SQLITE_OK)
        *got = file->pMethods->xRead(file, header, HEADER_SIZE, 0) == SQLITE_OK ? HEADER_SIZE : 0;
    if (file->pMethods)
        file->pMethods->xClose(file);
    sqlite3_free_filename(name);
    return code == SQLITE_OK;
}

gboolean nw_file_probe(const char *path, NwFileProbe *look, GError **error) {
    *look = (NwFileProbe){0};
    struct stat info;
    if (stat(path, &info) != 0)
        return errno == ENOENT || nw_library_refuse(path, NW_LIBRARY_ERROR_NOT_FOUND, error);
    look->there = TRUE;
    look->at_rest = !has_content(path, "-wal") && !has_content(path, "-journal");
    guint8 header[HEADER_SIZE];
    int got = 0;
    /* A named pipe, say, would keep us waiting for its other end. */
    if (S_ISREG(info.st_mode) && !read_header(path, header, &got))
        return nw_library_refuse(path, NW_LIBRARY_ERROR_NOT_FOUND, error);
    if (!judge(path, header, got, error))
        return FALSE;
    if (look->at_rest && is_cut(header, info.st_size))
        return nw_library_refuse(path, NW_LIBRARY_ERROR_DAMAGED, error);
    look->writable = can_write(path);
    look->size = info.st_size;
    look->changed_ns = (gint64)info.st_mtim.tv_sec * 1000000000 + info.st_mtim.tv_nsec;
    return TRUE;
}

gboolean nw_file_probe_held(const NwFileProbe *before, const NwFileProbe *after) {
    return before->at_rest && after->at_rest && before->size == after->size &&
           before->changed_ns == after->changed_ns;
}
