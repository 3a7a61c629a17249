#include "cli/source.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "cli/verb.h"
#include "design/faults.h"
#include "format/design_json.h"

static gboolean names_a_file(const char *argument) {
    return strcmp(argument, "-") == 0 || strchr(argument, '/') ||
           g_str_has_suffix(argument, ".json") || g_file_test(argument, G_FILE_TEST_EXISTS);
}

/* Adds the design, or a version of the one of its name. */
static gboolean add_to_store(NwSource *source, GError **error) {
    GError *missing = NULL;
    NwDesignEntry *entry = nw_library_find_design(source->library, source->design->name, &missing);
    if (entry) {
        gboolean added = nw_library_add_version(source->library, entry->id, 0, source->design, NULL,
                                                &source->version, error);
        nw_design_entry_free(entry);
        return added;
    }
    if (!g_error_matches(missing, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE)) {
        g_propagate_error(error, missing);
        return FALSE;
    }
    g_error_free(missing);
    return nw_library_add_design(source->library, source->design, NULL, NULL, &source->version,
                                 error);
}

/* The store settles what it takes in, and its searches belong to the design as it has it. */
static gboolean take_as_stored(NwSource *source, GError **error) {
    NwDesign *stored = nw_library_load_design(source->library, source->version, error);
    if (!stored)
        return FALSE;
    nw_design_free(source->design);
    source->design = stored;
    return TRUE;
}

gboolean nw_source_keep(NwSource *source, const char *store, GError **error) {
    if (!store || source->library)
        return TRUE;
    source->library = nw_library_open(store, NW_LIBRARY_CREATE, error);
    return source->library && add_to_store(source, error) && take_as_stored(source, error);
}

static gboolean load_from_store(NwSource *source, const char *name, const char *store,
                                gboolean writing, GError **error) {
    source->library =
        nw_library_open(store, writing ? NW_LIBRARY_READ_WRITE : NW_LIBRARY_READ_ONLY, error);
    if (!source->library) {
        g_prefix_error(error, _("“%s” is not a file, and the store could not be read: "), name);
        return FALSE;
    }
    NwDesignEntry *entry = nw_library_find_design(source->library, name, error);
    if (!entry)
        return FALSE;
    source->version = entry->current_version;
    nw_design_entry_free(entry);
    source->design = nw_library_load_design(source->library, source->version, error);
    return source->design != NULL;
}

/* The word as one can type it in a shell. */
static char *dup_typed(const char *word) {
    return strpbrk(word, " \t'\"\\$`!*?[&;()<>|#~") ? g_shell_quote(word) : g_strdup(word);
}

static char *dup_words(const char *argument, const char *store) {
    g_autofree char *word = dup_typed(argument), *file = store ? dup_typed(store) : NULL;
    return file ? g_strdup_printf("%s --store %s", word, file) : g_steal_pointer(&word);
}

gboolean nw_source_open(NwSource *source, const char *argument, const char *store, gboolean writing,
                        GError **error) {
    gboolean opened, is_file = names_a_file(argument);
    *source = (NwSource){.words = dup_words(argument, is_file ? NULL : store)};
    if (is_file) {
        source->design = nw_design_load(argument, error);
        opened = source->design != NULL;
    } else {
        opened = load_from_store(source, argument, store, writing, error);
    }
    if (!opened)
        nw_source_close(source);
    return opened;
}

void nw_source_close(NwSource *source) {
    nw_design_free(source->design);
    nw_library_close(source->library);
    g_free(source->words);
    *source = (NwSource){0};
}

gboolean nw_source_refuse_faults(const NwSource *source) {
    NwFault *faults;
    size_t count = nw_design_faults(source->design, &faults);
    gboolean refused = FALSE;
    for (size_t i = 0; i < count && !refused; i++) {
        char *text = nw_fault_text(source->design, &faults[i]);
        refused = !nw_fault_is_about_size(&faults[i]);
        if (refused)
            nw_complain("%s", text);
        else
            nw_complain(_("no assembly is possible: %s"), text);
        free(text);
    }
    free(faults);
    return refused;
}
