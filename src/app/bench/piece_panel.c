#include "app/bench/piece_panel.h"

#include <glib/gi18n.h>

#include "app/bench/piece_row.h"
#include "app/common/config.h"
#include "design/bodies.h"
#include "session/piece_actions.h"
#include "session/piece_marks.h"
#include "session/selection_actions.h"
#include "text/congruent_words.h"
#include "text/part_words.h"

/* Milliseconds of rest after a change before the places of all pieces are looked for. */
enum { FITS_DELAY = 250 };

struct _NwPiecePanel {
    GtkWidget parent;
    NwViewState *view_state;
    NwDocument *document; /* of the view state */
    gboolean updating;
    guint64 fitting;    /* bit p: piece p goes into the outside shape, as far as is known */
    guint fits_timeout; /* 0: none */
    size_t fits_pieces; /* for how many pieces that was found */
    GSimpleActionGroup *actions;

    GtkWidget *content;
    GtkListBox *list;
    GtkLabel *rest, *overlap, *same;
    GtkWidget *same_box, *one_colour, *tips_switch;
};

G_DEFINE_FINAL_TYPE(NwPiecePanel, nw_piece_panel, GTK_TYPE_WIDGET)

/* ---- showing ------------------------------------------------------------------------------- */

static NwPieceRow *row_at(NwPiecePanel *self, int piece) {
    GtkListBoxRow *row = piece < 0 ? NULL : gtk_list_box_get_row_at_index(self->list, piece);
    return row ? NW_PIECE_ROW(row) : NULL;
}

/* One row for each piece, kept as long as there is a piece with its number. */
static void match_rows(NwPiecePanel *self, int pieces) {
    int rows = 0;
    while (row_at(self, rows))
        rows++;
    for (; rows > pieces; rows--)
        gtk_list_box_remove(self->list, GTK_WIDGET(row_at(self, rows - 1)));
    for (; rows < pieces; rows++)
        gtk_list_box_append(self->list, nw_piece_row_new(self->view_state, rows));
}

static void update_rows(NwPiecePanel *self) {
    for (int p = 0; row_at(self, p); p++)
        nw_piece_row_update(row_at(self, p), self->fitting >> p & 1);
}

static void replace(NwSolid **solid, NwSolid *by) {
    nw_solid_free(*solid);
    *solid = by;
}

/* The parts that more than one body has. */
static NwSolid *overlap_of(const NwDesign *design) {
    NwSolid *once = nw_solid_new(), *twice = nw_solid_new();
    NwBodies bodies;
    if (nw_bodies_of(design, &bodies) == NW_OK)
        for (size_t b = 0; b < bodies.count; b++) {
            NwSolid *again = nw_solid_intersection(once, bodies.solids[b]);
            replace(&twice, nw_solid_union(twice, again));
            replace(&once, nw_solid_union(once, bodies.solids[b]));
            nw_solid_free(again);
        }
    nw_bodies_clear(&bodies);
    nw_solid_free(once);
    return twice;
}

static void update_overlap(NwPiecePanel *self, const NwDesign *design) {
    NwSolid *overlap = overlap_of(design);
    char *volume = nw_volume_words(nw_solid_volume6(overlap));
    char *words = g_strdup_printf(_("Pieces overlap in %s"), volume);
    gtk_label_set_text(self->overlap, words);
    gtk_widget_set_visible(GTK_WIDGET(self->overlap), overlap->count > 0);
    g_free(words);
    g_free(volume);
    nw_solid_free(overlap);
}

static void update_rest(NwPiecePanel *self, const NwDesign *design) {
    NwSolid *rest = nw_design_rest(design);
    NwSolid *must = nw_solid_difference(rest, design->may_be_empty);
    char *volume = nw_volume_words(nw_solid_volume6(must));
    char *words = must->count == 0 ? g_strdup(_("Every part is used"))
                                   : g_strdup_printf(_("Unused: %s"), volume);
    gtk_label_set_text(self->rest, words);
    update_overlap(self, design);
    g_free(words);
    g_free(volume);
    nw_solid_free(must);
    nw_solid_free(rest);
}

static void set_enabled(NwPiecePanel *self, const char *name, gboolean enabled) {
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(self->actions), name);
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), enabled);
}

