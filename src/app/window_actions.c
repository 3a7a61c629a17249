#include <glib/gi18n.h>

#include "app/assemblies/explain_dialog.h"
#include "app/difficulty/difficulty_dialog.h"
#include "app/start/envelope_dialog.h"
#include "app/start/versions_dialog.h"
#include "app/window_private.h"
#include "design/frame.h"
#include "format/design_json.h"
#include "session/assembly_state.h"
#include "session/search_import.h"

typedef void Act(NwWindow *self);

/* ---- files ------------------------------------------------------------------------------- */

static void on_chosen(NwWindow *self, int response, GtkFileChooserNative *chooser) {
    GFile *file = response == GTK_RESPONSE_ACCEPT
                      ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(chooser))
                      : NULL;
    char *path = file ? g_file_get_path(file) : NULL;
    gboolean save =
        gtk_file_chooser_get_action(GTK_FILE_CHOOSER(chooser)) == GTK_FILE_CHOOSER_ACTION_SAVE;
    const char *kind = g_object_get_data(G_OBJECT(chooser), "kind");
    GError *error = NULL;
    if (path && !save)
        nw_window_open_file(self, path);
    else if (path && g_strcmp0(kind, "picture") == 0)
        nw_viewport_save_picture(self->viewport, path, &error);
    else if (path)
        nw_design_save(nw_document_get_design(self->document), path, &error);
    if (error)
        nw_window_take_error(self, error);
    g_free(path);
    g_clear_object(&file);
    g_clear_object(&self->chooser);
}

static void choose(NwWindow *self, const char *title, GtkFileChooserAction action,
                   const char *suggestion, const char *kind) {
    g_clear_object(&self->chooser);
    self->chooser = gtk_file_chooser_native_new(title, GTK_WINDOW(self), action, NULL, NULL);
    if (suggestion)
        gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(self->chooser), suggestion);
    g_object_set_data(G_OBJECT(self->chooser), "kind", (gpointer)kind);
    g_signal_connect_swapped(self->chooser, "response", G_CALLBACK(on_chosen), self);
    gtk_native_dialog_show(GTK_NATIVE_DIALOG(self->chooser));
}

static void open_file(NwWindow *self) {
    choose(self, _("Open a design"), GTK_FILE_CHOOSER_ACTION_OPEN, NULL, "design");
}

static char *dup_file_name(NwWindow *self, const char *ending) {
    char *name = g_strconcat(nw_document_get_design(self->document)->name, ending, NULL);
    g_strdelimit(name, "/", '-');
    return name;
}

static void export_file(NwWindow *self) {
    char *name = dup_file_name(self, ".notch.json");
    choose(self, _("Save a copy of the design"), GTK_FILE_CHOOSER_ACTION_SAVE, name, "design");
    g_free(name);
}

static void save_picture(NwWindow *self) {
    char *name = dup_file_name(self, ".png");
    choose(self, _("Save a picture"), GTK_FILE_CHOOSER_ACTION_SAVE, name, "picture");
    g_free(name);
}

static void copy_picture(NwWindow *self) {
    GError *error = NULL;
    if (!nw_viewport_copy_picture(self->viewport, &error))
        nw_window_take_error(self, error);
}

static void reset_view(NwWindow *self) {
    nw_viewport_reset(self->viewport);
}

/* ---- the design -------------------------------------------------------------------------- */

static void on_design_made(NwWindow *self, NwDesign *design) {
    nw_window_add_design(self, design);
}

static void new_design(NwWindow *self) {
    GtkWidget *dialog = nw_envelope_dialog_new(GTK_WINDOW(self), NULL);
    nw_envelope_dialog_set_library(NW_ENVELOPE_DIALOG(dialog),
                                   nw_document_get_library(self->document));
    g_signal_connect_swapped(dialog, "design-made", G_CALLBACK(on_design_made), self);
    gtk_window_present(GTK_WINDOW(dialog));
}

static void change_envelope(NwWindow *self) {
    GtkWidget *dialog = nw_envelope_dialog_new(GTK_WINDOW(self), self->view_state);
    gtk_window_present(GTK_WINDOW(dialog));
}

static void versions(NwWindow *self) {
    gtk_window_present(GTK_WINDOW(nw_versions_dialog_new(GTK_WINDOW(self), self->view_state)));
}

