#include "job/examine.h"

#include <stdlib.h>

#include "base/memory.h"
#include "cook/found.h"
#include "design/recount.h"

struct NwExaminer {
    const NwDesign *design;
    NwTakeApart *search;
    uint32_t max_states;
    NwFinding *finding;
    bool too_many; /* more bodies than the slide search supports */
};

NwExaminer *nw_examiner_new(const NwDesign *design, bool diagonals, uint32_t max_states) {
    NwExaminer *examiner = nw_alloc(1, sizeof *examiner);
    examiner->design = design;
    examiner->search = nw_take_apart_new(diagonals);
    examiner->max_states = max_states;
    return examiner;
}

void nw_examiner_free(NwExaminer *examiner) {
    if (!examiner)
        return;
    nw_take_apart_free(examiner->search);
    free(examiner);
}

void nw_examiner_start(NwExaminer *examiner, NwFinding *finding) {
    examiner->finding = finding;
    examiner->too_many = finding->placement_count > NW_BODIES_MAX;
    if (examiner->too_many)
        return;
    NwBody bodies[NW_BODIES_MAX];
    nw_finding_bodies(examiner->design, finding->placements, finding->placement_count, bodies);
    nw_take_apart_start(examiner->search, bodies, finding->placement_count, examiner->max_states);
}

/* Replays the slides with the exact, table-free checker. */
static bool replay_confirms(const NwExaminer *examiner, const NwFinding *finding) {
    return nw_slides_open(examiner->design, finding->placements, finding->placement_count,
                          finding->slides, finding->slide_count);
}

NwStatus nw_examiner_step(NwExaminer *examiner, long expansions) {
    static const NwWayOut nothing = {0};
    NwFinding *finding = examiner->finding;
    NwStatus status =
        examiner->too_many ? NW_LIMIT : nw_take_apart_step(examiner->search, expansions);
    if (status == NW_STOPPED)
        return status;
    NwVerdict verdict = status == NW_OK     ? NW_OPENS
                        : status == NW_NONE ? NW_UNREACHABLE
                                            : NW_UNDECIDED;
    nw_finding_set_way(finding, verdict,
                       examiner->too_many ? &nothing : nw_take_apart_result(examiner->search));
    if (nw_recount(examiner->design, finding->placements, (size_t)finding->placement_count))
        return NW_DOES_NOT_FIT;
    if (verdict == NW_OPENS && !replay_confirms(examiner, finding))
        return NW_DOES_NOT_FIT;
    return NW_OK;
}

NwTakeApartProgress nw_examiner_progress(const NwExaminer *examiner) {
    return examiner->too_many ? (NwTakeApartProgress){0} : nw_take_apart_progress(examiner->search);
}
