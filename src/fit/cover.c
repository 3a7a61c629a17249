#include "fit/cover.h"

#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "fit/filter.h"

enum { WORDS_A_LOOK = 128 };

/* One level of the tree: the rows still free, what must still be covered, and the choices. */
typedef struct Level {
    size_t rows;       /* where its list begins, in entries */
    int live;          /* rows in the list */
    size_t candidates; /* where its candidates begin: positions in the list */
    int choices;       /* how many there are */
    int choice;        /* the one being tried, -1 before the first */
    int last_choice;   /* the last that this search is to make */
    bool leave_out;    /* rows tried before are left out for later choices */
} Level;

struct NwCover {
    const NwMatrix *matrix;
    NwFilter filter;
    Level *levels;
    int depth;         /* the level in work; -1 when the tree is done */
    uint64_t *open;    /* `words` words a level: the items that must still be covered */
    uint64_t *entries; /* the lists of all levels, one after the other */
    size_t entry_capacity;
    int *candidates; /* likewise */
    size_t candidate_capacity;
    int *left;  /* copies of each piece still to place */
    int *rows;  /* the row chosen at each level */
    int found;  /* rows in the cover just found */
    int *tally; /* scratch: rows for each item, for when the bit-sliced counters overflow */
    unsigned long long effort;
};

/* The list of the root is the matrix itself, which is not written to. */
static uint64_t *entry(const NwCover *cover, const Level *level, int position) {
    uint64_t *lists = level == cover->levels ? cover->matrix->rows : cover->entries;
    return lists + (level->rows + (size_t)position) * (size_t)cover->filter.stride;
}

static uint64_t *open_items(const NwCover *cover, int depth) {
    return cover->open + (size_t)depth * (size_t)cover->matrix->words;
}

static int row_of(const NwCover *cover, const uint64_t *entry_words) {
    return (int)entry_words[cover->matrix->words];
}

static int piece_of(const NwCover *cover, const uint64_t *row) {
    const NwMatrix *matrix = cover->matrix;
    for (int item = matrix->part_items; item < matrix->item_count; item++)
        if (row[item / 64] >> item % 64 & 1)
            return item - matrix->part_items;
    return -1;
}

/* ---- choosing what to branch on ---------------------------------------------------------- */

/* Counts the rows of every open item one by one; for when all of them have many. */
static int fewest_by_counting(NwCover *cover, const Level *level, const uint64_t *open) {
    const NwMatrix *matrix = cover->matrix;
    memset(cover->tally, 0, (size_t)matrix->item_count * sizeof *cover->tally);
    for (int i = 0; i < level->live; i++) {
        const uint64_t *row = entry(cover, level, i);
        for (int w = 0; w < matrix->words; w++)
            for (uint64_t rest = row[w] & open[w]; rest; rest &= rest - 1)
                cover->tally[64 * w + nw_lowest(rest)]++;
    }
    int best = -1;
    for (int item = 0; item < matrix->item_count; item++)
        if (open[item / 64] >> item % 64 & 1 &&
            (best < 0 || cover->tally[item] < cover->tally[best]))
            best = item;
    return best;
}

/* The open items that may be branched on: parts first, and pieces with one copy left; other
 * pieces only when nothing else is open. */
static void branchable_items(const NwCover *cover, const uint64_t *open, uint64_t *branchable) {
    const NwMatrix *matrix = cover->matrix;
    size_t bytes = (size_t)matrix->words * sizeof *open;
    memcpy(branchable, open, bytes);
    uint64_t any = 0;
    for (int piece = 0; piece < matrix->piece_count; piece++)
        if (cover->left[piece] > 1) {
            int item = matrix->part_items + piece;
            branchable[item / 64] &= ~nw_bit(item % 64);
        }
    for (int w = 0; w < matrix->words; w++)
        any |= branchable[w];
    if (!any)
        memcpy(branchable, open, bytes);
}

static void collect_candidates(NwCover *cover, Level *level, int item) {
    level->choices = 0;
    for (int i = 0; i < level->live; i++) {
        if (!(entry(cover, level, i)[item / 64] >> item % 64 & 1))
            continue;
        size_t at = level->candidates + (size_t)level->choices++;
        cover->candidates = nw_grow(cover->candidates, at, &cover->candidate_capacity, sizeof(int));
        cover->candidates[at] = i;
    }
}

