#include "make/safety/small_parts_cylinder.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

static const double RADIUS = NW_SMALL_PARTS_CYLINDER_BORE_MM / 2, SLOPE = 1 / (1 + M_SQRT2);

/* What asks for the bore's middle: a point, or rim and floor together. */
enum { FLOOR = -1, BASIS_MAX = 3, ROUNDS_MAX = 200 };

/* The turned points seen from above, and what rim and floor ask for: (x - allowed) * SLOPE. */
typedef struct View {
    const double (*p)[3];
    size_t count, top, bottom; /* the highest point, and the first to meet the floor */
    double allowed;
} View;

typedef struct Basis {
    int count, items[BASIS_MAX];
    double share[BASIS_MAX];
    double towards[BASIS_MAX][2]; /* from the middle to the point; of length 1, or 0 */
    double x, y;                  /* the middle */
    double out;
} Basis;

static void turn_points(const double (*points)[3], size_t count, const double q[4],
                        double (*turned)[3]) {
    double w = q[0], x = q[1], y = q[2], z = q[3];
    const double rows[3][3] = {{1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)},
                               {2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)},
                               {2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)}};
    for (size_t i = 0; i < count; i++)
        for (int k = 0; k < 3; k++)
            turned[i][k] =
                rows[k][0] * points[i][0] + rows[k][1] * points[i][1] + rows[k][2] * points[i][2];
}

static View view_of(const double (*p)[3], size_t count) {
    View view = {.p = p, .count = count};
    for (size_t i = 1; i < count; i++) {
        if (p[i][2] > p[view.top][2])
            view.top = i;
        if (p[i][0] + p[i][2] < p[view.bottom][0] + p[view.bottom][2])
            view.bottom = i;
    }
    view.allowed = p[view.bottom][0] + p[view.bottom][2] - p[view.top][2] + RADIUS +
                   NW_SMALL_PARTS_CYLINDER_SHALLOW_MM;
    return view;
}

static double asks(const View *view, int item, double x, double y) {
    if (item == FLOOR)
        return (x - view->allowed) * SLOPE;
    return hypot(view->p[item][0] - x, view->p[item][1] - y) - RADIUS;
}

/* ---- the least of two or three --------------------------------------------------------------- */

static void look_towards(const View *view, Basis *basis) {
    for (int i = 0; i < basis->count; i++) {
        double *towards = basis->towards[i];
        towards[0] = towards[1] = 0;
        if (basis->items[i] == FLOOR)
            continue;
        double x = view->p[basis->items[i]][0] - basis->x;
        double y = view->p[basis->items[i]][1] - basis->y, far = hypot(x, y);
        if (far > 0) {
            towards[0] = x / far;
            towards[1] = y / far;
        }
    }
}

/* The middle between two points. */
static bool set_pair(const View *view, Basis *basis) {
    const double *p = view->p[basis->items[0]], *q = view->p[basis->items[1]];
    basis->x = (p[0] + q[0]) / 2;
    basis->y = (p[1] + q[1]) / 2;
    basis->out = hypot(p[0] - q[0], p[1] - q[1]) / 2 - RADIUS;
    look_towards(view, basis);
    basis->share[0] = basis->share[1] = 0.5;
    return basis->out > -RADIUS;
}

/* Shares that make two or three directions cancel, less a push of `push` along x; of the sum 1. */
static bool set_shares(Basis *basis, double push) {
    double(*t)[2] = basis->towards;
    double right = push, up = 0, third = 1;
    if (push == 0) { /* the third is another point */
        right = -t[2][0];
        up = -t[2][1];
    }
    double area = t[0][0] * t[1][1] - t[0][1] * t[1][0];
    if (fabs(area) < 1e-12)
        return false;
    double first = (right * t[1][1] - up * t[1][0]) / area;
    double second = (t[0][0] * up - t[0][1] * right) / area;
    double sum = first + second + third;
    basis->share[0] = first / sum;
    basis->share[1] = second / sum;
    basis->share[2] = third / sum;
    return first >= 0 && second >= 0;
}

