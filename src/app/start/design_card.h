/* A card of the start page: one design of the store, or one that comes with the program.
 *
 * Signals:
 *   "open"             from the card's menu (a click or Enter is told by the box it is in)
 *   "rename" (name)    the maker wrote another name
 *   "remove"
 * Thread: the main one. */
#ifndef NW_APP_START_DESIGN_CARD_H
#define NW_APP_START_DESIGN_CARD_H

#include <gtk/gtk.h>

#include "design/design.h"
#include "store/designs.h"

G_BEGIN_DECLS

enum { NW_CARD_WIDTH = 206, NW_CARD_HEIGHT = 150 }; /* of the picture */

#define NW_TYPE_DESIGN_CARD (nw_design_card_get_type())
G_DECLARE_FINAL_TYPE(NwDesignCard, nw_design_card, NW, DESIGN_CARD, GtkFlowBoxChild)

/* A card without a picture yet; the entry and the design are looked at, not kept. */
NwDesignCard *nw_design_card_new(const NwDesignEntry *entry);
NwDesignCard *nw_design_card_new_bundled(const NwDesign *design);

gint64 nw_design_card_get_id(NwDesignCard *self); /* 0 for a bundled one */
gint64 nw_design_card_get_version(NwDesignCard *self);
const char *nw_design_card_get_name(NwDesignCard *self);

gboolean nw_design_card_has_picture(NwDesignCard *self);
void nw_design_card_set_picture(NwDesignCard *self, GdkPaintable *picture);

G_END_DECLS

#endif
