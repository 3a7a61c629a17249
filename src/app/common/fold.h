/* The bench on a screen of any size. Its three panes stand side by side where there is room; where
 * there is less, one of the two at the sides beside the one in the middle; where there is little,
 * one at a time. Then a bar above has a button for each that can be gone to.
 *
 * The child is a paned of boxes that each hold one pane; the fold hides and shows the boxes, and
 * keeps a third of the bench for the view, whatever the dividers say. Its least width is that of
 * the widest single pane. Thread: the main one. */
#ifndef NW_APP_COMMON_FOLD_H
#define NW_APP_COMMON_FOLD_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum NwFoldPane {
    NW_FOLD_PIECES,
    NW_FOLD_VIEW,
    NW_FOLD_ASSEMBLIES,
    NW_FOLD_PANES
} NwFoldPane;

#define NW_TYPE_FOLD (nw_fold_get_type())
G_DECLARE_FINAL_TYPE(NwFold, nw_fold, NW, FOLD, GtkWidget)

/* Says which are the panes, each the only child of its box, and the widget in the middle that is to
 * keep a third. None is owned. To be called once. */
void nw_fold_set_panes(NwFold *self, GtkWidget *const panes[NW_FOLD_PANES], GtkWidget *view);

/* Whether a pane is out of sight. */
gboolean nw_fold_is_folded(NwFold *self);

/* Brings a pane into sight, if it is folded away. */
void nw_fold_go_to(NwFold *self, NwFoldPane pane);

G_END_DECLS

#endif
