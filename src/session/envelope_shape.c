#include "session/envelope_shape.h"

#include <glib/gi18n.h>

#include "design/edit_envelope.h"
#include "lattice/number_text.h"
#include "lattice/plane_text.h"

enum {
    SMALL_SIZE = 12,     /* in pictures of named solids no size is larger than this */
    SMALL_PARTS = 60000, /* and no picture shows more parts than this */
};

/* ---- building ---------------------------------------------------------------------------- */

static char *dup_plane_problem(NwStatus status, NwPlane plane) {
    char text[NW_PLANE_TEXT_SIZE] = "", below[NW_NUMBER_TEXT_SIZE], above[NW_NUMBER_TEXT_SIZE];
    if (status == NW_OFF_LATTICE || status == NW_UNKNOWN_NAME || status == NW_OUT_OF_RANGE)
        nw_plane_write(plane, text);
    switch (status) {
    case NW_OFF_LATTICE:
        return g_strdup_printf(_("The limit of plane “%s” must be even: the nearest are %s and "
                                 "%s."),
                               text, nw_number_text(plane.limit - 1, below),
                               nw_number_text(plane.limit + 1, above));
    case NW_UNKNOWN_NAME:
        return g_strdup_printf(
            _("Plane “%s”: planes go across one axis or across all three, not two."), text);
    case NW_OUT_OF_RANGE:
        return g_strdup_printf(
            _("The limit of plane “%s” is too far out: keep coordinates from %s to %d."), text,
            nw_number_text(NW_COORD_MIN, below), NW_COORD_MAX);
    case NW_UNBOUNDED:
        return g_strdup(_("These planes do not close a solid: add planes on its open sides."));
    case NW_EMPTY:
        return g_strdup(_("Nothing is left within these planes: move some of them outwards."));
    default:
        return g_strdup_printf(
            _("The solid is too large: keep it within %d cells along each axis."), NW_EXTENT_MAX);
    }
}

static NwSolid *build_planes(const char *text, char **problem) {
    NwPlane planes[NW_PLANES_MAX];
    size_t count, fault = 0;
    NwWord word;
    NwSolid *solid = NULL;
    switch (nw_planes_read(text, planes, &count, &word)) {
    case NW_OK:
        break;
    case NW_TOO_MANY:
        *problem = g_strdup_printf(
            _("A solid takes at most %d planes: leave out those that cut nothing."), NW_PLANES_MAX);
        return NULL;
    default: {
        char *shown = g_strndup(word.start, word.length);
        *problem =
            g_strdup_printf(_("“%s” is no plane: write one such as “x<=4” or “x+y-z<=6”."), shown);
        g_free(shown);
        return NULL;
    }
    }
    if (!count) {
        *problem = g_strdup(_("Enter planes, such as “x<=4 -x<=0 …”."));
        return NULL;
    }
    NwStatus status = nw_solid_from_planes(planes, count, &solid, &fault);
    if (status != NW_OK)
        *problem = dup_plane_problem(status, planes[fault]);
    return solid;
}

static NwSolid *build_named(const NwShape *shape, char **problem) {
    NwSolid *solid;
    if (nw_named_solid_build(shape->named, shape->sizes, &solid) != NW_OK)
        *problem =
            shape->named->step == 1
                ? g_strdup_printf(_("Sizes are whole numbers from 1 to %d."), shape->named->largest)
                : g_strdup_printf(_("Sizes are multiples of %d, up to %d."), shape->named->step,
                                  shape->named->largest);
    return solid;
}

NwSolid *nw_shape_build(const NwShape *shape, char **problem) {
    *problem = NULL;
    return shape->named ? build_named(shape, problem) : build_planes(shape->planes, problem);
}

/* Whole cells would hide how a small solid is made up; so sizes keep to their steps. */
static int shrink(const NwNamedSolid *named, int size, int divisor) {
    int small = (size + divisor - 1) / divisor;
    return MAX(named->step, small - small % named->step);
}

