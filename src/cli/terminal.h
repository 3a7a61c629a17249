/* What a terminal is told: colours where it wants them, and one line that is written over. */
#ifndef NW_CLI_TERMINAL_H
#define NW_CLI_TERMINAL_H

#include <glib.h>
#include <stdio.h>

typedef enum NwTint { NW_PLAIN, NW_BOLD, NW_FAINT, NW_GOOD, NW_WARNING, NW_TINTS } NwTint;

/* Whether the stream is a terminal. */
gboolean nw_terminal_is(FILE *stream);

/* The escape that switches to a tint, or "" where the stream is no terminal, TERM is "dumb" or
 * NO_COLOR is set and not empty. */
const char *nw_tint(FILE *stream, NwTint tint);

/* Writes one line over the one before it, on standard error; NULL wipes it. Does nothing where
 * standard error is no terminal. */
void nw_status_line(const char *line);

/* The text with signs that the character set of the user has: where that is not UTF-8, "-" and "."
 * for the minus sign and the dot in the middle. Takes the text and gives it or another back. */
char *nw_terminal_take(char *text);

/* A whole number with a real minus sign, where there is one. The caller frees. */
char *nw_terminal_dup_number(int number);

/* Prints a text as a column of a table: two spaces, and on to that many letters. */
void nw_print_column(const char *text, int letters);

#endif
