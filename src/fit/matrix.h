/* The exact cover problem behind a fit, boiled down.
 *
 * Items are bits of a row of `words` 64-bit words: first the parts of the envelope, where parts
 * that the same places cover are merged into one item; then one item for each piece. A row is one
 * place. What is boiled away before the search:
 *   - places that a caller has disabled;
 *   - parts that nothing covers, and parts that are always covered together;
 *   - if asked for, places that, once chosen, leave some item with nothing to cover it (repeated
 *     until there are none). That may compare all rows with all rows, which pays off only where
 *     the search is longer than that.
 * Thread: read-only once built. */
#ifndef NW_FIT_MATRIX_H
#define NW_FIT_MATRIX_H

#include "fit/places.h"

typedef struct NwMatrix {
    int words;
    int part_items; /* items 0 .. part_items-1 are merged parts, then come the pieces */
    int item_count;
    uint64_t *required; /* part items that must be covered; pieces have their copies instead */
    int row_count;
    uint64_t *rows; /* `words` words a row, its piece included */
    int *place_of_row;
    int piece_count;
    int *copies;     /* of each piece */
    int total;       /* copies of all pieces together: rows in every cover */
    bool impossible; /* some part that must be filled, or some piece, has no row at all */
} NwMatrix;

NwMatrix *nw_matrix_build(const NwDesign *design, const NwPlaces *places, const bool *disabled,
                          bool pruned);
void nw_matrix_free(NwMatrix *matrix); /* NULL is allowed */

static inline const uint64_t *nw_matrix_row(const NwMatrix *matrix, int row) {
    return matrix->rows + (size_t)row * (size_t)matrix->words;
}

/* A fingerprint of the whole matrix: a saved search position fits only the matrix it came from. */
uint64_t nw_matrix_fingerprint(const NwMatrix *matrix);

#endif
