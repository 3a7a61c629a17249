#include "job/search_results.h"

#include <glib/gi18n.h>

#include "text/words.h"

void nw_search_results_init(NwSearchResults *results) {
    *results = (NwSearchResults){.findings = nw_findings_new()};
}

void nw_search_results_clear(NwSearchResults *results) {
    nw_search_free(results->search);
    if (results->findings)
        g_ptr_array_unref(results->findings);
    *results = (NwSearchResults){0};
}

void nw_search_results_keep(NwSearchResults *results, GPtrArray *batch) {
    for (guint i = 0; i < batch->len && results->findings->len < NW_SEARCH_RESULTS_KEEP; i++) {
        g_ptr_array_add(results->findings, batch->pdata[i]);
        batch->pdata[i] = NULL;
    }
}

void nw_search_results_sort(NwSearchResults *results) {
    g_ptr_array_sort(results->findings, nw_words_compare);
}

gboolean nw_search_results_check(const NwSearchProgress *progress, GError **error) {
    if (progress->state != NW_SEARCH_FAILED)
        return TRUE;
    g_set_error_literal(
        error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_CONTRADICTED,
        _("a check contradicts the search. This is a bug; please report it with the design"));
    return FALSE;
}

/* The first; but what is drawn comes before those that open also where it does not. */
const NwFoundAssembly *nw_search_results_answer_of(const GPtrArray *findings,
                                                   gboolean has_intended) {
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *finding = findings->pdata[i];
        if (finding->verdict == NW_OPENS)
            return finding->intended || !has_intended ? finding : NULL;
        if (!finding->drawn)
            break;
    }
    return NULL;
}

const NwFoundAssembly *nw_search_results_answer(const NwSearchResults *results) {
    return nw_search_results_answer_of(results->findings, nw_search_has_intended(results->search));
}
