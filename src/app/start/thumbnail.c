#include "app/start/thumbnail.h"

#include <cairo.h>
#include <math.h>

#include "design/bodies.h"
#include "lattice/surface.h"
#include "view/palette.h"

enum { FINE = 2 /* drawn so many times too large, then scaled down */, BODIES_MAX = 512 };

/* The directions of the picture, in cells: to the right, up, and towards the eye. */
typedef struct View {
    double right[3], up[3], eye[3];
} View;

/* One solid of the picture. A ghost is what no piece takes. */
typedef struct Subject {
    NwSolid *solid;
    NwColour colour;
    gboolean ghost;
} Subject;

typedef enum Line { NO_LINE, GRID_LINE, RIM_LINE } Line;

typedef struct Triangle {
    NwVec corners[3], normal, cell;
    Line lines[3]; /* from corner k to the next */
    double cell_depth, depth;
    int subject;
} Triangle;

typedef struct Picture {
    View view;
    Subject subjects[BODIES_MAX + 1];
    int subject_count;
    NwSolid *taken;    /* by pieces */
    GArray *rims;      /* guint64, sorted: elementary edges of all subjects */
    GArray *triangles; /* Triangle */
    double alpha;      /* of ghosts */
    const NwPaper *paper;
} Picture;

static View look_from(double azimuth, double elevation) {
    double ca = cos(azimuth), sa = sin(azimuth), ce = cos(elevation), se = sin(elevation);
    return (View){{-sa, ca, 0}, {-se * ca, -se * sa, ce}, {ce * ca, ce * sa, se}};
}

static double along(const double direction[3], NwVec v) {
    return direction[0] * v.x + direction[1] * v.y + direction[2] * v.z;
}

/* ---- what there is to draw --------------------------------------------------------------- */

static void add_subject(Picture *picture, NwSolid *solid, NwColour colour, gboolean ghost) {
    picture->subjects[picture->subject_count++] = (Subject){solid, colour, ghost};
}

static NwColour colour_of(const NwDesign *design, int piece) {
    NwColour colour;
    if (!nw_palette_parse(design->pieces[piece].colour, &colour))
        colour = nw_palette_piece(piece);
    return colour;
}

/* Adds the bodies while they keep out of one another and inside the envelope. */
static gboolean add_bodies(Picture *picture, const NwDesign *design) {
    NwBodies bodies;
    gboolean well = nw_bodies_of(design, &bodies) == NW_OK && bodies.count <= BODIES_MAX;
    for (size_t i = 0; i < bodies.count && well; i++) {
        well = !nw_solid_overlaps(picture->taken, bodies.solids[i]) &&
               nw_solid_contains(design->envelope, bodies.solids[i]);
        if (!well)
            break;
        add_subject(picture, nw_solid_copy(bodies.solids[i]),
                    colour_of(design, bodies.placements[i].piece), FALSE);
        NwSolid *more = nw_solid_union(picture->taken, bodies.solids[i]);
        nw_solid_free(picture->taken);
        picture->taken = more;
    }
    nw_bodies_clear(&bodies);
    return well;
}

static void clear_subjects(Picture *picture) {
    for (int i = 0; i < picture->subject_count; i++)
        nw_solid_free(picture->subjects[i].solid);
    picture->subject_count = 0;
    nw_solid_free(picture->taken);
    picture->taken = nw_solid_new();
}

/* An envelope for itself is paper-pale: the tone of ghosts is meant to be seen through. */
static NwColour pale(NwColour c, float share) {
    return (NwColour){c.r + (1 - c.r) * share, c.g + (1 - c.g) * share, c.b + (1 - c.b) * share};
}

static void add_subjects(Picture *picture, const NwDesign *design) {
    if (!add_bodies(picture, design))
        clear_subjects(picture);
    picture->alpha = picture->taken->count ? 0.22 : 1;
    NwSolid *rest = nw_solid_difference(design->envelope, picture->taken);
    float share = picture->taken->count ? 0 : 0.5f;
    add_subject(picture, rest, pale(picture->paper->ghost, share), TRUE);
}

