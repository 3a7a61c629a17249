/* The end of a test program: runs its suite, prints what failed, and gives main its result.
 * How much is printed is up to CK_VERBOSITY. Takes the suite over. */
#ifndef NW_TESTS_SUITE_H
#define NW_TESTS_SUITE_H

#include <check.h>
#include <stdlib.h>

static inline int run_suite(Suite *suite) {
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

#endif
