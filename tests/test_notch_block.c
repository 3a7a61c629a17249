/* The verbs block and explain as people and scripts use them. The arguments are the program and the
 * folder of the bundled designs. */
#include <check.h>
#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "design/check_assembly.h"
#include "design/frame.h"
#include "format/design_json.h"
#include "job/import.h"
#include "notch_fixture.h"
#include "store_fixture.h"
#include "suite.h"

static const char *designs_folder;
static char *chipped; /* a bundled design with one cook, quoted for a shell */
static char *cured;   /* the same without one */
static const char name[] = "'Ember Lantern, chipped'";

/* A copy of a bundled design in the frames in which a store keeps it, so that what is printed of
 * the file and of the store can be compared line by line. */
static char *dup_settled_file(const char *file) {
    g_autofree char *path = g_strdup_printf("%s/%s", designs_folder, file);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_ptr_nonnull(design);
    ck_assert_int_eq(nw_design_settle(design), NW_OK);
    ck_assert(nw_design_save(design, store_file(file), NULL));
    nw_design_free(design);
    return g_strdup_printf("'%s'", file);
}

static void set_up(void) {
    store_folder_make();
    chipped = dup_settled_file("ember-lantern-chipped.json");
    cured = dup_settled_file("ember-lantern.json");
}

static void tear_down(void) {
    g_free(chipped);
    g_free(cured);
    store_folder_remove();
}

/* One sentence on standard error, no event on standard output, and exit status 2. */
static void assert_refused(const Told *told, const char *part) {
    assert_exit(told, USAGE);
    ck_assert_str_eq(told->out, "");
    ck_assert_msg(g_str_has_prefix(told->err, "notch: "), "%s", told->err);
    const char *end = strchr(told->err, '\n');
    ck_assert_msg(end && !end[1], "not one line: %s", told->err);
    ck_assert_msg(strstr(told->err, part) != NULL, "%s", told->err);
}

/* ---- reading its events ------------------------------------------------------------------ */

static JsonObject *parse_object(const char *line) {
    g_autoptr(JsonParser) parser = json_parser_new_immutable();
    g_autoptr(GError) error = NULL;
    ck_assert_msg(json_parser_load_from_data(parser, line, -1, &error), "%s: %s", line,
                  error ? error->message : "no error");
    ck_assert(JSON_NODE_HOLDS_OBJECT(json_parser_get_root(parser)));
    return json_object_ref(json_node_get_object(json_parser_get_root(parser)));
}

static void assert_part(JsonObject *object, const char *member) {
    JsonArray *part = json_object_get_array_member(object, member);
    ck_assert_uint_eq(json_array_get_length(part), 4);
    gint64 bit = json_array_get_int_element(part, 3);
    ck_assert(bit >= 0 && bit < NW_PARTS);
}

/* null, or {"level": L, "total": T}. */
static void assert_way(JsonObject *object, const char *member) {
    ck_assert(json_object_has_member(object, member));
    if (json_object_get_null_member(object, member))
        return;
    JsonObject *way = json_object_get_object_member(object, member);
    ck_assert_uint_eq(json_object_get_size(way), 2);
    gint64 level = json_object_get_int_member(way, "level");
    ck_assert(level >= 1 && level <= json_object_get_int_member(way, "total"));
}

static void assert_changes(JsonObject *object) {
    JsonArray *changes = json_object_get_array_member(object, "changes");
    guint count = json_array_get_length(changes);
    ck_assert(count == 1 || count == 2);
    for (guint i = 0; i < count; i++) {
        JsonObject *change = json_array_get_object_element(changes, i);
        assert_part(change, "part");
        ck_assert(json_object_has_member(change, "from") && json_object_has_member(change, "to"));
        ck_assert(!json_object_get_null_member(change, "from") ||
                  !json_object_get_null_member(change, "to"));
    }
}

