/* The exact cover problem behind a fit, boiled down.
 *
 * Items are bits of a row of `words` 64-bit words: first the parts of the envelope, where parts
 * that the same places cover are merged into one item; then one item for each piece. A row is one
 * place. What is boiled away before the search:
 *   - places that a caller has disabled;
 *   - parts that nothing covers, and parts that are always covered together.
 * What cannot be part of any cover, fit/prune.h finds out.
 * Thread: read-only once built. */
#ifndef NW_FIT_MATRIX_H
#define NW_FIT_MATRIX_H

#include "fit/placement_table.h"

typedef struct NwMatrix {
    int words;
    int part_items; /* items 0 .. part_items-1 are merged parts, then come the pieces */
    int item_count;
    uint64_t *required; /* part items that must be covered; pieces have their copies instead */
    int row_count;
    uint64_t *rows; /* `words` words a row, its piece included, and one with its number: lists of
                       fit/filter.h are like that */
    int *place_of_row;
    int piece_count;
    int *copies;     /* of each piece */
    int total;       /* copies of all pieces together: rows in every cover */
    bool impossible; /* some part that must be filled, or some piece, has no row at all */
} NwMatrix;

/* Building it step by step. What is given is borrowed until it is freed; `disabled` may be NULL. */
typedef struct NwMatrixMaker NwMatrixMaker;

NwMatrixMaker *nw_matrix_maker_new(const NwDesign *design, const NwPlacementTable *places,
                                   const bool *disabled);
void nw_matrix_maker_free(NwMatrixMaker *maker); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each: NULL; else the matrix,
 * which is the caller's. */
NwMatrix *nw_matrix_maker_step(NwMatrixMaker *maker, long effort);

/* Places that are through, of twice as many as there are: they are gone through twice. */
int nw_matrix_maker_done(const NwMatrixMaker *maker);

void nw_matrix_free(NwMatrix *matrix); /* NULL is allowed */

static inline const uint64_t *nw_matrix_row(const NwMatrix *matrix, int row) {
    return matrix->rows + (size_t)row * ((size_t)matrix->words + 1);
}

/* A fingerprint of the whole matrix: a saved search position fits only the matrix it came from. */
uint64_t nw_matrix_fingerprint(const NwMatrix *matrix);

#endif
