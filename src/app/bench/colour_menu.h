/* The button that shows a piece's chip and opens a choice of colours: those of the palette, the
 * usual one of its place in the list, or any other.
 *
 * Signals:
 *   "chosen"  (colour) the maker chose "#rrggbb", or "" for the usual colour
 * Thread: the main one. */
#ifndef NW_APP_BENCH_COLOUR_MENU_H
#define NW_APP_BENCH_COLOUR_MENU_H

#include <gtk/gtk.h>

#include "design/design.h"

G_BEGIN_DECLS

#define NW_TYPE_COLOUR_MENU (nw_colour_menu_get_type())
G_DECLARE_FINAL_TYPE(NwColourMenu, nw_colour_menu, NW, COLOUR_MENU, GtkWidget)

/* Shows a piece as the design has it; nothing is borrowed. */
void nw_colour_menu_update(NwColourMenu *self, const NwDesign *design, int piece);

G_END_DECLS

#endif
