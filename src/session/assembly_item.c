#include "session/assembly_item.h"

#include "base/bits.h"

struct _NwAssemblyItem {
    GObject parent;
    NwFoundAssembly *finding;
    NwFoundAssembly *told; /* before it was examined; others may still look at it */
    guint order;
    guint number;
    int difference;
    guint32 moved;
};

G_DEFINE_FINAL_TYPE(NwAssemblyItem, nw_assembly_item, G_TYPE_OBJECT)

enum { NUMBER = 1, PROPERTIES };
static GParamSpec *properties[PROPERTIES];

static void nw_assembly_item_get_property(GObject *object, guint id, GValue *value,
                                          GParamSpec *spec) {
    (void)id;
    (void)spec;
    g_value_set_uint(value, NW_ASSEMBLY_ITEM(object)->number);
}

static void nw_assembly_item_finalize(GObject *object) {
    nw_found_assembly_free(NW_ASSEMBLY_ITEM(object)->finding);
    nw_found_assembly_free(NW_ASSEMBLY_ITEM(object)->told);
    G_OBJECT_CLASS(nw_assembly_item_parent_class)->finalize(object);
}

static void nw_assembly_item_class_init(NwAssemblyItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_assembly_item_finalize;
    G_OBJECT_CLASS(class)->get_property = nw_assembly_item_get_property;
    properties[NUMBER] = g_param_spec_uint("number", NULL, NULL, 0, G_MAXUINT, 0,
                                           G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
    g_object_class_install_properties(G_OBJECT_CLASS(class), PROPERTIES, properties);
}

static void nw_assembly_item_init(NwAssemblyItem *self) {
    self->difference = -1;
}

NwAssemblyItem *nw_assembly_item_new_take(NwFoundAssembly *finding, guint order, int difference,
                                          guint32 moved) {
    NwAssemblyItem *self = g_object_new(NW_TYPE_ASSEMBLY_ITEM, NULL);
    self->finding = finding;
    self->order = order;
    self->difference = difference;
    self->moved = moved;
    return self;
}

gboolean nw_assembly_item_learn(NwAssemblyItem *self, NwAssemblyItem *examined) {
    if (self->told)
        return FALSE;
    self->told = self->finding;
    self->finding = examined->finding;
    examined->finding = NULL;
    return TRUE;
}

const NwFoundAssembly *nw_assembly_item_get(NwAssemblyItem *self) {
    return self->finding;
}

guint nw_assembly_item_get_order(NwAssemblyItem *self) {
    return self->order;
}

guint nw_assembly_item_get_number(NwAssemblyItem *self) {
    return self->number;
}

void nw_assembly_item_set_number(NwAssemblyItem *self, guint number) {
    if (self->number == number)
        return;
    self->number = number;
    g_object_notify_by_pspec(G_OBJECT(self), properties[NUMBER]);
}

int nw_assembly_item_get_difference(NwAssemblyItem *self, guint32 *moved) {
    if (moved)
        *moved = self->moved;
    return self->difference;
}

int nw_assembly_item_get_leader(NwAssemblyItem *self) {
    const NwFoundAssembly *finding = self->finding;
    for (int i = 0; i < finding->slide_count; i++)
        if (finding->slides[i].cells == NW_SLIDE_OUT)
            return nw_lowest(finding->slides[i].bodies);
    return -1;
}

int nw_assembly_item_get_last(NwAssemblyItem *self) {
    const NwFoundAssembly *finding = self->finding;
    if (finding->verdict != NW_OPENS || !finding->slide_count)
        return -1;
    return nw_lowest(finding->slides[finding->slide_count - 1].bodies);
}
