#include "bench/textbook.h"

#include <stdlib.h>

#include "base/memory.h"

typedef struct Node {
    int left, right, up, down;
    int column; /* its header */
} Node;

/* Node 0 is the root, nodes 1 to columns are the headers. */
typedef struct Links {
    Node *nodes;
    int *size; /* rows in each column, by header */
    NwTextbookCount count;
} Links;

static void cover(Links *links, int column) {
    Node *nodes = links->nodes;
    nodes[nodes[column].right].left = nodes[column].left;
    nodes[nodes[column].left].right = nodes[column].right;
    links->count.updates++;
    for (int i = nodes[column].down; i != column; i = nodes[i].down)
        for (int j = nodes[i].right; j != i; j = nodes[j].right) {
            nodes[nodes[j].down].up = nodes[j].up;
            nodes[nodes[j].up].down = nodes[j].down;
            links->size[nodes[j].column]--;
            links->count.updates++;
        }
}

static void uncover(Links *links, int column) {
    Node *nodes = links->nodes;
    for (int i = nodes[column].up; i != column; i = nodes[i].up)
        for (int j = nodes[i].left; j != i; j = nodes[j].left) {
            links->size[nodes[j].column]++;
            nodes[nodes[j].down].up = j;
            nodes[nodes[j].up].down = j;
        }
    nodes[nodes[column].right].left = column;
    nodes[nodes[column].left].right = column;
}

static int smallest_column(const Links *links) {
    const Node *nodes = links->nodes;
    int best = nodes[0].right;
    for (int c = nodes[best].right; c != 0; c = nodes[c].right)
        if (links->size[c] < links->size[best])
            best = c;
    return best;
}

static void search(Links *links) {
    const Node *nodes = links->nodes;
    if (nodes[0].right == 0) {
        links->count.solutions++;
        return;
    }
    int column = smallest_column(links);
    if (!links->size[column])
        return;
    cover(links, column);
    for (int row = nodes[column].down; row != column; row = nodes[row].down) {
        links->count.nodes++;
        for (int j = nodes[row].right; j != row; j = nodes[j].right)
            cover(links, nodes[j].column);
        search(links);
        for (int j = nodes[row].left; j != row; j = nodes[j].left)
            uncover(links, nodes[j].column);
    }
    uncover(links, column);
}

static void make_headers(Links *links, int primary, int secondary) {
    Node *nodes = links->nodes;
    nodes[0].left = nodes[0].right = 0;
    for (int c = 1; c <= primary + secondary; c++) {
        nodes[c] = (Node){c, c, c, c, c};
        if (c > primary)
            continue;
        nodes[c].left = c - 1;
        nodes[c].right = 0;
        nodes[c - 1].right = c;
        nodes[0].left = c;
    }
}

static void add_row(Links *links, const int *columns, int count, int first) {
    Node *nodes = links->nodes;
    for (int k = 0; k < count; k++) {
        int column = columns[k] + 1, node = first + k;
        nodes[node] = (Node){.left = first + (k + count - 1) % count,
                             .right = first + (k + 1) % count,
                             .up = nodes[column].up,
                             .down = column,
                             .column = column};
        nodes[nodes[column].up].down = node;
        nodes[column].up = node;
        links->size[column]++;
    }
}

NwTextbookCount nw_textbook_count(const NwTextbookMatrix *matrix) {
    int headers = 1 + matrix->primary + matrix->secondary;
    Links links = {.count = {0, 0, 0}};
    links.nodes = nw_alloc((size_t)(headers + matrix->starts[matrix->rows]), sizeof(Node));
    links.size = nw_alloc((size_t)headers, sizeof(int));
    make_headers(&links, matrix->primary, matrix->secondary);
    for (int r = 0; r < matrix->rows; r++)
        add_row(&links, matrix->columns + matrix->starts[r],
                matrix->starts[r + 1] - matrix->starts[r], headers + matrix->starts[r]);
    search(&links);
    free(links.nodes);
    free(links.size);
    return links.count;
}

void nw_textbook_matrix_clear(NwTextbookMatrix *matrix) {
    free(matrix->starts);
    free(matrix->columns);
    *matrix = (NwTextbookMatrix){0};
}
