#include "make/mesh/print_orientation.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

static const double TOUCH_MM = 1e-6, STABLE_MM = 1;

/* A rotation whose last row is the unit vector up. */
static void lay(NwVec down, double rows[3][3]) {
    double length = sqrt(nw_vec_dot(down, down)),
           up[3] = {-down.x / length, -down.y / length, -down.z / length};
    /* Across: the axis that `up` leans on least, made square to it. */
    int axis = down.x == 0 ? 0 : down.y == 0 ? 1 : 2;
    double across[3], size = 0;
    for (int k = 0; k < 3; k++)
        across[k] = (k == axis) - up[axis] * up[k];
    for (int k = 0; k < 3; k++)
        size += across[k] * across[k];
    for (int k = 0; k < 3; k++)
        rows[0][k] = across[k] / sqrt(size);
    for (int k = 0; k < 3; k++) {
        rows[1][k] =
            up[(k + 1) % 3] * rows[0][(k + 2) % 3] - up[(k + 2) % 3] * rows[0][(k + 1) % 3];
        rows[2][k] = up[k];
    }
}

static double cross2(const double *o, const double *a, const double *b) {
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
}

static int compare_flat(const void *a, const void *b) {
    const double *p = a, *q = b;
    return p[0] != q[0] ? (p[0] < q[0] ? -1 : 1) : (p[1] > q[1]) - (p[1] < q[1]);
}

/* How far within the hull of the points another one lies; below 0 outside, or if there is no hull.
 * The hull is found by A. Andrew's monotone chain (1979). */
static double depth_in_hull(double (*points)[2], size_t count, const double middle[2]) {
    double(*hull)[2] = nw_alloc(2 * count + 1, sizeof *hull), depth = INFINITY;
    size_t size = 0;
    qsort(points, count, sizeof *points, compare_flat);
    for (size_t i = 0; i < count; i++) {
        while (size >= 2 && cross2(hull[size - 2], hull[size - 1], points[i]) <= 1e-9)
            size--;
        memcpy(hull[size++], points[i], sizeof *points);
    }
    size_t low = size;
    for (size_t i = count - 1; i-- > 0;) {
        while (size > low && cross2(hull[size - 2], hull[size - 1], points[i]) <= 1e-9)
            size--;
        memcpy(hull[size++], points[i], sizeof *points);
    }
    if (size < 4)
        depth = -1;
    for (size_t i = 0; i + 1 < size && size >= 4; i++) {
        double length = hypot(hull[i + 1][0] - hull[i][0], hull[i + 1][1] - hull[i][1]);
        depth = fmin(depth, cross2(hull[i], hull[i + 1], middle) / length);
    }
    free(hull);
    return depth;
}

/* Centre of mass of what the facets enclose. */
static void centre_of(const NwFacets *facets, double centre[3]) {
    double volume = 0, sum[3] = {0, 0, 0};
    for (size_t i = 0; i < facets->facet_count; i++) {
        const double *a = facets->points[facets->facets[i].points[0]];
        const double *b = facets->points[facets->facets[i].points[1]];
        const double *c = facets->points[facets->facets[i].points[2]];
        double six = a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) +
                     a[2] * (b[0] * c[1] - b[1] * c[0]);
        volume += six;
        for (int k = 0; k < 3; k++)
            sum[k] += six * (a[k] + b[k] + c[k]) / 4;
    }
    for (int k = 0; k < 3; k++)
        centre[k] = sum[k] / volume;
}

