#include "slide/pair_runs.h"

#include <string.h>

#include "base/bits.h"

enum { ROW_BYTES = 24 };

void nw_pair_runs_clear(NwPairRuns *pairs) {
    memset(pairs->pushes, 0, sizeof pairs->pushes);
}

void nw_pair_runs_set(NwPairRuns *pairs, int i, int j, const NwClearance *table, NwVec r) {
    uint8_t outside[ROW_BYTES];
    const uint8_t *row = outside;
    if (nw_clearance_inside(table, r))
        row = nw_clearance_at(table, r);
    else
        nw_clearance_outside(table, r, outside);
    for (int d = 0; d < pairs->directions; d++) {
        int back = nw_direction_opposite(d);
        pairs->runs[d][j][i] = row[d];
        pairs->runs[back][i][j] = row[d];
        if (row[d])
            continue;
        pairs->pushes[d][j] |= UINT32_C(1) << i;
        pairs->pushes[back][i] |= UINT32_C(1) << j;
    }
}

uint32_t nw_pair_runs_pushed(const NwPairRuns *pairs, int direction, int body) {
    uint32_t pushed = UINT32_C(1) << body;
    for (uint32_t waiting = pushed; waiting;) {
        uint32_t more = pairs->pushes[direction][nw_lowest(waiting)] & ~pushed;
        pushed |= more;
        waiting = (waiting & (waiting - 1)) | more;
    }
    return pushed;
}

int nw_pair_runs_of_set(const NwPairRuns *pairs, uint32_t set, int count, int direction) {
    uint32_t others = (uint32_t)((UINT64_C(1) << count) - 1) & ~set;
    int least = NW_RUN_FOREVER;
    for (uint32_t in = set; in; in &= in - 1)
        for (uint32_t out = others; out; out &= out - 1) {
            int run = pairs->runs[direction][nw_lowest(in)][nw_lowest(out)];
            least = run < least ? run : least;
        }
    return least;
}
