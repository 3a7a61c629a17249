/* What the window knows, without the window: each property of the view state and of the document is
 * told of by itself and once, the same value is told of never, and whoever is told of one thing
 * finds all others as they are then. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "bench/instances.h"
#include "design/edit_piece.h"
#include "plain/random_design.h"
#include "session/view_state.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

static NwLibrary *library;
static NwDocument *document;
static NwSearchSession *session;
static NwViewState *view;
static NwAssemblyItem *items[2]; /* of three slides */
static NwProposalItem *proposal;
static GPtrArray *told; /* names of properties, of the view state and of the document */

static void on_notify(GObject *object G_GNUC_UNUSED, GParamSpec *spec,
                      gpointer data G_GNUC_UNUSED) {
    g_ptr_array_add(told, (gpointer)g_param_spec_get_name(spec));
}

static int compare_names(gconstpointer a, gconstpointer b) {
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* These were told of since it was last asked, once each: names by the alphabet, blanks between. */
static void assert_told(const char *names) {
    g_ptr_array_sort(told, compare_names);
    g_ptr_array_add(told, NULL);
    g_autofree char *found = g_strjoinv(" ", (char **)told->pdata);
    ck_assert_str_eq(found, names);
    g_ptr_array_set_size(told, 0);
}

static NwAssemblyItem *item_new(guint order) {
    NwAssembly assembly = {.key = order, .count = 1};
    NwFoundAssembly *found = nw_found_assembly_new(&assembly);
    found->slides = calloc(3, sizeof *found->slides);
    found->slide_count = 3;
    return nw_assembly_item_new_take(found, order, 1, 0);
}

static void set_up(void) {
    store_folder_make();
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, NULL);
    ck_assert_ptr_nonnull(library);
    NwDesign *soma = nw_instance_build(nw_instance_find("soma"));
    document = nw_document_new(library);
    session = nw_search_session_new(document);
    view = nw_view_state_new(document, session);
    ck_assert(nw_document_create(document, soma, NULL));
    nw_design_free(soma);
    for (guint i = 0; i < 2; i++)
        items[i] = item_new(i + 1);
    proposal = g_object_new(NW_TYPE_PROPOSAL_ITEM, NULL);
    told = g_ptr_array_new();
    g_signal_connect(view, "notify", G_CALLBACK(on_notify), told);
    g_signal_connect(document, "notify", G_CALLBACK(on_notify), told);
}

static void tear_down(void) {
    g_signal_handlers_disconnect_by_data(view, told);
    g_signal_handlers_disconnect_by_data(document, told);
    g_object_unref(view);
    g_object_run_dispose(G_OBJECT(session));
    g_object_unref(session);
    g_object_unref(document);
    for (guint i = 0; i < 2; i++)
        g_object_unref(items[i]);
    g_object_unref(proposal);
    g_ptr_array_unref(told);
    nw_library_close(library);
    store_folder_remove();
}

static NwPart some_part(gsize cell, int bit) {
    const NwSolid *envelope = nw_document_get_design(document)->envelope;
    return (NwPart){nw_cell_at(&envelope->cells[cell % envelope->count]), bit};
}

/* ---- one by one -------------------------------------------------------------------------- */

static void set_item(int value) {
    nw_view_state_set_item(view, value ? items[value - 1] : NULL);
}

static void set_beside(int value) {
    nw_view_state_set_beside(view, value ? items[value - 1] : NULL);
}

static void set_proposal(int value) {
    nw_view_state_set_proposal(view, value ? proposal : NULL, (gsize)value);
}

static void set_stops(int value) {
    NwStoppingPart stops[2] = {{0, some_part(0, 0)}, {0, some_part(1, 2)}};
    nw_view_state_set_stops(view, stops, (gsize)value);
}

static void set_position(int value) {
    nw_view_state_set_position(view, value);
}

static void set_look(int value) {
    nw_view_state_set_look(view, (NwLook)value);
}

static void set_explode(int value) {
    nw_view_state_set_explode(view, value / 2.0);
}

static void set_one_colour(int value) {
    nw_view_state_set_one_colour(view, value);
}

static void set_parallel(int value) {
    nw_view_state_set_parallel(view, value);
}

