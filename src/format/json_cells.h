/* A solid as a JSON list of cells, [x, y, z, mask] each, in any order.
 * Refused: coordinates outside [NW_COORD_MIN, NW_COORD_MAX], masks outside 1 to NW_WHOLE, a cell
 * listed twice (whatever the masks), and more than NW_EXTENT_MAX cells along an axis. */
#ifndef NW_FORMAT_JSON_CELLS_H
#define NW_FORMAT_JSON_CELLS_H

#include "format/json_at.h"
#include "lattice/solid.h"

/* Reads the list into `solid`, which must be empty; an empty list leaves it so. After FALSE the
 * error is set and the solid holds some of the cells. Cost: one sort. */
gboolean nw_json_read_cells(const NwJsonAt *list, NwSolid *solid);

#endif
