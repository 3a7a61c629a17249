#include "job/verify.h"

#include <stdlib.h>

#include "base/memory.h"
#include "cook/found.h"
#include "design/check_assembly.h"
#include "slide/fewest.h"

/* Tries of the search for the fewest slides in the time of one state of the other. */
enum { TRIES_A_STATE = 16 };

struct NwVerifier {
    const NwDesign *design;
    NwTakeApart *search;
    NwFewest *fewest; /* NULL: not wanted */
    unsigned long max_tries;
    bool seeking; /* the assembly opens, and the fewest slides are looked for */
    bool diagonals;
    uint32_t max_states;
    NwFoundAssembly *finding;
    bool too_many; /* more bodies than the slide search supports */
};

NwVerifier *nw_verifier_new(const NwDesign *design, bool diagonals, uint32_t max_states) {
    NwVerifier *examiner = nw_alloc(1, sizeof *examiner);
    examiner->design = design;
    examiner->search = nw_take_apart_new(diagonals);
    examiner->max_states = max_states;
    examiner->diagonals = diagonals;
    return examiner;
}

void nw_verifier_free(NwVerifier *examiner) {
    if (!examiner)
        return;
    nw_take_apart_free(examiner->search);
    nw_fewest_free(examiner->fewest);
    free(examiner);
}

void nw_verifier_seek_fewest(NwVerifier *examiner, unsigned long max_tries) {
    if (!examiner->fewest)
        examiner->fewest = nw_fewest_new(examiner->diagonals);
    examiner->max_tries = max_tries ? max_tries : NW_FEWEST_TRIES_DEFAULT;
}

void nw_verifier_start(NwVerifier *examiner, NwFoundAssembly *finding) {
    examiner->finding = finding;
    examiner->seeking = false;
    examiner->too_many = finding->placement_count > NW_BODIES_MAX;
    if (examiner->too_many)
        return;
    NwBody bodies[NW_BODIES_MAX];
    nw_found_assembly_bodies(examiner->design, finding->placements, finding->placement_count,
                             bodies);
    nw_take_apart_start(examiner->search, bodies, finding->placement_count, examiner->max_states);
}

/* Replays the slides with the exact, table-free checker. */
static bool replay_confirms(const NwVerifier *examiner, const NwFoundAssembly *finding) {
    return nw_slides_open(examiner->design, finding->placements, finding->placement_count,
                          finding->slides, finding->slide_count);
}

/* An assembly that opens has its verdict; the fewest slides are another search. */
static NwStatus begin_fewest(NwVerifier *examiner) {
    NwFoundAssembly *finding = examiner->finding;
    NwBody bodies[NW_BODIES_MAX];
    nw_found_assembly_bodies(examiner->design, finding->placements, finding->placement_count,
                             bodies);
    examiner->seeking = true;
    NwStatus status = nw_fewest_start(examiner->fewest, bodies, finding->placement_count,
                                      nw_take_apart_result(examiner->search), examiner->max_tries);
    if (status == NW_OK)
        finding->at_least = nw_fewest_at_least(examiner->fewest);
    return status;
}

static NwStatus step_fewest(NwVerifier *examiner, long expansions) {
    NwFoundAssembly *finding = examiner->finding;
    NwStatus status = nw_fewest_step(examiner->fewest, TRIES_A_STATE * (unsigned long)expansions);
    finding->at_least = nw_fewest_at_least(examiner->fewest);
    if (status == NW_STOPPED)
        return status;
    nw_found_assembly_set_way(finding, NW_OPENS, nw_fewest_result(examiner->fewest));
    finding->at_least = nw_fewest_at_least(examiner->fewest);
    finding->states = nw_take_apart_result(examiner->search)->states;
    return replay_confirms(examiner, finding) ? NW_OK : NW_DOES_NOT_FIT;
}

NwStatus nw_verifier_step(NwVerifier *examiner, long expansions) {
    static const NwWayOut nothing = {0};
    if (examiner->seeking)
        return step_fewest(examiner, expansions);
    NwFoundAssembly *finding = examiner->finding;
    NwStatus status =
        examiner->too_many ? NW_LIMIT : nw_take_apart_step(examiner->search, expansions);
    if (status == NW_STOPPED)
        return status;
    NwVerdict verdict = status == NW_OK     ? NW_OPENS
                        : status == NW_NONE ? NW_UNREACHABLE
                                            : NW_UNDECIDED;
    nw_found_assembly_set_way(
        finding, verdict, examiner->too_many ? &nothing : nw_take_apart_result(examiner->search));
    if (nw_check_assembly(examiner->design, finding->placements, (size_t)finding->placement_count))
        return NW_DOES_NOT_FIT;
    if (verdict == NW_OPENS && !replay_confirms(examiner, finding))
        return NW_DOES_NOT_FIT;
    if (verdict == NW_OPENS && examiner->fewest && begin_fewest(examiner) == NW_OK)
        return NW_STOPPED;
    return NW_OK;
}

NwTakeApartProgress nw_verifier_progress(const NwVerifier *examiner) {
    return examiner->too_many ? (NwTakeApartProgress){0} : nw_take_apart_progress(examiner->search);
}