static void set_tips(int value) {
    nw_view_state_set_tips(view, value);
}

static void set_obstacles(int value) {
    nw_view_state_set_obstacles(view, value);
}

static void set_cut(int value) {
    nw_view_state_set_cut(view, value - 1, value);
}

static void set_board_axis(int value) {
    nw_view_state_set_board_axis(view, (value + 2) % 3);
}

static void set_hover(int value) {
    NwPart part = some_part(0, value);
    nw_view_state_set_hover(view, value ? &part : NULL);
}

static void set_piece(int value) {
    nw_document_set_piece(document, value);
}

static void set_selection(int value) {
    NwSolid *solid = nw_solid_new();
    NwPart part = some_part(0, 0);
    nw_solid_add(solid, part.cell, value);
    nw_document_take_selection(document, solid);
}

static void set_touch(int value) {
    nw_document_set_touch(document, (NwTouch)((NW_TOUCH_LOOK + value) % (NW_TOUCH_LOOK + 1)));
}

static void set_brush(int value) {
    nw_document_set_brush(document, (NwBrush)value);
}

static void set_hidden(int value) {
    nw_document_set_flag(document, 1, NW_PIECE_HIDDEN, value);
}

static void set_solo(int value) {
    nw_document_set_solo(document, value - 1);
}

static void set_locked(int value) {
    nw_document_set_flag(document, 1, NW_PIECE_LOCKED, value);
}

/* Every setter, and how many values it can tell apart: 0 is what is set at first. */
static const struct {
    const char *name;
    void (*set)(int value);
    int values;
} setters[] = {
    {"item", set_item, 3},
    {"beside", set_beside, 3},
    {"proposal", set_proposal, 3},
    {"stops", set_stops, 3},
    {"look", set_look, 3},
    {"explode", set_explode, 3},
    {"one-colour", set_one_colour, 2},
    {"parallel", set_parallel, 2},
    {"tips", set_tips, 2},
    {"obstacles", set_obstacles, 2},
    {"cut", set_cut, 4},
    {"board-axis", set_board_axis, 3},
    {"hover", set_hover, 5},
    {"piece", set_piece, 3},
    {"selection", set_selection, 3},
    {"touch", set_touch, 5},
    {"brush", set_brush, 4},
    {"shown", set_hidden, 2},
    {"shown", set_solo, 3},
    {"locked", set_locked, 2},
};

START_TEST(each_is_told_of_by_itself_and_once) {
    nw_document_set_touch(document, NW_TOUCH_LOOK);
    g_ptr_array_set_size(told, 0);
    for (int value = 1; value <= setters[_i].values; value++) {
        int taken = value % setters[_i].values; /* in the end as at first */
        setters[_i].set(taken);
        assert_told(setters[_i].name);
        setters[_i].set(taken);
        assert_told("");
    }
}
END_TEST

START_TEST(the_position_is_told_of_by_itself) {
    set_item(1);
    assert_told("item");
    for (int value = 3; value >= 0; value--) {
        set_position(value);
        assert_told("position");
        set_position(value);
        assert_told("");
    }
    set_position(-1);
    assert_told("");
}
END_TEST

/* The toolkit's own way in: bindings, actions and settings use it. */
START_TEST(properties_can_be_set_by_name) {
    static const char *const flags[] = {"one-colour", "parallel", "tips", "obstacles"};
    g_autofree GParamSpec **specs = NULL;
    for (gsize i = 0; i < G_N_ELEMENTS(flags); i++)
        for (int again = 0; again < 2; again++) {
            gboolean on;
            g_object_set(view, flags[i], TRUE, NULL);
            g_object_get(view, flags[i], &on, NULL);
            ck_assert(on);
            assert_told(again ? "" : flags[i]);
        }
    g_object_set(view, "look", NW_LOOK_LINES, "explode", 0.25, "board-axis", 0, "item", items[0],
                 NULL);
    assert_told("board-axis explode item look");
    ck_assert(nw_view_state_get_look(view) == NW_LOOK_LINES);
    ck_assert(nw_view_state_get_item(view) == items[0]);
    g_object_set(view, "beside", items[1], "position", 2.5, NULL);
    assert_told("beside position");
    ck_assert_double_eq(nw_view_state_get_position(view), 2.5);
    g_object_set(document, "piece", 2, "brush", NW_BRUSH_FILL, "touch", NW_TOUCH_TAKE, NULL);
    assert_told("brush piece touch");
    ck_assert_int_eq(nw_document_get_piece(document), 2);
    guint count;
    specs = g_object_class_list_properties(G_OBJECT_GET_CLASS(view), &count);
    for (guint i = 0; i < count; i++) {
        GValue value = G_VALUE_INIT;
        g_object_get_property(G_OBJECT(view), specs[i]->name, &value);
        if (specs[i]->flags & G_PARAM_WRITABLE) {
            ck_assert(specs[i]->flags & G_PARAM_EXPLICIT_NOTIFY);
            g_object_set_property(G_OBJECT(view), specs[i]->name, &value);
        }
        g_value_unset(&value);
    }
    assert_told("");
}
END_TEST

