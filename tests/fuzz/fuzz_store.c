/* Fuzz target: a file of any bytes is opened as a store, and all that it lists is loaded.
 *
 * Nothing may crash, whatever the bytes say; and what is refused must stay as it was. The seeds in
 * corpus-store/ are stores with pages of 512 bytes (VACUUM after PRAGMA page_size), which keeps
 * them small, and a few files that are none. With an argument list of files and -runs=0 it is a
 * plain regression test. */
#include <glib.h>
#include <glib/gstdio.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "store/designs.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static char *folder;

static void remove_all(void) {
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;
    while (dir && (name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        g_remove(path);
    }
}

static void leave(void) {
    remove_all();
    g_rmdir(folder);
}

/* In memory if the system has a place for that. */
static void make_folder(void) {
    folder = g_strdup("/dev/shm/fuzz-store-XXXXXX");
    if (!g_mkdtemp(folder)) {
        g_free(folder);
        folder = g_dir_make_tmp("fuzz-store-XXXXXX", NULL);
    }
    if (!folder)
        abort();
    atexit(leave);
}

static void load_runs(NwLibrary *library, gint64 version) {
    g_autoptr(GPtrArray) runs = nw_library_list_runs(library, version, NULL);
    for (guint i = 0; runs && i < runs->len; i++) {
        const NwRun *run = runs->pdata[i];
        g_autoptr(NwRun) again = nw_library_find_run(library, version, run->options, NULL);
        g_autoptr(GPtrArray) found = nw_library_load_assemblies(library, run->id, NULL, 100, NULL);
        if ((again && again->version != version) || (found && found->len > 100))
            abort();
    }
}

static void load_versions(NwLibrary *library, const NwDesignEntry *entry) {
    g_autoptr(GPtrArray) versions = nw_library_list_versions(library, entry->id, NULL);
    for (guint i = 0; versions && i < versions->len; i++) {
        gint64 id = ((NwVersionEntry *)versions->pdata[i])->id;
        NwDesign *design = nw_library_load_design(library, id, NULL);
        if (design) {
            gint64 version;
            nw_library_add_version(library, entry->id, 0, design, "again", &version, NULL);
        }
        nw_design_free(design);
        load_runs(library, id);
    }
}

/* A file that is refused is the same afterwards. */
static void assert_untouched(const char *path, const uint8_t *data, size_t size) {
    g_autofree char *bytes = NULL;
    gsize length;
    if (!g_file_get_contents(path, &bytes, &length, NULL) || length != size ||
        memcmp(bytes, data, size) != 0)
        abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    if (!folder)
        make_folder();
    remove_all();
    g_autofree char *path = g_build_filename(folder, "f.notch", NULL);
    if (!g_file_set_contents_full(path, (const char *)data, (gssize)size, G_FILE_SET_CONTENTS_NONE,
                                  0644, NULL))
        abort();
    g_autoptr(GError) error = NULL;
    NwLibrary *library = nw_library_open(path, NW_LIBRARY_CREATE, &error);
    if (!library) {
        if (!error)
            abort();
        assert_untouched(path, data, size);
        return 0;
    }
    g_autoptr(GPtrArray) designs = nw_library_list_designs(library, NULL);
    for (guint i = 0; designs && i < designs->len; i++)
        load_versions(library, designs->pdata[i]);
    nw_library_close(library);
    return 0;
}
