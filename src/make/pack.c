#include "make/pack.h"

#include <stdlib.h>

#include "base/memory.h"

static const double slack = 1e-9;

/* From x to the next stretch's x, or the end of the page, the room is free above `level`. */
typedef struct Stretch {
    double x, level;
} Stretch;

typedef struct Page {
    Stretch *line;
    size_t count;
} Page;

typedef struct Spot {
    double x, y;
    bool found;
} Spot;

/* The level on which something of that width comes to rest with its left end at stretch `first`. */
static bool rest_at(const Page *page, size_t first, double width, double page_width,
                    double *level) {
    double end = page->line[first].x + width;
    if (end > page_width + slack)
        return false;
    *level = 0;
    for (size_t i = first; i < page->count && page->line[i].x < end - slack; i++)
        if (page->line[i].level > *level)
            *level = page->line[i].level;
    return true;
}

static Spot best_spot(const Page *page, const NwPacked *item, double width, double height) {
    Spot best = {0, 0, false};
    for (size_t i = 0; i < page->count; i++) {
        double level;
        if (rest_at(page, i, item->width, width, &level) &&
            level + item->height <= height + slack && (!best.found || level < best.y - slack))
            best = (Spot){page->line[i].x, level, true};
    }
    return best;
}

/* Raises the skyline from x to `end` to `level`. */
static void lift(Page *page, double x, double end, double level) {
    Stretch *line = nw_alloc(page->count + 2, sizeof *line);
    size_t count = 0;
    double after = 0; /* the level at `end` as it was */
    bool raised = false;
    for (size_t i = 0; i < page->count; i++) {
        Stretch s = page->line[i];
        if (s.x <= end + slack)
            after = s.level;
        if (s.x < x - slack || s.x > end + slack) {
            if (s.x > end + slack && !raised) {
                line[count++] = (Stretch){x, level};
                line[count++] = (Stretch){end, after};
                raised = true;
            }
            line[count++] = s;
        }
    }
    if (!raised) {
        line[count++] = (Stretch){x, level};
        line[count++] = (Stretch){end, after};
    }
    free(page->line);
    page->line = line;
    page->count = count;
}

static int compare(const void *a, const void *b) {
    const NwPacked *p = *(NwPacked *const *)a, *q = *(NwPacked *const *)b;
    if (p->height != q->height)
        return p->height > q->height ? -1 : 1;
    if (p->width != q->width)
        return p->width > q->width ? -1 : 1;
    return p < q ? -1 : p > q;
}

/* The longest first, whichever way they lie. */
static int compare_sides(const void *a, const void *b) {
    const NwPacked *p = *(NwPacked *const *)a, *q = *(NwPacked *const *)b;
    double p_long = p->width > p->height ? p->width : p->height, p_short = p->width + p->height;
    double q_long = q->width > q->height ? q->width : q->height, q_short = q->width + q->height;
    if (p_long != q_long)
        return p_long > q_long ? -1 : 1;
    if (p_short != q_short)
        return p_short > q_short ? -1 : 1;
    return p < q ? -1 : p > q;
}

static bool fits(const NwPacked *item, double width, double height) {
    return item->width <= width + slack && item->height <= height + slack;
}

static NwPacked turned(NwPacked item) {
    return (NwPacked){item.height, item.width, 0, 0, 0, !item.turned};
}

/* Where an item goes on a page. If it `may_turn` and has its top lower that way, it is turned. */
static Spot spot_for(const Page *page, NwPacked *item, double width, double height, bool may_turn) {
    Spot spot = best_spot(page, item, width, height);
    if (!may_turn)
        return spot;
    NwPacked other = turned(*item);
    Spot lying = best_spot(page, &other, width, height);
    if (!lying.found || (spot.found && spot.y + item->height <= lying.y + other.height + slack))
        return spot;
    *item = other;
    return lying;
}

static size_t pack(NwPacked *items, size_t count, double width, double height, double gap,
                   bool may_turn) {
    NwPacked **sorted = nw_alloc(count, sizeof *sorted);
    Page *pages = NULL;
    size_t page_count = 0, capacity = 0;
    bool sound = true;
    for (size_t i = 0; i < count; i++) {
        NwPacked other = turned(items[i]);
        sorted[i] = &items[i];
        items[i].turned = false;
        sound =
            sound && (fits(&items[i], width, height) || (may_turn && fits(&other, width, height)));
    }
    qsort(sorted, count, sizeof *sorted, may_turn ? compare_sides : compare);
    for (size_t i = 0; sound && i < count; i++) {
        NwPacked grown = *sorted[i]; /* the gap is to the right and above, also past the page */
        grown.width += gap;
        grown.height += gap;
        Spot spot = {0, 0, false};
        size_t page = 0;
        for (; page < page_count; page++) {
            spot = spot_for(&pages[page], &grown, width + gap, height + gap, may_turn);
            if (spot.found)
                break;
        }
        if (!spot.found) {
            pages = nw_grow(pages, page_count, &capacity, sizeof *pages);
            pages[page_count] = (Page){nw_alloc(1, sizeof(Stretch)), 1};
            page = page_count++;
            spot = spot_for(&pages[page], &grown, width + gap, height + gap, may_turn);
        }
        sorted[i]->turned = grown.turned;
        sorted[i]->page = page;
        sorted[i]->x = spot.x;
        sorted[i]->y = spot.y;
        lift(&pages[page], spot.x, spot.x + grown.width, spot.y + grown.height);
    }
    for (size_t i = 0; i < page_count; i++)
        free(pages[i].line);
    free(pages);
    free(sorted);
    return sound ? page_count : 0;
}

size_t nw_pack(NwPacked *items, size_t count, double width, double height, double gap) {
    return pack(items, count, width, height, gap, false);
}

size_t nw_pack_turning(NwPacked *items, size_t count, double width, double height, double gap) {
    return pack(items, count, width, height, gap, true);
}
