#include "product/made.h"

NwMade *nw_made_new(void) {
    NwMade *made = g_new0(NwMade, 1);
    made->paths = g_ptr_array_new_with_free_func(g_free);
    made->remarks = g_ptr_array_new_with_free_func(g_free);
    made->cautions = g_ptr_array_new_with_free_func(g_free);
    return made;
}

void nw_made_free(NwMade *made) {
    if (!made)
        return;
    g_ptr_array_unref(made->paths);
    g_ptr_array_unref(made->remarks);
    g_ptr_array_unref(made->cautions);
    g_free(made);
}

void nw_made_take_remark(NwMade *made, char *text) {
    if (text)
        g_ptr_array_add(made->remarks, text);
}

void nw_made_take_caution(NwMade *made, char *text) {
    if (text)
        g_ptr_array_add(made->cautions, text);
}
