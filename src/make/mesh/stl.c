#include "make/mesh/stl.h"

#include <math.h>
#include <string.h>

static void add_word(GByteArray *bytes, guint32 word) {
    guint32 little = GUINT32_TO_LE(word);
    g_byte_array_append(bytes, (const guint8 *)&little, sizeof little);
}

static void add_vector(GByteArray *bytes, const double v[3]) {
    for (int k = 0; k < 3; k++) {
        float number = (float)v[k];
        guint32 word;
        memcpy(&word, &number, sizeof word);
        add_word(bytes, word);
    }
}

static void add_facet(GByteArray *bytes, const NwFacets *facets, size_t i) {
    double p[3][3], u[3], v[3], n[3], length = 0;
    /* The normal is that of the corners as they are written, for readers compare the two. */
    for (int c = 0; c < 3; c++)
        for (int k = 0; k < 3; k++)
            p[c][k] = (float)facets->points[facets->facets[i].points[c]][k];
    for (int k = 0; k < 3; k++) {
        u[k] = p[1][k] - p[0][k];
        v[k] = p[2][k] - p[0][k];
    }
    for (int k = 0; k < 3; k++) {
        n[k] = u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3];
        length += n[k] * n[k];
    }
    for (int k = 0; k < 3; k++)
        n[k] /= sqrt(length);
    add_vector(bytes, n);
    for (int c = 0; c < 3; c++)
        add_vector(bytes, p[c]);
    g_byte_array_append(bytes, (const guint8 *)"\0", 2);
}

GByteArray *nw_stl_bytes(const NwPrint *print) {
    char heading[80] = "Notchwright, millimetres: ";
    g_strlcat(heading, print->title, sizeof heading);
    NwFacets *facets = nw_print_facets(print);
    GByteArray *bytes = g_byte_array_new();
    g_byte_array_append(bytes, (const guint8 *)heading, sizeof heading);
    add_word(bytes, (guint32)facets->facet_count);
    for (size_t i = 0; i < facets->facet_count; i++)
        add_facet(bytes, facets, i);
    nw_facets_free(facets);
    return bytes;
}