static void update_actions(NwPiecePanel *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    int piece = nw_document_get_piece(self->document);
    int last = design ? (int)design->piece_count - 1 : -1;
    gboolean chosen = piece >= 0 && piece <= last;
    static const char *const on_piece[] = {"duplicate", "mirror", "spread",
                                           "delete",    "rename", "select"};
    set_enabled(self, "new", design != NULL);
    set_enabled(self, "split-rest", design != NULL);
    for (size_t i = 0; i < G_N_ELEMENTS(on_piece); i++)
        set_enabled(self, on_piece[i], chosen);
    set_enabled(self, "up", chosen && piece > 0);
    set_enabled(self, "down", chosen && piece < last);
}

static void choose_row(NwPiecePanel *self) {
    self->updating = TRUE;
    NwPieceRow *row = row_at(self, nw_document_get_piece(self->document));
    gtk_list_box_select_row(self->list, row ? GTK_LIST_BOX_ROW(row) : NULL);
    self->updating = FALSE;
}

/* Pieces of the same shape are told of, with a button that makes them copies. */
static void update_same(NwPiecePanel *self, const NwDesign *design) {
    char *words = design ? nw_congruent_words(design) : NULL;
    gtk_label_set_text(self->same, words ? words : "");
    gtk_widget_set_visible(self->same_box, words != NULL);
    g_free(words);
}

static gboolean find_fits(gpointer data) {
    NwPiecePanel *self = data;
    const NwDesign *design = nw_document_get_design(self->document);
    gboolean known;
    self->fits_timeout = 0;
    if (design) {
        self->fitting = nw_pieces_that_fit(design, &known);
        update_rows(self);
        update_same(self, design);
    }
    return G_SOURCE_REMOVE;
}

static void on_design(NwPiecePanel *self) {
    const NwDesign *design = nw_document_get_design(self->document);
    size_t pieces = design ? design->piece_count : 0;
    /* Until it is looked for again, nothing bad is said of pieces that may be others now. */
    if (pieces != self->fits_pieces) {
        self->fitting = ~UINT64_C(0);
        update_same(self, NULL);
    }
    self->fits_pieces = pieces;
    g_clear_handle_id(&self->fits_timeout, g_source_remove);
    self->fits_timeout = g_timeout_add(FITS_DELAY, find_fits, self);
    self->updating = TRUE;
    match_rows(self, (int)pieces);
    self->updating = FALSE;
    update_rows(self);
    choose_row(self);
    if (design)
        update_rest(self, design);
    update_actions(self);
}

static void on_piece(NwPiecePanel *self) {
    choose_row(self);
    update_actions(self);
}

/* ---- what the maker does ------------------------------------------------------------------- */

/* Who chooses a piece means to give to it. */
static void on_row_selected(NwPiecePanel *self, GtkListBoxRow *row) {
    if (self->updating || !row)
        return;
    nw_document_set_piece(self->document, nw_piece_row_get_piece(NW_PIECE_ROW(row)));
    nw_document_take_brush(self->document);
}

/* Also by a press on the row that is chosen already. */
static void on_row_activated(NwPiecePanel *self) {
    nw_document_take_brush(self->document);
}

static void act_new(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                    gpointer data) {
    NwPiecePanel *self = data;
    nw_command_new_piece(self->document);
    nw_document_take_brush(self->document);
}

static void act_split_rest(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                           gpointer data) {
    NwPiecePanel *self = data;
    nw_command_split_rest(self->document);
}

static void act_merge(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                      gpointer data) {
    NwPiecePanel *self = data;
    nw_command_merge_congruent(self->document);
}

/* The actions on the chosen piece, by name. */
static void act_on_piece(GSimpleAction *action, GVariant *unused G_GNUC_UNUSED, gpointer data) {
    NwPiecePanel *self = data;
    const char *name = g_action_get_name(G_ACTION(action));
    int piece = nw_document_get_piece(self->document);
    static const struct {
        const char *name;
        gboolean (*act)(NwDocument *document, int piece);
    } acts[] = {
        {"duplicate", nw_command_duplicate},
        {"mirror", nw_command_mirror},
        {"spread", nw_command_spread},
        {"delete", nw_command_delete},
    };
    for (size_t i = 0; i < G_N_ELEMENTS(acts); i++)
        if (g_str_equal(name, acts[i].name))
            acts[i].act(self->document, piece);
}

