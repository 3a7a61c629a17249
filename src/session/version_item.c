#include "session/version_item.h"

#include <glib/gi18n.h>

struct _NwVersionItem {
    GObject parent_instance;
    gint64 id, parent;
    char *label, *title, *detail;
};

G_DEFINE_FINAL_TYPE(NwVersionItem, nw_version_item, G_TYPE_OBJECT)

static void nw_version_item_finalize(GObject *object) {
    NwVersionItem *self = NW_VERSION_ITEM(object);
    g_free(self->label);
    g_free(self->title);
    g_free(self->detail);
    G_OBJECT_CLASS(nw_version_item_parent_class)->finalize(object);
}

static void nw_version_item_class_init(NwVersionItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_version_item_finalize;
}

static void nw_version_item_init(NwVersionItem *self) {
    (void)self;
}

static char *dup_detail(const NwVersionEntry *entry) {
    GDateTime *time = g_date_time_new_from_unix_local(entry->created);
    /* TRANSLATORS: date and time of day, as g_date_time_format takes them */
    char *when = g_date_time_format(time, _("%x, %H:%M"));
    char *pieces =
        g_strdup_printf(ngettext("%d piece", "%d pieces", (gulong)entry->bodies), entry->bodies);
    char *detail = entry->current ? g_strdup_printf(_("%s, %s, open now"), when, pieces)
                                  : g_strdup_printf(_("%s, %s"), when, pieces);
    g_free(pieces);
    g_free(when);
    g_date_time_unref(time);
    return detail;
}

NwVersionItem *nw_version_item_new(const NwVersionEntry *entry) {
    NwVersionItem *self = g_object_new(NW_TYPE_VERSION_ITEM, NULL);
    self->id = entry->id;
    self->parent = entry->parent;
    self->label = *entry->note ? g_strdup(entry->note) : NULL;
    self->title = g_strdup(self->label      ? self->label
                           : *entry->action ? entry->action
                           : entry->parent  ? _("Changed")
                                            : _("First version"));
    self->detail = dup_detail(entry);
    return self;
}

gint64 nw_version_item_get_id(NwVersionItem *self) {
    return self->id;
}

gint64 nw_version_item_get_parent(NwVersionItem *self) {
    return self->parent;
}

const char *nw_version_item_get_label(NwVersionItem *self) {
    return self->label;
}

const char *nw_version_item_get_title(NwVersionItem *self) {
    return self->title;
}

const char *nw_version_item_get_detail(NwVersionItem *self) {
    return self->detail;
}
