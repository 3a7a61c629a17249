#include "view/viewpoint.h"

#include <string.h>

#include "base/minus.h"

bool nw_viewpoint_parse(const char *text, NwVec *direction) {
    NwVec read = {0, 0, 0};
    int last = -1;
    if (!*text)
        return false;
    while (*text) {
        int minus = nw_minus_length(text), sign = *text == '+' ? 1 : minus;
        int axis = sign ? text[sign] - 'x' : -1;
        if (axis < 0 || axis > 2 || axis <= last)
            return false;
        nw_vec_set(&read, axis, minus ? -1 : 1);
        last = axis;
        text += sign + 1;
    }
    *direction = read;
    return true;
}

bool nw_viewpoint_set(NwCamera *camera, const char *name) {
    NwVec direction;
    if (strcmp(name, "home") == 0)
        nw_camera_stand(camera, nw_vec(0, 0, 1));
    else if (strcmp(name, "edge") == 0)
        nw_camera_stand(camera, nw_vec(0, 1, 1));
    else if (strncmp(name, "on", 2) == 0 && nw_viewpoint_parse(name + 2, &direction))
        nw_camera_stand(camera, direction);
    else if (nw_viewpoint_parse(name, &direction))
        nw_camera_look_from(camera, direction);
    else
        return false;
    return true;
}
