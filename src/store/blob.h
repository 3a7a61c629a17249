/* Solids, placements and keys as bytes.
 *
 *     solid       for each cell, in rising order of x, y, z:       7 bytes
 *                     int16 x, int16 y, int16 z, uint8 mask (1 to 31)
 *     placements  for each:                                       14 bytes
 *                     uint16 piece, 6 letters of the turn's name, int16 x, y, z of the shift
 *     key         uint64, big-endian, so that bytes sort as numbers do
 *
 * All int16 and uint16 are little-endian. A solid or a list of placements has no length of its
 * own; it ends where the blob ends. Readers take nothing on trust and answer NULL for what the
 * writers would not have written.
 * Ownership: of the caller. Thread: any. */
#ifndef NW_STORE_BLOB_H
#define NW_STORE_BLOB_H

#include <glib.h>

#include "design/design.h"

enum { NW_KEY_SIZE = 8 };

GByteArray *nw_blob_of_solid(const NwSolid *solid);
NwSolid *nw_blob_read_solid(const guint8 *bytes, gsize size);

/* Whether a placement can be written: its piece and its shift fit 16 bits, its turn is one. */
gboolean nw_blob_holds(const NwPlacement *placement);
GByteArray *nw_blob_of_placements(const NwPlacement *placements, gsize count);

/* The placements (g_free; never NULL when well read), or NULL. */
NwPlacement *nw_blob_read_placements(const guint8 *bytes, gsize size, gsize *count);

void nw_blob_of_key(guint64 key, guint8 bytes[NW_KEY_SIZE]);
guint64 nw_blob_read_key(const guint8 bytes[NW_KEY_SIZE]);

#endif