static void difficulty(NwWindow *self) {
    gtk_window_present(GTK_WINDOW(nw_difficulty_dialog_new(GTK_WINDOW(self), self->view_state)));
}

static void undo(NwWindow *self) {
    nw_document_undo(self->document);
}

static void redo(NwWindow *self) {
    nw_document_redo(self->document);
}

/* Only to look, or back to painting. */
static void look_or_paint(NwWindow *self) {
    gboolean looking = nw_document_get_touch(self->document) == NW_TOUCH_LOOK;
    nw_document_set_touch(self->document, looking ? NW_TOUCH_GIVE : NW_TOUCH_LOOK);
}

/* ---- searching --------------------------------------------------------------------------- */

static void search(NwWindow *self) {
    GError *error = NULL;
    nw_fold_go_to(self->fold, NW_FOLD_ASSEMBLIES);
    if (!nw_search_session_toggle(self->session, &error))
        nw_window_take_error(self, error);
}

static void search_anew(NwWindow *self) {
    GError *error = NULL;
    if (!nw_search_session_start_anew(self->session, &error))
        nw_window_take_error(self, error);
}

static void take_apart(NwWindow *self) {
    nw_apart_line_press(self->apart_line);
}

static void sketch(NwWindow *self) {
    nw_view_state_set_item(self->view_state, NULL);
}

static NwStatus adopt(NwDesign *design, gpointer data) {
    const NwFoundAssembly *finding = data;
    return nw_design_adopt(design, finding->placements, (size_t)finding->placement_count);
}

/* The list as it will be when that one is intended: the same assemblies of pieces that are drawn
 * elsewhere. Empty while the search is not complete. */
static NwFounds founds_from(NwWindow *self, const NwFoundAssembly *finding) {
    NwFounds founds = nw_search_session_founds(self->session);
    NwDesign *redrawn = nw_design_copy(nw_document_get_design(self->document));
    nw_design_set_intended(redrawn, finding->placements, (size_t)finding->placement_count);
    nw_founds_redraw(&founds, redrawn);
    nw_design_free(redrawn);
    return founds;
}

/* Whether the assembly shown is one of the design as it was. */
static gboolean is_stale(NwWindow *self) {
    return nw_search_session_get_state(self->session) == NW_SEARCH_SESSION_STALE &&
           !nw_view_state_is_lone(self->view_state);
}

static gboolean shows_intended(NwWindow *self) {
    NwAssemblyItem *item = nw_view_state_get_item(self->view_state);
    return item && nw_assembly_item_get(item)->intended;
}

static gboolean can_be_intended(NwWindow *self) {
    return nw_view_state_get_item(self->view_state) && !shows_intended(self) && !is_stale(self);
}

static void make_intended(NwWindow *self) {
    if (!can_be_intended(self))
        return;
    NwAssemblyItem *item = g_object_ref(nw_view_state_get_item(self->view_state));
    NwFounds founds = founds_from(self, nw_assembly_item_get(item));
    if (nw_document_apply(self->document, _("Make intended"), adopt,
                          (gpointer)nw_assembly_item_get(item)))
        nw_search_session_adopt(self->session, &founds);
    nw_founds_clear(&founds);
    g_object_unref(item);
}

/* Beside itself the intended one would say nothing. */
static gboolean can_be_beside(NwWindow *self) {
    return nw_view_state_get_item(self->view_state) && !shows_intended(self) &&
           nw_assembly_panel_get_intended(self->assembly_panel);
}

static void beside(NwWindow *self) {
    if (nw_view_state_get_beside(self->view_state))
        nw_view_state_set_beside(self->view_state, NULL);
    else if (can_be_beside(self))
        nw_view_state_set_beside(self->view_state,
                                 nw_assembly_panel_get_intended(self->assembly_panel));
}

/* ---- from panel to panel ----------------------------------------------------------------- */

/* The panes would do it by themselves, but they remember a list of choices that has closed since,
 * and put the focus there, from where no key leads out. */
