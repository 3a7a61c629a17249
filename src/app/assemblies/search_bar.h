/* The search at a glance: one button, how far it is, what it has found, how long it will take, and
 * a bar when the design is another by now. Watches a search. */
#ifndef NW_APP_ASSEMBLIES_SEARCH_BAR_H
#define NW_APP_ASSEMBLIES_SEARCH_BAR_H

#include <gtk/gtk.h>

#include "session/search_session.h"

G_BEGIN_DECLS

#define NW_TYPE_SEARCH_BAR (nw_search_bar_get_type())
G_DECLARE_FINAL_TYPE(NwSearchBar, nw_search_bar, NW, SEARCH_BAR, GtkWidget)

void nw_search_bar_set_session(NwSearchBar *self, NwSearchSession *session);

G_END_DECLS

#endif
