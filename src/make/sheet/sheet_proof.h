/* The words of the proof note. Inner part of sheet.h. */
#ifndef NW_MAKE_SHEET_SHEET_PROOF_H
#define NW_MAKE_SHEET_SHEET_PROOF_H

#include "make/sheet/sheet.h"

/* What fits and what can be reached, in sentences, and that the answer is the only one where the
 * sheet claims it; the caller frees. */
char *nw_sheet_dup_proof(const NwSheet *sheet);

#endif