static void go_to_panel(NwWindow *self, int step) {
    GtkWidget *const panels[] = {GTK_WIDGET(self->piece_panel), GTK_WIDGET(self->viewport),
                                 GTK_WIDGET(self->slide_strip), GTK_WIDGET(self->board_panel),
                                 GTK_WIDGET(self->obstacles),   GTK_WIDGET(self->assembly_panel)};
    static const NwFoldPane panes[] = {NW_FOLD_PIECES, NW_FOLD_VIEW, NW_FOLD_VIEW,
                                       NW_FOLD_VIEW,   NW_FOLD_VIEW, NW_FOLD_ASSEMBLIES};
    const int count = G_N_ELEMENTS(panels);
    GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(self));
    int at = step > 0 ? count - 1 : 0;
    for (int i = 0; i < count; i++)
        if (focus && (focus == panels[i] || gtk_widget_is_ancestor(focus, panels[i])))
            at = i;
    for (int i = 1; i < count; i++) {
        int next = (at + i * step + i * count) % count;
        GtkWidget *panel = panels[next];
        nw_fold_go_to(self->fold, panes[next]);
        if (gtk_widget_get_mapped(panel) &&
            (gtk_widget_grab_focus(panel) || gtk_widget_child_focus(panel, GTK_DIR_TAB_FORWARD)))
            break;
    }
    gtk_window_set_focus_visible(GTK_WINDOW(self), TRUE);
}

static void next_panel(NwWindow *self) {
    go_to_panel(self, 1);
}

static void panel_before(NwWindow *self) {
    go_to_panel(self, -1);
}

/* ---- cooks and parts --------------------------------------------------------------------- */

/* The cook on the view state, if it is one of the design as it is now. Borrowed, or NULL. */
static NwAssemblyItem *current_cook(NwWindow *self) {
    NwAssemblyItem *item = nw_view_state_get_item(self->view_state);
    gboolean stale = nw_search_session_get_state(self->session) == NW_SEARCH_SESSION_STALE;
    return item && !stale && nw_assembly_item_get_state(item) == NW_STATE_COOK ? item : NULL;
}

static void block(NwWindow *self) {
    NwAssemblyItem *cook = current_cook(self);
    if (!cook)
        return;
    nw_fold_go_to(self->fold, NW_FOLD_ASSEMBLIES);
    gtk_stack_set_visible_child_name(self->side, "block");
    nw_block_panel_ask(self->block_panel, cook);
}

/* The part pointed at, or the only one selected. */
static gboolean get_one_part(NwWindow *self, NwPart *part) {
    const NwSolid *selection = nw_document_get_selection(self->document);
    if (nw_view_state_get_hover(self->view_state, part))
        return TRUE;
    if (nw_solid_parts(selection) != 1)
        return FALSE;
    part->cell = nw_cell_at(&selection->cells[0]);
    part->bit = g_bit_nth_lsf(selection->cells[0].mask, -1);
    return TRUE;
}

static void explain(NwWindow *self) {
    NwPart part;
    if (!nw_document_get_design(self->document)->intended_count)
        nw_window_notice(self, _("What a part does is told against the intended assembly, and this "
                                 "design has none yet. Make one the intended one first."));
    else if (!get_one_part(self, &part))
        nw_window_notice(self, _("Point at a part in the sketch or the layers and press Ctrl+J, or "
                                 "select one part first."));
    else
        gtk_window_present(
            GTK_WINDOW(nw_explain_dialog_new(GTK_WINDOW(self), self->view_state, part)));
}

/* ---- the tables -------------------------------------------------------------------------- */

typedef enum Needs { NEEDS_NOTHING, NEEDS_DESIGN, NEEDS_ASSEMBLY, NEEDS_MAKING } Needs;

static const struct {
    const char *name;
    Act *act;
    Needs needs;
} acts[] = {
    {"new-design", new_design, NEEDS_NOTHING},
    {"open-file", open_file, NEEDS_NOTHING},
    {"show-start", nw_window_show_start, NEEDS_NOTHING},
    {"export-file", export_file, NEEDS_DESIGN},
    {"save-picture", save_picture, NEEDS_DESIGN},
    {"copy-picture", copy_picture, NEEDS_DESIGN},
    {"reset-view", reset_view, NEEDS_DESIGN},
    {"change-envelope", change_envelope, NEEDS_DESIGN},
    {"versions", versions, NEEDS_DESIGN},
    {"difficulty", difficulty, NEEDS_DESIGN},
#ifdef NW_MAKING
    {"make", nw_window_show_make, NEEDS_DESIGN},
    {"back", nw_window_leave_make, NEEDS_MAKING},
#endif
    {"undo", undo, NEEDS_DESIGN},
    {"redo", redo, NEEDS_DESIGN},
    {"look-or-paint", look_or_paint, NEEDS_DESIGN},
    {"search", search, NEEDS_DESIGN},
    {"search-anew", search_anew, NEEDS_DESIGN},
    {"take-apart", take_apart, NEEDS_DESIGN},
    {"sketch", sketch, NEEDS_ASSEMBLY},
    {"make-intended", make_intended, NEEDS_ASSEMBLY},
    {"beside", beside, NEEDS_ASSEMBLY},
    {"block", block, NEEDS_ASSEMBLY},
    {"explain", explain, NEEDS_DESIGN},
    {"next-panel", next_panel, NEEDS_DESIGN},
    {"panel-before", panel_before, NEEDS_DESIGN},
};

