/* Proposals of the advisor (cook/advisor.h) and explanations of parts, told on standard output: as
 * JSON, one object a line, flushed line by line, or as text for a person. */
#ifndef NW_CLI_ADVICE_H
#define NW_CLI_ADVICE_H

#include <glib.h>

#include "cook/advisor.h"
#include "cook/explain.h"

/* "the core of cell 1 3 1", "corner 3 of cell 1 3 1". The caller frees it. */
char *nw_advice_part(NwPart part);

/* Reads "X,Y,Z,BIT"; FALSE if it is not that. */
gboolean nw_advice_parse_part(const char *text, NwPart *part);

void nw_advice_line_progress(const NwAdvisorProgress *progress);
void nw_advice_line_proposal(NwAdvisor *advisor, const NwProposal *proposal, guint rank);
void nw_advice_line_misses(NwAdvisor *advisor);
void nw_advice_line_done(NwAdvisor *advisor, gboolean complete, guint proposals, guint proved);
void nw_advice_line_part(const NwBaseline *baseline, NwPart part, const NwExplain *explain,
                         int level, int total);

void nw_advice_print_question(NwAdvisor *advisor, long target);
void nw_advice_print_going_on(NwAdvisor *advisor, guint proposals);
void nw_advice_print_proposal(NwAdvisor *advisor, const NwProposal *proposal, guint rank);
void nw_advice_print_sums(NwAdvisor *advisor, gboolean complete, guint proposals);
void nw_advice_print_part(const NwBaseline *baseline, NwPart part, const NwExplain *explain,
                          int level, int total);

/* The number of a known assembly in the list that “notch fit” prints, from 1; and back, -1 if there
 * is none. */
guint nw_advice_number(const NwBaseline *baseline, size_t known);
long nw_advice_known(const NwBaseline *baseline, guint number);

/* The cook that is named by its number or by the first letters of its key; FALSE with a complaint
 * if there is none. */
gboolean nw_advice_choose(const NwBaseline *baseline, const char *which, long *known);

#endif
