/* The designs that come with the program.
 *
 * They are looked for in $NW_DATA_DIR/designs, then where the build says (NW_DESIGN_DIRS, folders
 * with colons between them: the build's own data, the installed one), and last inside the program
 * itself; the first place that has any is taken. Files are read in the order of their names.
 * Thread: the main one. */
#ifndef NW_APP_START_SAMPLES_H
#define NW_APP_START_SAMPLES_H

#include <gio/gio.h>

#include "design/design.h"

/* NwDesign, in the order of their files; the caller unrefs, which frees them. A file that cannot be
 * read is passed over with a warning on the terminal. */
GPtrArray *nw_sample_load(void);

#endif
