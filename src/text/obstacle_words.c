#include "text/obstacle_words.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/bits.h"
#include "lattice/number_text.h"
#include "text/words.h"

enum { CELLS_NAMED_MAX = 8 };

gboolean nw_obstacle_view_fill(NwObstacleView *view, const NwDesign *design,
                               const NwFoundAssembly *finding, int slides_done) {
    if (finding->placement_count > NW_BODIES_MAX)
        return FALSE;
    view->design = design;
    view->finding = finding;
    nw_found_assembly_bodies(design, finding->placements, finding->placement_count, view->bodies);
    nw_group_positions_after(finding->placement_count, finding->slides, slides_done,
                             &view->standing);
    nw_obstacles_find(view->bodies, &view->standing, &view->obstacles);
    return TRUE;
}

char *nw_obstacle_words_short(const NwObstacleView *view, int body, int direction) {
    const NwObstacle *obstacle = &view->obstacles.of[body][direction];
    if (obstacle->run == NW_RUN_FOREVER)
        return g_strdup(_("free"));
    char *stops = nw_words_bodies_short(view->design, view->finding, obstacle->stops);
    if (obstacle->run == 0)
        return stops;
    /* Translators: it goes so many cells, then those pieces stop it. */
    char *text = g_strdup_printf(_("%d, then %s"), obstacle->run, stops);
    g_free(stops);
    return text;
}

/* ---- the parts --------------------------------------------------------------------------- */

/* "cell 1,0,2", or "cell 1,0,2 (core, corner at 2,0,2)". */
static char *dup_cell(const NwStoppingPart *parts, size_t count) {
    NwVec cell = parts[0].part.cell;
    char at[NW_VEC_TEXT_SIZE];
    if (count == NW_PARTS)
        return g_strdup_printf(_("cell %s"), nw_vec_text(cell, ',', at));
    GString *list = g_string_new(NULL);
    for (size_t i = 0; i < count; i++) {
        NwVec vertices[4];
        nw_part_vertices(parts[i].part, vertices);
        g_string_append(list, i ? ", " : "");
        if (parts[i].part.bit == 0)
            g_string_append(list, _("core"));
        else
            g_string_append_printf(list, _("corner at %s"), nw_vec_text(vertices[0], ',', at));
    }
    char *text = g_strdup_printf(_("cell %s (%s)"), nw_vec_text(cell, ',', at), list->str);
    g_string_free(list, TRUE);
    return text;
}

static size_t same_cell(const NwStoppingPart *parts, size_t count) {
    size_t same = 1;
    while (same < count && parts[same].body == parts[0].body &&
           nw_vec_equal(parts[same].part.cell, parts[0].part.cell))
        same++;
    return same;
}

/* "C in cell 1,0,2; D in cell 3,0,2 (core)", the first few of them. */
static char *dup_parts(const NwObstacleView *view, int body, int direction) {
    NwStoppingPart *parts;
    size_t count = nw_obstacles_parts(view->bodies, &view->standing, &view->obstacles, body,
                                      direction, &parts);
    GString *list = g_string_new(NULL);
    int named = 0, left = 0;
    for (size_t i = 0, same; i < count; i += same) {
        same = same_cell(parts + i, count - i);
        if (named == CELLS_NAMED_MAX) {
            left++;
            continue;
        }
        char *name = nw_words_body(view->design, view->finding, parts[i].body);
        char *cell = dup_cell(parts + i, same);
        g_string_append(list, named++ ? "; " : "");
        /* Translators: a piece, then "cell 1,0,2". */
        g_string_append_printf(list, _("%s in %s"), name, cell);
        g_free(cell);
        g_free(name);
    }
    if (left) {
        g_string_append(list, "; ");
        g_string_append_printf(
            list, ngettext("and in %d more cell", "and in %d more cells", (unsigned long)left),
            left);
    }
    free(parts);
    return g_string_free(list, FALSE);
}

/* ---- sentences --------------------------------------------------------------------------- */

static char *dup_how_far(const NwObstacleView *view, int body, int direction, const char *name,
                         const char *where) {
    const NwObstacle *obstacle = &view->obstacles.of[body][direction];
    char *parts = dup_parts(view, body, direction);
    char *text;
    if (obstacle->run == 0)
        text = g_strdup_printf(_("Along %s, %s is blocked by %s."), where, name, parts);
    else
        text = g_strdup_printf(ngettext("Along %s, %s goes %d cell and is stopped by %s.",
                                        "Along %s, %s goes %d cells and is stopped by %s.",
                                        (unsigned long)obstacle->run),
                               where, name, obstacle->run, parts);
    g_free(parts);
    return text;
}

char *nw_obstacle_words_long(const NwObstacleView *view, int body, int direction) {
    const NwObstacle *obstacle = &view->obstacles.of[body][direction];
    char *name = nw_words_body(view->design, view->finding, body);
    char *where = nw_words_direction_spoken(direction);
    char *text;
    if (obstacle->run == NW_RUN_FOREVER) {
        text = g_strdup_printf(_("Along %s, nothing stops %s."), where, name);
    } else {
        guint32 along = obstacle->pushed & ~(guint32)nw_bit(body);
        char *how_far = dup_how_far(view, body, direction, name, where);
        char *others = nw_words_bodies(view->design, view->finding, along);
        if (!along)
            text = g_strdup(how_far);
        else if (nw_obstacles_holds(&view->obstacles, &view->standing, body, direction))
            text = g_strdup_printf(
                _("%s It pushes, directly or not, all that it is still together with: %s. So no "
                  "slide takes it that way."),
                how_far, others);
        else
            text =
                g_strdup_printf(_("%s It can go that way if these go along: %s."), how_far, others);
        g_free(others);
        g_free(how_far);
    }
    g_free(where);
    g_free(name);
    return text;
}