static void assert_proposal(JsonObject *object, int rank) {
    static const char *const counts[] = {"cooks_left",  "new_assemblies", "new_cooks", "assemblies",
                                         "unreachable", "undecided",      "hanging",   "sharp"};
    ck_assert_int_eq((int)json_object_get_int_member(object, "rank"), rank);
    assert_changes(object);
    JsonArray *kills = json_object_get_array_member(object, "kills");
    ck_assert_uint_gt(json_array_get_length(kills), 0);
    for (guint i = 0; i < json_array_get_length(kills); i++)
        ck_assert_uint_eq(strlen(json_array_get_string_element(kills, i)), 16);
    ck_assert_uint_eq(json_array_get_length(json_object_get_array_member(object, "reasons")),
                      json_array_get_length(kills));
    ck_assert_uint_gt(strlen(json_object_get_string_member(object, "how")), 0);
    for (gsize i = 0; i < G_N_ELEMENTS(counts); i++)
        ck_assert_int_ge(json_object_get_int_member(object, counts[i]), 0);
    assert_way(object, "intended");
    assert_way(object, "before");
    ck_assert_int_eq(json_object_get_boolean_member(object, "proved"),
                     json_object_get_int_member(object, "undecided") == 0);
    ck_assert_uint_eq(json_object_get_size(object), G_N_ELEMENTS(counts) + 9);
}

typedef struct Events {
    GPtrArray *lines; /* all but progress */
    int proposals, misses, proved;
    JsonObject *done;
} Events;