/* Settles the choices of a fresh level from the counts that its filtering made. */
static void branch(NwCover *cover, Level *level, const NwCounts *counts) {
    const NwMatrix *matrix = cover->matrix;
    uint64_t branchable[NW_FILTER_WORDS_MAX];
    branchable_items(cover, open_items(cover, cover->depth), branchable);
    int item = nw_counts_fewest(counts, branchable, matrix->words);
    if (item < 0)
        item = fewest_by_counting(cover, level, branchable);
    collect_candidates(cover, level, item);
    int piece = item - matrix->part_items;
    level->leave_out = piece >= 0 && cover->left[piece] > 1;
    level->last_choice = level->choices - 1;
    level->choice = -1;
}

/* ---- going down and up ------------------------------------------------------------------- */

/* Drops the rows that were tried before the current choice from a child's list. Both are in the
 * order of the matrix. */
static void leave_out_tried(NwCover *cover, const Level *parent, Level *child) {
    const int *candidates = cover->candidates + parent->candidates;
    int kept = 0, next = 0;
    for (int i = 0; i < child->live; i++) {
        uint64_t *row = entry(cover, child, i);
        while (next <= parent->choice &&
               row_of(cover, entry(cover, parent, candidates[next])) < row_of(cover, row))
            next++;
        if (next > parent->choice ||
            row_of(cover, entry(cover, parent, candidates[next])) != row_of(cover, row))
            memmove(entry(cover, child, kept++), row, (size_t)cover->filter.stride * sizeof *row);
    }
    child->live = kept;
}

static void reserve_entries(NwCover *cover, size_t entries) {
    size_t words = entries * (size_t)cover->filter.stride;
    if (words <= cover->entry_capacity)
        return;
    cover->entry_capacity = 2 * words;
    cover->entries = nw_resize(cover->entries, cover->entry_capacity, sizeof *cover->entries);
}

typedef enum { REFUTED, SOLVED, OPEN } Outcome;

/* Chooses the current candidate of the level in work and makes the level below it. */
static Outcome descend(NwCover *cover) {
    const NwMatrix *matrix = cover->matrix;
    int words = matrix->words;
    Level *parent = &cover->levels[cover->depth], *child = parent + 1;
    child->rows = cover->depth ? parent->rows + (size_t)parent->live : 0;
    child->candidates = parent->candidates + (size_t)parent->choices;
    reserve_entries(cover, child->rows + (size_t)parent->live + 1);
    cover->effort += 1 + (unsigned long long)parent->live * (unsigned)words / WORDS_A_LOOK;

    int position = cover->candidates[parent->candidates + (size_t)parent->choice];
    const uint64_t *row = entry(cover, parent, position);
    int piece = piece_of(cover, row), item = matrix->part_items + piece;
    cover->rows[cover->depth] = row_of(cover, row);
    cover->left[piece]--;

    uint64_t forbidden[NW_FILTER_WORDS_MAX];
    memcpy(forbidden, row, (size_t)words * sizeof *row);
    if (cover->left[piece])
        forbidden[item / 64] &= ~nw_bit(item % 64);
    const uint64_t *open = open_items(cover, cover->depth);
    uint64_t *still_open = open_items(cover, cover->depth + 1), any = 0;
    for (int w = 0; w < words; w++)
        any |= still_open[w] = open[w] & ~forbidden[w];
    if (!any) {
        cover->depth++;
        return SOLVED;
    }
    NwCounts counts;
    child->live = cover->filter.run(entry(cover, parent, 0), parent->live, forbidden,
                                    entry(cover, child, 0), &counts, words);
    cover->depth++;
    if (parent->leave_out) {
        leave_out_tried(cover, parent, child);
        nw_counts_take(&counts, entry(cover, child, 0), child->live, words);
    }
    if (nw_counts_miss(&counts, still_open, words))
        return REFUTED;
    branch(cover, child, &counts);
    return OPEN;
}

/* Leaves the level in work and takes back the row that led to it. */
static void ascend(NwCover *cover) {
    cover->depth--;
    if (cover->depth >= 0)
        cover->left[piece_of(cover, nw_matrix_row(cover->matrix, cover->rows[cover->depth]))]++;
}

static void begin(NwCover *cover) {
    const NwMatrix *matrix = cover->matrix;
    Level *root = &cover->levels[0];
    uint64_t *open = open_items(cover, 0);
    memcpy(open, matrix->required, (size_t)matrix->words * sizeof *open);
    for (int item = matrix->part_items; item < matrix->item_count; item++)
        open[item / 64] |= nw_bit(item % 64);
    *root = (Level){.live = matrix->row_count};
    if (matrix->impossible || matrix->total == 0) {
        cover->depth = -1;
        return;
    }
    NwCounts counts;
    nw_counts_take(&counts, matrix->rows, root->live, matrix->words);
    if (nw_counts_miss(&counts, open, matrix->words)) {
        cover->depth = -1;
        return;
    }
    branch(cover, root, &counts);
}

