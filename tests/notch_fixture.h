/* Running the notch command in the folder of a test (store_fixture.h), as from a shell. */
#ifndef NOTCH_FIXTURE_H
#define NOTCH_FIXTURE_H

#include <gio/gio.h>

/* Exit statuses, as the manual page has them. */
enum { COMPLETE = 0, FAILED = 1, USAGE = 2, LIMIT = 3 };

/* The program; set it first. */
extern const char *program;

typedef struct Told {
    int exit; /* -1: killed by a signal */
    char *out, *err;
} Told;

void told_clear(Told *told);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Told, told_clear)

/* Runs the program with these words, quoted as in a shell; the second with something to read. */
Told notch(const char *format, ...) G_GNUC_PRINTF(1, 2);
Told notch_reading(const char *input, const char *words);

/* The same in two steps. Without G_SUBPROCESS_FLAGS_STDIN_PIPE there is nothing to read. Waiting
 * takes the process over. */
GSubprocess *spawn(GSubprocessFlags flags, const char *words);
Told wait_for(GSubprocess *process, const char *input);

void assert_exit(const Told *told, int exit);

#endif
