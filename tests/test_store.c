/* The store's content: designs, versions, runs and assemblies go in and come out the same. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

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

/* Adds or fails the test. */
static void add(const NwDesign *design, gint64 *design_id, gint64 *version_id) {
    g_autoptr(GError) error = NULL;
    gboolean well = nw_library_add_design(library, design, "first", design_id, version_id, &error);
    ck_assert_msg(well, "%s", error ? error->message : "no error");
}

static gint64 grow(gint64 design_id, gint64 parent, const NwDesign *design) {
    g_autoptr(GError) error = NULL;
    gint64 version = 0;
    gboolean well =
        nw_library_add_version(library, design_id, parent, design, NULL, &version, &error);
    ck_assert_msg(well, "%s", error ? error->message : "no error");
    return version;
}

static void assert_error(GError **error, NwLibraryError code) {
    ck_assert_ptr_nonnull(*error);
    ck_assert_msg(g_error_matches(*error, NW_LIBRARY_ERROR, (int)code), "%s", (*error)->message);
    ck_assert_ptr_nonnull(strchr((*error)->message, ';')); /* what is wrong; what to do */
    g_clear_error(error);
}

static void assert_loads(gint64 version, const NwDesign *wanted) {
    g_autoptr(GError) error = NULL;
    NwDesign *found = nw_library_load_design(library, version, &error);
    ck_assert_msg(found != NULL, "%s", error ? error->message : "no error");
    ck_assert(store_same(found, wanted));
    nw_design_free(found);
}

