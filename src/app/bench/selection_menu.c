#include "app/bench/selection_menu.h"

#include <glib/gi18n.h>

#include "design/symmetry_name.h"
#include "session/selection_actions.h"
#include "text/symmetry_words.h"

/* ---- actions ------------------------------------------------------------------------------- */

static void act_give(GSimpleAction *action G_GNUC_UNUSED, GVariant *unused G_GNUC_UNUSED,
                     gpointer data) {
    nw_command_give_selection(data, nw_document_get_piece(data));
}

static void act_trade(GSimpleAction *action G_GNUC_UNUSED, GVariant *other, gpointer data) {
    nw_command_trade(data, nw_document_get_piece(data), g_variant_get_int32(other));
}

static gboolean is_kept(GSimpleActionGroup *actions) {
    GVariant *kept = g_action_group_get_action_state(G_ACTION_GROUP(actions), "keep");
    gboolean keeps = g_variant_get_boolean(kept);
    g_variant_unref(kept);
    return keeps;
}

static void act_carry(GSimpleAction *action, GVariant *which, gpointer data) {
    NwMotion symmetries[NW_TURNS];
    const NwDesign *design = nw_document_get_design(data);
    int index = g_variant_get_int32(which);
    gboolean keep = is_kept(g_object_get_data(G_OBJECT(action), "group"));
    if (design && index >= 0 && index < nw_design_symmetries(design, true, symmetries))
        nw_selection_carry(data, symmetries[index], keep);
}

static void take(NwDocument *document) {
    nw_command_take_selection(document);
}

static void new_piece(NwDocument *document) {
    nw_command_new_piece_of_selection(document);
}

static void may_be_empty(NwDocument *document) {
    nw_command_set_may_be_empty(document, TRUE);
}

static void must_be_filled(NwDocument *document) {
    nw_command_set_may_be_empty(document, FALSE);
}

static void select_piece(NwDocument *document) {
    nw_selection_set_piece(document, nw_document_get_piece(document));
}

/* Actions without a parameter. */
static const struct {
    const char *name;
    void (*act)(NwDocument *document);
    gboolean needs_selection, needs_piece;
} plain_acts[] = {
    {"take", take, TRUE, FALSE},
    {"new-piece", new_piece, TRUE, FALSE},
    {"may-be-empty", may_be_empty, TRUE, FALSE},
    {"must-be-filled", must_be_filled, TRUE, FALSE},
    {"clear", nw_selection_clear, TRUE, FALSE},
    {"make-symmetric", nw_selection_make_symmetric, TRUE, FALSE},
    {"piece", select_piece, FALSE, TRUE},
    {"rest", nw_selection_set_rest, FALSE, FALSE},
    {"others", nw_selection_set_others, FALSE, FALSE},
};

static void act_plain(GSimpleAction *action, GVariant *unused G_GNUC_UNUSED, gpointer data) {
    for (size_t i = 0; i < G_N_ELEMENTS(plain_acts); i++)
        if (g_str_equal(g_action_get_name(G_ACTION(action)), plain_acts[i].name))
            plain_acts[i].act(data);
}

GSimpleActionGroup *nw_selection_actions_new(NwDocument *document) {
    static const GActionEntry with_parameter[] = {
        {.name = "give", .activate = act_give},
        {.name = "trade", .activate = act_trade, .parameter_type = "i"},
        {.name = "carry", .activate = act_carry, .parameter_type = "i"},
        {.name = "keep", .state = "false"},
    };
    GSimpleActionGroup *actions = g_simple_action_group_new();
    g_object_set_data_full(G_OBJECT(actions), "document", g_object_ref(document), g_object_unref);
    g_action_map_add_action_entries(G_ACTION_MAP(actions), with_parameter,
                                    G_N_ELEMENTS(with_parameter), document);
    g_object_set_data(G_OBJECT(g_action_map_lookup_action(G_ACTION_MAP(actions), "carry")), "group",
                      actions);
    for (size_t i = 0; i < G_N_ELEMENTS(plain_acts); i++) {
        GActionEntry entry = {.name = plain_acts[i].name, .activate = act_plain};
        g_action_map_add_action_entries(G_ACTION_MAP(actions), &entry, 1, document);
    }
    return actions;
}

static void enable(GSimpleActionGroup *actions, const char *name, gboolean enabled) {
    GAction *action = g_action_map_lookup_action(G_ACTION_MAP(actions), name);
    g_simple_action_set_enabled(G_SIMPLE_ACTION(action), enabled);
}

void nw_selection_actions_update(GSimpleActionGroup *actions, NwDocument *document) {
    gboolean design = nw_document_get_design(document) != NULL;
    gboolean some = design && nw_document_get_selection(document)->count > 0;
    gboolean piece = design && nw_document_get_piece(document) >= 0;
    enable(actions, "give", some && piece);
    enable(actions, "trade", some && piece);
    enable(actions, "carry", some);
    for (size_t i = 0; i < G_N_ELEMENTS(plain_acts); i++)
        enable(actions, plain_acts[i].name,
               design && (some || !plain_acts[i].needs_selection) &&
                   (piece || !plain_acts[i].needs_piece));
}

/* ---- the menu ------------------------------------------------------------------------------ */

