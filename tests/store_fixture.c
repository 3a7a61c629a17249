#include "store_fixture.h"

#include <string.h>

char *store_folder;
static GPtrArray *paths;

void store_folder_make(void) {
    store_folder = g_dir_make_tmp("store-XXXXXX", NULL);
    g_assert(store_folder && g_chmod(store_folder, 0755) == 0);
    paths = g_ptr_array_new_with_free_func(g_free);
}

void store_folder_remove(void) {
    g_autoptr(GDir) folder = g_dir_open(store_folder, 0, NULL);
    const char *name;
    while (folder && (name = g_dir_read_name(folder)))
        g_remove(store_file(name));
    g_rmdir(store_folder);
    g_ptr_array_unref(paths);
    g_clear_pointer(&store_folder, g_free);
}

const char *store_file(const char *name) {
    char *path = g_build_filename(store_folder, name, NULL);
    g_ptr_array_add(paths, path);
    return path;
}

NwDesign *store_sample(const char *name, int number) {
    NwDesign *design = nw_design_new(name);
    for (int x = -2; x < 3; x++)
        for (int y = 0; y < 3; y++)
            nw_solid_add(design->envelope, nw_vec(x, y, number % 900), NW_WHOLE);
    nw_solid_add(design->envelope, nw_vec(NW_COORD_MIN, NW_COORD_MAX, 0), 5);
    nw_solid_add(design->may_be_empty, nw_vec(-2, 0, number % 900), 1 + number % 31);
    static const char *const names[] = {"A", "B \xc3\xa9", ""};
    static const char *const colours[] = {"#c8553d", "", "#00FFaa"};
    for (int i = 0; i < 3; i++) {
        NwSolid *solid = nw_solid_new();
        nw_solid_add(solid, nw_vec(i, -number % 900, 0), 1 + 7 * i);
        nw_solid_add(solid, nw_vec(i, 0, -1), NW_WHOLE);
        size_t at = nw_design_take_piece(design, names[i], solid);
        g_strlcpy(design->pieces[at].colour, colours[i], NW_COLOUR_SIZE);
    }
    design->pieces[1].copies = 2;
    NwPlacement intended[4] = {{0, {0, {0, 0, 0}}},
                               {1, {7, {-1, 2, -3}}},
                               {2, {23, {1998, -1998, 0}}},
                               {1, {3, {1, 1, 0}}}};
    nw_design_set_intended(design, intended, 4);
    design->mirrors_together = true;
    return design;
}

static bool same_pieces(const NwPiece *a, const NwPiece *b) {
    return strcmp(a->name, b->name) == 0 && strcmp(a->colour, b->colour) == 0 &&
           a->copies == b->copies && nw_solid_equal(a->solid, b->solid);
}

bool store_same(const NwDesign *a, const NwDesign *b) {
    if (strcmp(a->name, b->name) != 0 || a->mirrors_together != b->mirrors_together ||
        !nw_solid_equal(a->envelope, b->envelope) ||
        !nw_solid_equal(a->may_be_empty, b->may_be_empty) || a->piece_count != b->piece_count ||
        a->intended_count != b->intended_count)
        return false;
    for (size_t i = 0; i < a->piece_count; i++)
        if (!same_pieces(&a->pieces[i], &b->pieces[i]))
            return false;
    for (size_t i = 0; i < a->intended_count; i++)
        if (a->intended[i].piece != b->intended[i].piece ||
            !nw_motion_equal(a->intended[i].motion, b->intended[i].motion))
            return false;
    return true;
}

static int compare_lines(gconstpointer a, gconstpointer b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

char *store_snapshot(void) {
    g_autoptr(GDir) folder = g_dir_open(store_folder, 0, NULL);
    g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func(g_free);
    const char *name;
    while (folder && (name = g_dir_read_name(folder))) {
        g_autofree char *bytes = NULL;
        gsize size = 0;
        if (g_file_get_contents(store_file(name), &bytes, &size, NULL)) {
            g_autofree char *sum =
                g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)bytes, size);
            g_ptr_array_add(lines, g_strdup_printf("%s %" G_GSIZE_FORMAT " %s", name, size, sum));
        } else {
            g_ptr_array_add(lines, g_strdup_printf("%s (no file)", name));
        }
    }
    g_ptr_array_sort(lines, compare_lines);
    g_ptr_array_add(lines, NULL);
    return g_strjoinv("\n", (char **)lines->pdata);
}
