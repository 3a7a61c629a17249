/* A verb of the notch command. To add one, write verb_NAME.c and add a row to the table in main.c.
 * Thread: the main one. */
#ifndef NW_CLI_VERB_H
#define NW_CLI_VERB_H

#include <glib.h>

typedef enum NwExit {
    NW_EXIT_COMPLETE = 0, /* done; of a search: complete */
    NW_EXIT_FAILED = 1,   /* it could not run */
    NW_EXIT_USAGE = 2,    /* bad input or usage */
    NW_EXIT_LIMIT = 3,    /* stopped by a limit or by the user */
} NwExit;

/* Runs with the words after the verb's name; argv[0] is that name. */
typedef NwExit NwVerbRun(int argc, char **argv);

NwVerbRun nw_verb_solid, nw_verb_check, nw_verb_fit, nw_verb_show, nw_verb_library;
NwVerbRun nw_verb_intend, nw_verb_merge, nw_verb_apart, nw_verb_block, nw_verb_explain;
NwVerbRun nw_verb_measure, nw_verb_trial;
NwVerbRun nw_verb_draw; /* in builds with pictures */
NwVerbRun nw_verb_make; /* in builds with making */

/* Parses the options of a verb. `usage` names its arguments and `about` describes it at length.
 * On a bad option, or fewer than `least` or more than `most` arguments (most < 0: any number),
 * prints one sentence on standard error and returns FALSE. */
gboolean nw_verb_parse(int *argc, char ***argv, const GOptionEntry *options, const char *usage,
                       const char *about, int least, int most);

/* The options --fewest and --tries, which say the same of every verb. */
GOptionEntry nw_entry_fewest(gboolean *fewest);
GOptionEntry nw_entry_tries(gint64 *tries);

/* Prints "notch: MESSAGE" on standard error. */
void nw_complain(const char *format, ...) G_GNUC_PRINTF(1, 2);

/* Prints the error's message, frees it, and returns `exit`. */
NwExit nw_give_up(GError *error, NwExit exit);

#endif
