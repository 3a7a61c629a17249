/* What a row of the list of assemblies is to the maker, and the orders of that list.
 *
 * A state is shown as a word and a shape (state_mark.h), never by colour alone. The usual order is
 * the intended assembly, then cooks and what else opens, then undecided, then unreachable ones;
 * within each by key, so it is that of their numbers (text/words.h). Comparators take
 * NwAssemblyItem and suit GtkCustomSorter; what a finding does not have (a level, say) comes last.
 * Thread: any. */
#ifndef NW_SESSION_ASSEMBLY_STATE_H
#define NW_SESSION_ASSEMBLY_STATE_H

#include "session/assembly_item.h"

G_BEGIN_DECLS

typedef enum NwAssemblyState {
    NW_STATE_INTENDED,
    NW_STATE_COOK,  /* opens, beside the intended one */
    NW_STATE_OPENS, /* opens, in a design without an intended assembly */
    NW_STATE_UNDECIDED,
    NW_STATE_UNREACHABLE,
    NW_STATE_COUNT
} NwAssemblyState;

NwAssemblyState nw_assembly_item_get_state(NwAssemblyItem *self);

/* The bodies of the first set that comes free, and of the last; 0 if none does. */
guint32 nw_assembly_item_get_first_out(NwAssemblyItem *self);
guint32 nw_assembly_item_get_last_out(NwAssemblyItem *self);

/* The piece of the first body that comes free; -1 if none does. */
int nw_assembly_item_get_leading_piece(NwAssemblyItem *self);

int nw_compare_usual(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_levels(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_slides(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_first_out(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_last_out(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_difference(gconstpointer a, gconstpointer b, gpointer unused);
int nw_compare_number(gconstpointer a, gconstpointer b, gpointer unused);

G_END_DECLS

#endif
