/* One assembly on its own (job/apart.h, design/shown.h) and the verb apart. The arguments are the
 * program and the folder of the bundled designs.
 *
 * The outside source beside each check: verdicts and levels are judged by the plain search of
 * slides (plain/plain_slide.h), which has no tables; assemblies by check_assembly.h; ways out by
 * replay.h. None of them shares code with what is tested. */
#include <check.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "design/check_assembly.h"
#include "format/design_json.h"
#include "job/apart.h"
#include "lattice/named.h"
#include "notch_fixture.h"
#include "plain/plain_fewest.h"
#include "plain/plain_slide.h"
#include "plain/random_design.h"
#include "slide/levels.h"
#include "store_fixture.h"
#include "suite.h"

enum { POSITIONS_LIMIT = 20000, PIECES_MAX = 6 };

static const char *designs_folder;

static NwSolid *named(const char *name, int x, int y, int z) {
    NwSolid *solid = NULL;
    nw_named_solid_build(nw_named_solid_find(name), (const int[3]){x, y, z}, &solid);
    ck_assert_ptr_nonnull(solid);
    return solid;
}

static NwDesign *dissection(uint64_t seed, const char *name, int size, int pieces) {
    NwSolid *solid = named(name, size, size, size);
    NwDesign *design = nw_random_dissection(seed, solid, g_str_equal(name, "cube"), pieces);
    nw_solid_free(solid);
    return design;
}

static void save(const NwDesign *design, const char *name) {
    g_autoptr(GError) error = NULL;
    ck_assert_msg(nw_design_save(design, store_file(name), &error), "%s",
                  error ? error->message : "");
}

/* Takes apart in steps of `expansions` to the end. */
static NwFoundAssembly *run(NwApart *apart, long expansions) {
    NwStatus status;
    while ((status = nw_apart_step(apart, expansions, NULL)) == NW_STOPPED)
        ;
    ck_assert_int_eq(status, NW_OK);
    NwFoundAssembly *finding = nw_apart_steal(apart);
    nw_apart_free(apart);
    return finding;
}

static NwFoundAssembly *run_shown(const NwDesign *design, NwShown expected, long expansions) {
    g_autoptr(GError) error = NULL;
    NwShown shown;
    NwApart *apart = nw_apart_new_shown(design, &(NwApartOptions){0}, &shown, &error);
    ck_assert_msg(apart != NULL, "%s", error ? error->message : "");
    ck_assert_int_eq(shown, expected);
    return run(apart, expansions);
}

static void replay(const NwDesign *design, const NwFoundAssembly *finding) {
    NwSolid *solids[NW_REPLAY_SOLIDS_MAX];
    NwReplaySlide *slides = g_new0(NwReplaySlide, finding->slide_count);
    for (int b = 0; b < finding->placement_count; b++)
        nw_solid_moved(design->pieces[finding->placements[b].piece].solid,
                       finding->placements[b].motion, &solids[b]);
    for (int i = 0; i < finding->slide_count; i++)
        slides[i] = (NwReplaySlide){
            finding->slides[i].bodies, nw_direction_step(finding->slides[i].direction),
            finding->slides[i].cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : finding->slides[i].cells};
    const char *fault = nw_replay((const NwSolid *const *)solids, (size_t)finding->placement_count,
                                  slides, (size_t)finding->slide_count);
    ck_assert_msg(!fault, "%s", fault ? fault : "");
    for (int b = 0; b < finding->placement_count; b++)
        nw_solid_free(solids[b]);
    g_free(slides);
}

/* ---- which assembly a design shows ------------------------------------------------------- */

START_TEST(a_design_shows_what_it_intends_or_what_is_drawn) {
    NwDesign *design = dissection(3, "cube", 3, 4);
    NwPlacement *placements;
    size_t count;
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_DRAWN);
    ck_assert_uint_eq(count, 4);
    ck_assert_ptr_null(nw_check_assembly(design, placements, count));
    /* Listed backwards, it is sorted by piece. */
    NwPlacement backwards[4];
    for (int i = 0; i < 4; i++)
        backwards[i] = placements[3 - i];
    free(placements);
    nw_design_set_intended(design, backwards, 4);
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_INTENDED);
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(placements[i].piece, i);
    free(placements);
    /* An intended assembly that does not fit is none, even where what is drawn is one. */
    backwards[0].motion.shift.x += 2;
    nw_design_set_intended(design, backwards, 4);
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_NONE);
    ck_assert_ptr_null(placements);
    nw_design_set_intended(design, NULL, 0);
    /* A part that must be filled is left open; or a piece is drawn once and has two copies. */
    nw_solid_add(design->envelope, nw_vec(9, 0, 0), NW_WHOLE);
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_NONE);
    nw_solid_add(design->may_be_empty, nw_vec(9, 0, 0), NW_WHOLE);
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_DRAWN);
    free(placements);
    design->pieces[1].copies = 2;
    ck_assert_int_eq(nw_design_shown(design, &placements, &count), NW_SHOWS_NONE);
    nw_design_free(design);
}
END_TEST

