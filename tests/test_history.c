/* Undo and redo, named versions, pruning, and the step from stores of version 1. The argument is
 * the folder of the fixtures. store-1.notch there was made by the program as it was at version 1 of
 * the schema: "Old" with versions 1 <- 2 <- (4, 5) and 1 <- 3 "Renamed" with a note, 4 current, a
 * run of version 2 with one assembly; and "Other", version 6. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "design/edit_piece.h"
#include "design/frame.h"
#include "sketch.h"
#include "store/history.h"
#include "store/schema.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

static const char *fixtures;
static NwLibrary *library;

static void open_store(void) {
    g_autoptr(GError) error = NULL;
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "no error");
}

static void reopen(void) {
    nw_library_close(library);
    open_store();
}

static void set_up(void) {
    store_folder_make();
    open_store();
}

static void tear_down(void) {
    nw_library_close(library);
    store_folder_remove();
}

static void assert_error(GError **error, NwLibraryError code) {
    ck_assert_ptr_nonnull(*error);
    ck_assert_msg(g_error_matches(*error, NW_LIBRARY_ERROR, (int)code), "%s", (*error)->message);
    ck_assert_ptr_nonnull(strchr((*error)->message, ';')); /* what is wrong; what to do */
    g_clear_error(error);
}

static gint64 ask(const char *sql) {
    gint64 answer = -1;
    ck_assert(nw_library_ask(library, sql, nw_null(), -1, &answer, NULL));
    return answer;
}

/* What current_version.h promises, and that nothing points to nowhere. */
static void assert_whole(void) {
    ck_assert_int_eq(ask("SELECT count(*) FROM version AS v WHERE (v.redo IS NULL) <> "
                         "NOT EXISTS (SELECT 1 FROM version AS c WHERE c.parent = v.id)"),
                     0);
    ck_assert_int_eq(ask("SELECT count(*) FROM version AS v JOIN version AS c ON c.id = v.redo "
                         "WHERE c.parent IS NOT v.id OR c.design <> v.design"),
                     0);
    ck_assert_int_eq(ask("WITH RECURSIVE line (id, parent) AS ("
                         " SELECT v.id, v.parent FROM design AS d JOIN version AS v"
                         " ON v.id = d.current"
                         " UNION SELECT v.id, v.parent FROM line JOIN version AS v"
                         " ON v.id = line.parent) "
                         "SELECT count(*) FROM line JOIN version AS p ON p.id = line.parent "
                         "WHERE p.redo <> line.id"),
                     0);
    ck_assert_int_eq(ask("SELECT count(*) FROM pragma_foreign_key_check"), 0);
}

static gint64 add(const NwDesign *design) {
    g_autoptr(GError) error = NULL;
    gint64 id;
    ck_assert_msg(nw_library_add_design(library, design, NULL, &id, NULL, &error), "%s",
                  error ? error->message : "");
    return id;
}

static gint64 save(gint64 id, const NwDesign *design, const char *action) {
    g_autoptr(GError) error = NULL;
    gint64 version = 0;
    ck_assert_msg(nw_library_save_edit(library, id, design, action, &version, &error), "%s",
                  error ? error->message : "");
    return version;
}

static gint64 save_sample(gint64 id, int number) {
    NwDesign *design = store_sample("S", number);
    gint64 version = save(id, design, NULL);
    nw_design_free(design);
    return version;
}

static gint64 undo(gint64 id) {
    gint64 version = 0;
    return nw_library_undo(library, id, &version, NULL) ? version : 0;
}

static gint64 redo(gint64 id) {
    gint64 version = 0;
    return nw_library_redo(library, id, &version, NULL) ? version : 0;
}

static NwDesign *load_current(gint64 id) {
    g_autoptr(NwHistory) history = nw_library_load_history(library, id, NULL);
    ck_assert_ptr_nonnull(history);
    NwDesign *design = nw_library_load_design(library, history->current, NULL);
    ck_assert_ptr_nonnull(design);
    return design;
}

static void assert_current(gint64 id, const NwDesign *wanted) {
    NwDesign *found = load_current(id);
    ck_assert(store_same(found, wanted));
    nw_design_free(found);
}

