/* The page of all designs: those of the store as cards, those that come with the program, and a
 * card to begin a new one. Pictures are made one by one when nothing else is to do, and kept.
 *
 * Removing a design can be taken back until the bar that says so goes: after some seconds, with
 * the next removal, or when the page is left. Only then is it removed from the store.
 *
 * Signals:
 *   "open-design" (name)
 *   "open-bundled" (NwDesign, borrowed)
 *   "new-design"
 *   "removed" (design id, gint64)   the store no longer has that design
 * What cannot be done is told by the document's "trouble". Thread: the main one. */
#ifndef NW_APP_START_START_PAGE_H
#define NW_APP_START_START_PAGE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_START_PAGE (nw_start_page_get_type())
G_DECLARE_FINAL_TYPE(NwStartPage, nw_start_page, NW, START_PAGE, GtkWidget)

void nw_start_page_set_view_state(NwStartPage *self, NwViewState *view_state);

/* Lists the store anew. To be called when the page is shown. */
void nw_start_page_refresh(NwStartPage *self);

G_END_DECLS

#endif
