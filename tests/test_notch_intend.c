/* The verbs intend and merge, and that the reader of designs takes back what notch prints of one.
 * The arguments are the program and the folder of the bundled designs.
 *
 * The outside source beside each check: an assembly is judged by check_assembly.h and by the plain
 * solver (plain/plain_fit.h), which share no code with the search. */
#include <check.h>
#include <gio/gio.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "design/check_assembly.h"
#include "format/design_json.h"
#include "notch_fixture.h"
#include "plain/plain_fit.h"
#include "plain/random_design.h"
#include "store_fixture.h"
#include "suite.h"

static const char *designs_folder;
enum { RAW_LIMIT = 5000 };

static NwDesign *load(const char *name) {
    g_autoptr(GError) error = NULL;
    NwDesign *design = nw_design_load(store_file(name), &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "");
    return design;
}

static void save(const NwDesign *design, const char *name) {
    g_autoptr(GError) error = NULL;
    ck_assert_msg(nw_design_save(design, store_file(name), &error), "%s",
                  error ? error->message : "");
}

/* A bundled design without an intended assembly, as d.json. */
static NwDesign *save_unintended(const char *bundled) {
    g_autofree char *path = g_build_filename(designs_folder, bundled, NULL);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_ptr_nonnull(design);
    nw_design_set_intended(design, NULL, 0);
    save(design, "d.json");
    return design;
}

static char *read_text(const char *name) {
    char *text;
    ck_assert(g_file_get_contents(store_file(name), &text, NULL, NULL));
    return text;
}

static void assert_says(const Told *told, const char *part) {
    ck_assert_msg(strstr(told->out, part) || strstr(told->err, part), "no “%s” in: %s%s", part,
                  told->out, told->err);
}

/* The list that begins with the bracket at the end of `from`, up to the one that closes it. */
static char *dup_list(const char *text, const char *from) {
    const char *begin = strstr(text, from);
    ck_assert_msg(begin != NULL, "no %s in %s", from, text);
    begin += strlen(from) - 1;
    int depth = 0;
    const char *end = begin;
    do {
        depth += (*end == '[') - (*end == ']');
        end++;
    } while (depth);
    return g_strndup(begin, (gsize)(end - begin));
}

/* ---- what is printed is read ---------------------------------------------------------------- */

/* As the README once told people to do: into the file, by hand. */
static void paste_intended(const char *list) {
    g_autofree char *text = read_text("d.json");
    g_autoptr(GString) pasted = g_string_new(text);
    ck_assert(g_str_has_suffix(pasted->str, "\n}\n"));
    g_string_truncate(pasted, pasted->len - 3);
    g_string_append_printf(pasted, ",\n  \"intended\": %s\n}\n", list);
    ck_assert(g_file_set_contents(store_file("pasted.json"), pasted->str, -1, NULL));
}

static void assert_pasted_is_an_assembly(void) {
    NwDesign *design = load("pasted.json");
    ck_assert_int_gt((int)design->intended_count, 0);
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    nw_design_free(design);
    g_auto(Told) checked = notch("check pasted.json");
    assert_exit(&checked, COMPLETE);
    assert_says(&checked, "It has an intended assembly.");
}

/* Every verb that prints placements. */
static const char *const printing[] = {"fit --json d.json", "show --json d.json 1",
                                       "apart --json --placements placed.json d.json"};

START_TEST(printed_placements_are_read_as_intended) {
    nw_design_free(save_unintended("tide-chest.json"));
    g_auto(Told) placed = notch("show --json d.json 1");
    ck_assert(g_file_set_contents(store_file("placed.json"), placed.out, -1, NULL));
    g_auto(Told) told = notch("%s", printing[_i]);
    assert_exit(&told, COMPLETE);
    g_autofree char *list = dup_list(told.out, "\"placements\":[");
    ck_assert_ptr_nonnull(strstr(list, "\"copy\""));
    paste_intended(list);
    assert_pasted_is_an_assembly();
}
END_TEST