static void add_section(GMenu *menu, const char *title, GMenu *section) {
    g_menu_append_section(menu, title, G_MENU_MODEL(section));
    g_object_unref(section);
}

static void add_submenu(GMenu *menu, const char *title, GMenu *submenu) {
    g_menu_append_submenu(menu, title, G_MENU_MODEL(submenu));
    g_object_unref(submenu);
}

static void append_indexed(GMenu *menu, const char *label, const char *action, int index) {
    GMenuItem *item = g_menu_item_new(label, NULL);
    g_menu_item_set_action_and_target(item, action, "i", index);
    g_menu_append_item(menu, item);
    g_object_unref(item);
}

/* The submenus of symmetries: kinds that go together. */
typedef enum Family { HALF, THIRD, QUARTER, MIRROR, TURN_MIRROR, FAMILIES } Family;

static Family family_of(NwSymmetryName name) {
    switch (name.kind) {
    case NW_SYMMETRY_TURN:
        return name.order == 2 ? HALF : name.order == 3 ? THIRD : QUARTER;
    case NW_SYMMETRY_MIRROR:
    case NW_SYMMETRY_POINT:
        return MIRROR;
    default:
        return TURN_MIRROR;
    }
}

/* The symmetries but the identity, by what they are; a family that has none is left out. */
static GMenu *symmetries_menu(const NwDesign *design) {
    static const char *const titles[FAMILIES] = {N_("180° Turn"), N_("120° Turn"), N_("90° Turn"),
                                                 N_("Mirror"), N_("Turn and Mirror")};
    NwMotion symmetries[NW_TURNS];
    int count = nw_design_symmetries(design, true, symmetries);
    GMenu *menu = g_menu_new(), *families[FAMILIES];
    for (int f = 0; f < FAMILIES; f++)
        families[f] = g_menu_new();
    for (int i = 1; i < count; i++) {
        char *words = nw_symmetry_words(symmetries[i].turn);
        append_indexed(families[family_of(nw_symmetry_name(symmetries[i].turn))], words,
                       "selection.carry", i);
        g_free(words);
    }
    for (int f = 0; f < FAMILIES; f++)
        if (g_menu_model_get_n_items(G_MENU_MODEL(families[f])) > 0)
            add_submenu(menu, _(titles[f]), families[f]);
        else
            g_object_unref(families[f]);
    return menu;
}

static GMenu *trade_menu(const NwDesign *design, int chosen) {
    GMenu *menu = g_menu_new();
    for (int p = 0; p < (int)design->piece_count; p++) {
        if (p == chosen)
            continue;
        char *label = g_strdup_printf(_("Piece %s"), design->pieces[p].name);
        append_indexed(menu, label, "selection.trade", p);
        g_free(label);
    }
    return menu;
}

static GMenu *pieces_section(const NwDesign *design, int chosen) {
    GMenu *section = g_menu_new();
    if (chosen >= 0) {
        const char *name = design->pieces[chosen].name;
        char *label = g_strdup_printf(_("Give to Piece %s"), name);
        g_menu_append(section, label, "selection.give");
        g_free(label);
        add_submenu(section, _("Swap with Piece…"), trade_menu(design, chosen));
    }
    g_menu_append(section, _("Remove from Its Pieces"), "selection.take");
    g_menu_append(section, _("New Piece from Selection"), "selection.new-piece");
    return section;
}

static GMenu *images_section(const NwDesign *design) {
    GMenu *section = g_menu_new();
    add_submenu(section, _("Turn or Mirror"), symmetries_menu(design));
    g_menu_append(section, _("Keep the Original Too"), "selection.keep");
    g_menu_append(section, _("Add All Symmetric Copies"), "selection.make-symmetric");
    return section;
}

static GMenu *empty_section(void) {
    GMenu *section = g_menu_new();
    g_menu_append(section, _("Allow Selection to Stay Empty"), "selection.may-be-empty");
    g_menu_append(section, _("Require Selection to Be Filled"), "selection.must-be-filled");
    return section;
}

static GMenu *select_section(void) {
    GMenu *section = g_menu_new();
    g_menu_append(section, _("Select the Whole Piece"), "selection.piece");
    g_menu_append(section, _("Select Unused Parts"), "selection.rest");
    g_menu_append(section, _("Invert Selection"), "selection.others");
    g_menu_append(section, _("Clear"), "selection.clear");
    return section;
}

/* About one part, so it is there only when just one is selected. */
static GMenu *part_section(void) {
    GMenu *section = g_menu_new();
    g_menu_append(section, _("What Does This Part Do?"), "win.explain");
    return section;
}

GMenuModel *nw_selection_menu_new(NwDocument *document) {
    const NwDesign *design = nw_document_get_design(document);
    GMenu *menu = g_menu_new();
    if (!design)
        return G_MENU_MODEL(menu);
    add_section(menu, NULL, pieces_section(design, nw_document_get_piece(document)));
    add_section(menu, NULL, images_section(design));
    add_section(menu, NULL, empty_section());
    add_section(menu, NULL, select_section());
    if (nw_solid_parts(nw_document_get_selection(document)) == 1)
        add_section(menu, NULL, part_section());
    return G_MENU_MODEL(menu);
}
