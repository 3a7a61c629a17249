/* Dancing links as the textbook has it, the yardstick that the product's solver is timed against.
 *
 * D. E. Knuth, "Dancing links", arXiv cs/0011047 (2000): a circular doubly linked list for every
 * column and row, headers of the primary columns in a list of their own, secondary columns outside
 * it (covered at most once), the primary column with the fewest rows is taken first. Nodes lie in
 * one array and link by index. Nothing is added to the paper's algorithm and nothing left out.
 *
 * Columns 0 to primary - 1 must be covered once, the next `secondary` ones at most once. Row r has
 * the columns columns[starts[r]] to columns[starts[r + 1] - 1]. Thread: any. */
#ifndef NW_TESTS_BENCH_TEXTBOOK_H
#define NW_TESTS_BENCH_TEXTBOOK_H

#include <stddef.h>
#include <stdint.h>

typedef struct NwTextbookMatrix {
    int primary, secondary;
    int rows;
    int *starts; /* rows + 1 */
    int *columns;
} NwTextbookMatrix;

typedef struct NwTextbookCount {
    uint64_t solutions;
    uint64_t nodes;   /* of the search tree: rows tried */
    uint64_t updates; /* links taken out, as the paper counts them */
} NwTextbookCount;

NwTextbookCount nw_textbook_count(const NwTextbookMatrix *matrix);
void nw_textbook_matrix_clear(NwTextbookMatrix *matrix);

#endif
