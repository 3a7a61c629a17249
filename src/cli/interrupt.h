/* Ctrl-C, for verbs that have something to put away first: between `begin` and `end` it only leaves
 * word, which the verb looks for now and then.
 *
 * What is being written when it comes is written to its end (SA_RESTART): a reader at the other
 * end of a pipe loses no line. Not nested. Thread: begin and end in the main one. */
#ifndef NW_CLI_INTERRUPT_H
#define NW_CLI_INTERRUPT_H

#include <glib.h>

void nw_interrupt_begin(void);
void nw_interrupt_end(void);

/* Whether it has come since `begin`. */
gboolean nw_interrupt_came(void);

#endif
