/* A design as a matrix for the textbook solver: a primary column for each piece and each part that
 * must be filled, a secondary one for each part that may stay empty, a row for each place of each
 * piece. In a design of whole cells a column stands for a cell, not for each of its five parts.
 * Every piece must have one copy: with more, the textbook would count orders of equal pieces. */
#ifndef NW_TESTS_BENCH_MATRIX_H
#define NW_TESTS_BENCH_MATRIX_H

#include "bench/textbook.h"
#include "design/design.h"

/* NW_TOO_MANY if a piece has copies; else *matrix is the caller's to clear. */
NwStatus nw_textbook_matrix(const NwDesign *design, NwTextbookMatrix *matrix);

#endif
