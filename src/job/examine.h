/* Examining one assembly: the slide search, and the checks that confirm what it says. */
#ifndef NW_JOB_EXAMINE_H
#define NW_JOB_EXAMINE_H

#include "job/finding.h"

typedef struct NwExaminer NwExaminer;

/* Thread: each examiner belongs to one. The design is borrowed and must outlive it. */
NwExaminer *nw_examiner_new(const NwDesign *design, bool diagonals, uint32_t max_states);
void nw_examiner_free(NwExaminer *examiner); /* NULL is allowed */

/* Looks for the fewest slides in all as well (slide/fewest.h), with that limit for each assembly;
 * 0: NW_FEWEST_TRIES_DEFAULT. While it does, the finding is one that opens and has what is proved
 * so far as `at_least`. */
void nw_examiner_seek_fewest(NwExaminer *examiner, unsigned long max_tries);

/* Begins with one finding, which is borrowed until the examination ends. */
void nw_examiner_start(NwExaminer *examiner, NwFinding *finding);

/* Goes on for at most `expansions` states. NW_STOPPED: call again; NW_OK: the finding has its
 * verdict, and independent checks confirm it; NW_DOES_NOT_FIT: a check contradicts the search,
 * which is a fault of this program: nothing may be built on the finding. */
NwStatus nw_examiner_step(NwExaminer *examiner, long expansions);

/* How far the slide search has come. */
NwTakeApartProgress nw_examiner_progress(const NwExaminer *examiner);

#endif
