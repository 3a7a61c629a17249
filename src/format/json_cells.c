#include "format/json_cells.h"

#include <stdlib.h>

#include "lattice/convex.h"

/* A cell of a list, with its index there for the message when it comes twice. */
typedef struct Entry {
    NwVec cell;
    int mask;
    guint index;
} Entry;

static int compare_entries(const void *a, const void *b) {
    const Entry *p = a, *q = b;
    for (int axis = 0; axis < 3; axis++) {
        int order = nw_vec_get(p->cell, axis) - nw_vec_get(q->cell, axis);
        if (order)
            return order;
    }
    return p->index < q->index ? -1 : p->index > q->index;
}

static gboolean read_entry(const NwJsonAt *at, Entry *entry) {
    int numbers[4];
    guint count;
    if (!nw_json_is_list(at, 4, &count))
        return FALSE;
    for (guint k = 0; k < 4; k++) {
        NwJsonAt number = nw_json_element(at, k);
        gboolean fine = k < 3 ? nw_json_whole(&number, NW_COORD_MIN, NW_COORD_MAX, &numbers[k])
                              : nw_json_whole(&number, 1, NW_WHOLE, &numbers[k]);
        if (!fine)
            return FALSE;
    }
    entry->cell = nw_vec(numbers[0], numbers[1], numbers[2]);
    entry->mask = numbers[3];
    entry->index = at->index;
    return TRUE;
}

static gboolean check_extent(const NwJsonAt *list, const NwSolid *solid) {
    NwBounds box = nw_solid_bounds(solid);
    NwVec size = nw_vec_sub(box.high, box.low);
    for (int axis = 0; axis < 3; axis++)
        if (nw_vec_get(size, axis) > NW_EXTENT_MAX)
            return nw_json_fail(list, NW_JSON_ERROR_VALUE,
                                "these cells reach over %d cells along %c; make that %d at most",
                                nw_vec_get(size, axis), 'x' + axis, NW_EXTENT_MAX);
    return TRUE;
}

/* The cells are sorted first: added in rising order, each goes to the end at once. */
gboolean nw_json_read_cells(const NwJsonAt *list, NwSolid *solid) {
    guint count;
    if (!nw_json_is_list(list, -1, &count))
        return FALSE;
    g_autofree Entry *entries = g_new(Entry, count);
    for (guint i = 0; i < count; i++) {
        NwJsonAt item = nw_json_element(list, i);
        if (!read_entry(&item, &entries[i]))
            return FALSE;
    }
    if (count)
        qsort(entries, count, sizeof *entries, compare_entries);
    for (guint i = 0; i < count; i++) {
        if (i && nw_vec_equal(entries[i].cell, entries[i - 1].cell)) {
            NwJsonAt item = nw_json_element(list, entries[i].index);
            return nw_json_fail(&item, NW_JSON_ERROR_VALUE,
                                "cell [%d, %d, %d] was listed before, at index %u; list each cell "
                                "once, with all its parts in one mask",
                                entries[i].cell.x, entries[i].cell.y, entries[i].cell.z,
                                entries[i - 1].index);
        }
        nw_solid_add(solid, entries[i].cell, entries[i].mask);
    }
    return check_extent(list, solid);
}
