#include "lattice/number_text.h"

#include <stdio.h>

#include "base/minus.h"

const char *nw_number_text(int number, char text[NW_NUMBER_TEXT_SIZE]) {
    if (number < 0)
        snprintf(text, NW_NUMBER_TEXT_SIZE, NW_MINUS "%u", 0u - (unsigned)number);
    else
        snprintf(text, NW_NUMBER_TEXT_SIZE, "%d", number);
    return text;
}

const char *nw_vec_text(NwVec vec, char between, char text[NW_VEC_TEXT_SIZE]) {
    char x[NW_NUMBER_TEXT_SIZE], y[NW_NUMBER_TEXT_SIZE], z[NW_NUMBER_TEXT_SIZE];
    snprintf(text, NW_VEC_TEXT_SIZE, "%s%c%s%c%s", nw_number_text(vec.x, x), between,
             nw_number_text(vec.y, y), between, nw_number_text(vec.z, z));
    return text;
}
