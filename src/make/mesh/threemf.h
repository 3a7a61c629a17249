/* 3MF, core specification 1.4 (3MF Consortium, 2025): a ZIP archive with an XML model in it.
 *
 *     [Content_Types].xml    what kind of file each part is
 *     _rels/.rels            where the model is
 *     3D/3dmodel.model       one object for each piece, with its name and its colour as a base
 *                            material; a build item for each copy, with its place
 *
 * Millimetres; everything in the positive octant, as the specification asks for. Written through
 * libzip, in memory. Thread: any. */
#ifndef NW_MAKE_MESH_THREEMF_H
#define NW_MAKE_MESH_THREEMF_H

#include "make/mesh/print.h"

/* The bytes of the file; g_bytes_unref them. NULL with an error if libzip cannot. The items are
 * moved to the corner of the positive octant. */
GBytes *nw_threemf_bytes(NwPrint *print, GError **error);

#endif