static void events_clear(Events *events) {
    g_clear_pointer(&events->lines, g_ptr_array_unref);
    g_clear_pointer(&events->done, json_object_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Events, events_clear)

static void read_event(const char *line, Events *events) {
    g_autoptr(JsonObject) object = parse_object(line);
    const char *event = json_object_get_string_member(object, "event");
    ck_assert_msg(!events->done, "an event after the end: %s", line);
    if (strcmp(event, "progress") == 0) {
        double done = json_object_get_double_member(object, "done");
        ck_assert(done >= 0 && done <= 1);
        return;
    }
    g_ptr_array_add(events->lines, g_strdup(line));
    if (strcmp(event, "proposal") == 0) {
        assert_proposal(object, ++events->proposals);
        events->proved += json_object_get_boolean_member(object, "proved");
    } else if (strcmp(event, "near-miss") == 0) {
        assert_changes(object);
        ck_assert_uint_gt(strlen(json_object_get_string_member(object, "broke")), 0);
        events->misses++;
    } else {
        ck_assert_str_eq(event, "done");
        events->done = json_object_ref(object);
    }
}

static Events read_events(const char *out) {
    Events events = {.lines = g_ptr_array_new_with_free_func(g_free)};
    g_auto(GStrv) lines = g_strsplit(out, "\n", -1);
    for (int i = 0; lines[i] && *lines[i]; i++)
        read_event(lines[i], &events);
    ck_assert_msg(events.done != NULL, "no end: %s", out);
    ck_assert_int_eq((int)json_object_get_int_member(events.done, "proposals"), events.proposals);
    ck_assert_int_eq((int)json_object_get_int_member(events.done, "proved"), events.proved);
    return events;
}

static gboolean is_complete(const Events *events) {
    return json_object_get_boolean_member(events->done, "complete");
}

static void assert_same_lines(const Events *a, const Events *b) {
    ck_assert_uint_eq(a->lines->len, b->lines->len);
    for (guint i = 0; i < a->lines->len; i++)
        ck_assert_str_eq(a->lines->pdata[i], b->lines->pdata[i]);
}

/* ---- tests ------------------------------------------------------------------------------- */

START_TEST(block_tells_proposals_as_lines) {
    g_auto(Told) told = notch("block --json %s", chipped);
    assert_exit(&told, COMPLETE);
    g_auto(Events) events = read_events(told.out);
    ck_assert(is_complete(&events));
    ck_assert_int_gt(events.proposals, 10);
    ck_assert_int_gt(events.misses, 0);
    ck_assert_int_eq((int)json_object_get_int_member(events.done, "pairs"), 0);
}
END_TEST

START_TEST(block_tells_proposals_to_people) {
    g_auto(Told) told = notch("block %s --limit 1", chipped);
    assert_exit(&told, LIMIT);
    ck_assert_ptr_nonnull(strstr(told.out, "1 cook; the intended assembly has level 4."));
    ck_assert_ptr_nonnull(strstr(told.out, "    1  add corner 3 of cell 1 3 1 to D\n"));
    ck_assert_ptr_nonnull(strstr(told.out, "no cook left; level 4, 10 slides; proved"));
    ck_assert_ptr_nonnull(strstr(told.out, "Stopped: "));
    ck_assert_ptr_null(strchr(told.out, '\033'));
    g_auto(Told) nothing = notch("block %s", cured);
    assert_exit(&nothing, COMPLETE);
    ck_assert_ptr_nonnull(strstr(nothing.out, "0 cooks"));
}
END_TEST

/* What --out writes is a design whose intended assembly fits and that has no cook. */
START_TEST(the_best_proposal_is_carried_out) {
    g_auto(Told) told = notch("block %s --limit 1 --out better.json", chipped);
    assert_exit(&told, LIMIT);
    NwDesign *design = nw_design_load(store_file("better.json"), NULL);
    ck_assert_ptr_nonnull(design);
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    nw_design_free(design);
    g_auto(Told) fit = notch("fit --json better.json");
    assert_exit(&fit, COMPLETE);
    ck_assert_ptr_nonnull(strstr(fit.out, "\"cooks\":0,"));
    g_auto(Told) none = notch("block %s --out never.json", cured);
    assert_exit(&none, FAILED);
    ck_assert_ptr_nonnull(strstr(none.err, "was not written"));
    ck_assert(!g_file_test(store_file("never.json"), G_FILE_TEST_EXISTS));
}
END_TEST

START_TEST(a_cook_is_named_by_number_or_key) {
    g_auto(Told) all = notch("block --json %s --limit 2", chipped);
    g_auto(Events) events = read_events(all.out);
    g_autoptr(JsonObject) first = parse_object(events.lines->pdata[0]);
    const char *key =
        json_array_get_string_element(json_object_get_array_member(first, "kills"), 0);
    g_auto(Told) by_key = notch("block --json %s --limit 2 --cook %s", chipped, key);
    g_auto(Told) by_start = notch("block --json %s --limit 2 --cook %.5s", chipped, key);
    g_auto(Told) by_number = notch("block --json %s --limit 2 --cook 2", chipped);
    assert_exit(&by_key, LIMIT);
    ck_assert_str_eq(by_key.out, by_start.out);
    ck_assert_str_eq(by_key.out, by_number.out);
    g_auto(Events) one = read_events(by_key.out);
    ck_assert_int_eq(one.proposals, 2);
    g_auto(Told) intended = notch("block %s --cook 1", chipped);
    assert_refused(&intended, "is not a cook");
    g_auto(Told) beyond = notch("block %s --cook 99", chipped);
    assert_refused(&beyond, "no assembly “99”");
    g_auto(Told) unknown = notch("block %s --cook 0123456789abcdef", chipped);
    assert_refused(&unknown, "no assembly “0123456789abcdef”");
}
END_TEST

START_TEST(bad_words_are_refused) {
    g_auto(Told) changes = notch("block %s --changes 3", chipped);
    assert_refused(&changes, "--changes must be 1 or 2");
    g_auto(Told) limit = notch("block %s --limit -1", chipped);
    assert_refused(&limit, "cannot be negative");
    g_auto(Told) seconds = notch("block %s --seconds -1", chipped);
    assert_refused(&seconds, "cannot be negative");
    g_auto(Told) missing = notch("block nowhere.json");
    assert_refused(&missing, "nowhere.json");
    g_autofree char *path = g_strdup_printf("%s/ember-lantern-chipped.json", designs_folder);
    NwDesign *design = nw_design_load(path, NULL);
    ck_assert_ptr_nonnull(design);
    design->intended_count = 0;
    ck_assert(nw_design_save(design, store_file("plain.json"), NULL));
    nw_design_free(design);
    g_auto(Told) plain = notch("block plain.json");
    assert_exit(&plain, USAGE);
    ck_assert_str_eq(plain.out, "");
    ck_assert_ptr_nonnull(strstr(plain.err, "no intended assembly"));
}
END_TEST

/* ---- in a store -------------------------------------------------------------------------- */

START_TEST(limits_stop_and_the_store_goes_on) {
    g_auto(Told) whole = notch("block --json %s", chipped);
    g_auto(Events) all = read_events(whole.out);
    for (int limit = 1; limit < all.proposals; limit *= 3) {
        g_auto(Told) told = notch("block --json %s --store s.notch --limit %d", chipped, limit);
        assert_exit(&told, LIMIT);
        g_auto(Events) events = read_events(told.out);
        ck_assert_int_eq(events.proposals, limit);
        ck_assert(!is_complete(&events));
        for (int i = 0; i < limit; i++)
            ck_assert_str_eq(events.lines->pdata[i], all.lines->pdata[i]);
    }
    g_auto(Told) said = notch("block %s --store s.notch --limit 1", name);
    assert_exit(&said, LIMIT);
    ck_assert_ptr_nonnull(strstr(said.out, "Resuming ("));
    g_auto(Told) rest = notch("block --json %s --store s.notch", name);
    assert_exit(&rest, COMPLETE);
    g_auto(Events) together = read_events(rest.out);
    assert_same_lines(&together, &all);
    g_auto(Told) again = notch("block --json %s --store s.notch", name);
    assert_exit(&again, COMPLETE);
    g_auto(Events) stored = read_events(again.out);
    assert_same_lines(&stored, &all);
    g_auto(Told) anew = notch("block %s --store s.notch --anew --limit 1", name);
    assert_exit(&anew, LIMIT);
    ck_assert_ptr_null(strstr(anew.out, "Resuming"));
}
END_TEST

/* Whether an advisor can learn the design from what the store has, and so need not search it. */
static gboolean is_learnt(void) {
    GError *error = NULL;
    NwLibrary *library = nw_library_open(store_file("s.notch"), NW_LIBRARY_READ_ONLY, &error);
    ck_assert_ptr_nonnull(library);
    g_autoptr(NwDesignEntry) entry =
        nw_library_find_design(library, "Ember Lantern, chipped", &error);
    ck_assert_ptr_nonnull(entry);
    NwDesign *design = nw_library_load_design(library, entry->current_version, &error);
    NwAdvisor *advisor;
    gboolean learnt;
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_OK);
    const NwBaselineOptions options = {0};
    ck_assert(nw_founds_learn(library, entry->current_version, design, &options, NULL, advisor,
                              &learnt, &error));
    ck_assert_int_eq(nw_advisor_ground(advisor)->complete, learnt);
    nw_advisor_free(advisor);
    nw_design_free(design);
    nw_library_close(library);
    return learnt;
}

