/* One row of the list of versions, fixed once made. Thread: the main one. */
#ifndef NW_SESSION_VERSION_ITEM_H
#define NW_SESSION_VERSION_ITEM_H

#include <glib-object.h>

#include "store/designs.h"

G_BEGIN_DECLS

#define NW_TYPE_VERSION_ITEM (nw_version_item_get_type())
G_DECLARE_FINAL_TYPE(NwVersionItem, nw_version_item, NW, VERSION_ITEM, GObject)

/* The entry is looked at, not kept. */
NwVersionItem *nw_version_item_new(const NwVersionEntry *entry);

gint64 nw_version_item_get_id(NwVersionItem *self);
gint64 nw_version_item_get_parent(NwVersionItem *self);      /* 0: none */
const char *nw_version_item_get_label(NwVersionItem *self);  /* or NULL */
const char *nw_version_item_get_title(NwVersionItem *self);  /* its name, or what was done */
const char *nw_version_item_get_detail(NwVersionItem *self); /* when, and what it has */

G_END_DECLS

#endif