/* ---- taking it apart --------------------------------------------------------------------- */

/* Designs that nobody drew, as they are cut and as somebody intends them. */
START_TEST(small_ones_agree_with_the_plain_search) {
    static const char *const names[] = {"cube", "octahedron", "cuboctahedron", "stella-octangula"};
    static const int sizes[] = {3, 2, 1, 2};
    int opens = 0, locked = 0, judged = 0;
    for (uint64_t seed = 0; seed < 120; seed++) {
        int kind = (int)(seed % 4), pieces = 2 + (int)(seed % (PIECES_MAX - 1));
        NwDesign *design = dissection(seed, names[kind], sizes[kind], pieces);
        const NwSolid *solids[PIECES_MAX];
        for (size_t p = 0; p < design->piece_count; p++)
            solids[p] = design->pieces[p].solid;
        NwPlainWayOut plain = nw_plain_slide(solids, design->piece_count, false, POSITIONS_LIMIT);
        NwFoundAssembly *finding = run_shown(design, NW_SHOWS_DRAWN, 1 + (long)(seed % 40));
        ck_assert(!finding->intended);
        if (plain.apart != NW_LIMIT) {
            judged++;
            ck_assert_int_eq(finding->verdict, plain.apart == NW_OK ? NW_OPENS : NW_UNREACHABLE);
            ck_assert_int_eq(finding->level, plain.apart == NW_OK ? plain.level : 0);
        }
        opens += finding->verdict == NW_OPENS;
        locked += finding->verdict == NW_UNREACHABLE;
        if (finding->verdict == NW_OPENS)
            replay(design, finding);
        nw_found_assembly_free(finding);
        free(plain.slides);
        nw_design_free(design);
    }
    ck_assert(judged > 100 && opens > 30 && locked > 0);
}
END_TEST

