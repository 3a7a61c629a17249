#include <glib/gi18n.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "cli/terminal.h"
#include "cli/verb.h"
#include "format/design_json.h"
#include "store/designs.h"

/* Options that only some actions use. */
typedef struct Wanted {
    char *store, *name, *out;
} Wanted;

static void print_entry(const NwDesignEntry *entry) {
    g_autoptr(GDateTime) time = g_date_time_new_from_unix_local(entry->modified);
    g_autofree char *when = g_date_time_format(time, "%Y-%m-%d %H:%M");
    g_autofree char *pieces =
        g_strdup_printf(ngettext("%d piece", "%d pieces", (gulong)entry->bodies), entry->bodies);
    g_autofree char *versions = g_strdup_printf(
        ngettext("%d version", "%d versions", (gulong)entry->versions), entry->versions);
    gulong found = (gulong)entry->run_found;
    nw_print_column(entry->name, 32);
    nw_print_column(pieces, 10);
    nw_print_column(versions, 12);
    printf("  %s", when);
    if (entry->run_id && entry->run_state == NW_RUN_COMPLETE)
        printf(ngettext("  searched: %" PRId64 " assembly", "  searched: %" PRId64 " assemblies",
                        found),
               entry->run_found);
    else if (entry->run_id)
        printf(ngettext("  search not complete: %" PRId64 " assembly so far",
                        "  search not complete: %" PRId64 " assemblies so far", found),
               entry->run_found);
    printf("\n");
}

static NwExit list(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    (void)wanted;
    (void)word;
    GPtrArray *entries = nw_library_list_designs(library, error);
    if (!entries)
        return NW_EXIT_FAILED;
    for (guint i = 0; i < entries->len; i++)
        print_entry(entries->pdata[i]);
    if (!entries->len)
        printf(_("The store is empty: add a design with “notch library add FILE”.\n"));
    g_ptr_array_unref(entries);
    return NW_EXIT_COMPLETE;
}

static NwExit add(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    NwDesign *design = nw_design_load(word, error);
    if (!design)
        return NW_EXIT_USAGE;
    if (wanted->name) {
        free(design->name);
        design->name = strdup(wanted->name);
    }
    gboolean added = nw_library_add_design(library, design, NULL, NULL, NULL, error);
    if (added)
        printf(_("Added “%s”.\n"), design->name);
    nw_design_free(design);
    return added ? NW_EXIT_COMPLETE : NW_EXIT_USAGE;
}

static NwExit export(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    NwDesignEntry *entry = nw_library_find_design(library, word, error);
    if (!entry)
        return NW_EXIT_USAGE;
    NwDesign *design = nw_library_load_design(library, entry->current_version, error);
    nw_design_entry_free(entry);
    if (!design)
        return NW_EXIT_FAILED;
    NwExit exit = NW_EXIT_COMPLETE;
    if (wanted->out) {
        if (!nw_design_save(design, wanted->out, error))
            exit = NW_EXIT_FAILED;
    } else {
        char *json = nw_design_to_json(design);
        fputs(json, stdout);
        g_free(json);
    }
    nw_design_free(design);
    return exit;
}

static NwExit take_out(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    (void)wanted;
    NwDesignEntry *entry = nw_library_find_design(library, word, error);
    if (!entry)
        return NW_EXIT_USAGE;
    gboolean removed = nw_library_remove_design(library, entry->id, error);
    nw_design_entry_free(entry);
    if (removed)
        printf(_("Removed “%s”, its versions, searches and trials.\n"), word);
    return removed ? NW_EXIT_COMPLETE : NW_EXIT_FAILED;
}

static const struct Action {
    const char *name;
    gboolean takes_word; /* a file or the name of a design */
    NwLibraryMode mode;
    NwExit (*run)(NwLibrary *, const Wanted *, const char *, GError **);
} actions[] = {
    {"list", FALSE, NW_LIBRARY_CREATE, list},
    {"add", TRUE, NW_LIBRARY_CREATE, add},
    {"export", TRUE, NW_LIBRARY_READ_ONLY, export},
    {"remove", TRUE, NW_LIBRARY_READ_WRITE, take_out},
};

static const struct Action *find_action(const char *name) {
    for (gsize i = 0; i < G_N_ELEMENTS(actions); i++)
        if (strcmp(actions[i].name, name) == 0)
            return &actions[i];
    nw_complain(_("unknown command “library %s”; use list, add, export or remove"), name);
    return NULL;
}

static NwExit act(const Wanted *wanted, int argc, char **argv) {
    const struct Action *action = find_action(argc > 1 ? argv[1] : "list");
    if (!action)
        return NW_EXIT_USAGE;
    if ((argc == 3) != action->takes_word) {
        nw_complain(action->takes_word ? _("“notch library %s” needs one design to work on")
                                       : _("too many arguments for “notch library %s”"),
                    action->name);
        return NW_EXIT_USAGE;
    }
    GError *error = NULL;
    NwLibrary *library = nw_library_open(wanted->store, action->mode, &error);
    if (!library)
        return nw_give_up(error, NW_EXIT_USAGE);
    NwExit exit = action->run(library, wanted, argc == 3 ? argv[2] : NULL, &error);
    if (error)
        nw_give_up(error, exit);
    nw_library_close(library);
    return exit;
}

NwExit nw_verb_library(int argc, char **argv) {
    Wanted wanted = {0};
    const GOptionEntry options[] = {
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted.store, N_("Use this store"), N_("FILE")},
        {"name", 0, 0, G_OPTION_ARG_STRING, &wanted.name, N_("add: store it under this name"),
         N_("TEXT")},
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &wanted.out,
         N_("export: write to this file (default: standard output)"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("[list | add FILE | export NAME | remove NAME]"),
                      _("Lists, adds, exports and removes the designs in the store."), 0, 2))
        exit = act(&wanted, argc, argv);
    g_free(wanted.store);
    g_free(wanted.name);
    g_free(wanted.out);
    return exit;
}
