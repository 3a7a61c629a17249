/* The menu of what can be done with the selection, and the actions that it calls.
 *
 * The menu lists each symmetry of the outside shape in words and the pieces by name, so it is made
 * anew each time it is opened. Actions are those of the group "selection". Thread: the main one. */
#ifndef NW_APP_BENCH_SELECTION_MENU_H
#define NW_APP_BENCH_SELECTION_MENU_H

#include <gio/gio.h>

#include "session/document.h"

/* The group keeps a reference to the document. The caller unrefs. */
GSimpleActionGroup *nw_selection_actions_new(NwDocument *document);

/* Which actions make sense just now. */
void nw_selection_actions_update(GSimpleActionGroup *actions, NwDocument *document);

/* The menu for the document as it is; the caller unrefs. */
GMenuModel *nw_selection_menu_new(NwDocument *document);

#endif
