/* What a search found, as text for a person, on standard output. */
#ifndef NW_CLI_REPORT_H
#define NW_CLI_REPORT_H

#include "cli/run.h"

/* One line on the question that was searched. */
void nw_report_question(const NwDesign *design, const NwSearch *search);

/* The list of assemblies with the slides of each that opens, and the sums. */
void nw_report_list(const NwDesign *design, const NwSearchResults *results);

/* One assembly: its picture layer by layer, its placements, its way out. */
void nw_report_assembly(const NwDesign *design, const NwSearchResults *results, guint index);

/* "6 slides", of an assembly that opens, with what is known of the fewest: "6 slides, the fewest".
 * The caller frees. */
char *nw_report_dup_total(const NwFoundAssembly *finding);

/* A sentence on the fewest slides, where they were looked for. */
void nw_report_fewest(const NwFoundAssembly *finding);

/* The slides of an assembly, numbered, one a line. */
void nw_report_way(const NwDesign *design, const NwFoundAssembly *finding);

#endif
