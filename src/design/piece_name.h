/* Names for new pieces, for two pieces of one design must not share one.
 * Ownership: the caller frees with free(). Thread: any. */
#ifndef NW_DESIGN_PIECE_NAME_H
#define NW_DESIGN_PIECE_NAME_H

#include "design/design.h"

/* The piece of that name, or -1. */
int nw_piece_named(const NwDesign *design, const char *name);

/* The first of A, B, ..., Z, AA, AB, ... that no piece has. */
char *nw_dup_new_name(const NwDesign *design);

/* For a piece made from one called `name`: the first of "name 2", "name 3", ... that no piece has.
 * A number that ends `name` is counted on: "A 2" is followed by "A 3". */
char *nw_dup_next_name(const NwDesign *design, const char *name);

/* A name without the number that counts it on: "A" for "A 2", and for "A". */
char *nw_dup_name_stem(const char *name);

#endif