/* Sums up the areas on the bed and over it. */
static void measure_areas(const NwFacets *laid, double low, NwPrintOrientation *bed) {
    for (size_t i = 0; i < laid->facet_count; i++) {
        const double *p[3];
        double u[3], v[3], n[3];
        for (int c = 0; c < 3; c++)
            p[c] = laid->points[laid->facets[i].points[c]];
        for (int k = 0; k < 3; k++) {
            u[k] = p[1][k] - p[0][k];
            v[k] = p[2][k] - p[0][k];
        }
        for (int k = 0; k < 3; k++)
            n[k] = u[(k + 1) % 3] * v[(k + 2) % 3] - u[(k + 2) % 3] * v[(k + 1) % 3];
        double length = sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]);
        if (n[2] > -(M_SQRT1_2 + 1e-9) * length)
            continue;
        bool rests = fmax(p[0][2], fmax(p[1][2], p[2][2])) - low < TOUCH_MM;
        *(rests ? &bed->contact_mm2 : &bed->overhang_mm2) += length / 2;
    }
}

static NwPrintOrientation try_down(const NwFacets *facets, NwVec down) {
    static const double nowhere[3] = {0, 0, 0};
    NwPrintOrientation bed = {.down = down};
    double low[3], high[3], centre[3];
    lay(down, bed.rows);
    NwFacets *laid = nw_facets_copy(facets);
    nw_facets_move(laid, bed.rows, nowhere);
    nw_facets_bounds(laid, low, high);
    centre_of(laid, centre);
    double(*touching)[2] = nw_alloc(laid->point_count, sizeof *touching);
    size_t count = 0;
    for (size_t i = 0; i < laid->point_count; i++)
        if (laid->points[i][2] - low[2] < TOUCH_MM)
            memcpy(touching[count++], laid->points[i], sizeof *touching);
    bed.stable = depth_in_hull(touching, count, centre) >= STABLE_MM;
    bed.height_mm = high[2] - low[2];
    measure_areas(laid, low[2], &bed);
    free(touching);
    nw_facets_free(laid);
    return bed;
}

static bool is_better(const NwPrintOrientation *a, const NwPrintOrientation *b) {
    double gain = a->contact_mm2 - a->overhang_mm2 - (b->contact_mm2 - b->overhang_mm2);
    if (a->stable != b->stable)
        return a->stable;
    if (fabs(gain) > 1e-6)
        return gain > 0;
    return a->height_mm < b->height_mm - 1e-6;
}

NwPrintOrientation nw_print_orientation_choose(const NwFacets *facets) {
    NwPrintOrientation best = try_down(facets, nw_vec(0, 0, -1));
    for (int code = 0; code < 27; code++) {
        NwVec down = nw_vec(code % 3 - 1, code / 3 % 3 - 1, code / 9 - 1);
        if (code == 13)
            continue;
        NwPrintOrientation bed = try_down(facets, down);
        if (is_better(&bed, &best))
            best = bed;
    }
    return best;
}

char *nw_dup_print_orientation_text(const NwPrintOrientation *bed) {
    double on = bed->contact_mm2 / 100, over = bed->overhang_mm2 / 100;
    if (!bed->stable)
        return g_strdup_printf(
            _("does not stand by itself: %.1f cm² on the bed, %.1f cm² of overhang; add support"),
            on, over);
    if (bed->overhang_mm2 < 0.005)
        return g_strdup_printf(_("stable on %.1f cm², no overhang"), on);
    return g_strdup_printf(_("stable on %.1f cm²; %.1f cm² of overhang, needs support"), on, over);
}

void nw_print_orientation_arrange(const double (*sizes_mm)[2], size_t count, double gap_mm,
                                  double (*at_mm)[2]) {
    double area = 0, widest = 0;
    for (size_t i = 0; i < count; i++) {
        area += (sizes_mm[i][0] + gap_mm) * (sizes_mm[i][1] + gap_mm);
        widest = fmax(widest, sizes_mm[i][0]);
    }
    double width = fmax(widest, sqrt(area) * 1.1), x = 0, y = 0, depth = 0;
    for (size_t i = 0; i < count; i++) {
        if (x > 0 && x + sizes_mm[i][0] > width) {
            x = 0;
            y += depth + gap_mm;
            depth = 0;
        }
        at_mm[i][0] = x;
        at_mm[i][1] = y;
        x += sizes_mm[i][0] + gap_mm;
        depth = fmax(depth, sizes_mm[i][1]);
    }
}
