#include "make/stock/panels.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

/* A side in the plane of its panel with the angle at it, for exact comparison. */
typedef struct Trace {
    NwExactPoint from, to;
    int dot, norms2, reflex;
} Trace;

static int compare_flats(NwExactPoint a, NwExactPoint b) {
    int order = nw_root3_sign(nw_root3_sub(a.x, b.x));
    return order ? order : nw_root3_sign(nw_root3_sub(a.y, b.y));
}

static int compare_traces(const void *a, const void *b) {
    const Trace *p = a, *q = b;
    int order = compare_flats(p->from, q->from);
    return order ? order : compare_flats(p->to, q->to);
}

/* The panel's sides, turned and shifted so that the least corner is the origin, as text. */
static GString *turned_shape(const NwPieceFaces *faces, size_t face, int twelfths) {
    const NwFace *own = &faces->faces[face];
    GArray *traces = g_array_new(FALSE, FALSE, sizeof(Trace));
    for (size_t k = 0; k < own->ring_count; k++)
        for (size_t i = 0; i < own->rings[k].count; i++) {
            const NwSide *side = &own->rings[k].sides[i];
            const NwEdge *edge = &faces->edges[side->edge];
            Trace trace = {nw_exact_point_turned(side->from, twelfths),
                           nw_exact_point_turned(side->to, twelfths), edge->dot, edge->norms2,
                           edge->reflex};
            g_array_append_val(traces, trace);
        }
    qsort(traces->data, traces->len, sizeof(Trace), compare_traces);
    NwExactPoint least = g_array_index(traces, Trace, 0).from;
    GString *text = g_string_new(NULL);
    for (guint i = 0; i < traces->len; i++) {
        const Trace *t = &g_array_index(traces, Trace, i);
        NwExactPoint a = nw_exact_point_sub(t->from, least), b = nw_exact_point_sub(t->to, least);
        g_string_append_printf(text, "%ld,%ld,%ld,%ld>%ld,%ld,%ld,%ld:%d/%d%s;", a.x.p, a.x.q,
                               a.y.p, a.y.q, b.x.p, b.x.q, b.y.p, b.y.q, t->dot, t->norms2,
                               t->reflex ? "r" : "");
    }
    g_array_free(traces, TRUE);
    return text;
}

/* The first, in the order of text, of all turns. */
static GString *shape_of(const NwPieceFaces *faces, size_t face) {
    GString *best = turned_shape(faces, face, 0);
    for (int turn = 1; turn < 12; turn++) {
        GString *other = turned_shape(faces, face, turn);
        if (strcmp(other->str, best->str) < 0) {
            GString *swap = best;
            best = other;
            other = swap;
        }
        g_string_free(other, TRUE);
    }
    return best;
}

/* The blank reaches as far as the farther of outside and inside, and half a kerf more. */
static double cut_depth(const NwEdge *edge, const void *data) {
    const NwPanelOptions *o = data;
    return fmin(nw_inset_depth(edge, o->clearance_mm),
                nw_inset_depth(edge, o->clearance_mm + o->sheet_mm)) -
           o->kerf_mm / 2;
}

static void set_edges(NwPanel *panel, const NwPieceFaces *faces, size_t face,
                      const NwInset *outside) {
    const NwFace *own = &faces->faces[face];
    size_t count = 0;
    for (size_t k = 0; k < own->ring_count; k++)
        count += own->rings[k].count;
    panel->edges = nw_alloc(count, sizeof *panel->edges);
    for (size_t k = 0; k < own->ring_count; k++)
        for (size_t i = 0; i < own->rings[k].count; i++) {
            NwStretch side = outside->sides[outside->first[k] + i];
            double dihedral = nw_edge_degrees(&faces->edges[own->rings[k].sides[i].edge]);
            panel->edges[panel->edge_count++] = (NwPanelEdge){
                nw_point_length(nw_point_sub(side.to, side.from)), dihedral, 90 - dihedral / 2};
        }
}

/* Takes an inset's parts over. */
static NwRegion take_region(NwInset *inset) {
    NwRegion region = inset->region;
    inset->region = (NwRegion){NULL, 0, 0};
    return region;
}

