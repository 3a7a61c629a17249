/* A plot as a DXF drawing, AutoCAD 2000 (AC1015), ASCII.
 *
 * The units are millimetres: $INSUNITS is 4 and $MEASUREMENT 1. Each ink is a layer of its name
 * with its colour and line type; lines are LWPOLYLINEs, labels TEXTs. Tints are left out: a cutter
 * has no use for them. The file has all tables, blocks and dictionaries that a strict reader asks
 * for, and every object a handle. Letters outside ASCII are written \U+XXXX.
 * Source: Autodesk, "DXF Reference" (2000). Thread: any. The caller unrefs the bytes. */
#ifndef NW_MAKE_DXF_H
#define NW_MAKE_DXF_H

#include <glib.h>

#include "make/plot.h"

GBytes *nw_plot_to_dxf(const NwPlot *plot);

#endif
