#include "product/commission.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "design/faults.h"

NwCommission *nw_commission_new(const NwProduct *product, const NwDesign *design) {
    NwCommission *commission = g_new0(NwCommission, 1);
    g_assert(product->option_count <= NW_OPTIONS_MAX);
    commission->product = product;
    commission->design = nw_design_copy(design);
    return commission;
}

void nw_commission_free(NwCommission *commission) {
    if (!commission)
        return;
    nw_design_free(commission->design);
    g_free(commission->store);
    g_free(commission->out);
    g_free(commission);
}

void nw_commission_set_source(NwCommission *commission, const char *store, gint64 version) {
    g_free(commission->store);
    commission->store = g_strdup(store);
    commission->version = version;
}

void nw_commission_set_out(NwCommission *commission, const char *path) {
    g_free(commission->out);
    commission->out = g_strdup(path);
}

/* ---- options ------------------------------------------------------------------------------ */

static size_t row_of(const NwCommission *commission, const char *name) {
    for (size_t i = 0; i < commission->product->option_count; i++)
        if (strcmp(commission->product->options[i].name, name) == 0)
            return i;
    g_error("“%s” has no option “%s”", commission->product->name, name);
}

static void set(NwCommission *commission, size_t row, double number) {
    commission->values[row].set = TRUE;
    commission->values[row].number = number;
}

gboolean nw_commission_set_number(NwCommission *commission, const char *option, double number,
                                  GError **error) {
    size_t row = row_of(commission, option);
    const NwOption *o = &commission->product->options[row];
    if (!(number >= o->least && number <= o->most)) {
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("--%s takes a number from %g to %g"), o->name, o->least, o->most);
        return FALSE;
    }
    set(commission, row, number);
    return TRUE;
}

gboolean nw_commission_set_choice(NwCommission *commission, const char *option, const char *word,
                                  GError **error) {
    size_t row = row_of(commission, option);
    const NwOption *o = &commission->product->options[row];
    g_autoptr(GString) words = g_string_new(NULL);
    for (size_t i = 0; i < o->choice_count; i++) {
        if (g_ascii_strcasecmp(o->choices[i].word, word) == 0) {
            set(commission, row, (double)i);
            return TRUE;
        }
        g_string_append_printf(words, "%s%s", i ? ", " : "", o->choices[i].word);
    }
    g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                _("--%s knows no “%s”: choose one of %s"), o->name, word, words->str);
    return FALSE;
}

void nw_commission_set_switch(NwCommission *commission, const char *option, gboolean on) {
    set(commission, row_of(commission, option), on);
}

double nw_commission_number(const NwCommission *commission, const char *option) {
    size_t row = row_of(commission, option);
    return commission->values[row].set ? commission->values[row].number
                                       : commission->product->options[row].standard;
}

gboolean nw_commission_switch(const NwCommission *commission, const char *option) {
    return nw_commission_number(commission, option) != 0;
}

const char *nw_commission_choice(const NwCommission *commission, const char *option) {
    size_t row = row_of(commission, option);
    return commission->product->options[row].choices[(size_t)commission->values[row].number].word;
}

gboolean nw_commission_is_set(const NwCommission *commission, const char *option) {
    return commission->values[row_of(commission, option)].set;
}

/* ---- checking it -------------------------------------------------------------------------- */

static gboolean has_ending(const NwCommission *commission) {
    for (const char *const *ending = commission->product->endings; *ending; ending++)
        if (g_str_has_suffix(commission->out, *ending))
            return TRUE;
    return FALSE;
}

static gboolean check_target(const NwCommission *commission, GError **error) {
    gboolean folder = commission->product->target == NW_TARGET_FOLDER;
    if (commission->out && (folder || has_ending(commission)))
        return TRUE;
    if (folder) {
        g_set_error_literal(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                            _("--out is missing: name a folder for the files"));
        return FALSE;
    }
    g_autofree char *endings = g_strjoinv(", ", (char **)commission->product->endings);
    if (commission->out)
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("“%s” cannot be written: let the file end in one of %s"), commission->out,
                    endings);
    else
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("--out is missing: name a file that ends in one of %s"), endings);
    return FALSE;
}

static gboolean check_pieces(const NwCommission *commission, GError **error) {
    const NwDesign *design = commission->design;
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
static gboolean check_faults(const NwCommission *commission, GError **error) {
    NwFault *faults;
    size_t count = nw_design_faults(commission->design, &faults);
    gboolean good = TRUE;
    for (size_t i = 0; i < count && good; i++) {
        good = nw_fault_is_about_size(&faults[i]);
        if (good)
            continue;
        char *text = nw_fault_text(commission->design, &faults[i]);
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, text);
        free(text);
    }
    free(faults);
    return good;
}

gboolean nw_commission_check(const NwCommission *commission, GError **error) {
    return check_target(commission, error) && check_pieces(commission, error) &&
           (commission->product->unverified || check_faults(commission, error));
}

/* ---- making it ---------------------------------------------------------------------------- */

static gboolean make_folder(const NwCommission *commission, GError **error) {
    if (commission->product->target != NW_TARGET_FOLDER ||
        g_mkdir_with_parents(commission->out, 0777) == 0)
        return TRUE;
    g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, _("the folder “%s” cannot be made: %s"),
                commission->out, g_strerror(errno));
    return FALSE;
}

void nw_commission_warn(const NwCommission *commission, NwMade *made) {
    if (commission->product->warn)
        commission->product->warn(commission, made);
}

static gboolean make(const NwCommission *commission, NwOutput *output, NwMade *made,
                     NwProgress *progress, GError **error) {
    if (!nw_commission_check(commission, error) ||
        !commission->product->make(commission, output, made, progress, error))
        return FALSE;
    nw_commission_warn(commission, made);
    if (nw_progress_is_stopped(progress))
        return nw_progress_set_error(error);
    if (!make_folder(commission, error) || !nw_output_write(output, error))
        return FALSE;
    for (guint i = 0; i < nw_output_count(output); i++)
        g_ptr_array_add(made->paths, g_strdup(nw_output_path(output, i)));
    return TRUE;
}

NwMade *nw_commission_make(const NwCommission *commission, NwProgress *progress, GError **error) {
    NwOutput *output = nw_output_new();
    NwMade *made = nw_made_new();
    if (!make(commission, output, made, progress, error))
        g_clear_pointer(&made, nw_made_free);
    nw_output_free(output);
    return made;
}