/* The circle through three points, where their triangle holds its middle. */
static bool set_triple(const View *view, Basis *basis) {
    const double *o = view->p[basis->items[0]];
    const double *p = view->p[basis->items[1]], *q = view->p[basis->items[2]];
    double px = p[0] - o[0], py = p[1] - o[1], qx = q[0] - o[0], qy = q[1] - o[1];
    double area2 = 2 * (px * qy - py * qx), pp = px * px + py * py, qq = qx * qx + qy * qy;
    if (fabs(area2) < 1e-9)
        return false;
    double x = (qy * pp - py * qq) / area2, y = (px * qq - qx * pp) / area2;
    basis->x = o[0] + x;
    basis->y = o[1] + y;
    basis->out = hypot(x, y) - RADIUS;
    look_towards(view, basis);
    return set_shares(basis, 0);
}

/* A point straight towards +x from the middle, which the floor pushes the other way. */
static bool set_floor_point(const View *view, Basis *basis) {
    const double *p = view->p[basis->items[0]];
    basis->x = (p[0] - RADIUS + SLOPE * view->allowed) / (1 + SLOPE);
    basis->y = p[1];
    basis->out = (basis->x - view->allowed) * SLOPE;
    if (p[0] < basis->x)
        return false;
    basis->towards[0][0] = 1;
    basis->share[0] = SLOPE / (1 + SLOPE);
    basis->share[1] = 1 / (1 + SLOPE);
    return true;
}

/* Two points and the floor: on the line that is as far from both, s from the middle between them,
 * where hypot(half, s) = R + floor's wish there, on the side where the points lie towards +x. */
static bool set_floor_pair(const View *view, Basis *basis) {
    const double *p = view->p[basis->items[0]], *q = view->p[basis->items[1]];
    double apart = hypot(p[0] - q[0], p[1] - q[1]), half = apart / 2;
    if (apart < 1e-9)
        return false;
    double alongx = (p[1] - q[1]) / apart, alongy = (q[0] - p[0]) / apart;
    if (alongx < 0) {
        alongx = -alongx;
        alongy = -alongy;
    }
    double x = (p[0] + q[0]) / 2, y = (p[1] + q[1]) / 2;
    double base = RADIUS + (x - view->allowed) * SLOPE, rise = alongx * SLOPE;
    double square = 1 - rise * rise, mixed = base * rise;
    double inner = mixed * mixed - square * (half * half - base * base);
    if (inner < 0)
        return false;
    double s = (mixed - sqrt(inner)) / square;
    basis->x = x + s * alongx;
    basis->y = y + s * alongy;
    basis->out = base + rise * s - RADIUS;
    if (base + rise * s < 0)
        return false;
    look_towards(view, basis);
    return set_shares(basis, SLOPE);
}

/* Whether the least of these, where each of them counts, could be found. The floor comes last. */
static bool set_basis(const View *view, Basis *basis) {
    bool floor = basis->items[basis->count - 1] == FLOOR;
    if (basis->count == 3)
        return floor ? set_floor_pair(view, basis) : set_triple(view, basis);
    if (basis->count == 2)
        return floor ? set_floor_point(view, basis) : set_pair(view, basis);
    return false;
}

/* ---- from basis to basis --------------------------------------------------------------------- */

static void begin(const View *view, Basis *basis) {
    *basis = (Basis){.count = 1, .share = {1}, .x = view->p[0][0], .y = view->p[0][1]};
    basis->out = -RADIUS;
}

/* What asks for most at the basis's middle. */
static int find_worst(const View *view, const Basis *basis, double *most) {
    int worst = FLOOR;
    double far = -1;
    size_t at = 0;
    for (size_t i = 0; i < view->count; i++) {
        double x = view->p[i][0] - basis->x, y = view->p[i][1] - basis->y;
        if (x * x + y * y > far) {
            far = x * x + y * y;
            at = i;
        }
    }
    *most = asks(view, FLOOR, basis->x, basis->y);
    double out = sqrt(far) - RADIUS;
    if (out > *most) {
        *most = out;
        worst = (int)at;
    }
    return worst;
}

