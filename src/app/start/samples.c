#include "app/start/samples.h"

#include <string.h>

#include "app/common/config.h"
#include "format/design_json.h"

#ifndef NW_DESIGN_DIRS
#define NW_DESIGN_DIRS ""
#endif

#define INSIDE "resource://" NW_RESOURCES "/designs"

static int compare_texts(gconstpointer a, gconstpointer b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* URIs of the design files in a folder, sorted. */
static GPtrArray *list_folder(GFile *folder) {
    GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
    GFileEnumerator *each = g_file_enumerate_children(folder, G_FILE_ATTRIBUTE_STANDARD_NAME,
                                                      G_FILE_QUERY_INFO_NONE, NULL, NULL);
    GFile *file;
    GFileInfo *info;
    while (each && g_file_enumerator_iterate(each, &info, &file, NULL, NULL) && info)
        if (g_str_has_suffix(g_file_info_get_name(info), ".json"))
            g_ptr_array_add(names, g_file_get_uri(file));
    g_clear_object(&each);
    g_ptr_array_sort(names, compare_texts);
    return names;
}

static NwDesign *load(const char *uri, GError **error) {
    GFile *file = g_file_new_for_uri(uri);
    char *text;
    gsize length;
    NwDesign *design = NULL;
    if (g_file_load_contents(file, NULL, &text, &length, NULL, error)) {
        design = nw_design_from_json(text, (gssize)length, uri, error);
        g_free(text);
    }
    g_object_unref(file);
    return design;
}

/* Adds what a folder has. */
static void load_folder(GPtrArray *designs, GFile *folder) {
    GPtrArray *uris = list_folder(folder);
    for (guint i = 0; i < uris->len; i++) {
        GError *error = NULL;
        NwDesign *design = load(uris->pdata[i], &error);
        if (design)
            g_ptr_array_add(designs, design);
        else
            g_warning("A design that comes with the program cannot be read: %s", error->message);
        g_clear_error(&error);
    }
    g_ptr_array_unref(uris);
}

static void load_path(GPtrArray *designs, const char *path) {
    if (designs->len || !path || !*path)
        return;
    GFile *folder = g_file_new_for_path(path);
    load_folder(designs, folder);
    g_object_unref(folder);
}

GPtrArray *nw_sample_load(void) {
    GPtrArray *designs = g_ptr_array_new_with_free_func((GDestroyNotify)nw_design_free);
    const char *data = g_getenv("NW_DATA_DIR");
    char *wanted = data ? g_build_filename(data, "designs", NULL) : NULL;
    char **places = g_strsplit(NW_DESIGN_DIRS, ":", -1);
    load_path(designs, wanted);
    for (int i = 0; places[i]; i++)
        load_path(designs, places[i]);
    if (!designs->len) {
        GFile *inside = g_file_new_for_uri(INSIDE);
        load_folder(designs, inside);
        g_object_unref(inside);
    }
    g_strfreev(places);
    g_free(wanted);
    return designs;
}
