#include "make/effort.h"

/* How many steps are spent from one look at the progress to the next: well under a millisecond. */
enum { LOOK_STEPS = 4096 };

bool nw_effort_spend(NwEffort *effort, long steps) {
    effort->left -= steps;
    effort->until_look -= steps;
    if (effort->until_look <= 0) {
        effort->until_look = LOOK_STEPS;
        if (nw_progress_is_stopped(effort->progress))
            effort->left = 0;
    }
    return effort->left > 0;
}