/* ---- edges ------------------------------------------------------------------------------- */

static int sign(int number) {
    return (number > 0) - (number < 0);
}

/* The sum of its ends names an elementary edge: of the two diagonals of a cell's face, which have
 * one middle, only one is an edge of parts. The side that a face looks to belongs to the name, for
 * an edge within a flat face may be the rim of a hollow behind it. */
static guint64 edge_name(int subject, NwVec normal, NwVec a, NwVec b) {
    NwVec sum = nw_vec_add(a, b);
    int side = sign(normal.x) + 1 + 3 * (sign(normal.y) + 1) + 9 * (sign(normal.z) + 1);
    return (guint64)side << 58 | (guint64)subject << 48 | (guint64)(sum.x + 4096) << 32 |
           (guint64)(sum.y + 4096) << 16 | (guint64)(sum.z + 4096);
}

static int compare_names(gconstpointer a, gconstpointer b) {
    guint64 x = *(const guint64 *)a, y = *(const guint64 *)b;
    return x < y ? -1 : x > y;
}

static int longest(NwVec v) {
    return MAX(MAX(ABS(v.x), ABS(v.y)), ABS(v.z));
}

static void add_rim(Picture *picture, int subject, NwVec normal, NwVec from, NwVec to) {
    NwVec way = nw_vec_sub(to, from);
    int steps = longest(way);
    NwVec step = nw_vec(way.x / steps, way.y / steps, way.z / steps);
    for (int i = 0; i < steps; i++, from = nw_vec_add(from, step)) {
        guint64 name = edge_name(subject, normal, from, nw_vec_add(from, step));
        g_array_append_val(picture->rims, name);
    }
}

static void add_rims(Picture *picture, int subject) {
    NwSurface *surface = nw_surface_new(picture->subjects[subject].solid);
    for (size_t p = 0; p < surface->count; p++)
        for (size_t l = 0; l < surface->polygons[p].count; l++) {
            const NwLoop *loop = &surface->polygons[p].loops[l];
            for (size_t v = 0; v < loop->count; v++)
                add_rim(picture, subject, surface->polygons[p].normal, loop->vertices[v],
                        loop->vertices[(v + 1) % loop->count]);
        }
    nw_surface_free(surface);
}

static Line line_between(const Picture *picture, const Triangle *triangle, NwVec a, NwVec b) {
    guint64 name = edge_name(triangle->subject, triangle->normal, a, b);
    if (bsearch(&name, picture->rims->data, picture->rims->len, sizeof name, compare_names))
        return RIM_LINE;
    NwVec way = nw_vec_sub(b, a);
    return ABS(way.x) + ABS(way.y) + ABS(way.z) == 1 ? GRID_LINE : NO_LINE;
}

/* ---- faces ------------------------------------------------------------------------------- */

static gboolean is_hidden(const Picture *picture, int subject, NwPart across) {
    return (nw_solid_mask(picture->subjects[subject].solid, across.cell) >> across.bit & 1) ||
           (nw_solid_mask(picture->taken, across.cell) >> across.bit & 1);
}

static void add_face(Picture *picture, int subject, NwPart part, int face) {
    Triangle triangle = {.cell = part.cell, .subject = subject};
    nw_part_face(part, face, triangle.corners);
    const NwVec *corners = triangle.corners;
    triangle.normal =
        nw_vec_cross(nw_vec_sub(corners[1], corners[0]), nw_vec_sub(corners[2], corners[0]));
    if (along(picture->view.eye, triangle.normal) <= 0 ||
        is_hidden(picture, subject, nw_part_across(part, face)))
        return;
    NwVec vertices[4], sum = {0};
    nw_part_vertices(part, vertices);
    for (int i = 0; i < 4; i++)
        sum = nw_vec_add(sum, vertices[i]);
    triangle.depth = along(picture->view.eye, sum);
    triangle.cell_depth = along(picture->view.eye, part.cell);
    for (int k = 0; k < 3; k++)
        triangle.lines[k] = line_between(picture, &triangle, corners[k], corners[(k + 1) % 3]);
    g_array_append_val(picture->triangles, triangle);
}

