/* Every place that each piece of a design can take inside the envelope.
 *
 * The envelope's parts are numbered cell by cell, bit by bit; a place is the set of parts that it
 * fills, as a row of `words` 64-bit words. Two turns of a piece that fill the same parts count
 * once: the one kept is the least turn among those that the piece's own symmetries make equal.
 * Places are numbered piece by piece, then by turn, then by shift, so the numbering depends on the
 * design alone. Thread: read-only once built. Ownership: `build` gives, `free` takes. */
#ifndef NW_FIT_PLACEMENT_TABLE_H
#define NW_FIT_PLACEMENT_TABLE_H

#include <stdint.h>

#include "design/design.h"

enum { NW_PLACEMENT_TABLE_MAX = 1000000 };

/* A cell of the envelope: the number of its first part, and which it has. */
typedef struct NwNumberedCell {
    int first;
    unsigned mask;
} NwNumberedCell;

typedef struct NwPlacementTable {
    NwPart *parts; /* the envelope's parts by number */
    int part_count;
    NwBounds box;          /* of the envelope */
    NwNumberedCell *cells; /* of the box, x slowest; mask 0 where the envelope has none */
    int words;             /* 64-bit words in a set of parts */
    uint64_t *required;    /* the parts that must be filled */
    NwPlacement *places;
    uint64_t *filled; /* `words` words for each place */
    int place_count;
    int *by_filled;      /* the places of each piece in the order of their parts, for finding one */
    int *first_of_piece; /* piece_count + 1 entries */
    int piece_count;
} NwPlacementTable;

/* Listing them step by step. */
typedef struct NwLister NwLister;

/* The design is borrowed until the lister is freed. */
NwLister *nw_lister_new(const NwDesign *design);
void nw_lister_free(NwLister *lister); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each: NW_STOPPED. NW_OK: all
 * are listed, and *places is the caller's; else as nw_placement_table_build. */
NwStatus nw_lister_step(NwLister *lister, long effort, NwPlacementTable **places);

/* The piece whose places are being listed. */
int nw_lister_piece(const NwLister *lister);

/* NW_EMPTY for an envelope without parts, NW_TOO_MANY past NW_PLACEMENT_TABLE_MAX; *places is then
 * NULL. A piece that fits nowhere is no error: it has no places. */
NwStatus nw_placement_table_build(const NwDesign *design, NwPlacementTable **places);
void nw_placement_table_free(NwPlacementTable *places); /* NULL is allowed */

static inline const uint64_t *nw_placement_table_filled(const NwPlacementTable *places, int place) {
    return places->filled + (size_t)place * (size_t)places->words;
}

/* The number of a part of the envelope, or -1. */
int nw_placement_table_part(const NwPlacementTable *places, NwPart part);

/* The place of `piece` that fills exactly these parts, or -1. */
int nw_placement_table_find(const NwPlacementTable *places, int piece, const uint64_t *filled);

/* The place of a piece moved by `motion`, or -1 where that is not inside the envelope. */
int nw_placement_table_of_motion(const NwPlacementTable *places, const NwDesign *design,
                                 NwPlacement placement);

#endif
