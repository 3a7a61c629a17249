/* Every door into a store and every door out of it: whoever searched a design, by the command or in
 * the window, in this version of the program or an older one, everybody sees the same assemblies,
 * and their placements recount in the design as it is read.
 *
 * The random designs draw each piece in a frame of its own. What they must have is worked out by
 * the fit engine and the slide engine, called one after the other (job_fixture.h); each finding is
 * recounted and replayed by checkers that share no code with the searches. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "design/frame.h"
#include "export/inquiry.h"
#include "format/design_json.h"
#include "job/import.h"
#include "job/run_store.h"
#include "job_fixture.h"
#include "plain/random_design.h"
#include "session/search_session.h"
#include "store/design_rows.h"
#include "store/history.h"
#include "store/statement.h"
#include "store_fixture.h"
#include "suite.h"

enum { PATIENCE_SECONDS = 90, SEEDS = 12, ASSEMBLIES_MAX = 400 };

static const char *bundled;
static NwLibrary *library;
static NwDesign *drawn;   /* as its file has it */
static NwDesign *settled; /* as everybody reads it */
static GArray *expected;  /* of `settled` */

/* A way out in fewer slides in all may turn up in other frames; its level is the same. */
static void forget_totals(GArray *facts) {
    for (guint i = 0; i < facts->len; i++)
        g_array_index(facts, JobFact, i).total = 0;
}

static void take_up(NwDesign *design) {
    static const NwSearchOptions options = {0};
    store_folder_make();
    library = nw_library_open(store_file("a.notch"), NW_LIBRARY_CREATE, NULL);
    ck_assert_ptr_nonnull(library);
    drawn = design;
    settled = nw_design_copy(design);
    ck_assert_int_eq(nw_design_settle(settled), NW_OK);
    expected = job_expected(settled, &options);
    forget_totals(expected);
}

static void let_go(void) {
    g_array_unref(expected);
    nw_design_free(settled);
    nw_design_free(drawn);
    nw_library_close(library);
    store_folder_remove();
}

static void check_facts(GPtrArray *findings) {
    g_autoptr(GArray) facts = job_facts_new();
    job_gather(facts, settled, findings);
    forget_totals(facts);
    job_assert_same(facts, expected, FALSE);
}

/* ---- the window ---------------------------------------------------------------------------- */

static gboolean is_over(NwSearchSession *session) {
    NwSearchProgress progress;
    nw_search_session_get_progress(session, &progress);
    return nw_search_session_get_state(session) == NW_SEARCH_SESSION_COMPLETE &&
           g_list_model_get_n_items(nw_search_session_get_assemblies(session)) == progress.found;
}

static void await(gboolean (*wish)(NwSearchSession *), NwSearchSession *session) {
    gint64 end = g_get_monotonic_time() + PATIENCE_SECONDS * G_USEC_PER_SEC;
    while (!wish(session)) {
        ck_assert_int_lt(g_get_monotonic_time(), end);
        if (!g_main_context_iteration(NULL, FALSE))
            g_usleep(500);
    }
}

static NwFoundAssembly *dup_finding(const NwFoundAssembly *finding) {
    NwAssembly assembly = {.key = finding->key, .count = finding->placement_count};
    memcpy(assembly.placements, finding->placements,
           (size_t)finding->placement_count * sizeof *finding->placements);
    NwFoundAssembly *copy = nw_found_assembly_new(&assembly);
    NwWayOut way = {.level = finding->level,
                    .total = finding->slide_count,
                    .states = finding->states,
                    .stuck = finding->stuck,
                    .slides = finding->slides};
    nw_found_assembly_set_way(copy, finding->verdict, &way);
    return copy;
}

/* The rows of a list, none of which is an assembly of another design. */
static void check_rows(NwSearchSession *session) {
    GListModel *rows = nw_search_session_get_assemblies(session);
    GPtrArray *findings = nw_findings_new();
    for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
        g_autoptr(NwAssemblyItem) item = g_list_model_get_item(rows, i);
        g_ptr_array_add(findings, dup_finding(nw_assembly_item_get(item)));
    }
    check_facts(findings);
}

/* Opens it in the window; `searches` also presses the button. */
static void look_in_window(const char *name, gboolean searches) {
    NwDocument *document = nw_document_new(library);
    NwSearchSession *session = nw_search_session_new(document);
    ck_assert(nw_document_open(document, name, NULL));
    if (searches)
        ck_assert(nw_search_session_start(session, NULL));
    await(is_over, session);
    check_rows(session);
    g_object_run_dispose(G_OBJECT(session));
    g_object_unref(session);
    g_object_unref(document);
}

/* ---- the command --------------------------------------------------------------------------- */

static gint64 current_version(const char *name) {
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, name, NULL);
    ck_assert_ptr_nonnull(entry);
    return entry->current_version;
}

