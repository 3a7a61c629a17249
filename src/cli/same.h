/* What is said of congruent pieces that a design lists one by one (design/congruent.h). */
#ifndef NW_CLI_SAME_H
#define NW_CLI_SAME_H

#include "cli/source.h"

/* Prints a sentence, with the command that makes them copies; nothing if there are none. */
void nw_print_same(const NwSource *source);

#endif
