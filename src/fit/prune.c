#include "fit/prune.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

/* The sample, and of how many rows one must die to go on with a round or begin another one. */
enum { SAMPLE = 256, ONE_IN = 48 };

/* Lists of rows by item take memory: 4 bytes an entry. A larger matrix is left as it is. */
enum { ENTRIES_MAX = 50000000 };

typedef enum { COUNT, LIST, CHECK, DONE } Phase;

struct NwPruner {
    const NwMatrix *matrix;
    Phase phase;
    bool *dead;
    int dead_count;
    int *first; /* item_count + 1 entries: where the list of each item begins */
    int *list;  /* the rows of each item */
    int *needed, needed_count;
    uint64_t *taken;
    int next; /* the row of LIST, or how many CHECK has looked at */
    int row, step;
    int checked, killed; /* in this round */
};

static bool has_item(const uint64_t *row, int item) {
    return row[item / 64] >> item % 64 & 1;
}

/* A step that visits all rows in a scattered order: coprime to their number, near the golden
 * section of it. Neighbouring rows are alike, so scattered ones make a fair sample. */
static int scattering_step(int rows) {
    for (int step = (int)((long)rows * 618 / 1000); step > 1; step--) {
        int a = step, b = rows;
        while (b) {
            int rest = a % b;
            a = b;
            b = rest;
        }
        if (a == 1)
            return step;
    }
    return 1;
}

NwPruner *nw_pruner_new(const NwMatrix *matrix) {
    NwPruner *pruner = nw_alloc(1, sizeof *pruner);
    size_t items = (size_t)matrix->item_count;
    pruner->matrix = matrix;
    pruner->dead = nw_alloc((size_t)matrix->row_count, sizeof *pruner->dead);
    pruner->first = nw_alloc(items + 2, sizeof *pruner->first);
    pruner->needed = nw_alloc(items, sizeof *pruner->needed);
    pruner->taken = nw_alloc((size_t)matrix->words, sizeof *pruner->taken);
    for (int item = 0; item < matrix->item_count; item++)
        if (item >= matrix->part_items || has_item(matrix->required, item))
            pruner->needed[pruner->needed_count++] = item;
    pruner->step = scattering_step(matrix->row_count);
    if (matrix->impossible || !matrix->row_count)
        pruner->phase = DONE;
    return pruner;
}

void nw_pruner_free(NwPruner *pruner) {
    if (!pruner)
        return;
    free(pruner->dead);
    free(pruner->first);
    free(pruner->list);
    free(pruner->needed);
    free(pruner->taken);
    free(pruner);
}

int nw_pruner_dead(const NwPruner *pruner, const bool **dead) {
    *dead = pruner->dead;
    return pruner->dead_count;
}

int nw_pruner_row(const NwPruner *pruner) {
    return pruner->next;
}

/* ---- the lists --------------------------------------------------------------------------- */

/* With the lists counted: where each begins, one further on, as filling them moves it back. */
static void begin_lists(NwPruner *pruner) {
    const NwMatrix *matrix = pruner->matrix;
    long entries = 0;
    for (int item = 0; item < matrix->item_count && entries <= ENTRIES_MAX; item++) {
        int count = pruner->first[item + 1];
        pruner->first[item + 1] = (int)entries;
        entries += count;
    }
    pruner->next = 0;
    pruner->phase = entries <= ENTRIES_MAX ? LIST : DONE;
    if (pruner->phase == LIST)
        pruner->list = nw_alloc((size_t)entries, sizeof *pruner->list);
}

static void begin_round(NwPruner *pruner) {
    pruner->phase = CHECK;
    pruner->next = pruner->row = pruner->checked = pruner->killed = 0;
}

