/* What a product came to: sentences for the maker, and cautions for the tools it leads to.
 * Ownership: whoever makes it frees it; texts are copied. Thread: one at a time. */
#ifndef NW_EXPORT_EXPORT_REPORT_H
#define NW_EXPORT_EXPORT_REPORT_H

#include <glib.h>

#include "export/product.h"

struct NwExportReport {
    GPtrArray *paths;    /* what was written, once it is */
    GPtrArray *remarks;  /* sentences about it, such as how a piece lies on the bed */
    GPtrArray *cautions; /* tools, small parts, sharp tips */
};

NwExportReport *nw_export_report_new(void);
void nw_export_report_free(NwExportReport *report); /* NULL is allowed */

/* Both take over `text`, which may be NULL: nothing is added then. */
void nw_export_report_take_remark(NwExportReport *report, char *text);
void nw_export_report_take_caution(NwExportReport *report, char *text);

#endif