static void add_faces(Picture *picture, int subject) {
    const NwSolid *solid = picture->subjects[subject].solid;
    for (size_t i = 0; i < solid->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++)
            for (int face = 0; face < 4 && solid->cells[i].mask >> bit & 1; face++)
                add_face(picture, subject, (NwPart){nw_cell_at(&solid->cells[i]), bit}, face);
}

static int compare_triangles(gconstpointer a, gconstpointer b) {
    const Triangle *x = a, *y = b;
    if (x->cell_depth != y->cell_depth)
        return x->cell_depth < y->cell_depth ? -1 : 1;
    int by_cell = nw_vec_compare(x->cell, y->cell);
    if (by_cell)
        return by_cell;
    return x->depth < y->depth ? -1 : x->depth > y->depth;
}

/* ---- drawing ----------------------------------------------------------------------------- */

typedef struct Sheet {
    cairo_t *cr;
    double scale, x, y; /* device pixels for each cell; where the origin goes */
} Sheet;

/* Scales and centres the envelope, which everything drawn is in. */
static Sheet fit_sheet(const Picture *picture, const NwSolid *envelope, cairo_t *cr, double width,
                       double height) {
    double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY};
    for (size_t i = 0; i < envelope->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwVec vertices[4];
            if (!(envelope->cells[i].mask >> bit & 1))
                continue;
            nw_part_vertices((NwPart){nw_cell_at(&envelope->cells[i]), bit}, vertices);
            for (int v = 0; v < 4; v++) {
                double at[2] = {along(picture->view.right, vertices[v]),
                                -along(picture->view.up, vertices[v])};
                for (int k = 0; k < 2; k++) {
                    low[k] = fmin(low[k], at[k]);
                    high[k] = fmax(high[k], at[k]);
                }
            }
        }
    double scale = 0.92 * fmin(width / (high[0] - low[0]), height / (high[1] - low[1]));
    return (Sheet){cr, scale, width / 2 - scale * (low[0] + high[0]) / 2,
                   height / 2 - scale * (low[1] + high[1]) / 2};
}

static void go_to(const Sheet *sheet, const Picture *picture, NwVec v, gboolean draw) {
    double x = sheet->x + sheet->scale * along(picture->view.right, v);
    double y = sheet->y - sheet->scale * along(picture->view.up, v);
    if (draw)
        cairo_line_to(sheet->cr, x, y);
    else
        cairo_move_to(sheet->cr, x, y);
}

/* Light comes over the left shoulder of the eye. */
static double brightness(const Picture *picture, NwVec normal) {
    const View *view = &picture->view;
    double length = sqrt((double)nw_vec_dot(normal, normal));
    double light = 0.62 * along(view->eye, normal) + 0.62 * along(view->up, normal) -
                   0.48 * along(view->right, normal);
    return 0.58 + 0.42 * fmax(0, light / length);
}

static void draw_triangle(const Sheet *sheet, const Picture *picture, const Triangle *triangle) {
    const Subject *subject = &picture->subjects[triangle->subject];
    cairo_t *cr = sheet->cr;
    double light = brightness(picture, triangle->normal);
    double alpha = subject->ghost ? picture->alpha : 1;
    cairo_set_antialias(cr, CAIRO_ANTIALIAS_NONE);
    cairo_set_source_rgba(cr, subject->colour.r * light, subject->colour.g * light,
                          subject->colour.b * light, alpha);
    for (int k = 0; k < 3; k++)
        go_to(sheet, picture, triangle->corners[k], k > 0);
    cairo_close_path(cr);
    cairo_fill(cr);
    cairo_set_antialias(cr, CAIRO_ANTIALIAS_GOOD);
    for (int k = 0; k < 3; k++) {
        Line line = triangle->lines[k];
        if (line == NO_LINE || (line == GRID_LINE && sheet->scale < 6 * FINE))
            continue;
        const NwColour *ink = &picture->paper->ink;
        double strength = line == GRID_LINE ? 0.16 : 0.9;
        cairo_set_source_rgba(cr, ink->r, ink->g, ink->b, strength * (alpha < 1 ? 0.4 : 1));
        cairo_set_line_width(cr, (line == GRID_LINE ? 0.8 : 1.1) * FINE);
        go_to(sheet, picture, triangle->corners[k], FALSE);
        go_to(sheet, picture, triangle->corners[(k + 1) % 3], TRUE);
        cairo_stroke(cr);
    }
}

