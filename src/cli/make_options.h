/* What the products of `notch make` that draw on paper have in common: reading of sizes and paper,
 * and the report of what was written. Thread: the main one. */
#ifndef NW_CLI_MAKE_OPTIONS_H
#define NW_CLI_MAKE_OPTIONS_H

#include "cli/source.h"
#include "make/output.h"
#include "make/paper.h"

/* Whether the option's number lies from `least` to `most`; complains if not. */
gboolean nw_make_number(const char *option, double number, double least, double most);

/* The paper of that name (NULL: A4); NULL with a complaint if there is none. */
const NwPaperSize *nw_make_paper(const char *name);

/* Whether the design has a piece with parts at all; complains if not. */
gboolean nw_make_has_pieces(const NwDesign *design);

/* Writes all files and says which. */
int nw_make_write(const NwOutput *output);

#endif
