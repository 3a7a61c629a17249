#include "session/assembly_state.h"

#include "slide/levels.h"

NwAssemblyState nw_assembly_item_get_state(NwAssemblyItem *self) {
    const NwFoundAssembly *finding = nw_assembly_item_get(self);
    if (finding->intended)
        return NW_STATE_INTENDED;
    if (finding->verdict == NW_UNREACHABLE)
        return NW_STATE_UNREACHABLE;
    if (finding->verdict != NW_OPENS)
        return NW_STATE_UNDECIDED;
    /* Only a design with an intended assembly has a measure of difference from it. */
    return nw_assembly_item_get_difference(self, NULL) < 0 ? NW_STATE_OPENS : NW_STATE_COOK;
}

guint32 nw_assembly_item_get_first_out(NwAssemblyItem *self) {
    const NwFoundAssembly *finding = nw_assembly_item_get(self);
    for (int i = 0; i < finding->slide_count; i++)
        if (finding->slides[i].cells == NW_SLIDE_OUT)
            return finding->slides[i].bodies;
    return 0;
}

guint32 nw_assembly_item_get_last_out(NwAssemblyItem *self) {
    const NwFoundAssembly *finding = nw_assembly_item_get(self);
    if (finding->verdict != NW_OPENS || !finding->slide_count)
        return 0;
    return finding->slides[finding->slide_count - 1].bodies;
}

static int piece_of(NwAssemblyItem *item, int body) {
    return body < 0 ? -1 : nw_assembly_item_get(item)->placements[body].piece;
}

int nw_assembly_item_get_leading_piece(NwAssemblyItem *self) {
    return piece_of(self, nw_assembly_item_get_leader(self));
}

/* ---- orders ------------------------------------------------------------------------------ */

static NwAssemblyItem *item_of(gconstpointer item) {
    return (NwAssemblyItem *)item; /* a cast without its check: sorting calls it a million times */
}

static int by_key(NwAssemblyItem *a, NwAssemblyItem *b) {
    guint64 first = nw_assembly_item_get(a)->key, second = nw_assembly_item_get(b)->key;
    return first < second ? -1 : first > second;
}

/* Rising; below 0 means that there is none, which comes last. */
static int rising(int a, int b) {
    if ((a < 0) != (b < 0))
        return a < 0 ? 1 : -1;
    return a < b ? -1 : a > b;
}

int nw_compare_usual(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    NwAssemblyItem *first = item_of(a), *second = item_of(b);
    int order = (int)nw_assembly_item_get(second)->drawn - (int)nw_assembly_item_get(first)->drawn;
    if (!order)
        order = (int)nw_assembly_item_get_state(first) - (int)nw_assembly_item_get_state(second);
    return order ? order : by_key(first, second);
}

static int level_of(NwAssemblyItem *item) {
    const NwFoundAssembly *finding = nw_assembly_item_get(item);
    return finding->verdict == NW_OPENS ? finding->level : -1;
}

static int total_of(NwAssemblyItem *item) {
    const NwFoundAssembly *finding = nw_assembly_item_get(item);
    return finding->verdict == NW_OPENS ? finding->total : -1;
}

/* Number by number; mostly the first decides, and nothing need be counted. */
int nw_compare_levels(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    int order = rising(level_of(item_of(a)), level_of(item_of(b)));
    if (order || level_of(item_of(a)) < 0)
        return order;
    const NwFoundAssembly *first = nw_assembly_item_get(item_of(a)),
                          *second = nw_assembly_item_get(item_of(b));
    NwLevels ones = nw_levels_of(first->slides, first->slide_count),
             others = nw_levels_of(second->slides, second->slide_count);
    return nw_levels_compare(&ones, &others);
}

int nw_compare_slides(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    return rising(total_of(item_of(a)), total_of(item_of(b)));
}

int nw_compare_first_out(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    return rising(nw_assembly_item_get_leading_piece(item_of(a)),
                  nw_assembly_item_get_leading_piece(item_of(b)));
}

int nw_compare_last_out(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    NwAssemblyItem *first = item_of(a), *second = item_of(b);
    return rising(piece_of(first, nw_assembly_item_get_last(first)),
                  piece_of(second, nw_assembly_item_get_last(second)));
}

int nw_compare_difference(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    return rising(nw_assembly_item_get_difference(item_of(a), NULL),
                  nw_assembly_item_get_difference(item_of(b), NULL));
}

int nw_compare_number(gconstpointer a, gconstpointer b, gpointer unused) {
    (void)unused;
    guint first = nw_assembly_item_get_number(item_of(a));
    guint second = nw_assembly_item_get_number(item_of(b));
    return first < second ? -1 : first > second;
}
