#include "make/paper.h"

#include <glib.h>

static const NwPaperSize sizes[] = {
    {"A4", 210, 297},
    {"A3", 297, 420},
    {"Letter", 215.9, 279.4},
};

const NwPaperSize *nw_paper_size(size_t index) {
    return index < G_N_ELEMENTS(sizes) ? &sizes[index] : NULL;
}

const NwPaperSize *nw_paper_size_find(const char *name) {
    for (size_t i = 0; i < G_N_ELEMENTS(sizes); i++)
        if (g_ascii_strcasecmp(sizes[i].name, name) == 0)
            return &sizes[i];
    return NULL;
}
