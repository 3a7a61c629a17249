#include "cli/run.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <signal.h>

#include "cli/lines.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "job/record.h"
#include "job/words.h"

enum { TAKE_MILLISECONDS = 100, EVENT_MILLISECONDS = 500, SAVE_SECONDS = 2 };

static volatile sig_atomic_t interrupted;

static void interrupt(int signal_number) {
    (void)signal_number;
    interrupted = 1;
}

/* One run in work. */
typedef struct Runner {
    const NwRunRequest *request;
    const NwDesign *design;
    NwRunResult *result;
    NwRecord *record; /* NULL: not kept */
    guint64 number;   /* findings printed */
    gint64 began;     /* monotonic time of the start of this session */
} Runner;

/* Prints a batch, keeps what there is room for, and unrefs it. */
static void receive(Runner *runner, GPtrArray *batch) {
    GPtrArray *findings = runner->result->findings;
    for (guint i = 0; i < batch->len; i++) {
        NwFinding *finding = batch->pdata[i];
        runner->number++;
        if (runner->request->lines)
            nw_lines_assembly(runner->design, finding, runner->number);
        if (findings->len < NW_RUN_KEEP && !runner->request->lines) {
            g_ptr_array_add(findings, finding);
            batch->pdata[i] = NULL;
        }
    }
    g_ptr_array_unref(batch);
}

static void show_progress(const Runner *runner, const NwSearchProgress *progress) {
    if (runner->request->lines)
        nw_lines_progress(progress);
    if (runner->request->quiet || runner->request->lines)
        return;
    GString *line = g_string_new(NULL);
    g_string_append_printf(line, _("%5.1f %% · %" PRIu64 " found"), 100 * progress->share,
                           progress->found);
    if (!runner->request->options.fit_only) {
        g_string_append(line, " · ");
        g_string_append(line, nw_tint(stderr, progress->cooks ? NW_WARNING : NW_PLAIN));
        g_string_append_printf(
            line, ngettext("%" PRIu64 " cook", "%" PRIu64 " cooks", (unsigned long)progress->cooks),
            progress->cooks);
        g_string_append(line, nw_tint(stderr, NW_PLAIN));
        g_string_append(line, " · ");
        g_string_append_printf(line, _("%" PRIu64 " unreachable"),
                               progress->verdicts[NW_UNREACHABLE]);
    }
    if (progress->seconds_left >= 0) {
        char *left = nw_words_seconds(progress->seconds_left);
        g_string_append(line, " · ");
        g_string_append_printf(line, _("%s left"), left);
        g_free(left);
    }
    nw_status_line(line->str);
    g_string_free(line, TRUE);
}

static gboolean is_over(const Runner *runner, const NwSearchProgress *progress) {
    double seconds = (double)(g_get_monotonic_time() - runner->began) / G_USEC_PER_SEC;
    return progress->state == NW_SEARCH_COMPLETE || progress->state == NW_SEARCH_STOPPED ||
           progress->state == NW_SEARCH_FAILED || interrupted ||
           (runner->request->seconds > 0 && seconds >= runner->request->seconds);
}

/* Saves where the search stands with all findings up to there. */
static gboolean save(Runner *runner, GError **error) {
    if (!runner->record)
        return TRUE;
    GPtrArray *batch;
    gboolean saved = nw_record_save(runner->record, runner->result->search, &batch, error);
    receive(runner, batch);
    return saved;
}

static gboolean search_to_the_end(Runner *runner, GError **error) {
    NwSearch *search = runner->result->search;
    NwSearchProgress *progress = &runner->result->progress;
    gint64 shown = 0, saved = g_get_monotonic_time();
    gboolean good = TRUE;
    runner->began = saved;
    nw_search_start(search);
    do {
        if (runner->record)
            g_usleep(TAKE_MILLISECONDS * 100); /* its findings are taken when they are saved */
        else
            receive(runner, nw_search_take(search, TAKE_MILLISECONDS));
        nw_search_progress(search, progress);
        gint64 now = g_get_monotonic_time();
        gint64 pause = runner->request->lines ? EVENT_MILLISECONDS : TAKE_MILLISECONDS;
        if (now - shown >= pause * 1000 && shown) {
            show_progress(runner, progress);
            shown = now;
        }
        if (!shown)
            shown = now; /* no progress is shown of a search that is over at once */
        if (now - saved >= SAVE_SECONDS * G_USEC_PER_SEC) {
            good = save(runner, error);
            saved = now;
        }
    } while (good && !is_over(runner, progress));
    nw_search_stop(search);
    good = good && save(runner, error);
    receive(runner, nw_search_take(search, 0));
    nw_search_progress(search, progress);
    nw_status_line(NULL);
    return good;
}

/* Ties the search to its run: earlier findings are printed and kept, and it goes on from there. */
static gboolean open_record(Runner *runner, const NwSource *source, GBytes **resume,
                            GError **error) {
    GError *failure = NULL;
    runner->record =
        nw_record_open(source->library, source->version, &runner->request->options, &failure);
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!runner->record)
        return TRUE;
    if (runner->request->anew && !nw_record_restart(runner->record, error))
        return FALSE;
    const NwRun *run = nw_record_run(runner->record);
    *resume = run->resume ? g_bytes_ref(run->resume) : NULL;
    return TRUE;
}

static gboolean run(Runner *runner, const NwSource *source, GError **error) {
    NwRunResult *result = runner->result;
    GBytes *resume = NULL;
    if (source->library && !open_record(runner, source, &resume, error))
        return FALSE;
    result->search = nw_search_new(source->design, &runner->request->options, resume, error);
    g_clear_pointer(&resume, g_bytes_unref);
    if (!result->search)
        return FALSE;
    if (runner->request->lines)
        nw_lines_start(result->search);
    if (runner->record) {
        GPtrArray *earlier = nw_record_load(runner->record, result->search, error);
        if (!earlier)
            return FALSE;
        receive(runner, earlier);
        result->from_store = nw_record_run(runner->record)->state == NW_RUN_COMPLETE;
        if (nw_library_is_read_only(source->library))
            g_clear_pointer(&runner->record, nw_record_free);
    }
    return search_to_the_end(runner, error);
}

static void free_finding(gpointer finding) {
    nw_finding_free(finding);
}

gboolean nw_run(const NwSource *source, const NwRunRequest *request, NwRunResult *result,
                GError **error) {
    *result = (NwRunResult){.findings = g_ptr_array_new_with_free_func(free_finding)};
    Runner runner = {.request = request, .design = source->design, .result = result};
    struct sigaction action = {.sa_handler = interrupt}, before;
    sigaction(SIGINT, &action, &before);
    gboolean good = run(&runner, source, error);
    sigaction(SIGINT, &before, NULL);
    nw_record_free(runner.record);
    if (!good) {
        nw_run_result_clear(result);
        return FALSE;
    }
    g_ptr_array_sort(result->findings, nw_words_compare);
    return TRUE;
}

void nw_run_result_clear(NwRunResult *result) {
    nw_search_free(result->search);
    if (result->findings)
        g_ptr_array_unref(result->findings);
    *result = (NwRunResult){0};
}

int nw_run_exit(const NwRunResult *result) {
    if (result->progress.state == NW_SEARCH_COMPLETE)
        return NW_EXIT_COMPLETE;
    if (result->progress.state == NW_SEARCH_FAILED) {
        nw_complain(_("a check contradicts the search, which is a fault of this program; please "
                      "report it with the design"));
        return NW_EXIT_FAILED;
    }
    return NW_EXIT_LIMIT;
}
