/* Examining one assembly: the slide search, and the checks that confirm what it says. */
#ifndef NW_JOB_VERIFY_H
#define NW_JOB_VERIFY_H

#include "assembly/found_assembly.h"

typedef struct NwVerifier NwVerifier;

/* Thread: each examiner belongs to one. The design is borrowed and must outlive it. */
NwVerifier *nw_verifier_new(const NwDesign *design, bool diagonals, uint32_t max_states);
void nw_verifier_free(NwVerifier *examiner); /* NULL is allowed */

/* Looks for the fewest slides in all as well (slide/fewest.h), with that limit for each assembly;
 * 0: NW_FEWEST_TRIES_DEFAULT. While it does, the finding is one that opens and has what is proved
 * so far as `at_least`. */
void nw_verifier_seek_fewest(NwVerifier *examiner, unsigned long max_tries);

/* Begins with one finding, which is borrowed until the examination ends. */
void nw_verifier_start(NwVerifier *examiner, NwFoundAssembly *finding);

/* Goes on for at most `expansions` states. NW_STOPPED: call again; NW_OK: the finding has its
 * verdict, and independent checks confirm it; NW_DOES_NOT_FIT: a check contradicts the search,
 * which is a fault of this program: nothing may be built on the finding. */
NwStatus nw_verifier_step(NwVerifier *examiner, long expansions);

/* How far the slide search has come. */
NwTakeApartProgress nw_verifier_progress(const NwVerifier *examiner);

#endif