START_TEST(intended_ones_agree_with_the_plain_search) {
    int judged = 0;
    for (uint64_t seed = 0; seed < 80; seed++) {
        NwDesign *design = nw_random_design(seed);
        if (design->intended_count && design->intended_count <= PIECES_MAX) {
            NwFoundAssembly *finding = run_shown(design, NW_SHOWS_INTENDED, 10);
            NwSolid *solids[PIECES_MAX];
            for (int b = 0; b < finding->placement_count; b++)
                nw_solid_moved(design->pieces[finding->placements[b].piece].solid,
                               finding->placements[b].motion, &solids[b]);
            NwPlainWayOut plain = nw_plain_slide((const NwSolid *const *)solids,
                                                 (size_t)finding->placement_count, false, 3000);
            ck_assert(finding->intended);
            ck_assert(plain.apart == NW_LIMIT ||
                      (finding->verdict == NW_OPENS) == (plain.apart == NW_OK));
            judged += plain.apart != NW_LIMIT;
            for (int b = 0; b < finding->placement_count; b++)
                nw_solid_free(solids[b]);
            free(plain.slides);
            nw_found_assembly_free(finding);
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(judged, 40);
}
END_TEST

/* Far too many pieces for a list of all assemblies. */
START_TEST(many_pieces_come_apart) {
    static const struct {
        const char *name;
        int size, pieces;
    } rows[] = {{"cube", 5, 14}, {"cube", 6, 20}, {"cube", 6, 32}, {"octahedron", 4, 26}};
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        for (uint64_t seed = 0; seed < 3; seed++) {
            NwDesign *design = dissection(seed, rows[i].name, rows[i].size, rows[i].pieces);
            NwFoundAssembly *finding = run_shown(design, NW_SHOWS_DRAWN, 500);
            ck_assert_int_eq(finding->placement_count, rows[i].pieces);
            ck_assert(finding->verdict == NW_OPENS || finding->verdict == NW_UNREACHABLE);
            if (finding->verdict == NW_OPENS) {
                NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
                ck_assert_int_eq(levels.count, rows[i].pieces - 1);
                replay(design, finding);
            }
            nw_found_assembly_free(finding);
            nw_design_free(design);
        }
}
END_TEST

START_TEST(what_is_no_assembly_is_refused) {
    g_autoptr(GError) error = NULL;
    NwDesign *design = dissection(1, "cube", 4, 33);
    NwShown shown;
    ck_assert_ptr_null(nw_apart_new_shown(design, &(NwApartOptions){0}, &shown, &error));
    ck_assert(g_error_matches(error, NW_APART_ERROR, NW_APART_ERROR_TOO_MANY));
    g_clear_error(&error);
    NwPlacement none[1] = {{0}};
    ck_assert_ptr_null(nw_apart_new(design, none, 1, &(NwApartOptions){0}, &error));
    ck_assert(g_error_matches(error, NW_APART_ERROR, NW_APART_ERROR_NO_ASSEMBLY));
    nw_design_free(design);
}
END_TEST

/* The fewest slides in all are what the plain search finds: they do, and one fewer does not. */
static void judge_fewest(const NwDesign *design, gboolean diagonals, int *judged, int *fewer) {
    const NwApartOptions plainly = {.diagonals = diagonals};
    const NwApartOptions wanted = {.diagonals = diagonals, .fewest = TRUE};
    NwShown shown;
    NwFoundAssembly *one = run(nw_apart_new_shown(design, &plainly, &shown, NULL), 100);
    NwFoundAssembly *best = run(nw_apart_new_shown(design, &wanted, &shown, NULL), 1);
    ck_assert_int_eq(one->verdict, best->verdict);
    ck_assert_int_eq(one->at_least, 0);
    if (best->verdict == NW_OPENS) {
        NwSolid *solids[NW_PLAIN_FEWEST_PIECES_MAX];
        long patience = 100000;
        for (int b = 0; b < best->placement_count; b++)
            nw_solid_moved(design->pieces[best->placements[b].piece].solid,
                           best->placements[b].motion, &solids[b]);
        replay(design, best);
        ck_assert_int_eq(best->at_least, best->total);
        ck_assert_int_eq(best->slide_count, best->total);
        ck_assert(!nw_plain_fewest((const NwSolid *const *)solids, (size_t)best->placement_count,
                                   diagonals, best->total - 1, &patience));
        *judged += patience > 0;
        *fewer += best->total < one->total;
        for (int b = 0; b < best->placement_count; b++)
            nw_solid_free(solids[b]);
    }
    nw_found_assembly_free(one);
    nw_found_assembly_free(best);
}

START_TEST(the_fewest_slides_agree_with_the_plain_search) {
    static const char *const bundled[] = {"ember-lantern", "kite-harbour", "quiet-comet",
                                          "tide-chest"};
    int judged = 0, fewer = 0;
    for (int i = 0; i < 4; i++) {
        g_autofree char *path = g_strdup_printf("%s/%s.json", designs_folder, bundled[i]);
        NwDesign *design = nw_design_load(path, NULL);
        judge_fewest(design, FALSE, &judged, &fewer);
        nw_design_free(design);
    }
    for (uint64_t seed = 0; seed < 40; seed++) {
        NwDesign *design = dissection(seed, seed % 2 ? "cube" : "octahedron", 2 + (int)(seed % 2),
                                      2 + (int)(seed % (PIECES_MAX - 1)));
        judge_fewest(design, seed % 3 == 2, &judged, &fewer);
        nw_design_free(design);
    }
    printf("%d judged, %d with fewer than without\n", judged, fewer);
    ck_assert_int_gt(judged, 20);
    ck_assert_int_gt(fewer, 0);
}
END_TEST

/* ---- the verb ---------------------------------------------------------------------------- */

static void assert_says(const Told *told, const char *part) {
    ck_assert_msg(strstr(told->out, part) || strstr(told->err, part), "no “%s” in: %s%s", part,
                  told->out, told->err);
}

START_TEST(the_verb_tells_levels_and_slides) {
    g_autofree char *path = g_build_filename(designs_folder, "ember-lantern.json", NULL);
    g_auto(Told) told = notch("apart '%s'", path);
    assert_exit(&told, COMPLETE);
    assert_says(&told, "the intended assembly, 6 pieces");
    /* The design's own notes give level 4 and 10 slides. */
    assert_says(&told, "Comes apart: 4·1·2·2·1, 10 slides");
    assert_says(&told, " 10. ");
    g_auto(Told) drawn = notch("apart '%s' drawn", path);
    g_auto(Told) json = notch("apart --json '%s'", path);
    assert_exit(&json, COMPLETE);
    assert_says(&json, "\"event\":\"apart\",\"assembly\":\"intended\",\"status\":\"opens\"");
    assert_says(&json, "\"levels\":[4,1,2,2,1],\"total\":10");
}
END_TEST

START_TEST(the_verb_takes_apart_what_fit_cannot_list) {
    NwDesign *design = dissection(0, "cube", 5, 14);
    save(design, "d.json");
    g_auto(Told) told = notch("apart '%s'", store_file("d.json"));
    assert_exit(&told, COMPLETE);
    assert_says(&told, "the pieces as drawn, 14 pieces");
    assert_says(&told, "Comes apart: 1·1·1·1·1·1·1·1·1·1·1·1·1, 13 slides");
    nw_design_free(design);
}
END_TEST

/* A line that “fit --json” printed, a number and a key: the same assembly, with the same levels as
 * the list. */
START_TEST(the_verb_takes_any_assembly) {
    g_autofree char *path = g_build_filename(designs_folder, "ember-lantern-chipped.json", NULL);
    g_autofree char *store = g_strdup(store_file("s.notch"));
    g_auto(Told) listed = notch("fit --json --store '%s' '%s'", store, path);
    assert_exit(&listed, COMPLETE);
    g_auto(GStrv) lines = g_strsplit(listed.out, "\n", -1);
    int given = 0;
    for (char **line = lines; *line; line++) {
        if (!strstr(*line, "\"event\":\"assembly\""))
            continue;
        ck_assert(g_file_set_contents(store_file("line.json"), *line, -1, NULL));
        g_auto(Told) told =
            notch("apart --json --placements '%s' --store '%s' 'Ember Lantern, chipped'",
                  store_file("line.json"), store);
        assert_exit(&told, COMPLETE);
        assert_says(&told, strstr(*line, "\"opens\"") ? "\"opens\"" : "\"unreachable\"");
        assert_says(&told, "\"assembly\":\"given\"");
        g_autofree char *key = g_strndup(strstr(*line, "\"key\":\"") + 7, 16);
        g_auto(Told) by_key =
            notch("apart --json --store '%s' 'Ember Lantern, chipped' %s", store, key);
        assert_exit(&by_key, COMPLETE);
        const char *way = strstr(told.out, "\"way_out\"");
        assert_says(&by_key, key);
        assert_says(&by_key, way);
        given++;
    }
    ck_assert_int_gt(given, 1);
    g_auto(Told) first = notch("apart --store '%s' 'Ember Lantern, chipped' 1", store);
    assert_says(&first, "Comes apart: 4·1·2·2·1, 10 slides");
    g_auto(Told) beyond = notch("apart --store '%s' 'Ember Lantern, chipped' 9999", store);
    assert_exit(&beyond, USAGE);
    assert_says(&beyond, "no assembly “9999”");
    g_auto(Told) file = notch("apart '%s' 1", path);
    assert_exit(&file, USAGE);
    assert_says(&file, "name a design of the store, or use --placements");
}
END_TEST

/* A shell that never opens, and loose cubes in it: more positions than any memory holds. */
static void save_rattle(const char *name, int cubes) {
    NwDesign *design = nw_design_new("Rattle");
    NwSolid *outer = named("box", 4, 7, 7);
    NwSolid *shell = nw_solid_copy(outer);
    nw_solid_free(design->envelope);
    design->envelope = outer;
    for (int x = 1; x < 3; x++)
        for (int y = 1; y < 6; y++)
            for (int z = 1; z < 6; z++)
                nw_solid_remove(shell, nw_vec(x, y, z), NW_WHOLE);
    nw_design_take_piece(design, "shell", shell);
    for (int i = 0; i < 50; i++) {
        NwVec at = nw_vec(1 + i / 25, 1 + i % 25 / 5, 1 + i % 5);
        if (i >= cubes) {
            nw_solid_add(design->may_be_empty, at, NW_WHOLE);
            continue;
        }
        NwSolid *cube = nw_solid_new();
        char piece[16];
        g_snprintf(piece, sizeof piece, "c%d", i);
        nw_solid_add(cube, at, NW_WHOLE);
        nw_design_take_piece(design, piece, cube);
    }
    save(design, name);
    nw_design_free(design);
}

START_TEST(the_verb_keeps_to_its_limits) {
    save_rattle("d.json", 25);
    g_auto(Told) seconds = notch("apart --json --seconds 0.8 '%s'", store_file("d.json"));
    assert_exit(&seconds, LIMIT);
    assert_says(&seconds, "\"event\":\"progress\",\"positions\":");
    assert_says(&seconds, "\"status\":\"undecided\",\"stopped\":true");
    g_auto(Told) states = notch("apart --states 1000 '%s'", store_file("d.json"));
    assert_exit(&states, LIMIT);
    assert_says(&states, "Undecided: 1000 positions seen");
    assert_says(&states, "--states");
}
END_TEST

/* Ember Lantern: 10 slides by the way that frees something first, and no fewer than 9. */
START_TEST(the_verb_finds_the_fewest_slides) {
    g_autofree char *path = g_build_filename(designs_folder, "ember-lantern.json", NULL);
    g_auto(Told) best = notch("apart --fewest '%s'", path);
    assert_exit(&best, COMPLETE);
    assert_says(&best, ", 9 slides, the fewest (");
    assert_says(&best, "Proved: no way out has fewer slides.");
    g_auto(Told) json = notch("apart --json --fewest '%s'", path);
    assert_says(&json, "\"total\":9,\"fewest\":true,\"at_least\":9");
    g_auto(Told) bounded = notch("apart --fewest --tries 50 '%s'", path);
    assert_exit(&bounded, COMPLETE);
    assert_says(&bounded, ", 10 slides at most, 8 at least (");
    assert_says(&bounded, "none has fewer than 8. Use --tries N to search longer");
    g_auto(Told) stopped = notch("apart --json --fewest --seconds 0.000001 '%s'", path);
    assert_exit(&stopped, LIMIT);
    assert_says(&stopped, "\"status\":\"opens\",\"stopped\":true");
    assert_says(&stopped, "\"total\":10,\"fewest\":false,\"at_least\":8");
    g_auto(Told) below = notch("apart --fewest --tries -1 '%s'", path);
    assert_exit(&below, USAGE);
    g_auto(Told) shown = notch("show --fewest --tries -1 '%s' 1", path);
    assert_exit(&shown, USAGE);
}
END_TEST

START_TEST(an_interrupt_is_heard_at_once) {
    save_rattle("d.json", 30);
    g_autofree char *words = g_strdup_printf("apart '%s'", store_file("d.json"));
    GSubprocess *process =
        spawn(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE, words);
    g_usleep(700000);
    g_subprocess_send_signal(process, SIGINT);
    g_auto(Told) told = wait_for(process, NULL);
    assert_exit(&told, LIMIT);
    assert_says(&told, "Not known yet: stopped after");
}
END_TEST

START_TEST(the_verb_refuses_in_one_sentence) {
    NwDesign *design = dissection(2, "cube", 3, 4);
    nw_solid_remove(design->pieces[0].solid, nw_cell_at(&design->pieces[0].solid->cells[0]),
                    NW_WHOLE);
    save(design, "d.json");
    g_auto(Told) open = notch("apart '%s'", store_file("d.json"));
    assert_exit(&open, USAGE);
    assert_says(&open, "its pieces as drawn are not one");
    ck_assert(g_file_set_contents(store_file("p.json"), "{\"event\": \"start\"}", -1, NULL));
    g_auto(Told) no_list =
        notch("apart --placements '%s' '%s'", store_file("p.json"), store_file("d.json"));
    assert_exit(&no_list, USAGE);
    assert_says(&no_list, "there are no placements here");
    g_auto(Told) both =
        notch("apart --placements '%s' '%s' drawn", store_file("p.json"), store_file("d.json"));
    assert_exit(&both, USAGE);
    nw_design_free(design);
}
END_TEST

static Suite *apart_suite(void) {
    Suite *suite = suite_create("apart");
    TCase *group = tcase_create("apart");
    tcase_set_timeout(group, 120);
    tcase_add_checked_fixture(group, store_folder_make, store_folder_remove);
    tcase_add_test(group, a_design_shows_what_it_intends_or_what_is_drawn);
    tcase_add_test(group, small_ones_agree_with_the_plain_search);
    tcase_add_test(group, intended_ones_agree_with_the_plain_search);
    tcase_add_test(group, many_pieces_come_apart);
    tcase_add_test(group, what_is_no_assembly_is_refused);
    tcase_add_test(group, the_fewest_slides_agree_with_the_plain_search);
    tcase_add_test(group, the_verb_tells_levels_and_slides);
    tcase_add_test(group, the_verb_takes_apart_what_fit_cannot_list);
    tcase_add_test(group, the_verb_takes_any_assembly);
    tcase_add_test(group, the_verb_keeps_to_its_limits);
    tcase_add_test(group, the_verb_finds_the_fewest_slides);
    tcase_add_test(group, an_interrupt_is_heard_at_once);
    tcase_add_test(group, the_verb_refuses_in_one_sentence);
    suite_add_tcase(suite, group);
    return suite;
}

int main(int argc, char **argv) {
    if (argc < 3)
        return EXIT_FAILURE;
    program = argv[1];
    designs_folder = argv[2];
    return run_suite(apart_suite());
}
