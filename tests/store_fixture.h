/* A folder of its own for a test of the store, sample designs, and a look at the folder's bytes. */
#ifndef STORE_FIXTURE_H
#define STORE_FIXTURE_H

#include <glib.h>
#include <glib/gstdio.h>

#include "design/design.h"
#include "store/designs.h"

/* A folder that is made before and removed, with all files in it, after each test. */
extern char *store_folder;

void store_folder_make(void);
void store_folder_remove(void);

/* A path in the folder; owned by the fixture until the folder is removed. */
const char *store_file(const char *name);

/* Three pieces of which one has two copies, cut cells, parts that may be empty, an intended
 * assembly, mirror images together. The number goes into the name and the cells. */
NwDesign *store_sample(const char *name, int number);

/* Whether two designs agree in every field. */
bool store_same(const NwDesign *a, const NwDesign *b);

/* Names, sizes and contents of all files in the folder, as one text (g_free). */
char *store_snapshot(void);

#endif