/* What fit, show, draw and make do with a design of the store. */
static void look_by_command(const char *name, gboolean searched) {
    gint64 version = current_version(name);
    NwDesign *design = nw_library_load_design(library, version, NULL);
    const NwInquiry inquiry = {
        .design = design, .store = nw_library_get_path(library), .version = version};
    NwSearchResults results;
    ck_assert(nw_inquire(&inquiry, NULL, &results, NULL));
    ck_assert_int_eq(results.progress.state, NW_SEARCH_COMPLETE);
    ck_assert_uint_eq(results.progress.found, expected->len);
    ck_assert(!searched || results.from_store);
    check_facts(g_steal_pointer(&results.findings));
    nw_search_results_clear(&results);
    nw_design_free(design);
}

/* What block does with a search that is complete already. */
static void look_by_block(const char *name) {
    gint64 version = current_version(name);
    NwDesign *design = nw_library_load_design(library, version, NULL);
    NwAdvisor *advisor;
    gboolean learnt = FALSE;
    if (nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor) == NW_OK) {
        ck_assert(nw_founds_learn(library, version, design, &(NwBaselineOptions){0}, NULL, advisor,
                                  &learnt, NULL));
        ck_assert(learnt || !expected->len);
        nw_advisor_free(advisor);
    }
    nw_design_free(design);
}

/* Each door in turn searches first; then all of them look. */
static void look_everywhere(const char *name, int first, gboolean searched) {
    NwDesign *read = nw_library_load_design(library, current_version(name), NULL);
    free(read->name);
    read->name = strdup(settled->name);
    ck_assert(store_same(read, settled));
    nw_design_free(read);
    if (first)
        look_in_window(name, TRUE);
    else
        look_by_command(name, searched);
    look_by_command(name, TRUE);
    look_in_window(name, FALSE);
    look_by_block(name);
}

/* ---- doors in ------------------------------------------------------------------------------- */

static void rename_to(NwDesign *design, const char *name) {
    free(design->name);
    design->name = strdup(name);
}

static NwDesign *dup_named(const char *name) {
    NwDesign *design = nw_design_copy(drawn);
    rename_to(design, name);
    return design;
}

static void enter_by_command(const char *name) {
    NwDesign *design = dup_named(name);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, NULL, NULL));
    nw_design_free(design);
}

/* An opened file, an imported one, a new design. */
static void enter_by_window(const char *name) {
    NwDesign *design = dup_named(name);
    NwDocument *document = nw_document_new(library);
    ck_assert(nw_document_create(document, design, NULL));
    ck_assert(nw_design_is_settled(nw_document_get_design(document)));
    g_object_unref(document);
    nw_design_free(design);
}

static NwStatus become(NwDesign *design, gpointer data) {
    NwDesign *other = nw_design_copy(data), old = *design;
    *design = *other;
    *other = old;
    nw_design_free(other);
    return NW_OK;
}

/* As a block that is applied, or another assembly that is made the intended one; then back, and
 * forth again. */
static void enter_by_edit(const char *name) {
    NwDesign *design = dup_named(name);
    NwDesign *blank = nw_design_new(name);
    NwDocument *document = nw_document_new(library);
    ck_assert(nw_document_create(document, blank, NULL));
    ck_assert(nw_document_apply(document, "Apply", become, design));
    ck_assert(nw_design_is_settled(nw_document_get_design(document)));
    ck_assert(nw_document_undo(document));
    ck_assert(nw_document_redo(document));
    g_object_unref(document);
    nw_design_free(blank);
    nw_design_free(design);
}

/* As an older store has it: as drawn. Returns its version. */
static gint64 enter_as_drawn(const char *name) {
    gint64 version;
    NwDesign *design = dup_named(name);
    ck_assert(nw_library_add_design(library, design, NULL, NULL, &version, NULL));
    ck_assert(nw_library_begin_write(library, NULL));
    NwStatement remove = nw_statement(library, "DELETE FROM piece WHERE version = ?");
    nw_statement_bind(&remove, nw_int(version));
    nw_statement_run(&remove);
    gboolean well =
        nw_statement_end(&remove, NULL) && nw_design_rows_write(library, version, design, NULL);
    g_autoptr(GBytes) digest = nw_design_rows_dup_digest(design);
    NwStatement set = nw_statement(library, "UPDATE version SET content = ? WHERE id = ?");
    nw_statement_bind(&set, nw_bytes(digest), nw_int(version));
    nw_statement_run(&set);
    well = nw_statement_end(&set, NULL) && well;
    ck_assert(nw_library_finish(library, well, NULL));
    NwDesign *read = nw_library_load_as_drawn(library, version, NULL);
    ck_assert(store_same(read, design));
    nw_design_free(read);
    nw_design_free(design);
    return version;
}

/* As an older program searched and kept it: in the frames that it had at hand. `limit` stops it
 * after so many assemblies; 0: it is complete. */
