#include "slide/direction.h"

#include <string.h>

#include "base/minus.h"

static const NwVec steps[NW_DIRECTIONS] = {
    {1, 0, 0},  {-1, 0, 0},  {0, 1, 0},  {0, -1, 0},  {0, 0, 1},  {0, 0, -1},
    {1, 1, 0},  {-1, -1, 0}, {1, -1, 0}, {-1, 1, 0},  {1, 0, 1},  {-1, 0, -1},
    {1, 0, -1}, {-1, 0, 1},  {0, 1, 1},  {0, -1, -1}, {0, 1, -1}, {0, -1, 1},
};

NwVec nw_direction_step(int direction) {
    return steps[direction];
}

void nw_direction_name(int direction, char name[NW_DIRECTION_NAME_SIZE]) {
    int at = 0;
    for (int axis = 0; axis < 3; axis++) {
        int along = nw_vec_get(steps[direction], axis);
        if (!along)
            continue;
        name[at++] = along > 0 ? '+' : '-';
        name[at++] = (char)('x' + axis);
    }
    name[at] = '\0';
}

void nw_direction_text(int direction, char text[NW_DIRECTION_TEXT_SIZE]) {
    char name[NW_DIRECTION_NAME_SIZE], *write = text;
    nw_direction_name(direction, name);
    for (const char *at = name; *at; at++) {
        size_t length = *at == '-' ? strlen(NW_MINUS) : 1;
        memcpy(write, *at == '-' ? NW_MINUS : at, length);
        write += length;
    }
    *write = '\0';
}

NwStatus nw_direction_parse(const char *name, int *direction) {
    for (int d = 0; d < NW_DIRECTIONS; d++) {
        char other[NW_DIRECTION_NAME_SIZE], text[NW_DIRECTION_TEXT_SIZE];
        nw_direction_name(d, other);
        nw_direction_text(d, text);
        if (strcmp(name, other) == 0 || strcmp(name, text) == 0) {
            *direction = d;
            return NW_OK;
        }
    }
    return NW_UNKNOWN_NAME;
}
