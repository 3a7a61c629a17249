#include "job/harvest.h"

#include <glib/gi18n.h>

#include "job/words.h"

void nw_harvest_init(NwHarvest *harvest) {
    *harvest = (NwHarvest){.findings = nw_findings_new()};
}

void nw_harvest_clear(NwHarvest *harvest) {
    nw_search_free(harvest->search);
    if (harvest->findings)
        g_ptr_array_unref(harvest->findings);
    *harvest = (NwHarvest){0};
}

void nw_harvest_keep(NwHarvest *harvest, GPtrArray *batch) {
    for (guint i = 0; i < batch->len && harvest->findings->len < NW_HARVEST_KEEP; i++) {
        g_ptr_array_add(harvest->findings, batch->pdata[i]);
        batch->pdata[i] = NULL;
    }
}

void nw_harvest_sort(NwHarvest *harvest) {
    g_ptr_array_sort(harvest->findings, nw_words_compare);
}

gboolean nw_harvest_check(const NwSearchProgress *progress, GError **error) {
    if (progress->state != NW_SEARCH_FAILED)
        return TRUE;
    g_set_error_literal(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_CONTRADICTED,
                        _("a check contradicts the search, which is a fault of this program; "
                          "please report it with the design"));
    return FALSE;
}

/* The first; but what is drawn comes before those that open also where it does not. */
const NwFinding *nw_findings_answer(const GPtrArray *findings, gboolean has_intended) {
    for (guint i = 0; i < findings->len; i++) {
        const NwFinding *finding = findings->pdata[i];
        if (finding->verdict == NW_OPENS)
            return finding->intended || !has_intended ? finding : NULL;
        if (!finding->drawn)
            break;
    }
    return NULL;
}

const NwFinding *nw_harvest_answer(const NwHarvest *harvest) {
    return nw_findings_answer(harvest->findings, nw_search_has_intended(harvest->search));
}