/* A search by “notch fit” that came to its end spares that of “notch block”, which says the same.
 * One that was stopped, or that only looked for what fits, does not. */
START_TEST(block_learns_from_a_finished_fit) {
    g_auto(Told) whole = notch("block --json %s", chipped);
    g_auto(Events) all = read_events(whole.out);
    g_auto(Told) fit_only = notch("fit --fit-only %s --store s.notch", chipped);
    assert_exit(&fit_only, COMPLETE);
    ck_assert(!is_learnt());
    g_auto(Told) part = notch("fit %s --limit 1 --store s.notch", name);
    assert_exit(&part, LIMIT);
    ck_assert(!is_learnt());
    g_auto(Told) fit = notch("fit %s --store s.notch", name);
    assert_exit(&fit, COMPLETE);
    ck_assert(is_learnt());
    g_auto(Told) told = notch("block --json %s --store s.notch", name);
    assert_exit(&told, COMPLETE);
    g_auto(Events) events = read_events(told.out);
    assert_same_lines(&events, &all);
}
END_TEST

/* Runs of a tenth of a second and more, ended by the clock or by Ctrl-C in turn. */
START_TEST(stops_at_any_time_come_to_the_same) {
    g_auto(Told) whole = notch("block --json %s --changes 2", chipped);
    assert_exit(&whole, COMPLETE);
    g_auto(Events) all = read_events(whole.out);
    int runs = 0, exit = LIMIT;
    while (exit == LIMIT) {
        g_autofree char *words =
            g_strdup_printf("block --json %s --changes 2 --store s.notch --seconds %.1f", chipped,
                            runs % 2 ? 60 : 0.1 * (runs + 1));
        GSubprocess *process =
            spawn(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE, words);
        if (runs % 2) {
            g_usleep((gulong)(300000 + 200000 * runs));
            g_subprocess_send_signal(process, SIGINT);
        }
        g_auto(Told) told = wait_for(process, NULL);
        g_auto(Events) events = read_events(told.out);
        ck_assert(told.exit == COMPLETE || told.exit == LIMIT);
        ck_assert(is_complete(&events) == (told.exit == COMPLETE));
        exit = told.exit;
        if (exit == COMPLETE)
            assert_same_lines(&events, &all);
        ck_assert_msg(++runs < 60, "60 runs do not finish");
    }
    ck_assert_int_gt(runs, 1);
}
END_TEST