/* ---- what follows from what -------------------------------------------------------------- */

/* An assembly is shown, with another beside it, on its way out and with parts that are lit. */
static void show_all(void) {
    set_item(1);
    set_beside(2);
    set_position(2);
    set_stops(2);
    set_hover(3);
    g_ptr_array_set_size(told, 0);
}

START_TEST(what_follows_is_told_of_once) {
    show_all();
    set_position(3);
    assert_told("position stops");
    set_stops(1);
    g_ptr_array_set_size(told, 0);
    set_item(2);
    assert_told("item position stops");
    set_proposal(1);
    assert_told("beside item proposal");
    set_item(1);
    assert_told("item proposal");
    set_beside(2);
    set_item(0);
    assert_told("beside beside item");
}
END_TEST

static void assert_consistent(void) {
    gsize kill, stops;
    NwPart part;
    const NwDesign *design = nw_document_get_design(document);
    NwAssemblyItem *item = nw_view_state_get_item(view);
    ck_assert(!item || !nw_view_state_get_proposal(view, &kill));
    ck_assert_double_le(nw_view_state_get_position(view), nw_view_state_get_slides(view));
    if (!item)
        ck_assert(!nw_view_state_is_lone(view) && nw_view_state_get_position(view) == 0);
    nw_view_state_get_stops(view, &stops);
    ck_assert_int_lt(nw_document_get_piece(document), (int)design->piece_count);
    if (nw_view_state_get_hover(view, &part))
        ck_assert_int_lt(part.bit, NW_PARTS);
}

static void assert_let_go(void) {
    gsize kill, stops;
    assert_consistent();
    ck_assert_ptr_null(nw_view_state_get_item(view));
    ck_assert_ptr_null(nw_view_state_get_beside(view));
    ck_assert_ptr_null(nw_view_state_get_proposal(view, &kill));
    nw_view_state_get_stops(view, &stops);
    ck_assert_uint_eq(stops, 0);
    ck_assert_double_eq(nw_view_state_get_position(view), 0);
}

static NwStatus delete_last(NwDesign *design, gpointer data G_GNUC_UNUSED) {
    NwEdit edit = {.design = design};
    if (design->piece_count < 2)
        return NW_EMPTY;
    return nw_edit_delete(&edit, (int)design->piece_count - 1);
}

/* Whoever works on versions finds nothing of the old one, even if it listened before the view
 * state did. */
START_TEST(a_version_finds_nothing_of_the_old_one) {
    g_autoptr(NwDocument) other = nw_document_new(library);
    NwDocument *kept = document;
    NwViewState *kept_view = view;
    document = other;
    g_signal_connect(other, "notify::version", G_CALLBACK(assert_let_go), NULL);
    g_autoptr(NwSearchSession) other_session = nw_search_session_new(other);
    g_signal_connect(other_session, "changed", G_CALLBACK(assert_let_go), NULL);
    g_autoptr(NwViewState) late = nw_view_state_new(other, other_session);
    view = late;
    ck_assert(nw_document_open(other, nw_document_get_design(kept)->name, NULL));
    for (int i = 0; i < 4; i++) {
        show_all();
        if (i == 1)
            set_proposal(1);
        ck_assert(i % 2 ? nw_document_undo(other)
                        : nw_document_apply(other, "delete", delete_last, NULL));
        assert_let_go();
    }
    g_object_run_dispose(G_OBJECT(other_session));
    document = kept;
    view = kept_view;
}
END_TEST

