/* What a search has found, in the words of src/cook: so that an advisor need not search the design
 * once more. Thread: any; a record's is that of its library. */
#ifndef NW_JOB_IMPORT_H
#define NW_JOB_IMPORT_H

#include "cook/advisor.h"
#include "job/run_store.h"

/* Adds a finding, without its way out. */
void nw_founds_add_finding(NwFounds *founds, const NwFoundAssembly *finding);

/* Before the advisor's first step: teaches it what a complete search in the store has found of this
 * version of the design with these options. *learnt: there was one, and it holds: every way out of
 * it is replayed. Else the advisor is as before. `stop` is asked every few hundredths of a second
 * whether to leave it at that; NULL: never. FALSE with an error if the store cannot be read. */
gboolean nw_founds_learn(NwLibrary *library, gint64 version, const NwDesign *design,
                         const NwBaselineOptions *options, gboolean (*stop)(void),
                         NwAdvisor *advisor, gboolean *learnt, GError **error);

#endif