static void draw(Picture *picture, const NwDesign *design, cairo_t *cr, int width, int height) {
    for (int i = 0; i < picture->subject_count; i++)
        add_rims(picture, i);
    g_array_sort(picture->rims, compare_names);
    for (int i = 0; i < picture->subject_count; i++)
        add_faces(picture, i);
    g_array_sort(picture->triangles, compare_triangles);
    Sheet sheet = fit_sheet(picture, design->envelope, cr, width, height);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    for (guint i = 0; i < picture->triangles->len; i++)
        draw_triangle(&sheet, picture, &g_array_index(picture->triangles, Triangle, i));
}

static GdkTexture *to_texture(cairo_surface_t *fine, int width, int height) {
    cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height);
    cairo_t *cr = cairo_create(surface);
    cairo_scale(cr, 1.0 / FINE, 1.0 / FINE);
    cairo_set_source_surface(cr, fine, 0, 0);
    cairo_pattern_set_filter(cairo_get_source(cr), CAIRO_FILTER_GOOD);
    cairo_paint(cr);
    cairo_destroy(cr);
    cairo_surface_flush(surface);
    gsize stride = (gsize)cairo_image_surface_get_stride(surface);
    GBytes *bytes = g_bytes_new(cairo_image_surface_get_data(surface), stride * (gsize)height);
    GdkTexture *texture = gdk_memory_texture_new(width, height, GDK_MEMORY_DEFAULT, bytes, stride);
    g_bytes_unref(bytes);
    cairo_surface_destroy(surface);
    return texture;
}

GdkTexture *nw_thumbnail_new(const NwDesign *design, int width, int height, gboolean dark) {
    Picture *picture = g_new0(Picture, 1);
    picture->view = look_from(-0.98, 0.46);
    picture->paper = nw_palette_paper(dark);
    picture->taken = nw_solid_new();
    picture->rims = g_array_new(FALSE, FALSE, sizeof(guint64));
    picture->triangles = g_array_new(FALSE, FALSE, sizeof(Triangle));
    cairo_surface_t *fine =
        cairo_image_surface_create(CAIRO_FORMAT_ARGB32, FINE * width, FINE * height);
    cairo_t *cr = cairo_create(fine);
    add_subjects(picture, design);
    if (design->envelope->count)
        draw(picture, design, cr, FINE * width, FINE * height);
    cairo_destroy(cr);
    GdkTexture *texture = to_texture(fine, width, height);
    cairo_surface_destroy(fine);
    clear_subjects(picture);
    nw_solid_free(picture->taken);
    g_array_unref(picture->rims);
    g_array_unref(picture->triangles);
    g_free(picture);
    return texture;
}

/* Light writing means a dark ground. */
static gboolean is_dark(GtkWidget *widget) {
    GdkRGBA ink;
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &ink);
    return 0.3 * ink.red + 0.6 * ink.green + 0.1 * ink.blue > 0.5;
}

GdkPaintable *nw_thumbnail_for(GtkWidget *widget, const NwDesign *design, int width, int height) {
    int scale = gtk_widget_get_scale_factor(widget);
    GdkTexture *texture = nw_thumbnail_new(design, scale * width, scale * height, is_dark(widget));
    graphene_size_t size = GRAPHENE_SIZE_INIT((float)width, (float)height);
    graphene_rect_t whole = GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height);
    GtkSnapshot *snapshot = gtk_snapshot_new();
    gtk_snapshot_append_texture(snapshot, texture, &whole);
    g_object_unref(texture);
    return gtk_snapshot_free_to_paintable(snapshot, &size);
}