/* All that can be set, set at random: whoever is told of anything finds all in order. */
START_TEST(whoever_is_told_finds_all_in_order) {
    NwRandom random = {(uint64_t)_i + 1};
    g_signal_connect(view, "notify", G_CALLBACK(assert_consistent), &random);
    g_signal_connect(document, "notify", G_CALLBACK(assert_consistent), &random);
    for (int step = 0; step < 300; step++) {
        int which = nw_random_below(&random, G_N_ELEMENTS(setters) + 3);
        if (which < (int)G_N_ELEMENTS(setters))
            setters[which].set(nw_random_below(&random, setters[which].values));
        else if (which == G_N_ELEMENTS(setters))
            set_position(nw_random_below(&random, 5) - 1);
        else if (which == G_N_ELEMENTS(setters) + 1)
            nw_document_apply(document, "delete", delete_last, NULL);
        else
            nw_document_undo(document);
    }
    ck_assert_uint_gt(told->len, 100);
    g_signal_handlers_disconnect_by_data(view, &random);
    g_signal_handlers_disconnect_by_data(document, &random);
}
END_TEST

/* ---- strokes ----------------------------------------------------------------------------- */

START_TEST(a_touch_is_no_version) {
    NwSolid *parts = nw_solid_new();
    NwPart part = some_part(0, 0);
    nw_solid_add(parts, part.cell, 1 << part.bit);
    nw_document_begin_stroke(document, NW_TOUCH_TAKE);
    assert_told("");
    nw_document_touch(document, parts);
    assert_told("design");
    nw_document_touch(document, parts);
    assert_told("");
    nw_document_cancel_stroke(document);
    assert_told("design");
    nw_document_begin_stroke(document, NW_TOUCH_TAKE);
    nw_document_touch(document, parts);
    assert_told("design");
    nw_document_end_stroke(document);
    assert_told("design version");
    nw_document_begin_stroke(document, NW_TOUCH_SELECT);
    nw_document_touch(document, parts);
    assert_told("selection");
    nw_document_end_stroke(document);
    assert_told("");
    nw_solid_free(parts);
}
END_TEST

/* A design that cannot be read leaves the one on the bench as it is, down to its number: what is
 * painted next must not be saved as a version of the other. */
START_TEST(a_design_that_cannot_be_read_changes_nothing) {
    NwDesign *second = store_sample("second", 1);
    gint64 design = nw_document_get_design_id(document), other;
    gint64 version = nw_document_get_version(document);
    ck_assert(nw_library_add_design(library, second, NULL, &other, NULL, NULL));
    ck_assert(nw_library_run(library, "UPDATE version SET envelope = x'07' WHERE id > 1", NULL));
    set_piece(3);
    set_selection(1);
    g_ptr_array_set_size(told, 0);
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_document_open(document, "second", &error));
    ck_assert_ptr_nonnull(error);
    assert_told("");
    ck_assert_int_eq(nw_document_get_design_id(document), design);
    ck_assert_int_eq(nw_document_get_version(document), version);
    ck_assert_int_eq(nw_document_get_piece(document), 3);
    ck_assert_uint_eq(nw_document_get_selection(document)->count, 1);
    nw_design_free(second);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("view state");
    TCase *tests = tcase_create("properties");
    tcase_set_timeout(tests, 60);
    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_loop_test(tests, each_is_told_of_by_itself_and_once, 0, G_N_ELEMENTS(setters));
    tcase_add_test(tests, the_position_is_told_of_by_itself);
    tcase_add_test(tests, properties_can_be_set_by_name);
    tcase_add_test(tests, what_follows_is_told_of_once);
    tcase_add_test(tests, a_version_finds_nothing_of_the_old_one);
    tcase_add_loop_test(tests, whoever_is_told_finds_all_in_order, 0, 8);
    tcase_add_test(tests, a_touch_is_no_version);
    tcase_add_test(tests, a_design_that_cannot_be_read_changes_nothing);
    suite_add_tcase(suite, tests);
    return run_suite(suite);
}
