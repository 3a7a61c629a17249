#include "text/solid_words.h"

#include <glib/gi18n.h>
#include <string.h>

static const struct {
    const char *name, *friendly, *measures[NW_SIZES_MAX];
} rows[] = {
    {"tetrahedron", N_("Tetrahedron"), {N_("Edge of the surrounding cube, in cells")}},
    {"octahedron", N_("Octahedron"), {N_("From its centre to a tip, in cells")}},
    {"cube", N_("Cube"), {N_("Edge, in cells")}},
    {"box", N_("Box"), {N_("Length, in cells"), N_("Width, in cells"), N_("Height, in cells")}},
    {"cuboctahedron", N_("Cuboctahedron"), {N_("Half the edge of the surrounding cube, in cells")}},
    {"stella-octangula",
     N_("Stella octangula (eight-pointed star)"),
     {N_("Edge of the surrounding cube, in cells")}},
    {"truncated-tetrahedron",
     N_("Truncated tetrahedron"),
     {N_("A third of the edge of the surrounding cube before truncation, in cells")}},
    {"truncated-octahedron",
     N_("Truncated octahedron"),
     {N_("Half the distance from its centre to a square face, in cells")}},
};

static int row_of(const NwNamedSolid *named) {
    for (int i = 0; i < (int)G_N_ELEMENTS(rows); i++)
        if (strcmp(rows[i].name, named->name) == 0)
            return i;
    return -1;
}

const char *nw_solid_words_name(const NwNamedSolid *named) {
    int row = row_of(named);
    return row < 0 ? named->name : _(rows[row].friendly);
}

const char *nw_solid_words_measure(const NwNamedSolid *named, int index) {
    int row = row_of(named);
    return row < 0 || !rows[row].measures[index] ? named->measure : _(rows[row].measures[index]);
}

char *nw_solid_words_volume(long volume6) {
    static const char *const sixths[6] = {"", "⅙", "⅓", "½", "⅔", "⅚"};
    if (volume6 > 0 && volume6 < 6)
        return g_strdup(sixths[volume6]);
    return g_strdup_printf("%ld%s", volume6 / 6, sixths[volume6 % 6]);
}

char *nw_solid_words_figures(const NwSolid *solid) {
    NwBounds bounds = nw_solid_bounds(solid);
    NwVec size = nw_vec_sub(bounds.high, bounds.low);
    char *volume = nw_solid_words_volume(nw_solid_volume6(solid));
    gulong parts = (gulong)nw_solid_parts(solid), cells = (gulong)solid->count;
    char *extent = g_strdup_printf(_("Size: %d × %d × %d cells"), size.x, size.y, size.z);
    char *in_parts = g_strdup_printf(ngettext("%lu part", "%lu parts", parts), parts);
    char *in_cells = g_strdup_printf(ngettext("%lu cell", "%lu cells", cells), cells);
    /* TRANSLATORS: "320 parts", "64 cells"; some of the cells may be cut */
    char *content = g_strdup_printf(_("Contains %s in %s"), in_parts, in_cells);
    char *room = g_strdup_printf(_("Volume: %s cells"), volume);
    char *text = g_strjoin("\n", extent, content, room, NULL);
    g_free(extent);
    g_free(in_parts);
    g_free(in_cells);
    g_free(content);
    g_free(room);
    g_free(volume);
    return text;
}