/* Random sketching, with restarts: undo all is the start, redo all is the end. */
START_TEST(undo_all_and_redo_all) {
    enum { EDITS = 60 };
    int in_all = 0;
    for (uint64_t seed = 1; seed <= 8; seed++) {
        NwRandom random = {seed};
        NwDesign *design = nw_random_design(seed), *states[EDITS + 1];
        int count = 0;
        g_free(design->name);
        design->name = g_strdup_printf("random %d", (int)seed);
        ck_assert_int_eq(nw_design_settle(design), NW_OK);
        gint64 id = add(design);
        states[count++] = nw_design_copy(design);
        NwEdit edit = {.design = design};
        for (int step = 0; step < EDITS; step++) {
            sketch_random_edit(&edit, &random);
            g_autofree char *action = g_strdup_printf("step %d", count);
            save(id, design, action);
            if (!store_same(design, states[count - 1]))
                states[count++] = nw_design_copy(design);
        }
        in_all += count;
        reopen();
        for (int at = count - 1; at > 0; at--) {
            assert_current(id, states[at]);
            g_autoptr(NwHistory) history = nw_library_load_history(library, id, NULL);
            g_autofree char *action = g_strdup_printf("step %d", at);
            ck_assert_str_eq(history->undo_action, action);
            ck_assert_int_eq(undo(id), history->undo);
            if (at % 7 == 0)
                reopen();
        }
        assert_current(id, states[0]);
        g_autoptr(GError) error = NULL;
        ck_assert(!nw_library_undo(library, id, NULL, &error));
        assert_error(&error, NW_LIBRARY_ERROR_GONE);
        for (int at = 1; at < count; at++) {
            g_autoptr(NwHistory) history = nw_library_load_history(library, id, NULL);
            g_autofree char *action = g_strdup_printf("step %d", at);
            ck_assert_str_eq(history->redo_action, action);
            ck_assert_int_eq(redo(id), history->redo);
            assert_current(id, states[at]);
            if (at % 7 == 0)
                reopen();
        }
        ck_assert(!nw_library_redo(library, id, NULL, &error));
        assert_error(&error, NW_LIBRARY_ERROR_GONE);
        assert_whole();
        for (int i = 0; i < count; i++)
            nw_design_free(states[i]);
        nw_design_free(design);
    }
    ck_assert_int_gt(in_all, 8 * EDITS / 3);
}
END_TEST

