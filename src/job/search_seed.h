/* Adopting: a search that is told which assemblies there are, and only has to examine them.
 *
 * A proof (cook/proposal.h) has searched a design before it became the design; naming another
 * assembly the intended one changes none of them. The list is then known to be complete, and the
 * fit search need not run again. What is said of each assembly is only shown, though, until it is
 * examined and checked like any other: from there on the search is one whose fit is through, and it
 * is paused, saved, stored and resumed as such. */
#ifndef NW_JOB_SEARCH_SEED_H
#define NW_JOB_SEARCH_SEED_H

#include "cook/enumeration.h"
#include "job/search.h"

/* Before the search is started or restored. The founds are all assemblies of its design, in any
 * image; their keys and ways out are not looked at. Returns them as findings, by key and with what
 * the founds say of them, in an array that frees them; and counts that in *progress. NULL, with
 * nothing changed: they are no list of assemblies of this design, each once, the intended one among
 * them. */
GPtrArray *nw_search_adopt(NwSearch *search, const NwFounds *founds, NwSearchProgress *progress);

/* Before the search is started or restored: it was complete in an earlier session, and this is what
 * it had found and how long that took. There is nothing left to do then. */
void nw_search_recall(NwSearch *search, const NwSearchProgress *counts, double seconds);

/* Counts a finding into `found`, the verdicts, the cooks and whether the intended one opens. */
void nw_search_count(const NwSearch *search, const NwFoundAssembly *finding,
                     NwSearchProgress *progress);

/* The founds of a design after it was settled anew (design/frame.h): `redrawn` is that design
 * before, but with the placements that it was to be settled at. Changes the placements. */
void nw_founds_redraw(NwFounds *founds, const NwDesign *redrawn);

/* The same of the placements of one assembly. */
void nw_placements_redraw(NwPlacement *placements, size_t count, const NwDesign *redrawn);

#endif
