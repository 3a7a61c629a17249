/* The named solids (lattice/named.h) and figures about solids, in the maker's language.
 * Thread: any. */
#ifndef NW_TEXT_SOLID_WORDS_H
#define NW_TEXT_SOLID_WORDS_H

#include <glib.h>

#include "lattice/named.h"

/* "Truncated octahedron"; borrowed. A solid that has no translation is called as the table does. */
const char *nw_solid_words_name(const NwNamedSolid *named);

/* What size number `index` measures: "Length", or a whole phrase; borrowed. */
const char *nw_solid_words_measure(const NwNamedSolid *named, int index);

/* "21⅓" for 128 sixths; the caller frees. */
char *nw_solid_words_volume(long volume6);

/* "4 × 4 × 3 cells, 240 parts in 48 cells" and so on, in lines; the caller frees. */
char *nw_solid_words_figures(const NwSolid *solid);

#endif
