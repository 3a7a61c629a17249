/* Where a design goes that a verb has changed: into the file named with --out, or back to where it
 * came from. A file is written anew; a design in the store becomes a version, like an edit in the
 * window and undone like one; a design from standard input is printed. */
#ifndef NW_CLI_REWRITE_H
#define NW_CLI_REWRITE_H

#include "cli/source.h"
#include "cli/verb.h"

typedef struct NwRewrite {
    const char *argument; /* the word that named the design */
    const char *store;    /* the store that was named, or NULL */
    const char *out;      /* or NULL */
    gboolean stored;      /* it came from the store */
    gboolean unchanged;   /* there is nothing to write, unless to another file */
    const char *action;   /* what the edit is called by undo */
    const char *sentence; /* what is said when it is done, where standard output is free */
} NwRewrite;

/* The design may be settled (design/frame.h). Complains if it cannot be written. */
NwExit nw_rewrite(NwDesign *design, const NwRewrite *rewrite);

#endif
