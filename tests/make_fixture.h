/* What the suites of makers' files share: the bundled designs, programs that may be installed, and
 * files in a scratch folder. */
#ifndef NW_TESTS_MAKE_FIXTURE_H
#define NW_TESTS_MAKE_FIXTURE_H

#include <glib.h>

#include "design/design.h"

/* Loads every bundled design in turn and gives it to `each`. Fails if there are none. */
void nw_make_each_design(const char *folder, void (*each)(const NwDesign *design));

/* The design whose file is folder/name. */
NwDesign *nw_make_design(const char *folder, const char *name);

/* A design of one piece, of that named solid. */
NwDesign *nw_make_named(const char *solid, int size);

/* A new scratch folder; nw_make_clean removes it with its files, and frees the name. */
char *nw_make_scratch(void);
void nw_make_clean(char *folder);

void nw_make_save(const char *folder, const char *name, GBytes *bytes);

/* Runs a command in the folder and returns what it prints; NULL if the program is not there.
 * Fails the test if the command does. */
char *nw_make_run(const char *folder, const char *const *command);

#endif
