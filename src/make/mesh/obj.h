/* OBJ: vertices as "v x y z", counted from 1 through the whole file, then for each copy of a piece
 * "o NAME" and its facets as "f a b c". The format knows no unit (ours is the millimetre); colours
 * would take a second file and are left out. (Wavefront's Object Files, as in the appendix of the
 * Advanced Visualizer manual; from memory.) Thread: any. */
#ifndef NW_MAKE_MESH_OBJ_H
#define NW_MAKE_MESH_OBJ_H

#include "make/mesh/print.h"

/* The text of the file; g_string_free it. */
GString *nw_obj_text(const NwPrint *print);

#endif
