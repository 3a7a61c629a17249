#include "make_fixture.h"

#include <check.h>
#include <glib/gstdio.h>
#include <stdlib.h>

#include "format/design_json.h"
#include "lattice/named.h"

NwDesign *nw_make_design(const char *folder, const char *name) {
    char *path = g_build_filename(folder, name, NULL);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_msg(design != NULL, "%s", path);
    g_free(path);
    return design;
}

void nw_make_each_design(const char *folder, void (*each)(const NwDesign *design)) {
    GDir *dir = g_dir_open(folder, 0, NULL);
    int count = 0;
    ck_assert_ptr_nonnull(dir);
    for (const char *name; (name = g_dir_read_name(dir));) {
        if (!g_str_has_suffix(name, ".json"))
            continue;
        NwDesign *design = nw_make_design(folder, name);
        each(design);
        nw_design_free(design);
        count++;
    }
    g_dir_close(dir);
    ck_assert_int_gt(count, 0);
}

NwDesign *nw_make_named(const char *solid, int size) {
    NwSolid *built;
    const int sizes[NW_SIZES_MAX] = {size, size, size};
    ck_assert_int_eq(nw_named_solid_build(nw_named_solid_find(solid), sizes, &built), NW_OK);
    NwDesign *design = nw_design_new(solid);
    design->envelope = design->envelope ? design->envelope : nw_solid_new();
    nw_design_take_piece(design, "A", built);
    return design;
}

char *nw_make_scratch(void) {
    char *folder = g_dir_make_tmp("nw-make-XXXXXX", NULL);
    ck_assert_ptr_nonnull(folder);
    return folder;
}

void nw_make_clean(char *folder) {
    GDir *dir = g_dir_open(folder, 0, NULL);
    for (const char *name; (name = g_dir_read_name(dir));) {
        char *path = g_build_filename(folder, name, NULL);
        g_unlink(path);
        g_free(path);
    }
    g_dir_close(dir);
    ck_assert_int_eq(g_rmdir(folder), 0);
    g_free(folder);
}

void nw_make_save(const char *folder, const char *name, GBytes *bytes) {
    gsize size;
    const char *data = g_bytes_get_data(bytes, &size);
    char *path = g_build_filename(folder, name, NULL);
    ck_assert(g_file_set_contents(path, data, (gssize)size, NULL));
    g_free(path);
}

char *nw_make_run(const char *folder, const char *const *command) {
    char *program = g_find_program_in_path(command[0]), *out = NULL, *err = NULL;
    int status = 0;
    if (!program)
        return NULL;
    ck_assert(g_spawn_sync(folder, (char **)(void *)command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL,
                           &out, &err, &status, NULL));
    ck_assert_msg(g_spawn_check_wait_status(status, NULL), "%s: %s", command[0], err);
    g_free(err);
    g_free(program);
    return out;
}
