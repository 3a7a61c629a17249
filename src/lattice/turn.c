#include "lattice/turn.h"

#include <string.h>

/* The orders in which new axes can take old ones, and the sign of each as a permutation. */
static const struct {
    int axis[3];
    int sign;
} orders[6] = {
    {{0, 1, 2}, +1}, {{1, 2, 0}, +1}, {{2, 0, 1}, +1},
    {{0, 2, 1}, -1}, {{2, 1, 0}, -1}, {{1, 0, 2}, -1},
};

NwTurnMap nw_turn_map(NwTurn turn) {
    int within = turn % NW_ROTATIONS;
    int order = within / 4;
    int sign0 = within & 1 ? -1 : 1;
    int sign1 = within & 2 ? -1 : 1;
    int determinant = nw_turn_is_rotation(turn) ? 1 : -1;
    int sign2 = determinant * orders[order].sign * sign0 * sign1;
    const int *axis = orders[order].axis;
    return (NwTurnMap){{axis[0], axis[1], axis[2]}, {sign0, sign1, sign2}};
}

NwStatus nw_turn_of_map(NwTurnMap map, NwTurn *turn) {
    for (int order = 0; order < 6; order++) {
        if (memcmp(map.axis, orders[order].axis, sizeof map.axis) != 0)
            continue;
        for (int k = 0; k < 3; k++)
            if (map.sign[k] != 1 && map.sign[k] != -1)
                return NW_UNKNOWN_NAME;
        int determinant = orders[order].sign * map.sign[0] * map.sign[1] * map.sign[2];
        int within = 4 * order + (map.sign[0] < 0) + 2 * (map.sign[1] < 0);
        *turn = determinant > 0 ? within : within + NW_ROTATIONS;
        return NW_OK;
    }
    return NW_UNKNOWN_NAME;
}

NwVec nw_turn_vec(NwTurn turn, NwVec v) {
    NwTurnMap map = nw_turn_map(turn);
    return nw_vec(map.sign[0] * nw_vec_get(v, map.axis[0]),
                  map.sign[1] * nw_vec_get(v, map.axis[1]),
                  map.sign[2] * nw_vec_get(v, map.axis[2]));
}

NwVec nw_turn_cell(NwTurn turn, NwVec cell) {
    NwTurnMap map = nw_turn_map(turn);
    NwVec turned = nw_turn_vec(turn, cell);
    return nw_vec_sub(turned, nw_vec(map.sign[0] < 0, map.sign[1] < 0, map.sign[2] < 0));
}

NwTurn nw_turn_then(NwTurn first, NwTurn second) {
    NwTurnMap a = nw_turn_map(first), b = nw_turn_map(second), both;
    for (int k = 0; k < 3; k++) {
        both.axis[k] = a.axis[b.axis[k]];
        both.sign[k] = a.sign[b.axis[k]] * b.sign[k];
    }
    NwTurn turn = 0;
    nw_turn_of_map(both, &turn);
    return turn;
}

NwTurn nw_turn_inverse(NwTurn turn) {
    NwTurnMap map = nw_turn_map(turn), back;
    for (int k = 0; k < 3; k++) {
        back.axis[map.axis[k]] = k;
        back.sign[map.axis[k]] = map.sign[k];
    }
    NwTurn inverse = 0;
    nw_turn_of_map(back, &inverse);
    return inverse;
}

void nw_turn_name(NwTurn turn, char name[NW_TURN_NAME_SIZE]) {
    NwTurnMap map = nw_turn_map(turn);
    for (int k = 0; k < 3; k++) {
        name[2 * k] = map.sign[k] > 0 ? '+' : '-';
        name[2 * k + 1] = (char)('x' + map.axis[k]);
    }
    name[6] = '\0';
}

NwStatus nw_turn_parse(const char *name, NwTurn *turn) {
    if (strlen(name) != 6)
        return NW_UNKNOWN_NAME;
    NwTurnMap map;
    for (int k = 0; k < 3; k++) {
        char sign = name[2 * k], axis = name[2 * k + 1];
        if ((sign != '+' && sign != '-') || axis < 'x' || axis > 'z')
            return NW_UNKNOWN_NAME;
        map.sign[k] = sign == '+' ? 1 : -1;
        map.axis[k] = axis - 'x';
    }
    return nw_turn_of_map(map, turn);
}
