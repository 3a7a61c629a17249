/* One slide of the strip: its number, the chips of the pieces that travel, an arrow for where to,
 * and how far. Its name to a screen reader is the slide as a sentence. A press on it goes to the
 * position after that slide. */
#ifndef NW_APP_ASSEMBLIES_SLIDE_CARD_H
#define NW_APP_ASSEMBLIES_SLIDE_CARD_H

#include <gtk/gtk.h>

#include "assembly/found_assembly.h"

/* A toggle button for slide `index` (from 0); everything is borrowed for the call. */
GtkWidget *nw_slide_card_new(const NwDesign *design, const NwFoundAssembly *finding, int index);

#endif
