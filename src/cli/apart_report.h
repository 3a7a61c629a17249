/* What “notch apart” says of one assembly: progress while it is taken apart, and the end. */
#ifndef NW_CLI_APART_REPORT_H
#define NW_CLI_APART_REPORT_H

#include "job/apart.h"

typedef struct NwApartReport {
    const NwDesign *design;
    const char *which; /* "intended", "drawn", "given", or its key */
    const NwFoundAssembly *finding;
    NwTakeApartProgress progress;
    double seconds;
    gboolean stopped; /* by a limit of time or by Ctrl-C */
} NwApartReport;

/* The live line on the terminal, and the event of JSON lines. */
void nw_apart_report_line(const NwTakeApartProgress *progress, const NwFoundAssembly *finding);
void nw_apart_report_event(const NwTakeApartProgress *progress, const NwFoundAssembly *finding);

/* The end, for a person and as one line of JSON. */
void nw_apart_report_text(const NwApartReport *report);
void nw_apart_report_json(const NwApartReport *report);

#endif
