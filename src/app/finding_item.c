#include "app/finding_item.h"

#include "base/bits.h"

struct _NwFindingItem {
    GObject parent;
    NwFinding *finding;
    NwFinding *told; /* before it was examined; others may still look at it */
    guint order;
    guint number;
    int difference;
    guint32 moved;
};

G_DEFINE_FINAL_TYPE(NwFindingItem, nw_finding_item, G_TYPE_OBJECT)

enum { NUMBER = 1, PROPERTIES };
static GParamSpec *properties[PROPERTIES];

static void nw_finding_item_get_property(GObject *object, guint id, GValue *value,
                                         GParamSpec *spec) {
    (void)id;
    (void)spec;
    g_value_set_uint(value, NW_FINDING_ITEM(object)->number);
}

static void nw_finding_item_finalize(GObject *object) {
    nw_finding_free(NW_FINDING_ITEM(object)->finding);
    nw_finding_free(NW_FINDING_ITEM(object)->told);
    G_OBJECT_CLASS(nw_finding_item_parent_class)->finalize(object);
}

static void nw_finding_item_class_init(NwFindingItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_finding_item_finalize;
    G_OBJECT_CLASS(class)->get_property = nw_finding_item_get_property;
    properties[NUMBER] = g_param_spec_uint("number", NULL, NULL, 0, G_MAXUINT, 0,
                                           G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
    g_object_class_install_properties(G_OBJECT_CLASS(class), PROPERTIES, properties);
}

static void nw_finding_item_init(NwFindingItem *self) {
    self->difference = -1;
}

NwFindingItem *nw_finding_item_new_take(NwFinding *finding, guint order, int difference,
                                        guint32 moved) {
    NwFindingItem *self = g_object_new(NW_TYPE_FINDING_ITEM, NULL);
    self->finding = finding;
    self->order = order;
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

guint nw_finding_item_get_order(NwFindingItem *self) {
    return self->order;
}

guint nw_finding_item_get_number(NwFindingItem *self) {
    return self->number;
}

void nw_finding_item_set_number(NwFindingItem *self, guint number) {
    if (self->number == number)
        return;
    self->number = number;
    g_object_notify_by_pspec(G_OBJECT(self), properties[NUMBER]);
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