static void act_select(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                       gpointer data) {
    NwPiecePanel *self = data;
    nw_selection_set_piece(self->document, nw_document_get_piece(self->document));
}

static void act_rename(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                       gpointer data) {
    NwPiecePanel *self = data;
    NwPieceRow *row = row_at(self, nw_document_get_piece(self->document));
    if (row)
        nw_piece_row_rename(row);
}

/* The row goes with the piece, and so does the keyboard. */
static void move(NwPiecePanel *self, int by) {
    int piece = nw_document_get_piece(self->document);
    if (nw_command_reorder(self->document, piece, piece + by))
        gtk_widget_grab_focus(GTK_WIDGET(row_at(self, piece + by)));
}

static void act_up(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                   gpointer data) {
    move(data, -1);
}

static void act_down(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                     gpointer data) {
    move(data, 1);
}

static void add_actions(NwPiecePanel *self) {
    static const GActionEntry entries[] = {
        {.name = "new", .activate = act_new},
        {.name = "split-rest", .activate = act_split_rest},
        {.name = "merge", .activate = act_merge},
        {.name = "duplicate", .activate = act_on_piece},
        {.name = "mirror", .activate = act_on_piece},
        {.name = "spread", .activate = act_on_piece},
        {.name = "delete", .activate = act_on_piece},
        {.name = "select", .activate = act_select},
        {.name = "rename", .activate = act_rename},
        {.name = "up", .activate = act_up},
        {.name = "down", .activate = act_down},
    };
    self->actions = g_simple_action_group_new();
    g_action_map_add_action_entries(G_ACTION_MAP(self->actions), entries, G_N_ELEMENTS(entries),
                                    self);
    gtk_widget_insert_action_group(GTK_WIDGET(self), "pieces", G_ACTION_GROUP(self->actions));
}

/* ---- the object ---------------------------------------------------------------------------- */

static void bind(NwViewState *view_state, const char *property, GtkWidget *widget) {
    g_object_bind_property(view_state, property, widget, "active",
                           G_BINDING_BIDIRECTIONAL | G_BINDING_SYNC_CREATE);
}

void nw_piece_panel_set_view_state(NwPiecePanel *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    self->document = nw_view_state_get_document(view_state);
    g_object_connect(self->document, /* */
                     "swapped-object-signal::notify::design", on_design, self,
                     "swapped-object-signal::notify::piece", on_piece, self,
                     "swapped-object-signal::notify::shown", update_rows, self,
                     "swapped-object-signal::notify::locked", update_rows, self, NULL);
    g_signal_connect_object(view_state, "notify::tips", G_CALLBACK(update_rows), self,
                            G_CONNECT_SWAPPED);
    bind(view_state, "one-colour", self->one_colour);
    bind(view_state, "tips", self->tips_switch);
    on_design(self);
}

static void nw_piece_panel_dispose(GObject *object) {
    NwPiecePanel *self = NW_PIECE_PANEL(object);
    self->updating = TRUE;
    g_clear_handle_id(&self->fits_timeout, g_source_remove);
    gtk_widget_dispose_template(GTK_WIDGET(self), NW_TYPE_PIECE_PANEL);
    g_clear_object(&self->actions);
    g_clear_object(&self->view_state);
    G_OBJECT_CLASS(nw_piece_panel_parent_class)->dispose(object);
}

static void nw_piece_panel_class_init(NwPiecePanelClass *class) {
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_piece_panel_dispose;
    gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_template_from_resource(widget, NW_RESOURCES "/ui/piece_panel.ui");
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, content);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, list);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, rest);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, overlap);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, same);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, same_box);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, one_colour);
    gtk_widget_class_bind_template_child(widget, NwPiecePanel, tips_switch);
    gtk_widget_class_bind_template_callback(widget, on_row_selected);
    gtk_widget_class_bind_template_callback(widget, on_row_activated);
}

static void nw_piece_panel_init(NwPiecePanel *self) {
    self->fitting = ~UINT64_C(0);
    gtk_widget_init_template(GTK_WIDGET(self));
    add_actions(self);
}
