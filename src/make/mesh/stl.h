/* Binary STL: 80 bytes of heading, the number of facets as a 32-bit word, and 50 bytes a facet: its
 * normal, its corners counter-clockwise from outside, each three 32-bit floats, and two bytes of
 * nothing; all little-endian. So a file has 84 + 50 n bytes. The format knows no unit (ours is the
 * millimetre, as is usual), no names and no colours. (P. Bourke, "STL format", 1999.) Thread: any.
 */
#ifndef NW_MAKE_MESH_STL_H
#define NW_MAKE_MESH_STL_H

#include "make/mesh/print.h"

/* All items as one mesh; g_byte_array_unref it. */
GByteArray *nw_stl_bytes(const NwPrint *print);

#endif
