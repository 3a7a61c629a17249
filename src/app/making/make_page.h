/* The page where a design becomes something to hold: at the left what can be made, at the right the
 * options of the one that is chosen, what to know before its tools are used, and a button that
 * asks where to write it. What is made, with which options and cautions, stands in the rows of
 * export/product.h; the page knows no product.
 *
 * A product in work goes on while the page is left; what came of it waits there. It is of the
 * design as it was when it was begun. Thread: the main one. */
#ifndef NW_APP_MAKING_MAKE_PAGE_H
#define NW_APP_MAKING_MAKE_PAGE_H

#include <gtk/gtk.h>

#include "session/view_state.h"

G_BEGIN_DECLS

#define NW_TYPE_MAKE_PAGE (nw_make_page_get_type())
G_DECLARE_FINAL_TYPE(NwMakePage, nw_make_page, NW, MAKE_PAGE, GtkWidget)

NwMakePage *nw_make_page_new(NwViewState *view_state);

/* To be called when the page is shown: looks at the design anew, and takes the focus. Escape
 * activates the action "win.back". */
void nw_make_page_enter(NwMakePage *self);

G_END_DECLS

#endif
