#include "view/viewpoint.h"

#include <string.h>

bool nw_viewpoint_parse(const char *text, NwVec *direction) {
    NwVec read = {0, 0, 0};
    int last = -1;
    if (!*text)
        return false;
    for (; *text; text += 2) {
        int axis = text[1] - 'x';
        if ((text[0] != '+' && text[0] != '-') || axis < 0 || axis > 2 || axis <= last)
            return false;
        nw_vec_set(&read, axis, text[0] == '-' ? -1 : 1);
        last = axis;
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