START_TEST(redo_follows_the_last_line) {
    NwDesign *design = store_sample("S", 1);
    gint64 id = add(design), v1 = ask("SELECT current FROM design");
    nw_design_free(design);
    gint64 v2 = save_sample(id, 2), v3 = save_sample(id, 3);
    ck_assert_int_eq(save_sample(id, 3), v3); /* nothing new */
    ck_assert(undo(id) == v2 && undo(id) == v1 && undo(id) == 0);
    ck_assert_int_eq(redo(id), v2);
    ck_assert_int_eq(undo(id), v1);
    gint64 v4 = save_sample(id, 4); /* a new line; the old one is still there */
    ck_assert_int_eq(redo(id), 0);
    ck_assert_int_eq(undo(id), v1);
    ck_assert_int_eq(redo(id), v4);
    /* Going to the end of the old line makes that the way forth, all along it. */
    ck_assert(nw_library_set_current(library, id, v3, NULL));
    ck_assert(undo(id) == v2 && undo(id) == v1);
    reopen();
    ck_assert(redo(id) == v2 && redo(id) == v3 && redo(id) == 0);
    ck_assert(nw_library_set_current(library, id, v1, NULL));
    ck_assert_int_eq(redo(id), v2);
    ck_assert(nw_library_set_current(library, id, v4, NULL));
    ck_assert(undo(id) == v1 && redo(id) == v4);
    assert_whole();
    /* A version added with a parent of its own is on the last line too. */
    NwDesign *other = store_sample("S", 9);
    gint64 v5;
    ck_assert(nw_library_add_version(library, id, v2, other, NULL, &v5, NULL));
    ck_assert(undo(id) == v2 && undo(id) == v1 && redo(id) == v2 && redo(id) == v5);
    assert_whole();
    nw_design_free(other);
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_library_undo(library, 99, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    ck_assert_ptr_null(nw_library_load_history(library, 99, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
}
END_TEST

/* Undo across a change of name fails when the old name has been taken, and nothing has moved. */
START_TEST(undo_respects_names) {
    NwDesign *first = store_sample("First", 1), *second = store_sample("Second", 1);
    gint64 id = add(first);
    gint64 renamed = save(id, second, "rename");
    gint64 thief = add(first);
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_library_undo(library, id, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_TAKEN);
    g_autoptr(NwHistory) history = nw_library_load_history(library, id, NULL);
    ck_assert_int_eq(history->current, renamed);
    ck_assert_str_eq(history->undo_action, "rename");
    ck_assert(nw_library_remove_design(library, thief, NULL));
    ck_assert_int_gt(undo(id), 0);
    assert_current(id, first);
    assert_whole();
    nw_design_free(first);
    nw_design_free(second);
}
END_TEST

START_TEST(versions_by_name) {
    NwDesign *design = store_sample("S", 1);
    gint64 id = add(design), v1 = ask("SELECT current FROM design"), v2 = save_sample(id, 2);
    g_autoptr(GError) error = NULL;
    ck_assert(nw_library_name_version(library, v1, "the good one \xe2\x9c\x93", &error));
    ck_assert(!nw_library_name_version(library, v2, "\xff", &error));
    assert_error(&error, NW_LIBRARY_ERROR_UNFIT);
    ck_assert(!nw_library_name_version(library, 99, "x", &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    reopen();
    g_autoptr(GPtrArray) list = nw_library_list_named(library, id, &error);
    ck_assert_uint_eq(list->len, 1);
    NwVersionEntry *entry = list->pdata[0];
    ck_assert_int_eq(entry->id, v1);
    ck_assert_str_eq(entry->note, "the good one \xe2\x9c\x93");
    ck_assert(nw_library_set_current(library, id, entry->id, &error)); /* going back to it */
    assert_current(id, design);
    ck_assert_int_eq(redo(id), v2);
    ck_assert(nw_library_name_version(library, v1, "", &error));
    g_autoptr(GPtrArray) none = nw_library_list_named(library, id, &error);
    ck_assert_uint_eq(none->len, 0);
    nw_design_free(design);
}
END_TEST

/* Twelve versions in a line; 3 named, 5 searched; a side line 13, 14 from 2, then back to 12. */
START_TEST(pruning_keeps_chains_whole) {
    NwDesign *design = store_sample("S", 1);
    gint64 id = add(design), v[15] = {0, ask("SELECT current FROM design")};
    nw_design_free(design);
    for (int i = 2; i <= 12; i++)
        v[i] = save_sample(id, i);
    gint64 run;
    ck_assert(nw_library_name_version(library, v[3], "kept", NULL));
    ck_assert(nw_library_begin_run(library, v[5], "{}", &run, NULL));
    ck_assert(nw_library_set_current(library, id, v[2], NULL));
    v[13] = save_sample(id, 13);
    v[14] = save_sample(id, 14);
    ck_assert(nw_library_set_current(library, id, v[12], NULL));
    int removed = 0;
    ck_assert(nw_library_prune(library, id, 4, &removed, NULL));
    ck_assert_int_eq(removed, 7); /* of 1 2 4 6 7 8 9 10 11 13 14 stay 10 11 13 14 */
    assert_whole();
    static const int chain[] = {11, 10, 5, 3};
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(undo(id), v[chain[i]]);
    ck_assert_int_eq(undo(id), 0);
    static const int forth[] = {5, 10, 11, 12};
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(redo(id), v[forth[i]]);
    ck_assert(nw_library_set_current(library, id, v[14], NULL));
    ck_assert(undo(id) == v[13] && undo(id) == 0 && redo(id) == v[14]);
    for (int i = 10; i <= 14; i++) { /* what is left is what was drawn */
        NwDesign *wanted = store_sample("S", i);
        NwDesign *found = nw_library_load_design(library, v[i], NULL);
        ck_assert(store_same(found, wanted));
        nw_design_free(found);
        nw_design_free(wanted);
    }
    ck_assert(nw_library_prune(library, id, 0, &removed, NULL));
    ck_assert_int_eq(removed, 4); /* 10 11 12 13 */
    assert_whole();
    ck_assert_int_eq(ask("SELECT count(*) FROM version"), 3); /* 3, 5 and the current one */
    ck_assert(nw_library_prune(library, id, 0, &removed, NULL) && removed == 0);
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_library_prune(library, 99, 0, &removed, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
}
END_TEST

/* Pruning at random leaves every promise in place, and undo never goes to a stranger. */
START_TEST(pruning_at_random) {
    NwRandom random = {3};
    NwDesign *design = store_sample("S", 1);
    gint64 id = add(design);
    nw_design_free(design);
    for (int i = 2; i < 260; i++) {
        switch (nw_random_below(&random, 8)) {
        case 0:
        case 1:
        case 2:
            undo(id);
            break;
        case 3:
            redo(id);
            break;
        case 4:
            if (nw_random_below(&random, 4) == 0)
                ck_assert(nw_library_prune(library, id, nw_random_below(&random, 30), NULL, NULL));
            break;
        default:
            save_sample(id, i);
            break;
        }
        assert_whole();
    }
    ck_assert_int_gt(ask("SELECT count(*) FROM version"), 1);
}
END_TEST

START_TEST(saving_prunes_by_itself) {
    NwDesign *design = nw_design_new("long");
    gint64 id = add(design);
    for (int i = 0; i < NW_HISTORY_KEPT + 20; i++) {
        ck_assert_int_eq(nw_solid_add(design->envelope, nw_vec(i, 0, 0), NW_WHOLE), NW_OK);
        save(id, design, "longer");
    }
    ck_assert_int_eq(ask("SELECT count(*) FROM version"), NW_HISTORY_KEPT + 1);
    int steps = 0;
    while (undo(id))
        steps++;
    ck_assert_int_eq(steps, NW_HISTORY_KEPT);
    assert_whole();
    nw_design_free(design);
}
END_TEST

/* Read-only stores can be asked, not changed. */
START_TEST(reading_only) {
    gint64 id;
    {
        NwDesign *design = store_sample("S", 1);
        id = add(design);
        save_sample(id, 2);
        nw_design_free(design);
    }
    nw_library_close(library);
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_READ_ONLY, NULL);
    ck_assert_ptr_nonnull(library);
    g_autoptr(GError) error = NULL;
    g_autoptr(NwHistory) history = nw_library_load_history(library, id, &error);
    ck_assert(history && history->undo > 0 && history->redo == 0);
    ck_assert(!nw_library_undo(library, id, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
    ck_assert(!nw_library_prune(library, id, 0, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_READ_ONLY);
}
END_TEST

START_TEST(a_store_of_version_1_moves_up) {
    g_autofree char *from = g_build_filename(fixtures, "store-1.notch", NULL);
    g_autofree char *bytes = NULL;
    gsize size;
    ck_assert_msg(g_file_get_contents(from, &bytes, &size, NULL), "%s", from);
    ck_assert_int_eq(bytes[63], 1); /* user_version, big-endian at 60 (SQLite file format, 1.3) */
    nw_library_close(library);
    ck_assert(g_file_set_contents(store_file("old.notch"), bytes, (gssize)size, NULL));
    g_autoptr(GError) error = NULL;
    library = nw_library_open(store_file("old.notch"), NW_LIBRARY_READ_WRITE, &error);
    ck_assert_msg(library != NULL, "%s", error ? error->message : "");
    ck_assert_int_eq(ask("PRAGMA user_version"), nw_schema.count);
    int code;
    ck_assert(nw_schema_matches(library->db, nw_schema, nw_schema.count, &code));
    assert_whole();
    static const char *const names[] = {"Old", "Old", "Renamed", "Old", "Old"};
    for (int i = 0; i < 5; i++) {
        NwDesign *wanted = store_sample(names[i], i + 1);
        NwDesign *found = nw_library_load_design(library, i + 1, &error);
        ck_assert(found && store_same(found, wanted));
        nw_design_free(found);
        nw_design_free(wanted);
    }
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, "Old", &error);
    ck_assert(entry && entry->current_version == 4 && entry->versions == 5);
    ck_assert_int_eq(entry->run_found, 1);
    g_autoptr(GPtrArray) named = nw_library_list_named(library, entry->id, &error);
    ck_assert_uint_eq(named->len, 2);
    ck_assert_str_eq(((NwVersionEntry *)named->pdata[1])->note, "a branch");
    ck_assert_str_eq(((NwVersionEntry *)named->pdata[1])->action, "");
    /* 5 is newer, but 4 is where its user was. */
    ck_assert(redo(entry->id) == 0 && undo(entry->id) == 2 && undo(entry->id) == 1);
    ck_assert(redo(entry->id) == 2 && redo(entry->id) == 4);
    g_autoptr(NwRun) run = nw_library_find_run(library, 2, "{}", &error);
    ck_assert_ptr_nonnull(run);
    g_autoptr(NwStoredAssembly) assembly = nw_library_load_assembly(library, run->id, 77, &error);
    ck_assert(assembly && assembly->placement_count == 4);
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 2) {
        g_printerr("usage: %s FOLDER-OF-FIXTURES\n", argv[0]);
        return EXIT_FAILURE;
    }
    fixtures = argv[1];
    Suite *suite = suite_create("history");
    TCase *all = tcase_create("history");
    tcase_add_checked_fixture(all, set_up, tear_down);
    tcase_set_timeout(all, 120);
    tcase_add_test(all, undo_all_and_redo_all);
    tcase_add_test(all, redo_follows_the_last_line);
    tcase_add_test(all, undo_respects_names);
    tcase_add_test(all, versions_by_name);
    tcase_add_test(all, pruning_keeps_chains_whole);
    tcase_add_test(all, pruning_at_random);
    tcase_add_test(all, saving_prunes_by_itself);
    tcase_add_test(all, reading_only);
    tcase_add_test(all, a_store_of_version_1_moves_up);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
