/* A request: a product, the design it is made of, and what the maker wants of it.
 *
 * Options that are not set have the standard of their row. Ownership: it owns a copy of the
 * design, so it can be handed to a thread; `free` frees it. Thread: one at a time. */
#ifndef NW_EXPORT_EXPORT_REQUEST_H
#define NW_EXPORT_EXPORT_REQUEST_H

#include "design/design.h"
#include "export/export_report.h"

enum { NW_OPTIONS_MAX = 12 };

struct NwExportRequest {
    const NwProduct *product;
    NwDesign *design;
    char *store;    /* the file of the store that the design is kept in, or NULL */
    gint64 version; /* its version there */
    char *out;      /* the file or folder to write, or NULL: not said yet */
    struct {
        gboolean set;
        double number; /* of a number; of a switch 0 or 1; of a choice its index */
    } values[NW_OPTIONS_MAX];
};

/* The design is copied. */
NwExportRequest *nw_export_request_new(const NwProduct *product, const NwDesign *design);
void nw_export_request_free(NwExportRequest *request); /* NULL is allowed */

/* Where the design is kept: a search that it needs is found there, or kept there. */
void nw_export_request_set_source(NwExportRequest *request, const char *store, gint64 version);
void nw_export_request_set_out(NwExportRequest *request, const char *path);

/* FALSE with an error (G_OPTION_ERROR) that says what the option takes. */
gboolean nw_export_request_set_number(NwExportRequest *request, const char *option, double number,
                                      GError **error);
gboolean nw_export_request_set_choice(NwExportRequest *request, const char *option,
                                      const char *word, GError **error);
void nw_export_request_set_switch(NwExportRequest *request, const char *option, gboolean on);

/* What is set, or the standard. It must be an option of the product. */
double nw_export_request_number(const NwExportRequest *request, const char *option);
gboolean nw_export_request_switch(const NwExportRequest *request, const char *option);
const char *nw_export_request_choice(const NwExportRequest *request, const char *option);
gboolean nw_export_request_is_set(const NwExportRequest *request, const char *option);

/* Whether it can be made at all, as far as that is known at once: a target of the right kind,
 * pieces with parts, no faults. FALSE with an error, one sentence. */
gboolean nw_export_request_check(const NwExportRequest *request, GError **error);

/* Adds the cautions for the tools that it leads to, which are to be read before it is made. */
void nw_export_request_warn(const NwExportRequest *request, NwExportReport *report);

/* Makes it and writes its files, all or none. Long: give it a thread of its own. NULL with an error
 * where it is refused, stopped (G_IO_ERROR_CANCELLED) or cannot be written. The caller frees. */
NwExportReport *nw_export_request_make(const NwExportRequest *request, NwProgress *progress,
                                       GError **error);

#endif