START_TEST(a_design_comes_back_whole) {
    NwDesign *full = store_sample("Full \xe2\x9c\x93", 3), *bare = nw_design_new("Bare");
    gint64 full_id, full_version, bare_version;
    add(full, &full_id, &full_version);
    add(bare, NULL, &bare_version);
    reopen();
    assert_loads(full_version, full);
    assert_loads(bare_version, bare);

    g_autoptr(GError) error = NULL;
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, full->name, &error);
    ck_assert_ptr_nonnull(entry);
    ck_assert_int_eq(entry->id, full_id);
    ck_assert_int_eq(entry->current_version, full_version);
    ck_assert_int_eq(entry->versions, 1);
    ck_assert_int_eq(entry->pieces, 3);
    ck_assert_int_eq(entry->bodies, 4);
    ck_assert_int_eq(entry->run_id, 0);
    ck_assert(llabs(g_get_real_time() / G_USEC_PER_SEC - entry->modified) < 600);
    ck_assert_ptr_null(nw_library_find_design(library, "full", &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    ck_assert_ptr_null(nw_library_load_design(library, 999, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);

    g_autoptr(GPtrArray) list = nw_library_list_designs(library, &error);
    ck_assert_uint_eq(list->len, 2);
    ck_assert_str_eq(((NwDesignEntry *)list->pdata[0])->name, "Bare");
    ck_assert_str_eq(((NwDesignEntry *)list->pdata[1])->name, full->name);
    nw_design_free(full);
    nw_design_free(bare);
}
END_TEST

START_TEST(versions_form_a_tree) {
    NwDesign *one = store_sample("Tree", 1), *two = store_sample("Tree", 2),
             *three = store_sample("Renamed", 3);
    gint64 design, first;
    add(one, &design, &first);
    ck_assert_int_eq(grow(design, 0, one), first); /* nothing new, no new version */
    gint64 second = grow(design, 0, two);
    gint64 third = grow(design, first, three);
    ck_assert_int_ne(second, first);
    reopen();
    assert_loads(first, one);
    assert_loads(second, two);
    assert_loads(third, three);

    g_autoptr(GError) error = NULL;
    g_autoptr(GPtrArray) list = nw_library_list_versions(library, design, &error);
    ck_assert_uint_eq(list->len, 3);
    gint64 ids[3] = {first, second, third}, parents[3] = {0, first, first};
    for (int i = 0; i < 3; i++) {
        NwVersionEntry *entry = list->pdata[i];
        ck_assert_int_eq(entry->id, ids[i]);
        ck_assert_int_eq(entry->parent, parents[i]);
        ck_assert_int_eq(entry->current, i == 2);
        ck_assert_int_eq(entry->bodies, 4);
    }
    ck_assert_str_eq(((NwVersionEntry *)list->pdata[0])->note, "first");
    g_autoptr(NwDesignEntry) renamed = nw_library_find_design(library, "Renamed", &error);
    ck_assert_ptr_nonnull(renamed);
    ck_assert_int_eq(renamed->versions, 3);

    ck_assert(nw_library_set_current(library, design, second, &error));
    g_autoptr(NwDesignEntry) back = nw_library_find_design(library, "Tree", &error);
    ck_assert_int_eq(back->current_version, second);
    ck_assert_int_eq(grow(design, 0, two), second);
    nw_design_free(one);
    nw_design_free(two);
    nw_design_free(three);
}
END_TEST

/* Every field takes part in "is it the same?". */
START_TEST(any_change_makes_a_version) {
    NwDesign *design = store_sample("Fields", 1);
    gint64 id, last;
    add(design, &id, &last);
    for (int change = 0; change < 8; change++) {
        NwPlacement moved[4];
        if (design->intended_count)
            memcpy(moved, design->intended, sizeof moved);
        switch (change) {
        case 0:
            design->mirrors_together = false;
            break;
        case 1:
            nw_solid_remove(design->may_be_empty, nw_vec(-2, 0, 1), NW_WHOLE);
            break;
        case 2:
            nw_solid_remove(design->envelope, nw_vec(0, 0, 1), 2);
            break;
        case 3:
            design->pieces[0].colour[6] = '0';
            break;
        case 4:
            nw_solid_remove(design->pieces[2].solid, nw_vec(2, 0, -1), 16);
            break;
        case 5:
            moved[3].motion.turn = 5;
            nw_design_set_intended(design, moved, 4);
            break;
        case 6:
            nw_design_set_intended(design, NULL, 0);
            break;
        default:
            design->pieces[2].copies = 9;
            break;
        }
        gint64 version = grow(id, 0, design);
        ck_assert_msg(version != last, "change %d", change);
        assert_loads(version, design);
        last = version;
    }
    nw_design_free(design);
}
END_TEST

START_TEST(names_are_unique) {
    NwDesign *a = store_sample("A", 1), *b = store_sample("B", 2), *other = store_sample("A", 9);
    gint64 a_id, a_version, b_id, b_version;
    add(a, &a_id, &a_version);
    add(b, &b_id, &b_version);
    g_autoptr(GError) error = NULL;
    ck_assert(!nw_library_add_design(library, other, NULL, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_TAKEN);
    ck_assert(!nw_library_add_version(library, b_id, 0, other, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_TAKEN);
    NwDesign *changed = store_sample("B", 3);
    ck_assert(!nw_library_add_version(library, b_id, a_version, changed, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    ck_assert(!nw_library_set_current(library, b_id, a_version, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    ck_assert(!nw_library_add_version(library, 77, 0, b, NULL, NULL, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    g_autoptr(GPtrArray) versions = nw_library_list_versions(library, b_id, &error);
    ck_assert_uint_eq(versions->len, 1); /* the failed ones left nothing behind */
    nw_design_free(a);
    nw_design_free(b);
    nw_design_free(other);
    nw_design_free(changed);
}
END_TEST

START_TEST(unfit_designs_are_refused) {
    for (int fault = 0; fault < 9; fault++) {
        NwDesign *design = store_sample("Unfit", 1);
        switch (fault) {
        case 0:
            design->name[0] = '\0';
            break;
        case 1:
            design->name[0] = (char)0xff;
            break;
        case 2:
            design->pieces[0].name[0] = (char)0xc0;
            break;
        case 3:
            design->pieces[0].copies = 0;
            break;
        case 4:
            design->pieces[0].copies = NW_COPIES_MAX;
            break;
        case 5:
            design->pieces[0].colour[3] = 'x';
            break;
        case 6:
            design->intended[0].piece = 3;
            break;
        case 7:
            design->intended[0].motion.turn = NW_ROTATIONS;
            break;
        default:
            design->intended[0].piece = 1;
            break;
        }
        g_autoptr(GError) error = NULL;
        ck_assert_msg(!nw_library_add_design(library, design, NULL, NULL, NULL, &error), "%d",
                      fault);
        assert_error(&error, NW_LIBRARY_ERROR_UNFIT);
        nw_design_free(design);
    }
    g_autoptr(GPtrArray) list = nw_library_list_designs(library, NULL);
    ck_assert_uint_eq(list->len, 0);
}
END_TEST

/* An assembly whose every field depends on the key. */
static NwStoredAssembly *sample_assembly(guint64 key, NwStoredStatus status) {
    NwPlacement placements[3];
    for (int i = 0; i < 3; i++)
        placements[i] = (NwPlacement){
            i, {(int)(key + (guint64)i) % 24 & 23, {(int)(key % 1000), -i, -(int)(key % 77)}}};
    NwStoredAssembly *assembly = nw_stored_assembly_new(key, placements, 3);
    assembly->status = status;
    assembly->level = (int)(key % 13);
    assembly->total = (int)(key % 29);
    assembly->at_least = (int)(key % 17);
    assembly->states = (gint64)(key >> 1);
    assembly->verified = status == NW_STORED_OPENS;
    if (status == NW_STORED_OPENS)
        assembly->way_out = g_bytes_new("way\0out", 7);
    return assembly;
}

static void assert_same_assembly(const NwStoredAssembly *a, const NwStoredAssembly *b) {
    ck_assert(a->key == b->key && a->status == b->status && a->level == b->level);
    ck_assert(a->total == b->total && a->states == b->states && a->verified == b->verified);
    ck_assert_int_eq(a->at_least, b->at_least);
    ck_assert_uint_eq(a->placement_count, b->placement_count);
    for (gsize i = 0; i < a->placement_count; i++)
        ck_assert(a->placements[i].piece == b->placements[i].piece &&
                  nw_motion_equal(a->placements[i].motion, b->placements[i].motion));
    ck_assert_int_eq(a->way_out != NULL, b->way_out != NULL);
    if (a->way_out)
        ck_assert(g_bytes_equal(a->way_out, b->way_out));
}

static const guint64 keys[] = {
    0, 1, 255, 256, G_MAXINT64, G_GUINT64_CONSTANT(0x8000000000000000), G_MAXUINT64};

/* Saves one assembly of each key, in falling order. */
static void save_keys(gint64 run, NwStoredStatus status, NwRunState state, GBytes *resume) {
    g_autoptr(GPtrArray) found =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
    for (gsize i = G_N_ELEMENTS(keys); i--;)
        g_ptr_array_add(found, sample_assembly(keys[i], status));
    g_autoptr(GError) error = NULL;
    NwRunSave save = {state, 0.625, resume, found};
    ck_assert_msg(nw_library_save_run(library, run, &save, &error), "%s",
                  error ? error->message : "");
}

static void assert_keys(gint64 run, NwStoredStatus status) {
    const guint64 *after = NULL;
    guint64 last;
    gsize seen = 0;
    guint got;
    do { /* three a page: the last page is short */
        g_autoptr(GPtrArray) page = nw_library_load_assemblies(library, run, after, 3, NULL);
        ck_assert_ptr_nonnull(page);
        got = page->len;
        for (guint i = 0; i < got; i++, seen++) {
            ck_assert_uint_lt(seen, G_N_ELEMENTS(keys));
            g_autoptr(NwStoredAssembly) wanted = sample_assembly(keys[seen], status);
            assert_same_assembly(page->pdata[i], wanted);
            last = wanted->key;
            after = &last;
        }
    } while (got == 3);
    ck_assert_uint_eq(seen, G_N_ELEMENTS(keys));
}

/* A search that comes to an assembly again knows no shorter way out than the one that somebody
 * has found meanwhile. */
START_TEST(the_shorter_way_out_stays) {
    NwDesign *design = store_sample("Shorter", 1);
    gint64 design_id, version, run;
    add(design, &design_id, &version);
    ck_assert(nw_library_begin_run(library, version, "{}", &run, NULL));
    const int totals[] = {10, 9, 10, 12, 8};
    const int wanted[] = {10, 9, 9, 9, 8};
    for (gsize i = 0; i < G_N_ELEMENTS(totals); i++) {
        g_autoptr(NwStoredAssembly) assembly = sample_assembly(7, NW_STORED_OPENS);
        assembly->total = totals[i];
        g_autoptr(GPtrArray) found = g_ptr_array_new();
        g_ptr_array_add(found, assembly);
        NwRunSave save = {NW_RUN_OPEN, 0.5, NULL, found};
        if (i % 2)
            ck_assert(nw_library_improve_assembly(library, run, assembly, NULL));
        else
            ck_assert(nw_library_save_run(library, run, &save, NULL));
        g_autoptr(GPtrArray) page = nw_library_load_assemblies(library, run, NULL, 3, NULL);
        ck_assert_uint_eq(page->len, 1);
        ck_assert_int_eq(((NwStoredAssembly *)page->pdata[0])->total, wanted[i]);
    }
    nw_design_free(design);
}
END_TEST

START_TEST(runs_keep_what_they_found) {
    NwDesign *design = store_sample("Run", 1);
    gint64 design_id, version, run, other;
    add(design, &design_id, &version);
    g_autoptr(GError) error = NULL;
    ck_assert_ptr_null(nw_library_find_run(library, version, "{}", &error));
    ck_assert_ptr_null(error);
    ck_assert(nw_library_begin_run(library, version, "{}", &run, &error));
    ck_assert(nw_library_begin_run(library, version, "{\"diagonal\":true}", &other, &error));
    ck_assert(!nw_library_begin_run(library, version, "{}", &other, &error));
    assert_error(&error, NW_LIBRARY_ERROR_TAKEN);
    ck_assert(!nw_library_begin_run(library, 99, "{}", &other, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);

    g_autoptr(GBytes) resume = g_bytes_new("re\0sume", 7);
    save_keys(run, NW_STORED_UNEXAMINED, NW_RUN_OPEN, resume);
    reopen();
    assert_keys(run, NW_STORED_UNEXAMINED);
    g_autoptr(NwRun) found = nw_library_find_run(library, version, "{}", &error);
    ck_assert_ptr_nonnull(found);
    ck_assert(found->id == run && found->version == version && found->state == NW_RUN_OPEN);
    ck_assert_double_eq(found->share, 0.625);
    ck_assert(g_bytes_equal(found->resume, resume));
    ck_assert_int_eq(found->found, (gint64)G_N_ELEMENTS(keys));
    ck_assert_int_eq(found->by_status[NW_STORED_UNEXAMINED], (gint64)G_N_ELEMENTS(keys));

    save_keys(run, NW_STORED_OPENS, NW_RUN_COMPLETE, NULL);      /* known better */
    save_keys(run, NW_STORED_UNEXAMINED, NW_RUN_COMPLETE, NULL); /* loses nothing */
    assert_keys(run, NW_STORED_OPENS);
    g_autoptr(NwRun) done = nw_library_find_run(library, version, "{}", &error);
    ck_assert(done->state == NW_RUN_COMPLETE && done->resume == NULL);
    ck_assert_int_eq(done->by_status[NW_STORED_OPENS], (gint64)G_N_ELEMENTS(keys));
    g_autoptr(NwStoredAssembly) one = nw_library_load_assembly(library, run, 256, &error);
    ck_assert_ptr_nonnull(one);
    ck_assert_ptr_null(nw_library_load_assembly(library, run, 257, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    g_autoptr(GPtrArray) all = nw_library_list_runs(library, version, &error);
    ck_assert_uint_eq(all->len, 2);
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, "Run", &error);
    ck_assert(entry->run_id == ((NwRun *)all->pdata[0])->id);
    nw_design_free(design);
}
END_TEST

/* Two search the same run, in two windows, say: the slower one undoes nothing. */
START_TEST(a_complete_run_stays_complete) {
    NwDesign *design = store_sample("Twice", 1);
    gint64 version, run;
    add(design, NULL, &version);
    g_autoptr(GError) error = NULL;
    ck_assert(nw_library_begin_run(library, version, "{}", &run, &error));
    g_autoptr(GBytes) end = g_bytes_new_static("end", 3), middle = g_bytes_new_static("middle", 6);
    NwRunSave complete = {NW_RUN_COMPLETE, 1.0, end, NULL};
    ck_assert(nw_library_save_run(library, run, &complete, &error));
    save_keys(run, NW_STORED_OPENS, NW_RUN_OPEN, middle);
    assert_keys(run, NW_STORED_OPENS); /* what it found is taken all the same */
    g_autoptr(NwRun) found = nw_library_find_run(library, version, "{}", &error);
    ck_assert_int_eq(found->state, NW_RUN_COMPLETE);
    ck_assert_double_eq(found->share, 1);
    ck_assert(g_bytes_equal(found->resume, end));
    nw_design_free(design);
}
END_TEST

/* A save that fails half way leaves the run as it was. */
START_TEST(a_save_is_all_or_nothing) {
    NwDesign *design = store_sample("Half", 1);
    gint64 version, run;
    add(design, NULL, &version);
    g_autoptr(GError) error = NULL;
    ck_assert(nw_library_begin_run(library, version, "{}", &run, &error));
    g_autoptr(GPtrArray) found =
        g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
    g_ptr_array_add(found, sample_assembly(1, NW_STORED_OPENS));
    g_ptr_array_add(found, sample_assembly(2, NW_STORED_OPENS));
    ((NwStoredAssembly *)found->pdata[1])->placements[0].motion.shift.x = 40000;
    NwRunSave save = {NW_RUN_COMPLETE, 1.0, NULL, found};
    ck_assert(!nw_library_save_run(library, run, &save, &error));
    assert_error(&error, NW_LIBRARY_ERROR_UNFIT);
    save.share = 1.5;
    ck_assert(!nw_library_save_run(library, run, &save, &error));
    assert_error(&error, NW_LIBRARY_ERROR_UNFIT);
    g_autoptr(NwRun) same = nw_library_find_run(library, version, "{}", &error);
    ck_assert(same->state == NW_RUN_OPEN && same->share == 0.0 && same->found == 0);
    nw_design_free(design);
}
END_TEST

static gint64 count_rows(const char *table) {
    g_autofree char *sql = g_strdup_printf("SELECT count(*) FROM %s", table);
    gint64 rows = -1;
    ck_assert(nw_library_ask(library, sql, nw_null(), -1, &rows, NULL));
    return rows;
}

START_TEST(removal_leaves_nothing_behind) {
    NwDesign *design = store_sample("Gone", 1), *next = store_sample("Gone", 2);
    gint64 id, version, run;
    add(design, &id, &version);
    gint64 second = grow(id, 0, next);
    g_autoptr(GError) error = NULL;
    ck_assert(nw_library_begin_run(library, version, "{}", &run, &error));
    save_keys(run, NW_STORED_OPENS, NW_RUN_COMPLETE, NULL);
    ck_assert(nw_library_begin_run(library, second, "{}", &run, &error));
    save_keys(run, NW_STORED_OPENS, NW_RUN_COMPLETE, NULL);
    ck_assert(nw_library_remove_run(library, run, &error));
    ck_assert(!nw_library_remove_run(library, run, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    NwRunSave late = {NW_RUN_OPEN, 0.5, NULL, NULL};
    ck_assert(!nw_library_save_run(library, run, &late, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    ck_assert_int_eq(count_rows("assembly"), (gint64)G_N_ELEMENTS(keys));
    ck_assert(nw_library_remove_design(library, id, &error));
    ck_assert(!nw_library_remove_design(library, id, &error));
    assert_error(&error, NW_LIBRARY_ERROR_GONE);
    static const char *const tables[] = {"design",   "version", "piece",
                                         "intended", "run",     "assembly"};
    for (gsize i = 0; i < G_N_ELEMENTS(tables); i++)
        ck_assert_int_eq(count_rows(tables[i]), 0);
    gint64 again;
    add(design, &again, NULL);
    ck_assert_int_gt(again, id); /* ids are never used twice */
    nw_design_free(design);
    nw_design_free(next);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("store");
    TCase *content = tcase_create("content");
    tcase_add_checked_fixture(content, set_up, tear_down);
    tcase_set_timeout(content, 60);
    tcase_add_test(content, a_design_comes_back_whole);
    tcase_add_test(content, versions_form_a_tree);
    tcase_add_test(content, any_change_makes_a_version);
    tcase_add_test(content, names_are_unique);
    tcase_add_test(content, unfit_designs_are_refused);
    tcase_add_test(content, runs_keep_what_they_found);
    tcase_add_test(content, the_shorter_way_out_stays);
    tcase_add_test(content, a_complete_run_stays_complete);
    tcase_add_test(content, a_save_is_all_or_nothing);
    tcase_add_test(content, removal_leaves_nothing_behind);
    suite_add_tcase(suite, content);
    return run_suite(suite);
}
