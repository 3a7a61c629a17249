/* The list of assemblies: filtered, sorted, and one of them chosen.
 *
 *     findings -> filter -> sort -> one chosen -> columns
 *
 * It holds 100,000 rows that arrive at 20,000 a second without keeping the window waiting
 * (tests/bench/stream.c measures it): the findings come in splices, filter and sort are
 * incremental with comparators in C. A chosen row stays chosen wherever new rows push it, also
 * when a filter hides it for a while.
 *
 * Signals:
 *   "chosen"     the maker chose a row (nw_finding_list_get_chosen)
 *   "activated"  and pressed Enter on it, or clicked it twice
 *   "tally"      the counts of nw_finding_list_get_count or of what is shown are others
 *   "menu"       (x, y) the maker asks for the menu of the chosen row, there in the list
 * Thread: the main one. */
#ifndef NW_APP_FINDING_LIST_H
#define NW_APP_FINDING_LIST_H

#include <gtk/gtk.h>

#include "app/finding_state.h"

G_BEGIN_DECLS

#define NW_TYPE_FINDING_LIST (nw_finding_list_get_type())
G_DECLARE_FINAL_TYPE(NwFindingList, nw_finding_list, NW, FINDING_LIST, GtkWidget)

/* NwFindingItem; a reference is taken. */
void nw_finding_list_set_findings(NwFindingList *self, GListModel *findings);

/* The design that names the pieces; borrowed, and looked at whenever a row is drawn anew. */
void nw_finding_list_set_design(NwFindingList *self, const NwDesign *design);
const NwDesign *nw_finding_list_get_design(NwFindingList *self);

/* Borrowed; NULL for none. Choosing does not emit "chosen"; what the list does not have is kept
 * in mind, and chosen if it comes. */
NwFindingItem *nw_finding_list_get_chosen(NwFindingList *self);
void nw_finding_list_choose(NwFindingList *self, NwFindingItem *item);

/* The intended assembly among the findings, or NULL; borrowed. */
NwFindingItem *nw_finding_list_get_intended(NwFindingList *self);

/* Shows only rows whose state has its bit in `states` (0: any) and that the piece leads (-1: any).
 */
void nw_finding_list_narrow(NwFindingList *self, guint states, int leading_piece);

guint nw_finding_list_get_count(NwFindingList *self, NwFindingState state); /* filter or not */
guint nw_finding_list_get_shown(NwFindingList *self);

/* Sorts by a column, as a click on its head does; -1: the usual order. */
void nw_finding_list_sort(NwFindingList *self, int column, GtkSortType direction);

/* The numbers of the rows are others now. */
void nw_finding_list_renumber(NwFindingList *self);

G_END_DECLS

#endif
