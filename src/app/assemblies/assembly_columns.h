/* The columns of the list of assemblies: their heads, their words and their orders. */
#ifndef NW_APP_ASSEMBLIES_ASSEMBLY_COLUMNS_H
#define NW_APP_ASSEMBLIES_ASSEMBLY_COLUMNS_H

#include <gtk/gtk.h>

#include "session/assembly_item.h"

G_BEGIN_DECLS

typedef enum NwAssemblyColumn {
    NW_COLUMN_STATE,
    NW_COLUMN_LEVEL,
    NW_COLUMN_SLIDES,
    NW_COLUMN_FIRST_OUT,
    NW_COLUMN_LAST_OUT,
    NW_COLUMN_DIFFERENCE,
    NW_COLUMN_NUMBER,
    NW_COLUMN_COUNT
} NwAssemblyColumn;

/* Asked for the design that names the pieces whenever a row is drawn; borrowed, NULL for none. */
typedef const NwDesign *NwColumnsDesign(gpointer owner);

/* Appends them all to the view. */
void nw_assembly_columns_add(GtkColumnView *view, NwColumnsDesign *get_design, gpointer owner);

/* Sorts anew if the view is sorted by numbers, which are others now. */
void nw_assembly_columns_renumber(GtkColumnView *view);

/* Where there is little room, so many columns go that are told elsewhere too: what comes out last
 * by the strip of slides, what differs by the sentence below the list, what comes out first by the
 * strip again, and the slides by the levels. */
enum { NW_COLUMNS_TO_SPARE = 4 };
void nw_assembly_columns_spare(GtkColumnView *view, guint count);

/* The row that a widget of the view belongs to, or NULL; for finding what was clicked. */
GtkListItem *nw_assembly_columns_row_of(GtkWidget *picked);

/* The word of a state for the design of the list: "intended", "cook", … */
const char *nw_assembly_columns_word(NwAssemblyItem *item);

G_END_DECLS

#endif
