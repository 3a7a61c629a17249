/* Setting up a baseline step by step: the fit of the design as it was given, then that of the
 * settled one. For a large design that takes seconds, so it is a pull iterator that its caller can
 * stop at any time, as fit/setup.h is. Thread: each belongs to one. */
#ifndef NW_COOK_BASELINE_SETUP_H
#define NW_COOK_BASELINE_SETUP_H

#include "cook/baseline.h"

typedef struct NwBaselineSetup NwBaselineSetup;

/* NW_NONE: no assembly is intended; or as nw_fit_setup_new. *setup is then NULL. The design is
 * copied. */
NwStatus nw_baseline_setup_new(const NwDesign *design, NwBaselineOptions options,
                               NwBaselineSetup **setup);
void nw_baseline_setup_free(NwBaselineSetup *setup); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each: NW_STOPPED. NW_OK:
 * *baseline is ready and the caller's. Else what nw_baseline_new says; then only free it. */
NwStatus nw_baseline_setup_step(NwBaselineSetup *setup, long effort, NwBaseline **baseline);

#endif
