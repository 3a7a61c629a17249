#include "session/search_import.h"

#include "job/import.h"

NwFounds nw_search_session_founds(NwSearchSession *session) {
    NwFounds founds = {0};
    NwSearchProgress progress;
    GListModel *findings = nw_search_session_get_assemblies(session);
    guint count = g_list_model_get_n_items(findings);
    nw_search_session_get_progress(session, &progress);
    /* The list may lag behind the search by what is still on its way. */
    if (nw_search_session_get_state(session) != NW_SEARCH_SESSION_COMPLETE ||
        count != progress.found)
        return founds;
    for (guint i = 0; i < count; i++) {
        NwAssemblyItem *item = g_list_model_get_item(findings, i);
        nw_founds_add_finding(&founds, nw_assembly_item_get(item));
        g_object_unref(item);
    }
    return founds;
}

guint nw_search_session_number_of(NwSearchSession *session, guint64 key) {
    GListModel *findings = nw_search_session_get_assemblies(session);
    guint number = 0;
    for (guint i = 0; !number && i < g_list_model_get_n_items(findings); i++) {
        NwAssemblyItem *item = g_list_model_get_item(findings, i);
        if (nw_assembly_item_get(item)->key == key)
            number = nw_assembly_item_get_number(item);
        g_object_unref(item);
    }
    return number;
}