static void search_as_before(gint64 version, const NwDesign *at_hand, guint64 limit) {
    const NwSearchOptions options = {.threads = 1, .limit = limit};
    NwRunStore *record = nw_run_store_open(library, version, &options, NULL);
    NwSearch *search = nw_search_new(at_hand, &options, NULL, NULL);
    ck_assert(record && search);
    NwSearchProgress progress;
    nw_search_start(search);
    do {
        g_usleep(500);
        nw_search_progress(search, &progress);
    } while (progress.state == NW_SEARCH_RUNNING);
    nw_search_stop(search);
    GPtrArray *batch;
    ck_assert(nw_run_store_save(record, search, &batch, NULL));
    g_ptr_array_unref(batch);
    nw_search_free(search);
    nw_run_store_free(record);
}

static void pass_doors(void) {
    for (int first = 0; first < 2; first++) {
        const char *const names[] = {first ? "Added 1" : "Added 0", first ? "Opened 1" : "Opened 0",
                                     first ? "Edited 1" : "Edited 0"};
        enter_by_command(names[0]);
        enter_by_window(names[1]);
        enter_by_edit(names[2]);
        for (gsize i = 0; i < G_N_ELEMENTS(names); i++)
            look_everywhere(names[i], first, FALSE);
    }
}

/* Doors into a store of an older program: not searched, or searched to the end or stopped halfway,
 * by the command of that time or in its window. */
static void pass_old_doors(void) {
    for (int row = 0; row < 10; row++) {
        g_autofree char *name = g_strdup_printf("Old %d", row);
        gint64 version = enter_as_drawn(name);
        gboolean complete = row / 2 == 1 || row / 2 == 2;
        if (row / 2 == 1 || row / 2 == 3)
            search_as_before(version, drawn, complete ? 0 : 1);
        if (row / 2 == 2 || row / 2 == 4)
            search_as_before(version, settled, complete ? 0 : 1);
        look_everywhere(name, row % 2, complete);
    }
}

START_TEST(random_designs_pass_all_doors) {
    NwDesign *design = nw_random_design((uint64_t)_i + 1);
    NwDesign *trial = nw_design_copy(design);
    gboolean fine = nw_design_settle(trial) == NW_OK;
    nw_design_free(trial);
    if (!fine) {
        nw_design_free(design);
        return;
    }
    take_up(design);
    if (expected->len <= ASSEMBLIES_MAX) {
        pass_doors();
        pass_old_doors();
    }
    let_go();
}
END_TEST

/* Every piece of a bundled design is turned and shifted out of the envelope, as a file may do. */
static void scatter(NwDesign *design, NwRandom *random) {
    for (size_t p = 0; p < design->piece_count; p++) {
        NwPiece *piece = &design->pieces[p];
        NwMotion away = {nw_random_below(random, NW_ROTATIONS),
                         {2 * nw_random_below(random, 9), 2 * nw_random_below(random, 9), 2}};
        NwSolid *moved;
        ck_assert_int_eq(nw_solid_moved(piece->solid, away, &moved), NW_OK);
        nw_solid_free(piece->solid);
        piece->solid = moved;
        NwMotion back = nw_motion_inverse(away);
        for (size_t i = 0; i < design->intended_count; i++)
            if (design->intended[i].piece == (int)p)
                design->intended[i].motion = nw_motion_then(back, design->intended[i].motion);
    }
}

START_TEST(bundled_designs_pass_all_doors) {
    static const char *const names[] = {"ember-lantern", "ember-lantern-chipped", "kite-harbour",
                                        "quiet-comet", "tide-chest"};
    NwRandom random = {(uint64_t)_i};
    g_autofree char *path = g_strdup_printf("%s/%s.json", bundled, names[_i % 5]);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_ptr_nonnull(design);
    if (_i >= 5)
        scatter(design, &random);
    take_up(design);
    pass_doors();
    if (_i >= 5)
        pass_old_doors();
    let_go();
}
END_TEST

/* The file that an older store holds as it was drawn is still the same design. */
START_TEST(an_old_version_is_known_again) {
    take_up(nw_random_design(1));
    gint64 version = enter_as_drawn("Old"), again;
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, "Old", NULL);
    NwDesign *design = dup_named("Old");
    ck_assert(nw_library_add_version(library, entry->id, 0, design, NULL, &again, NULL));
    ck_assert_int_eq(again, version);
    nw_design_free(design);
    let_go();
}
END_TEST

int main(int argc, char **argv) {
    bundled = argc > 1 ? argv[1] : "data/designs";
    Suite *suite = suite_create("doors");
    TCase *group = tcase_create("doors");
    tcase_set_timeout(group, 600);
    tcase_add_loop_test(group, random_designs_pass_all_doors, 0, SEEDS);
    tcase_add_loop_test(group, bundled_designs_pass_all_doors, 0, 10);
    tcase_add_test(group, an_old_version_is_known_again);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
