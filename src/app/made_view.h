/* What came of making: which files are written and where, with a button that opens their folder;
 * remarks and cautions; or the one sentence why nothing is written. Hidden until there is
 * something to show; its Close button hides it again.
 *
 * Signals:
 *   "closed"  the maker has read it
 * Thread: the main one. */
#ifndef NW_APP_MADE_VIEW_H
#define NW_APP_MADE_VIEW_H

#include <gtk/gtk.h>

#include "product/made.h"

G_BEGIN_DECLS

#define NW_TYPE_MADE_VIEW (nw_made_view_get_type())
G_DECLARE_FINAL_TYPE(NwMadeView, nw_made_view, NW, MADE_VIEW, GtkWidget)

/* `known` are cautions that stand elsewhere and are not said again. All is copied. */
void nw_made_view_show_made(NwMadeView *self, const NwMade *made, GPtrArray *known);
void nw_made_view_show_failure(NwMadeView *self, const char *message);
void nw_made_view_show_stopped(NwMadeView *self);
void nw_made_view_hide(NwMadeView *self);

G_END_DECLS

#endif
