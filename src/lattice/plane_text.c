#include "lattice/plane_text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/minus.h"

/* Reads a whole number that fills the text up to `end`. */
static bool read_limit(const char *at, const char *end, int *limit) {
    int minus = nw_minus_length(at);
    at += minus;
    if (at >= end || strspn(at, minus ? "0123456789" : "+0123456789") == 0)
        return false;
    char *stop;
    errno = 0;
    long value = strtol(at, &stop, 10);
    *limit = (int)(minus ? -value : value);
    return !errno && stop == end && value >= -NW_PLANE_LIMIT_MAX && value <= NW_PLANE_LIMIT_MAX;
}

static bool read_plane(const char *at, const char *end, NwPlane *plane) {
    *plane = (NwPlane){0};
    while (at != end && *at != '<') {
        int minus = nw_minus_length(at), sign = minus ? -1 : 1;
        at += *at == '+' ? 1 : minus;
        int axis = at == end ? -1 : *at - 'x';
        if (axis < 0 || axis > 2 || nw_vec_get(plane->normal, axis))
            return false;
        nw_vec_set(&plane->normal, axis, sign);
        at++;
    }
    return end - at > 2 && at[1] == '=' && read_limit(at + 2, end, &plane->limit);
}

bool nw_plane_read(const char *text, NwPlane *plane) {
    return read_plane(text, text + strlen(text), plane);
}

NwStatus nw_planes_read(const char *text, NwPlane planes[NW_PLANES_MAX], size_t *count,
                        NwWord *word) {
    static const char between[] = " \t\r\n,;";
    NwWord here;
    *count = 0;
    for (const char *at = text + strspn(text, between); *at;
         at = here.start + here.length, at += strspn(at, between)) {
        here = (NwWord){at, strcspn(at, between)};
        NwPlane plane;
        NwStatus status = NW_OK;
        if (!read_plane(at, at + here.length, &plane))
            status = NW_UNKNOWN_NAME;
        else if (*count == NW_PLANES_MAX)
            status = NW_TOO_MANY;
        if (status != NW_OK) {
            if (word)
                *word = here;
            return status;
        }
        planes[(*count)++] = plane;
    }
    return NW_OK;
}

void nw_plane_write(NwPlane plane, char text[NW_PLANE_TEXT_SIZE]) {
    size_t length = 0;
    for (int axis = 0; axis < 3; axis++) {
        int sign = nw_vec_get(plane.normal, axis);
        if (sign < 0 || (sign > 0 && length))
            text[length++] = sign < 0 ? '-' : '+';
        if (sign)
            text[length++] = (char)('x' + axis);
    }
    snprintf(text + length, NW_PLANE_TEXT_SIZE - length, "<=%d", plane.limit);
}
