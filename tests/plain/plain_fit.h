/* A slow, plain second solver for assemblies, to judge the real one by.
 *
 * It lists all places of all pieces (plain_places.h) and tries them with bit sets over the parts of
 * the envelope. Two orders are offered, and must agree:
 *   NW_PLAIN_BY_PIECE  piece after piece, copies of one piece in rising order of place; what must
 *                      be filled is looked at only when all pieces are placed. Hopeless but for
 *                      small designs; nothing in it can go wrong.
 *   NW_PLAIN_BY_PART   the first part that must be filled and is open is covered in every way;
 *                      when none is left, the remaining pieces go by piece.
 *
 * Raw assemblies differ as sets of (piece, parts it covers); a piece's own symmetry makes none.
 * Classes: two raw ones are the same when a symmetry of the envelope that also carries
 * `may_be_empty` to itself carries one to the other; odd shifts only if the whole design is of
 * whole cells. With `mirrors_together` reflections count too. A reflected solid keeps its piece if
 * a rotation of that piece is congruent to it; otherwise it becomes the partner: among the pieces
 * of that shape with as many copies, the one at the same rank in the list. If any piece has no
 * partner, no mirror image is an assembly of these pieces, and only rotations count.
 *
 * Ownership: free with nw_plain_fit_free; `solids` are borrowed from the result itself. */
#ifndef NW_TESTS_PLAIN_FIT_H
#define NW_TESTS_PLAIN_FIT_H

#include "design/design.h"
#include "plain/plain_places.h"

typedef enum NwPlainOrder { NW_PLAIN_BY_PIECE, NW_PLAIN_BY_PART } NwPlainOrder;

typedef struct NwPlainFit {
    NwStatus status;         /* NW_OK: all were found (perhaps none); NW_LIMIT: there are more */
    size_t raw, bodies;      /* assemblies; placements in each, copies counted */
    NwPlacement *placements; /* raw * bodies, by piece within an assembly */
    const NwSolid **solids;  /* the same, as the parts they cover */
    size_t *class_of;        /* for each raw assembly, 0 to classes - 1 in order of appearance */
    size_t classes;
    size_t symmetries;     /* motions that made assemblies the same, the identity counted */
    NwPlainPlaces *places; /* of each piece */
    size_t piece_count;
} NwPlainFit;

/* At most `limit` raw assemblies are kept; with NW_LIMIT there are no classes. */
NwPlainFit *nw_plain_fit(const NwDesign *design, NwPlainOrder order, size_t limit);
void nw_plain_fit_free(NwPlainFit *fit);

#endif
