#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "cli/interrupt.h"
#include "cli/make.h"
#include "cli/source.h"
#include "cli/terminal.h"
#include "export/export_request.h"
#include "job/background.h"

enum { LOOK_MILLISECONDS = 100 };

/* What the command line says: words of numbers and choices, and switches. */
typedef struct Wish {
    char *out, *store;
    char *words[NW_OPTIONS_MAX];
    gboolean switches[NW_OPTIONS_MAX];
} Wish;

/* ---- in a thread --------------------------------------------------------------------------- */

typedef struct Work {
    const NwExportRequest *request;
    NwProgress *progress;
    NwExportReport *report;
    GError *error;
    NwBackground background;
} Work;

static void work_through(gpointer data) {
    Work *work = data;
    work->report = nw_export_request_make(work->request, work->progress, &work->error);
}

static void show(Work *work) {
    g_autofree char *what = NULL;
    double share = nw_progress_get(work->progress, &what);
    g_autofree char *line = g_strdup_printf(_("%3.0f %% · %s"), 100 * share, what);
    nw_status_line(line);
}

/* Makes it in a thread, with a live line on the terminal, until it is over; Ctrl-C stops it. */
static NwExportReport *make(const NwExportRequest *request, GError **error) {
    Work work = {.request = request, .progress = nw_progress_new()};
    nw_interrupt_begin();
    nw_background_begin(&work.background, "make", work_through, &work, NULL, NULL);
    while (!nw_background_await(&work.background, LOOK_MILLISECONDS)) {
        if (nw_interrupt_came())
            nw_progress_stop(work.progress);
        show(&work);
    }
    nw_background_end(&work.background);
    nw_status_line(NULL);
    nw_interrupt_end();
    nw_progress_free(work.progress);
    if (work.error)
        g_propagate_error(error, work.error);
    return work.report;
}

/* ---- from the words to what was made ------------------------------------------------------- */

static gboolean set_number(NwExportRequest *request, const char *option, const char *word,
                           GError **error) {
    char *end;
    double number = g_strtod(word, &end);
    return nw_export_request_set_number(request, option, *word && !*end ? number : NAN, error);
}

static gboolean take_wish(NwExportRequest *request, const Wish *wish, GError **error) {
    const NwProduct *product = request->product;
    nw_export_request_set_out(request, wish->out);
    gboolean good = TRUE;
    for (size_t i = 0; i < product->option_count && good; i++) {
        const char *option = product->options[i].name, *word = wish->words[i];
        if (wish->switches[i])
            nw_export_request_set_switch(request, option, TRUE);
        else if (word && product->options[i].kind == NW_OPTION_NUMBER)
            good = set_number(request, option, word, error);
        else if (word)
            good = nw_export_request_set_choice(request, option, word, error);
    }
    return good;
}

static NwExit refuse(GError *error) {
    if (g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        return nw_give_up(error, NW_EXIT_LIMIT);
    gboolean refused = error->domain == G_OPTION_ERROR ||
                       (error->domain == G_IO_ERROR && error->code != G_IO_ERROR_FAILED);
    return nw_give_up(error, refused ? NW_EXIT_USAGE : NW_EXIT_FAILED);
}

static void print_all(const GPtrArray *lines) {
    for (guint i = 0; i < lines->len; i++)
        printf("%s\n", (const char *)lines->pdata[i]);
}

static NwExit carry_out(NwExportRequest *request, const Wish *wish) {
    GError *error = NULL;
    NwExportReport *report = take_wish(request, wish, &error) ? make(request, &error) : NULL;
    if (!report)
        return refuse(error);
    print_all(report->paths);
    print_all(report->remarks);
    print_all(report->cautions);
    nw_export_report_free(report);
    return NW_EXIT_COMPLETE;
}

static NwExportRequest *open_commission(const NwProduct *product, const char *design,
                                        const char *store, GError **error) {
    NwSource source;
    if (!nw_source_open(&source, design, store, FALSE, error))
        return NULL;
    NwExportRequest *request = nw_export_request_new(product, source.design);
    if (source.library)
        nw_export_request_set_source(request, nw_library_get_path(source.library), source.version);
    nw_source_close(&source);
    return request;
}

/* ---- options ------------------------------------------------------------------------------- */

static char *dup_out_help(const NwProduct *product) {
    if (product->target == NW_EXPORT_TARGET_FOLDER)
        return g_strdup(_("Write files to this folder"));
    g_autofree char *endings = g_strjoinv(", ", (char **)product->endings);
    return g_strdup_printf(_("Write to this file (%s)"), endings);
}

/* The rows for --out and --store, with the product's own between them; ends with an empty one. */
static void fill_entries(GOptionEntry *entries, const NwProduct *product, const char *out_help,
                         Wish *wish) {
    gboolean folder = product->target == NW_EXPORT_TARGET_FOLDER;
    *entries++ = (GOptionEntry){"out",
                                'o',
                                0,
                                G_OPTION_ARG_FILENAME,
                                &wish->out,
                                out_help,
                                folder ? N_("FOLDER") : N_("FILE")};
    for (size_t i = 0; i < product->option_count; i++) {
        const NwOption *option = &product->options[i];
        gboolean is_switch = option->kind == NW_OPTION_SWITCH;
        *entries++ =
            (GOptionEntry){option->name,
                           0,
                           0,
                           is_switch ? G_OPTION_ARG_NONE : G_OPTION_ARG_STRING,
                           is_switch ? (gpointer)&wish->switches[i] : (gpointer)&wish->words[i],
                           option->help,
                           option->unit};
    }
    *entries++ = (GOptionEntry){
        "store", 0, 0, G_OPTION_ARG_FILENAME, &wish->store, N_("Use this store"), N_("FILE")};
    *entries = (GOptionEntry){NULL};
}

NwExit nw_make_product(const NwProduct *product, int argc, char **argv) {
    Wish wish = {0};
    GOptionEntry entries[NW_OPTIONS_MAX + 3];
    g_autofree char *out_help = dup_out_help(product);
    g_autofree char *verb = g_strconcat("make ", product->name, NULL);
    fill_entries(entries, product, out_help, &wish);
    argv[0] = verb;
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, entries,
                      product->target == NW_EXPORT_TARGET_FOLDER ? _("DESIGN --out FOLDER")
                                                                 : _("DESIGN --out FILE"),
                      _(product->about), 1, 1)) {
        GError *error = NULL;
        NwExportRequest *request = open_commission(product, argv[1], wish.store, &error);
        exit = request ? carry_out(request, &wish) : nw_give_up(error, NW_EXIT_USAGE);
        nw_export_request_free(request);
    }
    g_free(wish.out);
    g_free(wish.store);
    for (size_t i = 0; i < product->option_count; i++)
        g_free(wish.words[i]);
    return exit;
}
