/* The verb fit while a search is set up, of a design with so many places that this takes seconds.
 * Once it took minutes, in which nobody was told anything and nobody was heard: the time that a
 * test has is the limit. The argument is the program. */
#include <check.h>
#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "format/design_json.h"
#include "lattice/named.h"
#include "notch_fixture.h"
#include "plain/random_design.h"
#include "store_fixture.h"
#include "suite.h"

/* Nobody lists the places of this in the second or two that the tests let it. */
enum { SIZE = 10, PIECES = 60, TEST_SECONDS = 60 };

static void set_up(void) {
    store_folder_make();
    NwSolid *cube;
    ck_assert_int_eq(nw_named_solid_build(nw_named_solid_find("cube"),
                                          (const int[NW_SIZES_MAX]){SIZE, SIZE, SIZE}, &cube),
                     NW_OK);
    NwDesign *design = nw_random_dissection(1, cube, true, PIECES);
    nw_solid_free(cube);
    ck_assert(nw_design_save(design, store_file("d.json"), NULL));
    nw_design_free(design);
}

/* The last line is of a search that was stopped before it began, after so many seconds, of which
 * the start of the command may have taken some. */
static void assert_stopped(const Told *told, double seconds) {
    assert_exit(told, LIMIT);
    ck_assert_ptr_null(strstr(told->out, "\"event\":\"start\""));
    const char *done = strstr(told->out, "{\"event\":\"done\"");
    ck_assert_msg(done != NULL, "%s", told->out);
    JsonNode *node = json_from_string(done, NULL);
    JsonObject *object = json_node_get_object(node);
    ck_assert(!json_object_get_boolean_member(object, "complete"));
    ck_assert_int_eq(json_object_get_int_member(object, "assemblies"), 0);
    ck_assert_double_ge(json_object_get_double_member(object, "seconds"), seconds / 2);
    json_node_unref(node);
}

START_TEST(seconds_count_the_setting_up) {
    g_auto(Told) told = notch("fit --json --seconds 2 d.json");
    ck_assert_ptr_nonnull(strstr(told.out, "{\"event\":\"setup\",\"stage\":\""));
    assert_stopped(&told, 2);
    g_auto(Told) people = notch("fit --seconds 0.5 d.json");
    assert_exit(&people, LIMIT);
    ck_assert_msg(strstr(people.out, ", while preparing the search ("), "%s", people.out);
}
END_TEST

START_TEST(an_interrupt_is_heard_while_it_is_set_up) {
    GSubprocess *process = spawn(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE,
                                 "fit --json d.json --store s.notch");
    g_usleep(G_USEC_PER_SEC);
    g_subprocess_send_signal(process, SIGINT);
    g_auto(Told) told = wait_for(process, NULL);
    assert_stopped(&told, 0);
    /* The design is kept, and it can be asked for again. */
    g_auto(Told) again = notch("fit --json --seconds 0.5 dissection --store s.notch");
    assert_stopped(&again, 0.5);
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 2)
        return EXIT_FAILURE;
    program = argv[1];
    Suite *suite = suite_create("notch-setup");
    TCase *group = tcase_create("setup");
    tcase_set_timeout(group, TEST_SECONDS);
    tcase_add_checked_fixture(group, set_up, store_folder_remove);
    tcase_add_test(group, seconds_count_the_setting_up);
    tcase_add_test(group, an_interrupt_is_heard_while_it_is_set_up);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