/* ---- what a part does -------------------------------------------------------------------- */

START_TEST(explain_tells_what_a_part_does) {
    g_auto(Told) json = notch("explain --json %s --part 1,3,1,3", cured);
    assert_exit(&json, COMPLETE);
    g_autoptr(JsonObject) object = parse_object(json.out);
    ck_assert_str_eq(json_object_get_string_member(object, "event"), "part");
    assert_part(object, "part");
    ck_assert_str_eq(json_object_get_string_member(object, "piece"), "D");
    ck_assert(json_object_get_boolean_member(object, "holds"));
    ck_assert(!json_object_get_boolean_member(object, "idle"));
    ck_assert_uint_eq(json_array_get_length(json_object_get_array_member(object, "revives")), 1);
    assert_way(object, "intended");
    assert_way(object, "before");
    g_auto(Told) text = notch("explain %s --part 1,3,1,3", cured);
    assert_exit(&text, COMPLETE);
    ck_assert_ptr_nonnull(strstr(text.out, "corner 3 of cell 1 3 1"));
    ck_assert_ptr_nonnull(strstr(text.out, "would be a cook"));
}
END_TEST

START_TEST(explain_refuses_what_is_no_part) {
    g_auto(Told) outside = notch("explain %s --part 90,3,1,3", cured);
    assert_refused(&outside, "has this part");
    g_auto(Told) words = notch("explain %s --part 1,3,1", cured);
    assert_refused(&words, "invalid part");
    g_auto(Told) bit = notch("explain %s --part 1,3,1,5", cured);
    assert_refused(&bit, "invalid part");
    g_auto(Told) none = notch("explain %s", cured);
    assert_refused(&none, "--part");
}
END_TEST

/* A file that draws its pieces in frames of their own, and is kept: what is found of it is found
 * again by its name, without a search. */
START_TEST(what_is_kept_of_a_file_is_found_by_its_name) {
    g_auto(Told) kept =
        notch("fit '%s/ember-lantern-chipped.json' --store s.notch", designs_folder);
    assert_exit(&kept, COMPLETE);
    g_auto(Told) again = notch("fit %s --store s.notch", name);
    assert_exit(&again, COMPLETE);
    ck_assert_ptr_nonnull(strstr(again.out, "From the store: search complete"));
    const char *end = strstr(kept.out, "Search complete after");
    ck_assert_ptr_nonnull(end);
    ck_assert_int_eq(strncmp(kept.out, again.out, (size_t)(end - kept.out)), 0);
    g_auto(Told) once_more =
        notch("fit '%s/ember-lantern-chipped.json' --store s.notch", designs_folder);
    ck_assert_str_eq(once_more.out, again.out);
    g_auto(Told) shown = notch("show %s 2 --store s.notch", name);
    assert_exit(&shown, COMPLETE);
    g_auto(Told) block = notch("block %s --store s.notch --limit 1", name);
    assert_exit(&block, LIMIT);
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 3)
        return EXIT_FAILURE;
    program = argv[1];
    designs_folder = argv[2];
    Suite *suite = suite_create("notch-block");
    TCase *group = tcase_create("notch-block");
    tcase_set_timeout(group, 600);
    tcase_add_checked_fixture(group, set_up, tear_down);
    tcase_add_test(group, block_tells_proposals_as_lines);
    tcase_add_test(group, what_is_kept_of_a_file_is_found_by_its_name);
    tcase_add_test(group, block_tells_proposals_to_people);
    tcase_add_test(group, the_best_proposal_is_carried_out);
    tcase_add_test(group, a_cook_is_named_by_number_or_key);
    tcase_add_test(group, bad_words_are_refused);
    tcase_add_test(group, limits_stop_and_the_store_goes_on);
    tcase_add_test(group, block_learns_from_a_finished_fit);
    tcase_add_test(group, stops_at_any_time_come_to_the_same);
    tcase_add_test(group, explain_tells_what_a_part_does);
    tcase_add_test(group, explain_refuses_what_is_no_part);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
