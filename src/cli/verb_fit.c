#include <glib/gi18n.h>

#include "cli/report.h"
#include "cli/same.h"
#include "cli/search_json.h"
#include "cli/verb.h"

/* Options as they are read; freed by the caller. */
typedef struct Wanted {
    NwRunRequest request;
    int threads, states;
    gint64 limit, tries;
    char *store;
} Wanted;

static gboolean read_options(Wanted *wanted, int *argc, char ***argv) {
    NwSearchOptions *options = &wanted->request.options;
    const GOptionEntry entries[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &wanted->request.lines,
         N_("Print one JSON object per line as results come in"), NULL},
        {"threads", 0, 0, G_OPTION_ARG_INT, &wanted->threads,
         N_("Use N threads (default: one for each processor)"), N_("N")},
        {"fit-only", 0, 0, G_OPTION_ARG_NONE, &options->fit_only,
         N_("Find assemblies only, not their ways out"), NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &options->diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        nw_entry_fewest(&options->fewest),
        nw_entry_tries(&wanted->tries),
        {"limit", 0, 0, G_OPTION_ARG_INT64, &wanted->limit, N_("Stop after N assemblies"), N_("N")},
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wanted->request.seconds, N_("Stop after S seconds"),
         N_("S")},
        {"states", 0, 0, G_OPTION_ARG_INT, &wanted->states,
         N_("Keep at most N positions per group of pieces (default: 2000000)"), N_("N")},
        {"anew", 0, 0, G_OPTION_ARG_NONE, &wanted->request.anew,
         N_("Search from scratch, even if the store has results"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted->store,
         N_("Use this store, and keep a design from a file there"), N_("FILE")},
        {NULL}};
    if (!nw_verb_parse(
            argc, argv, entries, _("DESIGN"),
            _("Finds every assembly of a design, and a way out of each.\n\nDESIGN is a JSON file, "
              "“-” for standard input, or the name of a design in the store. A search of\na design "
              "in the store resumes where it stopped. Exit status: 0 complete, 1 could not run, 2 "
              "bad\ninput or usage, 3 stopped by a limit or Ctrl+C."),
            1, 1))
        return FALSE;
    if (wanted->threads < 0 || wanted->limit < 0 || wanted->request.seconds < 0 ||
        wanted->states < 0 || wanted->tries < 0) {
        nw_complain(_("limits and numbers of threads cannot be negative"));
        return FALSE;
    }
    options->threads = wanted->threads;
    options->limit = (guint64)wanted->limit;
    options->max_states = (guint32)wanted->states;
    options->max_tries = (guint64)wanted->tries;
    return TRUE;
}

static NwExit search(NwSource *source, const Wanted *wanted) {
    GError *error = NULL;
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_source_keep(source, wanted->store, &error))
        return nw_give_up(error, NW_EXIT_USAGE);
    NwSearchResults results;
    if (!nw_run(source, &wanted->request, &results, &error))
        return nw_give_up(error, g_error_matches(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_DESIGN)
                                     ? NW_EXIT_USAGE
                                     : NW_EXIT_FAILED);
    if (wanted->request.lines) {
        nw_search_json_done(&results.progress);
    } else {
        nw_report_question(source->design, results.search);
        nw_report_list(source->design, &results);
        nw_print_same(source);
    }
    NwExit exit = (NwExit)nw_run_exit(&results);
    nw_search_results_clear(&results);
    return exit;
}

NwExit nw_verb_fit(int argc, char **argv) {
    Wanted wanted = {0};
    NwExit exit = NW_EXIT_USAGE;
    if (read_options(&wanted, &argc, &argv)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wanted.store, TRUE, &error)) {
            exit = search(&source, &wanted);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wanted.store);
    return exit;
}