static gboolean refuse(const NwPiece *piece, size_t face, const NwPanelOptions *options,
                       GError **error) {
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                _("a sheet of %g mm is too thick at %g mm a cell: nothing would be left of the "
                  "inside of face %d of piece “%s”. Take thinner sheet (--sheet-mm) or larger "
                  "cells (--cell-mm)"),
                options->sheet_mm, options->cell_mm, (int)face + 1, piece->name);
    return FALSE;
}

static gboolean set_outlines(NwPanel *panel, const NwPiece *piece, const NwPieceFaces *faces,
                             size_t face, const NwPanelOptions *options, GError **error) {
    double cell = options->cell_mm, clearance = options->clearance_mm;
    NwInset outside, inside, cut;
    if (!nw_inset_make(faces, face, cell, clearance, &outside))
        return refuse(piece, face, options, error);
    set_edges(panel, faces, face, &outside);
    panel->outside = take_region(&outside);
    nw_inset_clear(&outside);
    if (!nw_inset_make(faces, face, cell, clearance + options->sheet_mm, &inside))
        return refuse(piece, face, options, error);
    panel->inside = take_region(&inside);
    nw_inset_clear(&inside);
    if (!nw_inset_make_by(faces, face, cell, cut_depth, options, &cut))
        return refuse(piece, face, options, error);
    panel->sides = cut.sides;
    cut.sides = NULL;
    panel->cut = take_region(&cut);
    nw_inset_clear(&cut);
    return TRUE;
}

static void name_face(NwPanel *panel, const NwDesign *design, size_t piece, size_t face) {
    char *old = panel->whose;
    if (!old)
        panel->whose = g_strdup_printf("%s %d", design->pieces[piece].name, (int)face + 1);
    else if (panel->last_piece == piece)
        panel->whose = g_strdup_printf("%s %d", old, (int)face + 1);
    else
        panel->whose = g_strdup_printf("%s, %s %d", old, design->pieces[piece].name, (int)face + 1);
    panel->last_piece = piece;
    g_free(old);
}

static gboolean add_face(NwPanels *panels, const NwDesign *design, size_t piece,
                         const NwPieceFaces *faces, size_t face, const NwPanelOptions *options,
                         GError **error) {
    GString *shape = shape_of(faces, face);
    size_t at = 0;
    while (at < panels->count && strcmp(panels->panels[at].shape->str, shape->str) != 0)
        at++;
    if (at == panels->count) {
        panels->panels = nw_grow(panels->panels, at, &panels->capacity, sizeof(NwPanel));
        panels->count++;
        panels->panels[at] = (NwPanel){.shape = shape};
        if (!set_outlines(&panels->panels[at], &design->pieces[piece], faces, face, options, error))
            return FALSE;
    } else {
        g_string_free(shape, TRUE);
    }
    panels->panels[at].count += design->pieces[piece].copies;
    name_face(&panels->panels[at], design, piece, face);
    return TRUE;
}

NwPanels *nw_panels_new(const NwDesign *design, const NwPanelOptions *options, GError **error) {
    if (2 * options->sheet_mm >= options->cell_mm) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    _("a sheet of %g mm is thicker than half a cell of %g mm; use thinner sheet "
                      "(--sheet-mm) or larger cells (--cell-mm)"),
                    options->sheet_mm, options->cell_mm);
        return NULL;
    }
    NwPanels *panels = nw_alloc(1, sizeof *panels);
    gboolean sound = TRUE;
    for (size_t i = 0; sound && i < design->piece_count; i++) {
        NwPieceFaces *faces = nw_faces_new(design->pieces[i].solid);
        for (size_t f = 0; sound && f < faces->count; f++) {
            double done = (double)i + (double)f / (double)faces->count;
            sound = nw_progress_tell(options->progress, done / (double)design->piece_count)
                        ? add_face(panels, design, i, faces, f, options, error)
                        : nw_progress_set_error(error);
        }
        nw_faces_free(faces);
    }
    if (sound)
        return panels;
    nw_panels_free(panels);
    return NULL;
}

void nw_panels_free(NwPanels *panels) {
    if (!panels)
        return;
    for (size_t i = 0; i < panels->count; i++) {
        NwPanel *panel = &panels->panels[i];
        nw_region_clear(&panel->outside);
        nw_region_clear(&panel->inside);
        nw_region_clear(&panel->cut);
        free(panel->edges);
        free(panel->sides);
        g_free(panel->whose);
        g_string_free(panel->shape, TRUE);
    }
    free(panels->panels);
    free(panels);
}
