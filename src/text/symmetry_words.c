#include "text/symmetry_words.h"

#include <glib/gi18n.h>

#include "design/symmetry_name.h"

/* "x" for an axis of the cube, "+x−y" for one across an edge, "+x+y−z" for one through corners. */
static char *axis_words(NwVec axis) {
    static const char *const names[3][2] = {{"−x", "+x"}, {"−y", "+y"}, {"−z", "+z"}};
    GString *words = g_string_new(NULL);
    int numbers = 0;
    for (int k = 0; k < 3; k++)
        numbers += nw_vec_get(axis, k) != 0;
    for (int k = 0; k < 3; k++) {
        int number = nw_vec_get(axis, k);
        if (number == 0)
            continue;
        const char *name = names[k][number > 0];
        /* A single positive axis needs no sign. */
        g_string_append(words, numbers == 1 && number > 0 ? name + 1 : name);
    }
    return g_string_free(words, FALSE);
}

/* The sentence, with %s for the axis. */
static const char *format_of(NwSymmetryName name) {
    switch (name.kind) {
    case NW_SYMMETRY_IDENTITY:
        return _("No change");
    case NW_SYMMETRY_POINT:
        return _("Through the centre point");
    case NW_SYMMETRY_MIRROR:
        return _("Mirror across the plane that faces %s");
    case NW_SYMMETRY_TURN:
        return name.order == 2   ? _("Half turn about %s")
               : name.order == 3 ? _("Third of a turn about %s")
                                 : _("Quarter turn about %s");
    default:
        return name.order == 6 ? _("Sixth of a turn about %s, and mirror")
                               : _("Quarter turn about %s, and mirror");
    }
}

char *nw_symmetry_words(NwTurn turn) {
    NwSymmetryName name = nw_symmetry_name(turn);
    const char *format = format_of(name);
    if (nw_vec_equal(name.axis, nw_vec(0, 0, 0)))
        return g_strdup(format);
    char *axis = axis_words(name.axis), *words = g_strdup_printf(format, axis);
    g_free(axis);
    return words;
}
