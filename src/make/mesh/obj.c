#include "make/mesh/obj.h"

#include <string.h>

/* A name on one line, without what would end it. */
static void add_name(GString *text, const char *word, const char *name) {
    char *clean = g_strdelimit(g_strdup(name), "\r\n\t", ' ');
    g_string_append_printf(text, "%s %s\n", word, clean);
    g_free(clean);
}

GString *nw_obj_text(const NwPrint *print) {
    GString *text = g_string_new("# Notchwright, millimetres\n");
    size_t before = 1;
    for (size_t i = 0; i < print->item_count; i++) {
        NwPrintItem item = print->items[i];
        const NwPrintObject *object = &print->objects[item.object];
        NwFacets *facets = nw_facets_copy(object->facets);
        nw_facets_move(facets, item.rows, item.shift_mm);
        add_name(text, "o", object->name);
        for (size_t p = 0; p < facets->point_count; p++) {
            g_string_append(text, "v");
            for (int k = 0; k < 3; k++) {
                g_string_append_c(text, ' ');
                nw_print_number(text, facets->points[p][k]);
            }
            g_string_append_c(text, '\n');
        }
        for (size_t f = 0; f < facets->facet_count; f++) {
            const size_t *points = facets->facets[f].points;
            g_string_append_printf(text, "f %zu %zu %zu\n", before + points[0], before + points[1],
                                   before + points[2]);
        }
        before += facets->point_count;
        nw_facets_free(facets);
    }
    return text;
}
