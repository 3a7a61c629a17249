#include "session/search_answer.h"

#include "export/inquiry.h"
#include "job/search_results.h"
#include "text/words.h"

/* The list may lag behind the search by what is still on its way, and one that was adopted by its
 * ways out. */
gboolean nw_search_session_has_answer(NwSearchSession *session) {
    NwSearchProgress progress;
    nw_search_session_get_progress(session, &progress);
    return nw_search_session_get_state(session) == NW_SEARCH_SESSION_COMPLETE &&
           !nw_search_session_is_examining(session) &&
           g_list_model_get_n_items(nw_search_session_get_assemblies(session)) == progress.found;
}

/* The first in the order of lists; the caller unrefs. */
static NwAssemblyItem *dup_first(GListModel *findings) {
    NwAssemblyItem *first = NULL;
    for (guint i = 0; i < g_list_model_get_n_items(findings); i++) {
        NwAssemblyItem *item = g_list_model_get_item(findings, i);
        const NwFoundAssembly *finding = nw_assembly_item_get(item);
        const NwFoundAssembly *best = first ? nw_assembly_item_get(first) : NULL;
        gboolean locked = finding->drawn && finding->verdict != NW_OPENS;
        if (!locked && (!best || nw_words_compare(&finding, &best) < 0))
            g_set_object(&first, item);
        g_object_unref(item);
    }
    return first;
}

/* A complete search has found the intended assembly, if it fits, and that one comes first. */
static NwAssemblyItem *answer_of(NwAssemblyItem *first) {
    if (!first)
        return NULL;
    gpointer finding = (gpointer)nw_assembly_item_get(first);
    GPtrArray *findings = g_ptr_array_new();
    g_ptr_array_add(findings, finding);
    const NwFoundAssembly *answer =
        nw_search_results_answer_of(findings, ((NwFoundAssembly *)finding)->intended);
    g_ptr_array_unref(findings);
    if (!answer)
        g_clear_object(&first);
    return first;
}

gboolean nw_search_session_answer(NwSearchSession *session, NwTally *tally,
                                  NwAssemblyItem **answer) {
    *answer = NULL;
    if (!nw_search_session_has_answer(session))
        return FALSE;
    NwSearchProgress progress;
    nw_search_session_get_progress(session, &progress);
    progress.state = NW_SEARCH_COMPLETE; /* one that the store knew complete was never started */
    *tally = nw_tally_of_search(&progress);
    *answer = answer_of(dup_first(nw_search_session_get_assemblies(session)));
    return TRUE;
}
