#include <glib/gi18n.h>
#include <stdlib.h>

#include "cli/apart_report.h"
#include "cli/assembly_arg.h"
#include "cli/interrupt.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "design/bodies.h"
#include "format/design_json.h"
#include "job/run_store.h"
#include "text/words.h"

/* A step is some hundredths of a second at most, and so is the answer to Ctrl-C. */
enum { POSITIONS_A_STEP = 500, LINE_MILLISECONDS = 100, EVENT_MILLISECONDS = 500 };

/* Options as they are read; freed by the caller. */
typedef struct Wanted {
    NwApartOptions options;
    double seconds;
    int states;
    gint64 tries;
    gboolean json;
    char *store, *placements;
} Wanted;

static gboolean read_options(Wanted *wanted, int *argc, char ***argv) {
    const GOptionEntry entries[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &wanted->json, N_("Print one JSON object per line"),
         NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wanted->options.diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        nw_entry_fewest(&wanted->options.fewest),
        nw_entry_tries(&wanted->tries),
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wanted->seconds, N_("Stop after S seconds"),
         N_("S")},
        {"states", 0, 0, G_OPTION_ARG_INT, &wanted->states,
         N_("Keep at most N positions per group of pieces (default: 2000000)"), N_("N")},
        {"placements", 0, 0, G_OPTION_ARG_FILENAME, &wanted->placements,
         N_("Read the assembly from this file: a list of placements, or a line of “notch fit "
            "--json”"),
         N_("FILE")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted->store, N_("Use this store"), N_("FILE")},
        {NULL}};
    if (!nw_verb_parse(
            argc, argv, entries, _("DESIGN [WHICH]"),
            _("Takes one assembly apart without searching for others: the intended assembly or, if "
              "there is none,\nthe pieces as drawn.\n\nWHICH names another: “intended”, “drawn”, "
              "or a number or key from the list that the store has of\nDESIGN. Exit status: 0 it "
              "comes apart or is proved locked, 1 could not run, 2 bad input or usage,\nor no "
              "assembly, 3 not known yet when a limit or Ctrl+C stopped the search."),
            1, 2))
        return FALSE;
    if (wanted->states < 0 || wanted->seconds < 0 || wanted->tries < 0) {
        nw_complain(_("limits cannot be negative"));
        return FALSE;
    }
    wanted->options.max_states = (guint32)wanted->states;
    wanted->options.max_tries = (guint64)wanted->tries;
    return TRUE;
}

/* ---- which assembly ---------------------------------------------------------------------- */

/* What is to be taken apart, and what it is called. */
typedef struct Subject {
    NwApart *apart;
    char *which; /* "intended", "drawn", "given", or the key */
} Subject;

static gboolean take_shown(Subject *subject, const NwDesign *design, const NwApartOptions *options,
                           GError **error) {
    NwShown shown;
    subject->apart = nw_apart_new_shown(design, options, &shown, error);
    subject->which = g_strdup(shown == NW_SHOWS_DRAWN ? "drawn" : "intended");
    return subject->apart != NULL;
}

/* As drawn, whatever is intended. */
static gboolean take_drawn(Subject *subject, const NwDesign *design, const NwApartOptions *options,
                           GError **error) {
    NwPlacement placements[NW_PIECES_MAX];
    subject->which = g_strdup("drawn");
    if (nw_design_drawn(design, placements) == NW_OK)
        subject->apart = nw_apart_new(design, placements, design->piece_count, options, error);
    else
        g_set_error_literal(error, NW_APART_ERROR, NW_APART_ERROR_NO_ASSEMBLY,
                            _("a piece with copies is drawn only once, so the pieces as they are "
                              "drawn are no assembly"));
    return subject->apart != NULL;
}

static gboolean take_given(Subject *subject, NwDesign *design, const Wanted *wanted,
                           GError **error) {
    NwDesign *placed = nw_design_copy(design);
    subject->which = g_strdup("given");
    if (nw_design_load_placements(placed, wanted->placements, error))
        subject->apart =
            nw_apart_new(design, placed->intended, placed->intended_count, &wanted->options, error);
    nw_design_free(placed);
    return subject->apart != NULL;
}

/* The list that the store has, in its order; NULL with an error. */
static GPtrArray *load_list(const NwSource *source, NwSearch *search,
                            const NwSearchOptions *options, GError **error) {
    GError *failure = NULL;
    NwRunStore *record = nw_run_store_find(source->library, source->version, options, &failure);
    GPtrArray *findings = NULL;
    if (record)
        findings = nw_run_store_load(record, search, error);
    else if (failure)
        g_propagate_error(error, failure);
    else
        g_set_error(error, NW_APART_ERROR, NW_APART_ERROR_NONE_SHOWN,
                    _("the store has no list of this design yet: “notch fit %s” makes one"),
                    source->words);
    nw_run_store_free(record);
    if (findings)
        g_ptr_array_sort(findings, nw_words_compare);
    return findings;
}

