/* What window.c, window_actions.c and window_gone.c share. */
#ifndef NW_APP_WINDOW_PRIVATE_H
#define NW_APP_WINDOW_PRIVATE_H

#include "app/assemblies/assembly_panel.h"
#include "app/bench/apart_line.h"
#include "app/bench/board_panel.h"
#include "app/blocking/block_panel.h"
#include "app/common/fold.h"
#ifdef NW_MAKING
#include "app/making/make_page.h"
#endif
#include "app/assemblies/obstacle_table.h"
#include "app/assemblies/slide_strip.h"
#include "app/bench/piece_panel.h"
#include "app/bench/viewport.h"
#include "app/start/start_page.h"
#include "app/window.h"
#include "session/store_watch.h"

struct _NwWindow {
    GtkApplicationWindow parent;
    GSettings *settings;
    NwDocument *document;
    NwSearchSession *session;
    NwViewState *view_state;

    GtkLabel *title, *subtitle;
    GtkWidget *start_button, *edit_buttons, *undo_button, *redo_button;
    GtkWidget *make_button, *back_button;
    GtkInfoBar *notice;
    GtkLabel *notice_label;
    GtkInfoBar *gone_bar; /* the design was removed elsewhere */
    GtkLabel *gone_label;
    GtkWindow *asking; /* what becomes of it, while that is asked; borrowed */
    NwStoreWatch *watch;
    GtkStack *pages;
    NwFold *fold; /* the bench: the panes below */
    GtkPaned *left_paned, *right_paned, *middle_paned;
    NwStartPage *start_page;
#ifdef NW_MAKING
    NwMakePage *make_page;
#endif
    NwPiecePanel *piece_panel;
    GtkStack *below; /* of the view in space */
    NwBoardPanel *board_panel;
    NwObstacleTable *obstacles;
    NwViewport *viewport;
    NwApartLine *apart_line;
    NwSlideStrip *slide_strip;
    GtkStack *side;
    NwAssemblyPanel *assembly_panel;
    NwBlockPanel *block_panel;
    GtkFileChooserNative *chooser; /* while one is open */
};

/* Adds the actions of window_actions.c; brings their states up to date. */
void nw_window_add_actions(NwWindow *self);
void nw_window_update_actions(NwWindow *self);

/* Size, dividers and whether it is maximized: as they were in the last run; kept for the next. */
void nw_window_restore_place(NwWindow *self);
void nw_window_keep_place(NwWindow *self);

void nw_window_show_start(NwWindow *self);
void nw_window_show_bench(NwWindow *self);
#ifdef NW_MAKING
void nw_window_show_make(NwWindow *self);
void nw_window_leave_make(NwWindow *self);
#endif

/* Whether that page is shown. */
gboolean nw_window_shows(NwWindow *self, const char *page);

/* Adds a copy of a design to the store, under another name if its own is taken, and opens it; asks
 * first where that drops the only copy of another, or does so at once. */
void nw_window_add_design(NwWindow *self, const NwDesign *design);
void nw_window_add_now(NwWindow *self, const NwDesign *design);

/* Tells when the design on the bench is removed from the store by somebody else. */
void nw_window_watch_store(NwWindow *self);

void nw_window_update_titles(NwWindow *self);

/* Shows a sentence in the bar at the top until it is closed or another takes its place. */
void nw_window_notice(NwWindow *self, const char *sentence);

/* The same for an error, which is freed. */
void nw_window_take_error(NwWindow *self, GError *error);

#endif
