#include <glib/gi18n.h>

#include "cli/assembly_arg.h"
#include "cli/report.h"
#include "cli/search_json.h"
#include "cli/verb.h"

static NwExit show(const NwSource *source, const NwRunRequest *request, const char *which,
                   gboolean json) {
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    NwSearchResults results;
    GError *error = NULL;
    if (!nw_run(source, request, &results, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&results);
    guint index = 0;
    if (!nw_assembly_arg(&results, which, &index))
        exit = NW_EXIT_USAGE;
    else if (json)
        nw_search_json_assembly(source->design, results.findings->pdata[index], index + 1);
    else
        nw_report_assembly(source->design, &results, index);
    nw_search_results_clear(&results);
    return exit;
}

NwExit nw_verb_show(int argc, char **argv) {
    NwRunRequest request = {0};
    gboolean json = FALSE;
    gint64 tries = 0;
    char *store = NULL;
    const GOptionEntry options[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("Print one JSON object"), NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &request.options.diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        nw_entry_fewest(&request.options.fewest),
        nw_entry_tries(&tries),
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN N"),
                      _("Shows one assembly and its way out. N is its number in the list of “notch "
                        "fit DESIGN”, its key, or\nat least the first four digits of its key."),
                      2, 2)) {
        NwSource source;
        GError *error = NULL;
        if (tries < 0) {
            nw_complain(_("limits cannot be negative"));
        } else if (nw_source_open(&source, argv[1], store, FALSE, &error)) {
            request.options.max_tries = (guint64)tries;
            exit = show(&source, &request, argv[2], json);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(store);
    return exit;
}
