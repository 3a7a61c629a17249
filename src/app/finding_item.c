#include "app/finding_item.h"

#include "base/bits.h"

struct _NwFindingItem {
    GObject parent;
    NwFinding *finding;
    NwFinding *told; /* before it was examined; others may still look at it */
    guint number;
    int difference;
    guint32 moved;
};

G_DEFINE_FINAL_TYPE(NwFindingItem, nw_finding_item, G_TYPE_OBJECT)

static void nw_finding_item_finalize(GObject *object) {
    nw_finding_free(NW_FINDING_ITEM(object)->finding);
    nw_finding_free(NW_FINDING_ITEM(object)->told);
    G_OBJECT_CLASS(nw_finding_item_parent_class)->finalize(object);
}

static void nw_finding_item_class_init(NwFindingItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_finding_item_finalize;
}

static void nw_finding_item_init(NwFindingItem *self) {
    self->difference = -1;
}

NwFindingItem *nw_finding_item_new_take(NwFinding *finding, guint number, int difference,
                                        guint32 moved) {
    NwFindingItem *self = g_object_new(NW_TYPE_FINDING_ITEM, NULL);
    self->finding = finding;
    self->number = number;
    self->difference = difference;
    self->moved = moved;
    return self;
}

gboolean nw_finding_item_learn(NwFindingItem *self, NwFindingItem *examined) {
    if (self->told)
        return FALSE;
    self->told = self->finding;
    self->finding = examined->finding;
    examined->finding = NULL;
    return TRUE;
}

const NwFinding *nw_finding_item_get(NwFindingItem *self) {
    return self->finding;
}

guint nw_finding_item_get_number(NwFindingItem *self) {
    return self->number;
}

int nw_finding_item_get_difference(NwFindingItem *self, guint32 *moved) {
    if (moved)
        *moved = self->moved;
    return self->difference;
}

int nw_finding_item_get_leader(NwFindingItem *self) {
    const NwFinding *finding = self->finding;
    for (int i = 0; i < finding->slide_count; i++)
        if (finding->slides[i].cells == NW_SLIDE_OUT)
            return nw_lowest(finding->slides[i].bodies);
    return -1;
}

int nw_finding_item_get_last(NwFindingItem *self) {
    const NwFinding *finding = self->finding;
    if (finding->verdict != NW_OPENS || !finding->slide_count)
        return -1;
    return nw_lowest(finding->slides[finding->slide_count - 1].bodies);
}