static void on_act(GSimpleAction *action, GVariant *parameter, gpointer data) {
    (void)parameter;
    for (gsize i = 0; i < G_N_ELEMENTS(acts); i++)
        if (g_strcmp0(acts[i].name, g_action_get_name(G_ACTION(action))) == 0)
            acts[i].act(data);
}

static void on_diagonals(GSimpleAction *action, GVariant *value, gpointer data) {
    NwWindow *self = data;
    nw_search_session_set_diagonals(self->session, g_variant_get_boolean(value));
    g_simple_action_set_state(action, value);
}

static void add(NwWindow *self, GSimpleAction *action, const char *signal, GCallback callback) {
    g_signal_connect(action, signal, callback, self);
    g_action_map_add_action(G_ACTION_MAP(self), G_ACTION(action));
    g_object_unref(action);
}

/* What the view state keeps needs no more than its name; win.look is a choice, the rest switches.
 */
static void add_properties(NwWindow *self) {
    static const char *const names[] = {"look", "parallel", "one-colour", "tips", "obstacles"};
    for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
        GPropertyAction *action = g_property_action_new(names[i], self->view_state, names[i]);
        g_action_map_add_action(G_ACTION_MAP(self), G_ACTION(action));
        g_object_unref(action);
    }
}

void nw_window_add_actions(NwWindow *self) {
    for (gsize i = 0; i < G_N_ELEMENTS(acts); i++)
        add(self, g_simple_action_new(acts[i].name, NULL), "activate", G_CALLBACK(on_act));
    add(self, g_simple_action_new_stateful("diagonals", NULL, g_variant_new_boolean(FALSE)),
        "change-state", G_CALLBACK(on_diagonals));
    add_properties(self);
    nw_window_update_actions(self);
}

static void enable(NwWindow *self, const char *name, gboolean enabled) {
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self), name);
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), enabled);
}

static void update_undo_button(GtkWidget *button, char *what, const char *nothing) {
    gtk_widget_set_tooltip_text(button, what ? what : nothing);
    g_free(what);
}

void nw_window_update_actions(NwWindow *self) {
    gboolean bench = nw_window_shows(self, "bench");
    gboolean design = bench && nw_document_get_design(self->document);
    gboolean assembly = design && nw_view_state_get_item(self->view_state);
    const gboolean given[] = {[NEEDS_NOTHING] = TRUE,
                              [NEEDS_DESIGN] = design,
                              [NEEDS_ASSEMBLY] = assembly,
                              [NEEDS_MAKING] = nw_window_shows(self, "make")};
    for (gsize i = 0; i < G_N_ELEMENTS(acts); i++)
        enable(self, acts[i].name, given[acts[i].needs]);
    enable(self, "make-intended", assembly && can_be_intended(self));
    enable(self, "beside", assembly && can_be_beside(self));
    enable(self, "block", assembly && current_cook(self));
    char *to_undo = design ? nw_document_dup_undo(self->document) : NULL;
    char *to_redo = design ? nw_document_dup_redo(self->document) : NULL;
    enable(self, "undo", to_undo != NULL);
    enable(self, "redo", to_redo != NULL);
    update_undo_button(self->undo_button, to_undo ? g_strdup_printf(_("Undo: %s"), to_undo) : NULL,
                       _("Nothing to undo"));
    update_undo_button(self->redo_button, to_redo ? g_strdup_printf(_("Redo: %s"), to_redo) : NULL,
                       _("Nothing to redo"));
    g_free(to_undo);
    g_free(to_redo);
}
