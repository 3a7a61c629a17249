#include "app/hunt_founds.h"

#include "job/founds.h"

NwFounds nw_hunt_founds(NwHunt *hunt) {
    NwFounds founds = {0};
    NwSearchProgress progress;
    GListModel *findings = nw_hunt_get_findings(hunt);
    guint count = g_list_model_get_n_items(findings);
    nw_hunt_get_progress(hunt, &progress);
    /* The list may lag behind the search by what is still on its way. */
    if (nw_hunt_get_state(hunt) != NW_HUNT_COMPLETE || count != progress.found)
        return founds;
    for (guint i = 0; i < count; i++) {
        NwFindingItem *item = g_list_model_get_item(findings, i);
        nw_founds_add_finding(&founds, nw_finding_item_get(item));
        g_object_unref(item);
    }
    return founds;
}

guint nw_hunt_number_of(NwHunt *hunt, guint64 key) {
    GListModel *findings = nw_hunt_get_findings(hunt);
    guint number = 0;
    for (guint i = 0; !number && i < g_list_model_get_n_items(findings); i++) {
        NwFindingItem *item = g_list_model_get_item(findings, i);
        if (nw_finding_item_get(item)->key == key)
            number = nw_finding_item_get_number(item);
        g_object_unref(item);
    }
    return number;
}