START_TEST(random_placements_are_read_as_intended) {
    int tried = 0;
    for (uint64_t seed = 0; seed < 25; seed++) {
        NwDesign *design = nw_random_design(seed);
        nw_design_set_intended(design, NULL, 0);
        save(design, "d.json");
        g_auto(Told) told = notch("fit --json --limit 1 d.json");
        if (strstr(told.out, "\"placements\":[")) {
            g_autofree char *list = dup_list(told.out, "\"placements\":[");
            paste_intended(list);
            assert_pasted_is_an_assembly();
            tried++;
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(tried, 10);
}
END_TEST

/* A whole design that a verb prints is read by every other. */
START_TEST(printed_designs_are_read) {
    nw_design_free(save_unintended("tide-chest.json"));
    g_auto(Told) added = notch("library add d.json");
    assert_exit(&added, COMPLETE);
    const char *const whole[] = {"solid box 2 3 4", "library export 'Tide Chest'",
                                 "intend d.json 1 --out /dev/stdout",
                                 "intend 'Tide Chest' --none "
                                 "--out /dev/stdout"};
    for (gsize i = 0; i < G_N_ELEMENTS(whole); i++) {
        g_auto(Told) told = notch("%s", whole[i]);
        assert_exit(&told, COMPLETE);
        const char *end = strstr(told.out, "\n}\n");
        ck_assert_ptr_nonnull(end);
        g_autofree char *json = g_strndup(told.out, (gsize)(end + 3 - told.out));
        g_auto(Told) checked = notch_reading(json, "check -");
        ck_assert_msg(checked.exit == COMPLETE || i == 0, "%s: %s", whole[i], checked.err);
        ck_assert_str_eq(checked.err, "");
    }
}
END_TEST

/* ---- declaring it ---------------------------------------------------------------------------- */

/* All but the intended assembly. */
static void assert_rest_kept(const NwDesign *before) {
    NwDesign *after = load("d.json");
    nw_design_set_intended(after, before->intended, before->intended_count);
    ck_assert(store_same(before, after));
    nw_design_free(after);
}

START_TEST(a_number_is_declared_in_a_file_and_taken_back) {
    NwDesign *design = save_unintended("ember-lantern-chipped.json");
    g_autofree char *before = read_text("d.json");
    g_auto(Told) fit = notch("fit d.json");
    assert_says(&fit, "4 assemblies: 2 come apart, 2 proved unreachable");
    g_auto(Told) told = notch("intend d.json 2");
    assert_exit(&told, COMPLETE);
    assert_says(&told, "Assembly 2 of “Ember Lantern, chipped” is now the intended one");
    assert_says(&told, "Saved to d.json.");
    assert_rest_kept(design);
    NwDesign *declared = load("d.json");
    ck_assert_ptr_null(nw_check_assembly(declared, declared->intended, declared->intended_count));
    nw_design_free(declared);
    /* It comes first, and the other one is a cook. */
    g_auto(Told) again = notch("fit d.json");
    assert_says(&again, "    1  intended ");
    assert_says(&again, "    2  cook ");
    g_auto(Told) same = notch("intend d.json 1");
    assert_exit(&same, COMPLETE);
    assert_says(&same, "already");
    g_auto(Told) none = notch("intend d.json --none");
    assert_exit(&none, COMPLETE);
    g_autofree char *after = read_text("d.json");
    ck_assert_str_eq(after, before);
    g_auto(Told) twice = notch("intend --none d.json");
    assert_exit(&twice, COMPLETE);
    assert_says(&twice, "no intended assembly as it is");
    nw_design_free(design);
}
END_TEST

START_TEST(a_key_is_declared_and_written_elsewhere) {
    NwDesign *design = save_unintended("ember-lantern.json");
    g_autofree char *before = read_text("d.json");
    g_auto(Told) fit = notch("fit d.json");
    const char *line = strstr(fit.out, "    1  comes apart");
    ck_assert_ptr_nonnull(line);
    g_autofree char *key = g_strndup(strchr(line, '\n') - 16, 8);
    g_auto(Told) told = notch("intend --out e.json d.json %s", key);
    assert_exit(&told, COMPLETE);
    assert_says(&told, "Saved to e.json.");
    g_autofree char *after = read_text("d.json");
    ck_assert_str_eq(after, before);
    g_auto(Told) only = notch("fit e.json");
    assert_says(&only, "The intended assembly is the only answer.");
    /* From standard input it goes to standard output. */
    g_autofree char *words = g_strdup_printf("intend - %s", key);
    g_auto(Told) piped = notch_reading(before, words);
    assert_exit(&piped, COMPLETE);
    g_autofree char *written = read_text("e.json");
    ck_assert_str_eq(piped.out, written);
    nw_design_free(design);
}
END_TEST

/* The pieces are drawn in the envelope's frame: what is drawn is an assembly by construction. */
START_TEST(what_is_drawn_is_declared) {
    NwDesign *design = nw_design_new("halves");
    NwSolid *left = nw_solid_new(), *right = nw_solid_new();
    for (int x = 0; x < 4; x++)
        nw_solid_add(x < 2 ? left : right, nw_vec(x, 0, 0), NW_WHOLE);
    nw_solid_free(design->envelope);
    design->envelope = nw_solid_union(left, right);
    nw_design_take_piece(design, "left", left);
    nw_design_take_piece(design, "right", right);
    save(design, "d.json");
    g_auto(Told) told = notch("intend d.json drawn");
    assert_exit(&told, COMPLETE);
    NwDesign *declared = load("d.json");
    ck_assert_ptr_null(nw_check_assembly(declared, declared->intended, declared->intended_count));
    ck_assert_int_eq((int)declared->intended_count, 2);
    for (int i = 0; i < 2; i++)
        ck_assert(nw_motion_equal(declared->intended[i].motion, (NwMotion){0, {0, 0, 0}}));
    g_auto(Told) again = notch("intend d.json drawn");
    assert_says(&again, "already");
    nw_design_free(declared);
    /* Over each other, and with copies, they are none. */
    NwSolid *moved;
    ck_assert_int_eq(nw_solid_moved(right, (NwMotion){0, {-1, 1, 0}}, &moved), NW_OK);
    nw_solid_free(design->pieces[1].solid);
    design->pieces[1].solid = moved;
    save(design, "d.json");
    g_auto(Told) outside = notch("intend d.json drawn");
    assert_exit(&outside, USAGE);
    assert_says(&outside, "are no assembly: ");
    design->pieces[0].copies = 2;
    save(design, "d.json");
    g_auto(Told) copies = notch("intend d.json drawn");
    assert_exit(&copies, USAGE);
    assert_says(&copies, "drawn only once");
    nw_design_free(design);
}
END_TEST

START_TEST(a_design_in_the_store_becomes_a_version) {
    NwDesign *design = save_unintended("ember-lantern-chipped.json");
    g_auto(Told) added = notch("library add d.json");
    g_auto(Told) searched = notch("fit 'Ember Lantern, chipped'");
    g_auto(Told) told = notch("intend 'Ember Lantern, chipped' 2");
    assert_exit(&told, COMPLETE);
    assert_says(&told, "Saved in the store.");
    g_auto(Told) list = notch("library list");
    assert_says(&list, "2 versions");
    g_auto(Told) fit = notch("fit 'Ember Lantern, chipped'");
    assert_says(&fit, "4 assemblies: 2 come apart (1 cook), 2 proved unreachable.");
    g_auto(Told) none = notch("intend 'Ember Lantern, chipped' --none");
    assert_exit(&none, COMPLETE);
    g_auto(Told) after = notch("fit 'Ember Lantern, chipped'");
    assert_says(&after, "4 assemblies: 2 come apart, 2 proved unreachable.");
    nw_design_free(design);
}
END_TEST

/* Numbers of assemblies by the plain solver; every one of them can be declared. */
START_TEST(every_assembly_of_random_designs_can_be_declared) {
    int declared = 0;
    for (uint64_t seed = 100; seed < 120; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwPlainFit *fit = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
        size_t classes = fit->status == NW_OK && fit->raw ? fit->classes : 0;
        nw_plain_fit_free(fit);
        for (size_t n = 1; n <= classes && n <= 3; n++) {
            save(design, "d.json");
            g_auto(Told) told = notch("intend d.json %zu --out e.json", n);
            assert_exit(&told, COMPLETE);
            NwDesign *after = load("e.json");
            ck_assert_ptr_null(nw_check_assembly(after, after->intended, after->intended_count));
            nw_design_free(after);
            declared++;
        }
        g_auto(Told) beyond = notch("intend d.json %zu", classes + 1);
        ck_assert(!classes || beyond.exit == USAGE);
        nw_design_free(design);
    }
    ck_assert_int_gt(declared, 12);
}
END_TEST

/* An intended assembly that does not fit stops a search, and this is what mends it. */
START_TEST(a_broken_one_is_replaced) {
    NwDesign *design = save_unintended("ember-lantern.json");
    NwPlacement *pile = g_new0(NwPlacement, design->piece_count);
    for (size_t i = 0; i < design->piece_count; i++)
        pile[i].piece = (int)i;
    nw_design_set_intended(design, pile, design->piece_count);
    g_free(pile);
    save(design, "d.json");
    g_auto(Told) refused = notch("fit d.json");
    assert_exit(&refused, USAGE);
    g_auto(Told) told = notch("intend d.json 1");
    assert_exit(&told, COMPLETE);
    g_auto(Told) only = notch("fit d.json");
    assert_says(&only, "The intended assembly is the only answer.");
    nw_design_free(design);
}
END_TEST

/* ---- pieces of one shape -----------------------------------------------------------------------
 */

static NwSolid *row(int x, int y, int length) {
    NwSolid *solid = nw_solid_new();
    for (int i = 0; i < length; i++)
        nw_solid_add(solid, nw_vec(x + i, y, 0), NW_WHOLE);
    return solid;
}

/* Two bars, a cell and a short bar in a plate of 3 x 3. By hand: 2 assemblies with the bars as
 * copies, for their own row lies at an edge or in the middle; 3 with the bars told apart. */
static void save_bars(gboolean intended) {
    NwDesign *design = nw_design_new("bars");
    for (int y = 0; y < 3; y++) {
        NwSolid *whole = row(0, y, 3), *both = nw_solid_union(design->envelope, whole);
        nw_solid_free(whole);
        nw_solid_free(design->envelope);
        design->envelope = both;
    }
    nw_design_take_piece(design, "bar", row(0, 0, 3));
    nw_design_take_piece(design, "cell", row(0, 1, 1));
    nw_design_take_piece(design, "other bar", row(0, 2, 3));
    nw_design_take_piece(design, "short", row(1, 1, 2));
    NwPlacement drawn[4] = {{0}, {1}, {2}, {3}};
    nw_design_set_intended(design, drawn, intended ? 4 : 0);
    save(design, "my bars.json");
    nw_design_free(design);
}

START_TEST(pieces_of_one_shape_are_noticed_and_merged) {
    save_bars(TRUE);
    g_auto(Told) checked = notch("check 'my bars.json'");
    assert_exit(&checked, COMPLETE);
    assert_says(&checked, "bar and other bar are the same shape.");
    assert_says(&checked, "To make them copies of one piece: notch merge 'my bars.json'");
    g_auto(Told) fit = notch("fit 'my bars.json'");
    assert_says(&fit, "3 assemblies: 3 come apart (2 cooks)");
    assert_says(&fit, "bar and other bar are the same shape.");
    /* The command that is named works as it stands, of a store that was named too. */
    g_auto(Told) added = notch("library add 'my bars.json' --store 'my own.notch'");
    assert_exit(&added, COMPLETE);
    g_auto(Told) kept = notch("check bars --store 'my own.notch'");
    assert_says(&kept, "To make them copies of one piece: notch merge bars --store 'my own.notch'");
    g_auto(Told) found = notch("fit bars --store 'my own.notch'");
    assert_says(&found,
                "To make them copies of one piece: notch merge bars --store 'my own.notch'");
    g_auto(Told) beside = notch("fit 'my bars.json' --store 'other.notch'");
    assert_says(&beside, "To make them copies of one piece: notch merge 'my bars.json'");
    g_auto(Told) merged = notch("merge bars --store 'my own.notch'");
    assert_exit(&merged, COMPLETE);
    g_auto(Told) told = notch("merge 'my bars.json'");
    assert_exit(&told, COMPLETE);
    assert_says(&told, "“bars” now has 3 pieces, 4 copies in all.");
    g_auto(Told) after = notch("fit 'my bars.json'");
    assert_says(&after, "2 assemblies: 2 come apart (1 cook)");
    ck_assert_ptr_null(strstr(after.out, "same shape"));
    g_auto(Told) again = notch("merge 'my bars.json'");
    assert_exit(&again, COMPLETE);
    assert_says(&again, "No two pieces of “bars” are the same shape.");
}
END_TEST

/* What is drawn is where the copies stand from then on; in the store too. */
START_TEST(what_is_drawn_is_intended_when_pieces_are_merged) {
    save_bars(FALSE);
    g_auto(Told) added = notch("library add 'my bars.json'");
    g_auto(Told) out = notch("merge 'my bars.json' --out new.json");
    assert_exit(&out, COMPLETE);
    assert_says(&out, "The pieces as they are drawn are its intended assembly.");
    NwDesign *design = load("new.json"), *old = load("my bars.json");
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    ck_assert_int_eq((int)old->piece_count, 4);
    nw_design_free(old);
    nw_design_free(design);
    g_auto(Told) stored = notch("merge bars");
    assert_exit(&stored, COMPLETE);
    assert_says(&stored, "Saved in the store.");
    g_auto(Told) fit = notch("fit bars");
    assert_says(&fit, "2 assemblies: 2 come apart (1 cook)");
    g_auto(Told) list = notch("library list");
    assert_says(&list, "2 versions");
}
END_TEST

/* ---- nothing is lost ------------------------------------------------------------------------- */

START_TEST(links_and_permissions_stay) {
    nw_design_free(save_unintended("ember-lantern.json"));
    ck_assert_int_eq(chmod(store_file("d.json"), 0640), 0);
    ck_assert_int_eq(symlink("d.json", store_file("link.json")), 0);
    g_auto(Told) told = notch("intend link.json 1");
    assert_exit(&told, COMPLETE);
    ck_assert(g_file_test(store_file("link.json"), G_FILE_TEST_IS_SYMLINK));
    struct stat now;
    ck_assert_int_eq(stat(store_file("d.json"), &now), 0);
    ck_assert_int_eq((int)(now.st_mode & 0777), 0640);
    NwDesign *declared = load("d.json");
    ck_assert_int_gt((int)declared->intended_count, 0);
    nw_design_free(declared);
}
END_TEST

static const struct {
    const char *words, *says;
} refused[] = {
    {"intend", "usage: notch intend"},
    {"intend d.json", "no assembly given"},
    {"intend d.json 1 --none", "remove “1”"},
    {"intend d.json 5", "1 to 4"},
    {"intend d.json 0", "no assembly “0”"},
    {"intend d.json drawn", "no assembly: "},
    {"intend missing.json 1", "missing.json"},
    {"intend d.json 1 --out nowhere/e.json", "nowhere/e.json"},
};

START_TEST(what_cannot_be_declared_changes_nothing) {
    nw_design_free(save_unintended("ember-lantern.json"));
    g_autofree char *before = store_snapshot();
    for (gsize i = 0; i < G_N_ELEMENTS(refused); i++) {
        g_auto(Told) told = notch("%s", refused[i].words);
        ck_assert_msg(told.exit == USAGE || told.exit == FAILED, "%s", refused[i].words);
        ck_assert_str_eq(told.out, "");
        ck_assert_msg(strstr(told.err, refused[i].says), "%s", told.err);
        g_autofree char *after = store_snapshot();
        ck_assert_str_eq(before, after);
    }
}
END_TEST

/* A long search: who stops it by hand does not want a change. */
START_TEST(an_interrupt_changes_nothing) {
    NwDesign *design = nw_design_new("bars");
    NwSolid *bar = nw_solid_new();
    for (int x = 0; x < 6; x++)
        for (int y = 0; y < 6; y++)
            for (int z = 0; z < 4; z++)
                nw_solid_add(design->envelope, nw_vec(x, y, z), NW_WHOLE);
    nw_solid_add(bar, nw_vec(0, 0, 0), NW_WHOLE);
    nw_solid_add(bar, nw_vec(1, 0, 0), NW_WHOLE);
    nw_solid_add(bar, nw_vec(1, 1, 0), NW_WHOLE);
    nw_design_take_piece(design, "bent", bar);
    design->pieces[0].copies = 48;
    save(design, "d.json");
    g_autofree char *before = read_text("d.json");
    GSubprocess *process = spawn(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE,
                                 "intend --diagonal d.json 1");
    g_usleep(G_USEC_PER_SEC);
    g_subprocess_send_signal(process, SIGINT);
    g_auto(Told) told = wait_for(process, NULL);
    assert_exit(&told, LIMIT);
    assert_says(&told, "nothing was changed");
    g_autofree char *after = read_text("d.json");
    ck_assert_str_eq(before, after);
    nw_design_free(design);
}
END_TEST

static Suite *intend_suite(void) {
    Suite *suite = suite_create("notch-intend");
    TCase *group = tcase_create("intend");
    tcase_add_checked_fixture(group, store_folder_make, store_folder_remove);
    tcase_set_timeout(group, 120);
    tcase_add_loop_test(group, printed_placements_are_read_as_intended, 0, G_N_ELEMENTS(printing));
    tcase_add_test(group, random_placements_are_read_as_intended);
    tcase_add_test(group, printed_designs_are_read);
    tcase_add_test(group, a_number_is_declared_in_a_file_and_taken_back);
    tcase_add_test(group, a_key_is_declared_and_written_elsewhere);
    tcase_add_test(group, what_is_drawn_is_declared);
    tcase_add_test(group, a_design_in_the_store_becomes_a_version);
    tcase_add_test(group, every_assembly_of_random_designs_can_be_declared);
    tcase_add_test(group, a_broken_one_is_replaced);
    tcase_add_test(group, pieces_of_one_shape_are_noticed_and_merged);
    tcase_add_test(group, what_is_drawn_is_intended_when_pieces_are_merged);
    tcase_add_test(group, links_and_permissions_stay);
    tcase_add_test(group, what_cannot_be_declared_changes_nothing);
    tcase_add_test(group, an_interrupt_changes_nothing);
    suite_add_tcase(suite, group);
    return suite;
}

int main(int argc, char **argv) {
    if (argc < 3)
        return EXIT_FAILURE;
    program = argv[1];
    designs_folder = argv[2];
    return run_suite(intend_suite());
}
