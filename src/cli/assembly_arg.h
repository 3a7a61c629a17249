/* Which assembly of a list the user means. */
#ifndef NW_CLI_ASSEMBLY_ARG_H
#define NW_CLI_ASSEMBLY_ARG_H

#include "cli/run.h"

/* The place of assembly `which` in the list: a number from 1, or the beginning of a key (4 digits
 * or more). FALSE with a complaint if there is none, or more than one such key. */
gboolean nw_assembly_arg(const NwSearchResults *results, const char *which, guint *index);

#endif