/* The best basis of the old items and the new one: of all that count, that which asks for most. */
static bool take_in(const View *view, Basis *basis, int item) {
    Basis best = {.out = -INFINITY};
    for (int kept = 0; kept < 1 << basis->count; kept++) {
        Basis next = {0};
        bool floor = item == FLOOR, many = false;
        if (item != FLOOR)
            next.items[next.count++] = item;
        for (int i = 0; i < basis->count; i++) {
            if (!(kept >> i & 1))
                continue;
            if (basis->items[i] == FLOOR)
                floor = true;
            else if (next.count < BASIS_MAX)
                next.items[next.count++] = basis->items[i];
            else
                many = true;
        }
        many = many || next.count + floor > BASIS_MAX;
        if (many || next.count + floor < 2)
            continue;
        if (floor)
            next.items[next.count++] = FLOOR;
        if (set_basis(view, &next) && next.out > best.out)
            best = next;
    }
    if (best.out <= basis->out)
        return false;
    *basis = best;
    return true;
}

/* ---- the reason ------------------------------------------------------------------------------ */

/* Adds push ' p for the direction `push` of the turned point whose place before is p. */
static void add_outer(double matrix[3][3], double px, double py, double pz, const double p[3]) {
    const double push[3] = {px, py, pz};
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            matrix[i][k] += push[i] * p[k];
}

/* The form of q for which q' F q is the product of m and the matrix of q, less `allowed`. */
static void set_form(NwSmallPartsCylinderReason *reason, double m[3][3], double allowed) {
    double(*f)[4] = reason->form;
    f[0][0] = m[0][0] + m[1][1] + m[2][2];
    for (int i = 0; i < 3; i++) {
        int k = (i + 1) % 3, l = (i + 2) % 3;
        f[i + 1][i + 1] = m[i][i] - m[k][k] - m[l][l];
        f[0][i + 1] = f[i + 1][0] = m[l][k] - m[k][l];
        f[k + 1][l + 1] = f[l + 1][k + 1] = m[k][l] + m[l][k];
    }
    for (int i = 0; i < 4; i++)
        f[i][i] -= allowed;
}

static void give_reason(const View *view, const Basis *basis, const double (*points)[3],
                        NwSmallPartsCylinderReason *reason) {
    double matrix[3][3] = {{0}}, allowed = 0;
    for (int i = 0; i < basis->count; i++) {
        double share = basis->share[i];
        if (basis->items[i] == FLOOR) {
            double part = share * SLOPE;
            add_outer(matrix, -part, 0, -part, points[view->bottom]);
            add_outer(matrix, 0, 0, part, points[view->top]);
            allowed += part * (RADIUS + NW_SMALL_PARTS_CYLINDER_SHALLOW_MM);
            continue;
        }
        const double *towards = basis->towards[i];
        add_outer(matrix, share * towards[0], share * towards[1], 0, points[basis->items[i]]);
        allowed += share * RADIUS;
    }
    set_form(reason, matrix, allowed);
}

double nw_small_parts_cylinder_try(const double (*points)[3], size_t count, const double turn[4],
                                   double (*turned)[3], NwSmallPartsCylinderReason *reason) {
    turn_points(points, count, turn, turned);
    View view = view_of((const double(*)[3])turned, count);
    Basis basis;
    double most, least = INFINITY;
    begin(&view, &basis);
    for (int round = 0; round < ROUNDS_MAX; round++) {
        int worst = find_worst(&view, &basis, &most);
        least = fmin(least, most);
        if (most <= basis.out + 1e-9 || !take_in(&view, &basis, worst))
            break;
    }
    if (reason)
        give_reason(&view, &basis, points, reason);
    return least;
}
