/* What came of making: which files are written and where, with a button that opens their folder;
 * remarks and cautions; or the one sentence why nothing is written. Hidden until there is
 * something to show; its Close button hides it again.
 *
 * Signals:
 *   "closed"  the maker has read it
 * Thread: the main one. */
#ifndef NW_APP_MAKING_EXPORT_RESULT_H
#define NW_APP_MAKING_EXPORT_RESULT_H

#include <gtk/gtk.h>

#include "export/export_report.h"

G_BEGIN_DECLS

#define NW_TYPE_EXPORT_RESULT (nw_export_result_get_type())
G_DECLARE_FINAL_TYPE(NwExportResult, nw_export_result, NW, EXPORT_RESULT, GtkWidget)

/* `known` are cautions that stand elsewhere and are not said again. All is copied. */
void nw_export_result_show_report(NwExportResult *self, const NwExportReport *report,
                                  GPtrArray *known);
void nw_export_result_show_failure(NwExportResult *self, const char *message);
void nw_export_result_show_stopped(NwExportResult *self);
void nw_export_result_hide(NwExportResult *self);

G_END_DECLS

#endif