NwSolid *nw_shape_build_small(const NwShape *shape) {
    NwShape small = *shape;
    int largest = 1;
    for (int i = 0; shape->named && i < shape->named->sizes; i++)
        largest = MAX(largest, shape->sizes[i]);
    for (int divisor = (largest + SMALL_SIZE - 1) / SMALL_SIZE;; divisor++) {
        for (int i = 0; shape->named && i < shape->named->sizes; i++)
            small.sizes[i] =
                divisor == 1 ? shape->sizes[i] : shrink(shape->named, shape->sizes[i], divisor);
        char *problem = NULL;
        NwSolid *solid = nw_shape_build(&small, &problem);
        g_free(problem);
        if (!solid || nw_solid_parts(solid) <= SMALL_PARTS)
            return solid;
        nw_solid_free(solid);
        if (!shape->named || divisor > largest)
            return NULL;
    }
}

/* ---- laying it under the pieces ---------------------------------------------------------- */

/* The shift that brings the bounds together: low corners (share 0), centres (1), high ones (2). */
static NwVec shift_between(NwBounds from, NwBounds to, int share, gboolean odd_allowed) {
    NwVec shift = {0};
    int odd_axis = 2;
    for (int axis = 0; axis < 3; axis++) {
        int low = nw_vec_get(to.low, axis) - nw_vec_get(from.low, axis);
        int high = nw_vec_get(to.high, axis) - nw_vec_get(from.high, axis);
        int twice = low * (2 - share) + high * share;
        nw_vec_set(&shift, axis, twice >= 0 ? twice / 2 : -((1 - twice) / 2));
        if (twice & 1) /* either neighbour is as near: this axis can make the shift even */
            odd_axis = axis;
    }
    if (!odd_allowed && nw_vec_parity(shift))
        nw_vec_set(&shift, odd_axis, nw_vec_get(shift, odd_axis) + 1);
    return shift;
}

/* The solid shifted, or NULL if it cannot be, or a piece is not where parts are. */
static NwSolid *try_shift(const NwDesign *design, const NwSolid *envelope, NwVec shift,
                          size_t *total) {
    NwMotion motion = {0, shift};
    NwSolid *moved;
    if (nw_solid_moved(envelope, motion, &moved) != NW_OK)
        return NULL;
    NwSolid **losses = g_new0(NwSolid *, design->piece_count + 1);
    NwStatus status = nw_design_losses(design, moved, losses, total);
    for (size_t p = 0; p < design->piece_count; p++)
        nw_solid_free(losses[p]);
    g_free(losses);
    if (status == NW_OK)
        return moved;
    nw_solid_free(moved);
    return NULL;
}

NwSolid *nw_shape_lay(const NwDesign *design, const NwSolid *envelope, size_t *total) {
    static const int shares[] = {1, 0, 2};
    NwBounds from = nw_solid_bounds(envelope), to = nw_solid_bounds(design->envelope);
    gboolean whole = nw_solid_is_whole(envelope);
    NwSolid *best = NULL;
    *total = 0;
    for (gsize i = 0; i < G_N_ELEMENTS(shares); i++) {
        size_t lost;
        NwVec shift = shift_between(from, to, shares[i], whole);
        NwSolid *moved = try_shift(design, envelope, shift, &lost);
        if (moved && (!best || lost < *total)) {
            nw_solid_free(best);
            best = moved;
            *total = lost;
        } else {
            nw_solid_free(moved);
        }
    }
    return best;
}

char *nw_shape_losses(const NwDesign *design, const NwSolid *envelope, guint64 locked,
                      int *barred) {
    NwSolid **losses = g_new0(NwSolid *, design->piece_count + 1);
    GString *text = g_string_new(NULL);
    *barred = -1;
    nw_design_losses(design, envelope, losses, NULL);
    for (size_t p = 0; p < design->piece_count; p++) {
        gulong parts = losses[p] ? (gulong)nw_solid_parts(losses[p]) : 0;
        if (parts && *barred < 0 && locked >> p & 1)
            *barred = (int)p;
        if (parts && text->len)
            g_string_append_c(text, '\n');
        if (parts)
            g_string_append_printf(text,
                                   ngettext("“%s” loses %lu part", "“%s” loses %lu parts", parts),
                                   design->pieces[p].name, parts);
        nw_solid_free(losses[p]);
    }
    g_free(losses);
    return g_string_free(text, FALSE);
}