NwCover *nw_cover_new(const NwMatrix *matrix) {
    NwCover *cover = nw_alloc(1, sizeof *cover);
    size_t levels = (size_t)matrix->total + 2;
    cover->matrix = matrix;
    cover->filter = nw_filter_for(matrix->words);
    cover->levels = nw_alloc(levels, sizeof *cover->levels);
    cover->open = nw_alloc(levels * (size_t)matrix->words, sizeof *cover->open);
    cover->left = nw_alloc((size_t)matrix->piece_count, sizeof *cover->left);
    memcpy(cover->left, matrix->copies, (size_t)matrix->piece_count * sizeof *cover->left);
    cover->rows = nw_alloc(levels, sizeof *cover->rows);
    cover->tally = nw_alloc((size_t)matrix->words * 64, sizeof *cover->tally);
    begin(cover);
    return cover;
}

void nw_cover_free(NwCover *cover) {
    if (!cover)
        return;
    free(cover->levels);
    free(cover->open);
    free(cover->entries);
    free(cover->candidates);
    free(cover->left);
    free(cover->rows);
    free(cover->tally);
    free(cover);
}

/* ---- the search -------------------------------------------------------------------------- */

NwStatus nw_cover_step(NwCover *cover, long effort) {
    const unsigned long long begun = cover->effort;
    while (cover->depth >= 0) {
        Level *level = &cover->levels[cover->depth];
        if (level->choice >= level->last_choice) {
            ascend(cover);
            continue;
        }
        if (effort <= 0 || cover->effort - begun >= (unsigned long long)effort)
            return NW_STOPPED;
        level->choice++;
        Outcome outcome = descend(cover);
        if (outcome == SOLVED) {
            cover->found = cover->depth;
            ascend(cover);
            return NW_OK;
        }
        if (outcome == REFUTED)
            ascend(cover);
    }
    return NW_NONE;
}

const int *nw_cover_rows(const NwCover *cover, int *count) {
    *count = cover->found;
    return cover->rows;
}

unsigned long long nw_cover_effort(const NwCover *cover) {
    return cover->effort;
}

/* ---- what is left ------------------------------------------------------------------------ */

double nw_cover_left(const NwCover *cover) {
    double left = 0, weight = 1;
    for (int d = 0; d <= cover->depth; d++) {
        const Level *level = &cover->levels[d];
        weight /= level->choices;
        left += weight * (level->last_choice - level->choice);
    }
    return left < 1 ? left : 1;
}

bool nw_cover_give(NwCover *cover, NwPosition *position, double *left) {
    double weight = 1;
    for (int d = 0; d <= cover->depth; d++) {
        Level *level = &cover->levels[d];
        int rest = level->last_choice - level->choice;
        weight /= level->choices;
        position->choice[d] = position->last[d] = level->choice;
        /* What the deepest level has in work is done: one choice must stay there. */
        if (rest < (d == cover->depth ? 2 : 1))
            continue;
        int given = d == cover->depth ? rest / 2 : (rest + 1) / 2;
        position->length = d + 1;
        position->last[d] = level->last_choice;
        level->last_choice -= given;
        position->choice[d] = level->last_choice;
        *left = weight * given;
        return true;
    }
    return false;
}

/* ---- positions --------------------------------------------------------------------------- */

void nw_cover_save(const NwCover *cover, NwPosition *position) {
    position->length = cover->depth + 1;
    for (int d = 0; d <= cover->depth; d++) {
        position->choice[d] = cover->levels[d].choice;
        position->last[d] = cover->levels[d].last_choice;
    }
}

/* Sets one level; the deepest one has no choice in work. */
static bool set_level(Level *level, int choice, int last_choice, bool deepest) {
    int last = last_choice == NW_ITEM_SELECTION_ALL ? level->choices - 1 : last_choice;
    if (!level->choices || choice < (deepest ? -1 : 0) || choice > last || last >= level->choices)
        return false;
    level->choice = choice;
    level->last_choice = last;
    return true;
}

NwStatus nw_cover_restore(NwCover *cover, const NwPosition *position) {
    while (cover->depth > 0)
        ascend(cover);
    cover->depth = position->length > 0 ? 0 : -1;
    for (int d = 0; d < position->length; d++) {
        bool deepest = d + 1 == position->length;
        if (cover->depth != d ||
            !set_level(&cover->levels[d], position->choice[d], position->last[d], deepest) ||
            (!deepest && descend(cover) != OPEN)) {
            while (cover->depth >= 0)
                ascend(cover);
            return NW_BAD_RESUME;
        }
    }
    return NW_OK;
}
