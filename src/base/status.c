#include "base/status.h"

const char *nw_status_text(NwStatus status) {
    static const char *const text[NW_STATUS_COUNT] = {
        [NW_OK] = "done",
        [NW_NONE] = "the search is exhausted",
        [NW_STOPPED] = "the search was stopped and can go on",
        [NW_LIMIT] = "a stated limit was reached",
        [NW_OUT_OF_RANGE] = "a coordinate is out of range",
        [NW_OFF_LATTICE] = "the lattice cannot hold this exactly",
        [NW_UNKNOWN_NAME] = "there is nothing of that name",
        [NW_UNBOUNDED] = "the planes do not close a solid",
        [NW_EMPTY] = "the solid has no parts",
        [NW_TOO_MANY] = "there are more of these than are supported",
        [NW_DOES_NOT_FIT] = "a piece lies outside the envelope or inside another piece",
        [NW_BAD_RESUME] = "the saved search belongs to another design",
    };
    if ((unsigned)status >= NW_STATUS_COUNT)
        return "unknown status";
    return text[status];
}
