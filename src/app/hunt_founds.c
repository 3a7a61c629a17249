#include "app/hunt_founds.h"

#include <string.h>

#include "base/memory.h"

static NwStatus opens(const NwFinding *finding) {
    switch (finding->verdict) {
    case NW_OPENS:
        return NW_OK;
    case NW_UNREACHABLE:
        return NW_NONE;
    default:
        return NW_LIMIT;
    }
}

static NwFound found_of(const NwFinding *finding) {
    size_t count = (size_t)finding->placement_count;
    NwFound found = {.key = finding->key,
                     .placements = nw_alloc(count, sizeof *found.placements),
                     .opens = opens(finding),
                     .level = finding->level,
                     .total = finding->total};
    memcpy(found.placements, finding->placements, count * sizeof *found.placements);
    return found;
}

NwFounds nw_hunt_founds(NwHunt *hunt) {
    NwFounds founds = {0};
    NwSearchProgress progress;
    GListModel *findings = nw_hunt_get_findings(hunt);
    guint count = g_list_model_get_n_items(findings);
    nw_hunt_get_progress(hunt, &progress);
    /* The list may lag behind the search by what is still on its way. */
    if (nw_hunt_get_state(hunt) != NW_HUNT_COMPLETE || count != progress.found)
        return founds;
    founds.list = nw_alloc(count, sizeof *founds.list);
    founds.count = founds.capacity = count;
    for (guint i = 0; i < count; i++) {
        NwFindingItem *item = g_list_model_get_item(findings, i);
        founds.list[i] = found_of(nw_finding_item_get(item));
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
