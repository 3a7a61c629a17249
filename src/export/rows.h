/* What several products need. Thread: any. */
#ifndef NW_EXPORT_ROWS_H
#define NW_EXPORT_ROWS_H

#include "design/design.h"
#include "export/product.h"

/* The papers that the option "paper" chooses from, in the order of paper.h. */
enum { NW_PAPER_CHOICES = 3 };
extern const NwOptionChoice nw_paper_choices[NW_PAPER_CHOICES];

/* ---- cautions, added to what is made ------------------------------------------------------ */

/* Of each piece whether it is a small part, and its sharp tips; its faces are moved inwards by
 * `inset_mm`. A stage of the progress; FALSE with an error: stopped. */
gboolean nw_add_piece_cautions(NwExportReport *report, const NwDesign *design, double cell_mm,
                               double inset_mm, NwProgress *progress, GError **error);

/* The same of one piece, without a stage of its own; returns which of these it is. */
enum { NW_PIECE_SMALL = 1, NW_PIECE_SHARP = 2 };
unsigned nw_add_cautions_of(NwExportReport *report, const NwDesign *design, size_t piece,
                            double cell_mm, double inset_mm, NwProgress *progress);

/* Of tools, the bits 1 << NW_TOOL_... (make/safety/safety_notes.h); then what cautions are not. */
void nw_add_tool_cautions(NwExportReport *report, unsigned tools);

#endif
