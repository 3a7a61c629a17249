#include "design/symmetry_name.h"

#include <stdio.h>

#include "lattice/symmetry.h"

int nw_design_symmetries(const NwDesign *design, bool reflections, NwMotion symmetries[NW_TURNS]) {
    NwAllowed allowed = {reflections, nw_design_is_whole(design)};
    return nw_solid_symmetries(design->envelope, allowed, symmetries);
}

static int sign(int number) {
    return (number > 0) - (number < 0);
}

/* Directions only: every component becomes 0 or +-1. */
static NwVec signs(NwVec v) {
    return nw_vec(sign(v.x), sign(v.y), sign(v.z));
}

/* The images of the three axes, as columns of the matrix of a rotation. */
typedef struct Columns {
    NwVec x, y, z;
} Columns;

static int trace(Columns m) {
    return m.x.x + m.y.y + m.z.z;
}

/* The axis of a turn by less than half: along the antisymmetric part of the matrix. */
static NwVec axis_of_turn(Columns m) {
    return signs(nw_vec(m.y.z - m.z.y, m.z.x - m.x.z, m.x.y - m.y.x));
}

/* A half turn carries v to v', and then v + v' lies along the axis, if it is not 0. */
static NwVec axis_of_half_turn(Columns m) {
    NwVec along[3] = {nw_vec_add(nw_vec(1, 0, 0), m.x), nw_vec_add(nw_vec(0, 1, 0), m.y),
                      nw_vec_add(nw_vec(0, 0, 1), m.z)};
    int k = 0;
    while (nw_vec_equal(along[k], nw_vec(0, 0, 0)))
        k++;
    NwVec axis = signs(along[k]);
    return nw_vec_compare(axis, nw_vec(0, 0, 0)) < 0 ? nw_vec_scale(axis, -1) : axis;
}

/* A reflection is minus a rotation; minus a turn by an angle is a mirror across its axis and a turn
 * by the rest to a half turn, the other way round. */
NwSymmetryName nw_symmetry_name(NwTurn turn) {
    bool rotation = nw_turn_is_rotation(turn);
    int s = rotation ? 1 : -1;
    Columns m = {nw_vec_scale(nw_turn_vec(turn, nw_vec(1, 0, 0)), s),
                 nw_vec_scale(nw_turn_vec(turn, nw_vec(0, 1, 0)), s),
                 nw_vec_scale(nw_turn_vec(turn, nw_vec(0, 0, 1)), s)};
    switch (trace(m)) {
    case 3:
        return (NwSymmetryName){
            rotation ? NW_SYMMETRY_IDENTITY : NW_SYMMETRY_POINT, rotation ? 1 : 2, {0, 0, 0}};
    case -1:
        return (NwSymmetryName){rotation ? NW_SYMMETRY_TURN : NW_SYMMETRY_MIRROR, 2,
                                axis_of_half_turn(m)};
    case 0:
        return (NwSymmetryName){rotation ? NW_SYMMETRY_TURN : NW_SYMMETRY_TURN_MIRROR,
                                rotation ? 3 : 6, nw_vec_scale(axis_of_turn(m), s)};
    default:
        return (NwSymmetryName){rotation ? NW_SYMMETRY_TURN : NW_SYMMETRY_TURN_MIRROR, 4,
                                nw_vec_scale(axis_of_turn(m), s)};
    }
}

/* "x", "-x", "+x-y", ... */
static void write_axis(NwVec axis, char text[NW_TURN_NAME_SIZE]) {
    bool single = nw_vec_dot(axis, axis) == 1;
    int at = 0;
    for (int k = 0; k < 3; k++) {
        int along = nw_vec_get(axis, k);
        if (!along)
            continue;
        if (along < 0 || !single)
            text[at++] = along < 0 ? '-' : '+';
        text[at++] = (char)('x' + k);
    }
    text[at] = '\0';
}

void nw_symmetry_text(NwTurn turn, char text[NW_SYMMETRY_TEXT_SIZE]) {
    static const char *const shares[] = {
        [2] = "half turn", [3] = "third of a turn", [4] = "quarter turn", [6] = "sixth of a turn"};
    static const char *const kinds[] = {[1] = "", [2] = "the edge axis ", [3] = "the corner axis "};
    NwSymmetryName name = nw_symmetry_name(turn);
    char axis[NW_TURN_NAME_SIZE];
    write_axis(name.axis, axis);
    const char *kind = kinds[nw_vec_dot(name.axis, name.axis) +
                             (name.kind == NW_SYMMETRY_IDENTITY || name.kind == NW_SYMMETRY_POINT)];
    switch (name.kind) {
    case NW_SYMMETRY_IDENTITY:
        snprintf(text, NW_SYMMETRY_TEXT_SIZE, "no turn");
        break;
    case NW_SYMMETRY_POINT:
        snprintf(text, NW_SYMMETRY_TEXT_SIZE, "reflection through the middle");
        break;
    case NW_SYMMETRY_MIRROR:
        snprintf(text, NW_SYMMETRY_TEXT_SIZE, "mirror across %s%s", kind[0] ? "the diagonal " : "",
                 axis);
        break;
    case NW_SYMMETRY_TURN:
        snprintf(text, NW_SYMMETRY_TEXT_SIZE, "%s about %s%s", shares[name.order], kind, axis);
        break;
    case NW_SYMMETRY_TURN_MIRROR:
        snprintf(text, NW_SYMMETRY_TEXT_SIZE, "%s about %s%s and mirror across it",
                 shares[name.order], kind, axis);
        break;
    }
}
