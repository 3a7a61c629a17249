#include "app/hunt_answer.h"

#include "job/harvest.h"
#include "job/words.h"
#include "product/inquiry.h"

/* The list may lag behind the search by what is still on its way, and one that was adopted by its
 * ways out. */
gboolean nw_hunt_has_answer(NwHunt *hunt) {
    NwSearchProgress progress;
    nw_hunt_get_progress(hunt, &progress);
    return nw_hunt_get_state(hunt) == NW_HUNT_COMPLETE && !nw_hunt_is_examining(hunt) &&
           g_list_model_get_n_items(nw_hunt_get_findings(hunt)) == progress.found;
}

/* The first in the order of lists; the caller unrefs. */
static NwFindingItem *dup_first(GListModel *findings) {
    NwFindingItem *first = NULL;
    for (guint i = 0; i < g_list_model_get_n_items(findings); i++) {
        NwFindingItem *item = g_list_model_get_item(findings, i);
        const NwFinding *finding = nw_finding_item_get(item);
        const NwFinding *best = first ? nw_finding_item_get(first) : NULL;
        gboolean locked = finding->drawn && finding->verdict != NW_OPENS;
        if (!locked && (!best || nw_words_compare(&finding, &best) < 0))
            g_set_object(&first, item);
        g_object_unref(item);
    }
    return first;
}

/* A complete search has found the intended assembly, if it fits, and that one comes first. */
static NwFindingItem *answer_of(NwFindingItem *first) {
    if (!first)
        return NULL;
    gpointer finding = (gpointer)nw_finding_item_get(first);
    GPtrArray *findings = g_ptr_array_new();
    g_ptr_array_add(findings, finding);
    const NwFinding *answer = nw_findings_answer(findings, ((NwFinding *)finding)->intended);
    g_ptr_array_unref(findings);
    if (!answer)
        g_clear_object(&first);
    return first;
}

gboolean nw_hunt_answer(NwHunt *hunt, NwTally *tally, NwFindingItem **answer) {
    *answer = NULL;
    if (!nw_hunt_has_answer(hunt))
        return FALSE;
    NwSearchProgress progress;
    nw_hunt_get_progress(hunt, &progress);
    progress.state = NW_SEARCH_COMPLETE; /* one that the store knew complete was never started */
    *tally = nw_tally_of_search(&progress);
    *answer = answer_of(dup_first(nw_hunt_get_findings(hunt)));
    return TRUE;
}
