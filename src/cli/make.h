/* The products of `notch make`, a file each: make_NAME.c. argv[0] is the product's name. */
#ifndef NW_CLI_MAKE_H
#define NW_CLI_MAKE_H

#include "cli/verb.h"

NwVerbRun nw_make_mesh, nw_make_nets, nw_make_cuts, nw_make_sheet;

#endif
