#include "session/assembly_rows.h"

/* Says that the rows from `first` to before `end` are to be looked at anew. */
static void renew(GListStore *list, guint first, guint end) {
    GPtrArray *same = g_ptr_array_new_with_free_func(g_object_unref);
    for (guint i = first; i < end; i++)
        g_ptr_array_add(same, g_list_model_get_item(G_LIST_MODEL(list), i));
    g_list_store_splice(list, first, same->len, same->pdata, same->len);
    g_ptr_array_unref(same);
}

/* Puts the rows whose order goes on from the list at its end; they come before any that it has.
 * Returns how many there are. */
static guint append(GListStore *list, const GPtrArray *rows) {
    guint length = g_list_model_get_n_items(G_LIST_MODEL(list)), fresh = 0;
    while (fresh < rows->len &&
           nw_assembly_item_get_order(rows->pdata[fresh]) == length + fresh + 1)
        fresh++;
    if (fresh)
        g_list_store_splice(list, length, 0, rows->pdata, fresh);
    return fresh;
}

/* Each of the others, from `at` on, is what the row that came in its place learns. */
static guint learn(GListStore *list, const GPtrArray *rows, guint at) {
    guint first = G_MAXUINT, end = 0, learnt = 0;
    for (; at < rows->len; at++) {
        guint order = nw_assembly_item_get_order(rows->pdata[at]);
        NwAssemblyItem *item = g_list_model_get_item(G_LIST_MODEL(list), order - 1);
        learnt += (guint)nw_assembly_item_learn(item, rows->pdata[at]);
        g_object_unref(item);
        first = MIN(first, order - 1);
        end = MAX(end, order);
    }
    if (first < end)
        renew(list, first, end);
    return learnt;
}

guint nw_assembly_rows_take(GListStore *list, const GPtrArray *rows) {
    return learn(list, rows, append(list, rows));
}
