/* What goes into a file of meshes: each piece once, and where its copies stand.
 *
 * Coordinates: millimetres. Ownership: everything is borrowed while a file is written.
 * Thread: any. */
#ifndef NW_MAKE_MESH_PRINT_H
#define NW_MAKE_MESH_PRINT_H

#include <glib.h>

#include "make/mesh/facets.h"

typedef struct NwPrintObject {
    const char *name;
    const char *colour; /* "#rrggbb" */
    const NwFacets *facets;
} NwPrintObject;

/* A copy: the object turned by the rows of a rotation, then shifted. */
typedef struct NwPrintItem {
    size_t object;
    double rows[3][3];
    double shift_mm[3];
} NwPrintItem;

typedef struct NwPrint {
    const char *title;
    NwPrintObject *objects;
    size_t object_count;
    NwPrintItem *items;
    size_t item_count;
} NwPrint;

/* All items as one mesh, for formats that know no objects. The caller frees it. */
NwFacets *nw_print_facets(const NwPrint *print);

/* A number for a file: six decimals at most, a point for a comma, whatever the locale. */
void nw_print_number(GString *text, double value);

/* Moves all items by one shift so that the least coordinates are 0. */
void nw_print_to_corner(NwPrint *print);

#endif
