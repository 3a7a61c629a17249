#include "export/export_report.h"

NwExportReport *nw_export_report_new(void) {
    NwExportReport *report = g_new0(NwExportReport, 1);
    report->paths = g_ptr_array_new_with_free_func(g_free);
    report->remarks = g_ptr_array_new_with_free_func(g_free);
    report->cautions = g_ptr_array_new_with_free_func(g_free);
    return report;
}

void nw_export_report_free(NwExportReport *report) {
    if (!report)
        return;
    g_ptr_array_unref(report->paths);
    g_ptr_array_unref(report->remarks);
    g_ptr_array_unref(report->cautions);
    g_free(report);
}

void nw_export_report_take_remark(NwExportReport *report, char *text) {
    if (text)
        g_ptr_array_add(report->remarks, text);
}

void nw_export_report_take_caution(NwExportReport *report, char *text) {
    if (text)
        g_ptr_array_add(report->cautions, text);
}