/* Goes through all rows: to count the entries of the lists, or to fill them. */
static long list_rows(NwPruner *pruner, long effort) {
    const NwMatrix *matrix = pruner->matrix;
    for (; pruner->next < matrix->row_count && effort > 0; pruner->next++) {
        const uint64_t *row = nw_matrix_row(matrix, pruner->next);
        for (int w = 0; w < matrix->words; w++)
            for (uint64_t rest = row[w]; rest; rest &= rest - 1) {
                int *at = &pruner->first[64 * w + nw_lowest(rest) + 1];
                if (pruner->phase == LIST)
                    pruner->list[*at] = pruner->next;
                ++*at;
            }
        effort -= (pruner->next & 7) == 7;
    }
    if (pruner->next < matrix->row_count)
        return effort;
    if (pruner->phase == COUNT) {
        begin_lists(pruner);
        return effort;
    }
    begin_round(pruner);
    return effort;
}

/* ---- the rows ---------------------------------------------------------------------------- */

static bool is_free(const NwPruner *pruner, int row) {
    const uint64_t *other = nw_matrix_row(pruner->matrix, row);
    uint64_t conflict = 0;
    for (int w = 0; w < pruner->matrix->words; w++)
        conflict |= other[w] & pruner->taken[w];
    return !conflict && !pruner->dead[row];
}

/* Whether some live row covers the item beside what is taken. One that does moves half way to the
 * head of the list. */
static bool is_covered(NwPruner *pruner, int item, long *effort) {
    int *list = pruner->list + pruner->first[item];
    int count = pruner->first[item + 1] - pruner->first[item];
    for (int i = 0; i < count; i++) {
        if (is_free(pruner, list[i])) {
            int ahead = i / 2, row = list[i];
            list[i] = list[ahead];
            list[ahead] = row;
            return true;
        }
        *effort -= (i & 31) == 31;
    }
    return false;
}

static bool is_viable(NwPruner *pruner, int chosen, long *effort) {
    const NwMatrix *matrix = pruner->matrix;
    const uint64_t *row = nw_matrix_row(matrix, chosen);
    memcpy(pruner->taken, row, (size_t)matrix->words * sizeof *row);
    for (int piece = 0; piece < matrix->piece_count; piece++)
        if (matrix->copies[piece] > 1) {
            int item = matrix->part_items + piece;
            pruner->taken[item / 64] &= ~nw_bit(item % 64);
        }
    for (int i = 0; i < pruner->needed_count; i++)
        if (!has_item(row, pruner->needed[i]) && !is_covered(pruner, pruner->needed[i], effort))
            return false;
    return true;
}

/* A round has looked at all rows, or at enough of them to see that it saves nothing. */
static bool ends_round(const NwPruner *pruner) {
    bool idle = (long)pruner->killed * ONE_IN < pruner->checked;
    return pruner->next == pruner->matrix->row_count ||
           (idle && pruner->checked && pruner->checked % SAMPLE == 0);
}

static long check_rows(NwPruner *pruner, long effort) {
    const NwMatrix *matrix = pruner->matrix;
    while (!ends_round(pruner)) {
        if (effort <= 0)
            return effort;
        if (!pruner->dead[pruner->row]) {
            effort -= 1 + pruner->needed_count * matrix->words / 1024;
            pruner->checked++;
            if (!is_viable(pruner, pruner->row, &effort)) {
                pruner->dead[pruner->row] = true;
                pruner->dead_count++;
                pruner->killed++;
            }
        }
        pruner->next++;
        pruner->row += pruner->step;
        if (pruner->row >= matrix->row_count)
            pruner->row -= matrix->row_count;
    }
    if (pruner->killed && (long)pruner->killed * ONE_IN >= pruner->checked)
        begin_round(pruner);
    else
        pruner->phase = DONE;
    return effort;
}

bool nw_pruner_step(NwPruner *pruner, long effort) {
    while (pruner->phase != DONE) {
        if (effort <= 0)
            return false;
        effort = pruner->phase == CHECK ? check_rows(pruner, effort) : list_rows(pruner, effort);
    }
    return true;
}
