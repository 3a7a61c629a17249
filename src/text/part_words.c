#include "text/part_words.h"

#include <glib/gi18n.h>

#include "design/bodies.h"
#include "lattice/connect.h"
#include "lattice/number_text.h"
#include "lattice/quarter.h"

static const char *const axis_names = "xyz";

static const char *corner_words(int axis, NwPart part) {
    static const char *const words[2][4] = {
        {N_("lower corner south-west"), N_("lower corner south-east"),
         N_("lower corner north-west"), N_("lower corner north-east")},
        {N_("upper corner south-west"), N_("upper corner south-east"),
         N_("upper corner north-west"), N_("upper corner north-east")},
    };
    return _(words[nw_corner_is_upper(axis, part)][nw_corner_quarter(axis, part)]);
}

/* NULL unless several bodies have the part. */
static char *shared_words(const NwDesign *design, NwPart part) {
    NwBodies bodies;
    const char *names[2];
    size_t count = 0;
    if (nw_bodies_of(design, &bodies) == NW_OK)
        for (size_t b = 0; b < bodies.count; b++)
            if (nw_solid_has(bodies.solids[b], part) && count++ < 2)
                names[count - 1] = design->pieces[bodies.placements[b].piece].name;
    nw_bodies_clear(&bodies);
    if (count < 2)
        return NULL;
    return g_strdup_printf(count == 2 ? _("pieces %s and %s overlap here")
                                      : _("pieces %s, %s and others overlap here"),
                           names[0], names[1]);
}

static char *owner_words(const NwDesign *design, NwPart part) {
    if (!nw_solid_has(design->envelope, part))
        return g_strdup(_("not in the outside shape"));
    int owner = nw_design_owner(design, part, NULL);
    char *shared = owner >= 0 ? shared_words(design, part) : NULL;
    if (shared)
        return shared;
    if (owner >= 0)
        return g_strdup_printf(_("piece %s"), design->pieces[owner].name);
    if (nw_solid_has(design->may_be_empty, part))
        return g_strdup(_("left over, may stay empty"));
    return g_strdup(_("left over"));
}

/* Where the cell is in its layer, "1,3". */
static char *dup_cell(int axis, NwPart part) {
    char across[NW_NUMBER_TEXT_SIZE], up[NW_NUMBER_TEXT_SIZE];
    nw_number_text(nw_vec_get(part.cell, nw_axis_across(axis)), across);
    nw_number_text(nw_vec_get(part.cell, nw_axis_up(axis)), up);
    return g_strdup_printf("%s,%s", across, up);
}

char *nw_part_words(const NwDesign *design, const NwSolid *selection, int axis, NwPart part) {
    char *owner = owner_words(design, part);
    char *layer = nw_layer_words(axis, nw_vec_get(part.cell, axis));
    const char *kind = part.bit == 0 ? _("core") : corner_words(axis, part);
    g_autofree char *cell = dup_cell(axis, part);
    gboolean selected = selection && nw_solid_has(selection, part);
    /* Translators: layer "z = 2", cell 1,3, "upper corner north-east", "piece B" */
    char *words = g_strdup_printf(selected ? _("layer %s, cell %s, %s, %s, selected")
                                           : _("layer %s, cell %s, %s, %s"),
                                  layer, cell, kind, owner);
    g_free(layer);
    g_free(owner);
    return words;
}

char *nw_part_place_words(int axis, NwPart part) {
    char *layer = nw_layer_words(axis, nw_vec_get(part.cell, axis));
    const char *kind = part.bit == 0 ? _("core") : corner_words(axis, part);
    /* Translators: the "lower corner north-east" of cell 1,3 in layer "z = 2" */
    g_autofree char *cell = dup_cell(axis, part);
    char *words = g_strdup_printf(_("the %s of cell %s in layer %s"), kind, cell, layer);
    g_free(layer);
    return words;
}

char *nw_layer_words(int axis, int level) {
    char number[NW_NUMBER_TEXT_SIZE];
    /* Translators: the name of an axis and a whole number, "z = 2" */
    return g_strdup_printf(_("%c = %s"), axis_names[axis], nw_number_text(level, number));
}

char *nw_volume_words(long volume6) {
    static const char *const sixths[] = {"", "⅙", "⅓", "½", "⅔", "⅚"};
    long whole = volume6 / 6;
    const char *rest = sixths[volume6 % 6];
    if (!*rest)
        return g_strdup_printf(ngettext("%ld cell", "%ld cells", (unsigned long)whole), whole);
    if (whole == 0)
        /* Translators: a fraction, as in "⅓ cell" */
        return g_strdup_printf(_("%s cell"), rest);
    /* Translators: a whole number and a fraction, as in "21⅓ cells" */
    return g_strdup_printf(_("%ld%s cells"), whole, rest);
}
