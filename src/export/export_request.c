#include "export/export_request.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "design/faults.h"

NwExportRequest *nw_export_request_new(const NwProduct *product, const NwDesign *design) {
    NwExportRequest *request = g_new0(NwExportRequest, 1);
    g_assert(product->option_count <= NW_OPTIONS_MAX);
    request->product = product;
    request->design = nw_design_copy(design);
    return request;
}

void nw_export_request_free(NwExportRequest *request) {
    if (!request)
        return;
    nw_design_free(request->design);
    g_free(request->store);
    g_free(request->out);
    g_free(request);
}

void nw_export_request_set_source(NwExportRequest *request, const char *store, gint64 version) {
    g_free(request->store);
    request->store = g_strdup(store);
    request->version = version;
}

void nw_export_request_set_out(NwExportRequest *request, const char *path) {
    g_free(request->out);
    request->out = g_strdup(path);
}

/* ---- options ------------------------------------------------------------------------------ */

static size_t row_of(const NwExportRequest *request, const char *name) {
    for (size_t i = 0; i < request->product->option_count; i++)
        if (strcmp(request->product->options[i].name, name) == 0)
            return i;
    g_error("“%s” has no option “%s”", request->product->name, name);
}

static void set(NwExportRequest *request, size_t row, double number) {
    request->values[row].set = TRUE;
    request->values[row].number = number;
}

gboolean nw_export_request_set_number(NwExportRequest *request, const char *option, double number,
                                      GError **error) {
    size_t row = row_of(request, option);
    const NwOption *o = &request->product->options[row];
    if (!(number >= o->least && number <= o->most)) {
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("--%s must be a number from %g to %g"), o->name, o->least, o->most);
        return FALSE;
    }
    set(request, row, number);
    return TRUE;
}

gboolean nw_export_request_set_choice(NwExportRequest *request, const char *option,
                                      const char *word, GError **error) {
    size_t row = row_of(request, option);
    const NwOption *o = &request->product->options[row];
    g_autoptr(GString) words = g_string_new(NULL);
    for (size_t i = 0; i < o->choice_count; i++) {
        if (g_ascii_strcasecmp(o->choices[i].word, word) == 0) {
            set(request, row, (double)i);
            return TRUE;
        }
        g_string_append_printf(words, "%s%s", i ? ", " : "", o->choices[i].word);
    }
    g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                _("invalid value “%s” for --%s; use one of %s"), word, o->name, words->str);
    return FALSE;
}

void nw_export_request_set_switch(NwExportRequest *request, const char *option, gboolean on) {
    set(request, row_of(request, option), on);
}

double nw_export_request_number(const NwExportRequest *request, const char *option) {
    size_t row = row_of(request, option);
    return request->values[row].set ? request->values[row].number
                                    : request->product->options[row].standard;
}

gboolean nw_export_request_switch(const NwExportRequest *request, const char *option) {
    return nw_export_request_number(request, option) != 0;
}

const char *nw_export_request_choice(const NwExportRequest *request, const char *option) {
    size_t row = row_of(request, option);
    return request->product->options[row].choices[(size_t)request->values[row].number].word;
}

gboolean nw_export_request_is_set(const NwExportRequest *request, const char *option) {
    return request->values[row_of(request, option)].set;
}

/* ---- checking it -------------------------------------------------------------------------- */

static gboolean has_ending(const NwExportRequest *request) {
    for (const char *const *ending = request->product->endings; *ending; ending++)
        if (g_str_has_suffix(request->out, *ending))
            return TRUE;
    return FALSE;
}

static gboolean check_target(const NwExportRequest *request, GError **error) {
    gboolean folder = request->product->target == NW_EXPORT_TARGET_FOLDER;
    if (request->out && (folder || has_ending(request)))
        return TRUE;
    if (folder) {
        g_set_error_literal(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                            _("missing --out FOLDER"));
        return FALSE;
    }
    g_autofree char *endings = g_strjoinv(", ", (char **)request->product->endings);
    if (request->out)
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("cannot write “%s”: the name must end in %s"), request->out, endings);
    else
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("missing --out FILE; the name must end in %s"), endings);
    return FALSE;
}

static gboolean check_pieces(const NwExportRequest *request, GError **error) {
    const NwDesign *design = request->design;
    for (size_t i = 0; i < design->piece_count; i++)
        if (!design->pieces[i].solid->count) {
            g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                        _("piece “%s” has no parts: draw it first, or remove it"),
                        design->pieces[i].name);
            return FALSE;
        }
    if (!design->piece_count)
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                            _("the design has no pieces: there is nothing to make"));
    return design->piece_count > 0;
}

/* The first fault that is more than a volume which cannot match. */
static gboolean check_faults(const NwExportRequest *request, GError **error) {
    NwFault *faults;
    size_t count = nw_design_faults(request->design, &faults);
    gboolean good = TRUE;
    for (size_t i = 0; i < count && good; i++) {
        good = nw_fault_is_about_size(&faults[i]);
        if (good)
            continue;
        char *text = nw_fault_text(request->design, &faults[i]);
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, text);
        free(text);
    }
    free(faults);
    return good;
}

gboolean nw_export_request_check(const NwExportRequest *request, GError **error) {
    return check_target(request, error) && check_pieces(request, error) &&
           (request->product->unverified || check_faults(request, error));
}

/* ---- making it ---------------------------------------------------------------------------- */

static gboolean make_folder(const NwExportRequest *request, GError **error) {
    if (request->product->target != NW_EXPORT_TARGET_FOLDER ||
        g_mkdir_with_parents(request->out, 0777) == 0)
        return TRUE;
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, _("cannot create folder “%s”: %s"),
                request->out, g_strerror(errno));
    return FALSE;
}

void nw_export_request_warn(const NwExportRequest *request, NwExportReport *report) {
    if (request->product->warn)
        request->product->warn(request, report);
}

static gboolean make(const NwExportRequest *request, NwOutput *output, NwExportReport *report,
                     NwProgress *progress, GError **error) {
    if (!nw_export_request_check(request, error) ||
        !request->product->make(request, output, report, progress, error))
        return FALSE;
    nw_export_request_warn(request, report);
    if (nw_progress_is_stopped(progress))
        return nw_progress_set_error(error);
    if (!make_folder(request, error) || !nw_output_write(output, error))
        return FALSE;
    for (guint i = 0; i < nw_output_count(output); i++)
        g_ptr_array_add(report->paths, g_strdup(nw_output_path(output, i)));
    return TRUE;
}

NwExportReport *nw_export_request_make(const NwExportRequest *request, NwProgress *progress,
                                       GError **error) {
    NwOutput *output = nw_output_new();
    NwExportReport *report = nw_export_report_new();
    if (!make(request, output, report, progress, error))
        g_clear_pointer(&report, nw_export_report_free);
    nw_output_free(output);
    return report;
}