static gboolean take_listed(Subject *subject, const NwSource *source, const Wanted *wanted,
                            const char *which, GError **error) {
    const NwSearchOptions options = {.threads = 1,
                                     .diagonals = wanted->options.diagonals,
                                     .max_states = (guint32)wanted->states};
    NwSearchResults results = {0};
    guint index;
    if (!source->library) {
        g_set_error(error, NW_APART_ERROR, NW_APART_ERROR_NONE_SHOWN,
                    _("“%s” would be looked up in a list that a store has, and this design comes "
                      "from a file: name a design of the store, or use --placements"),
                    which);
        return FALSE;
    }
    results.search = nw_search_new_unless(source->design, &options, nw_interrupt_came, error);
    if (results.search)
        results.findings = load_list(source, results.search, &options, error);
    if (results.findings && nw_assembly_arg(&results, which, &index)) {
        const NwFoundAssembly *finding = results.findings->pdata[index];
        subject->which = g_strdup_printf("%016" G_GINT64_MODIFIER "x", finding->key);
        subject->apart = nw_apart_new(source->design, finding->placements,
                                      (size_t)finding->placement_count, &wanted->options, error);
    }
    nw_search_results_clear(&results);
    return subject->apart != NULL;
}

/* FALSE with an error, or without one where a complaint was printed already. */
static gboolean find_subject(Subject *subject, const NwSource *source, const Wanted *wanted,
                             const char *which, GError **error) {
    if (wanted->placements && which) {
        nw_complain(_("“%s” and --placements name two assemblies: leave one out"), which);
        return FALSE;
    }
    if (wanted->placements)
        return take_given(subject, source->design, wanted, error);
    if (!which || g_str_equal(which, "intended"))
        return take_shown(subject, source->design, &wanted->options, error);
    if (g_str_equal(which, "drawn"))
        return take_drawn(subject, source->design, &wanted->options, error);
    return take_listed(subject, source, wanted, which, error);
}

/* ---- taking it apart --------------------------------------------------------------------- */

static void show_progress(const NwApart *apart, gboolean json) {
    NwTakeApartProgress progress = nw_apart_progress(apart);
    if (json)
        nw_apart_report_event(&progress, nw_apart_finding(apart));
    else
        nw_apart_report_line(&progress, nw_apart_finding(apart));
}

/* NW_OK: settled; NW_STOPPED: by a limit of time or by Ctrl-C; NW_DOES_NOT_FIT with an error. */
static NwStatus take_apart(NwApart *apart, const Wanted *wanted, double *seconds, GError **error) {
    gint64 began = g_get_monotonic_time(), shown = began;
    gint64 pause =
        (wanted->json ? EVENT_MILLISECONDS : LINE_MILLISECONDS) * G_TIME_SPAN_MILLISECOND;
    NwStatus status;
    do {
        status = nw_apart_step(apart, POSITIONS_A_STEP, error);
        gint64 now = g_get_monotonic_time();
        *seconds = (double)(now - began) / G_USEC_PER_SEC;
        if (status == NW_STOPPED && now - shown >= pause) {
            show_progress(apart, wanted->json);
            shown = now;
        }
    } while (status == NW_STOPPED && !nw_interrupt_came() &&
             !(wanted->seconds > 0 && *seconds >= wanted->seconds));
    nw_status_line(NULL);
    return status;
}

static NwExit tell(const Subject *subject, const NwSource *source, const Wanted *wanted) {
    GError *error = NULL;
    double seconds;
    NwStatus status = take_apart(subject->apart, wanted, &seconds, &error);
    if (status == NW_DOES_NOT_FIT)
        return nw_give_up(error, NW_EXIT_FAILED);
    const NwApartReport report = {source->design,
                                  subject->which,
                                  nw_apart_finding(subject->apart),
                                  nw_apart_progress(subject->apart),
                                  seconds,
                                  status == NW_STOPPED};
    if (wanted->json)
        nw_apart_report_json(&report);
    else
        nw_apart_report_text(&report);
    NwVerdict verdict = report.finding->verdict;
    return !report.stopped && (verdict == NW_OPENS || verdict == NW_UNREACHABLE) ? NW_EXIT_COMPLETE
                                                                                 : NW_EXIT_LIMIT;
}

static NwExit run(const NwSource *source, const Wanted *wanted, const char *which) {
    Subject subject = {0};
    GError *error = NULL;
    NwExit exit = NW_EXIT_USAGE;
    nw_interrupt_begin();
    /* An intended assembly that does not fit is no fault of another one. */
    if (wanted->placements || g_strcmp0(which, "drawn") == 0)
        nw_design_set_intended(source->design, NULL, 0);
    if (nw_source_refuse_faults(source))
        exit = NW_EXIT_USAGE;
    else if (find_subject(&subject, source, wanted, which, &error))
        exit = tell(&subject, source, wanted);
    else if (error)
        nw_give_up(error, exit);
    else if (nw_interrupt_came())
        exit = NW_EXIT_LIMIT;
    nw_interrupt_end();
    nw_apart_free(subject.apart);
    g_free(subject.which);
    return exit;
}

NwExit nw_verb_apart(int argc, char **argv) {
    Wanted wanted = {0};
    NwExit exit = NW_EXIT_USAGE;
    if (read_options(&wanted, &argc, &argv)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wanted.store, FALSE, &error)) {
            exit = run(&source, &wanted, argc > 2 ? argv[2] : NULL);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wanted.store);
    g_free(wanted.placements);
    return exit;
}
