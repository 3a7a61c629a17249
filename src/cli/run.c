#include "cli/run.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#include "cli/interrupt.h"
#include "cli/search_json.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "job/search_run.h"
#include "text/words.h"

enum { LINE_MILLISECONDS = 100, EVENT_MILLISECONDS = 500 };

/* One run in work. */
typedef struct Runner {
    const NwRunRequest *request;
    const NwDesign *design;
    NwSearchResults *results;
    guint64 number; /* findings printed */
    gint64 began;   /* monotonic time of the start of this session */
    gint64 shown;   /* of the last progress */
    gboolean ready; /* the search is set up */
} Runner;

/* Prints a batch, or keeps what there is room for, and unrefs it. */
static void receive(Runner *runner, GPtrArray *batch) {
    if (runner->request->lines)
        for (guint i = 0; i < batch->len; i++)
            nw_search_json_assembly(runner->design, batch->pdata[i], ++runner->number);
    else
        nw_search_results_keep(runner->results, batch);
    g_ptr_array_unref(batch);
}

static void show_setup(const Runner *runner, const NwSearchProgress *progress, const char *words) {
    if (runner->request->lines)
        nw_search_json_setup(&progress->setup);
    else if (!runner->request->quiet)
        nw_status_line(words);
}

static void show_progress(const Runner *runner, const NwSearchProgress *progress) {
    char *setup = nw_words_setup(&progress->setup);
    if (setup)
        show_setup(runner, progress, setup);
    else if (runner->request->lines)
        nw_search_json_progress(progress);
    g_free(setup);
    if (setup || runner->request->quiet || runner->request->lines)
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

/* No progress is shown of a search that is over at once. */
static void show_progress_at_times(Runner *runner) {
    gint64 pause = runner->request->lines ? EVENT_MILLISECONDS : LINE_MILLISECONDS;
    gint64 now = g_get_monotonic_time();
    if (now - runner->shown < pause * 1000)
        return;
    show_progress(runner, &runner->results->progress);
    runner->shown = now;
}

/* Tells what there is to tell once the search is set up. */
static void look_whether_ready(Runner *runner) {
    if (runner->ready || !nw_search_fit(runner->results->search))
        return;
    runner->ready = TRUE;
    if (runner->request->lines)
        nw_search_json_start(runner->results->search);
    if (runner->results->was_older)
        nw_complain("%s", nw_words_older());
}

static gboolean has_enough(const Runner *runner) {
    double seconds = (double)(g_get_monotonic_time() - runner->began) / G_USEC_PER_SEC;
    return nw_interrupt_came() ||
           (runner->request->seconds > 0 && seconds >= runner->request->seconds);
}

static gboolean pursue(Runner *runner, NwSearchRun *run, GError **error) {
    GPtrArray *batch;
    gboolean good;
    runner->began = runner->shown = g_get_monotonic_time();
    do {
        good = nw_search_run_step(run, &batch, error);
        look_whether_ready(runner);
        receive(runner, batch);
        show_progress_at_times(runner);
    } while (good && !nw_search_run_is_over(run) && !has_enough(runner));
    if (good) {
        good = nw_search_run_end(run, &batch, error);
        receive(runner, batch);
    }
    nw_status_line(NULL);
    return good;
}

gboolean nw_run(const NwSource *source, const NwRunRequest *request, NwSearchResults *results,
                GError **error) {
    const NwSearchRunGoal goal = {source->design, request->options, source->library,
                                  source->version, request->anew};
    Runner runner = {.request = request, .design = source->design, .results = results};
    nw_search_results_init(results);
    nw_interrupt_begin();
    NwSearchRun *run = nw_search_run_begin(&goal, results, error);
    gboolean good = run && pursue(&runner, run, error);
    nw_interrupt_end();
    nw_search_run_free(run);
    if (good)
        nw_search_results_sort(results);
    else
        nw_search_results_clear(results);
    return good;
}

int nw_run_exit(const NwSearchResults *results) {
    GError *error = NULL;
    if (!nw_search_results_check(&results->progress, &error))
        return (int)nw_give_up(error, NW_EXIT_FAILED);
    return results->progress.state == NW_SEARCH_COMPLETE ? NW_EXIT_COMPLETE : NW_EXIT_LIMIT;
}
