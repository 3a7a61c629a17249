#include "make/mesh/print.h"

#include <string.h>

#include "base/memory.h"

NwFacets *nw_print_facets(const NwPrint *print) {
    NwFacets *all = nw_alloc(1, sizeof *all);
    for (size_t i = 0; i < print->item_count; i++) {
        NwPrintItem item = print->items[i];
        NwFacets *one = nw_facets_copy(print->objects[item.object].facets);
        nw_facets_move(one, item.rows, item.shift_mm);
        nw_facets_add(all, one);
        nw_facets_free(one);
    }
    return all;
}

void nw_print_number(GString *text, double value) {
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(number, sizeof number, "%.6f", value);
    size_t length = strlen(number);
    while (length > 1 && number[length - 1] == '0')
        length--;
    length -= number[length - 1] == '.';
    number[length] = '\0';
    g_string_append(text, strcmp(number, "-0") == 0 ? "0" : number);
}

void nw_print_to_corner(NwPrint *print) {
    NwFacets *all = nw_print_facets(print);
    double low[3], high[3];
    nw_facets_bounds(all, low, high);
    for (size_t i = 0; i < print->item_count; i++)
        for (int k = 0; k < 3; k++)
            print->items[i].shift_mm[k] -= low[k];
    nw_facets_free(all);
}
