#include "cli/run.h"

#include <glib/gi18n.h>
#include <inttypes.h>

#include "cli/interrupt.h"
#include "cli/lines.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "job/pursuit.h"
#include "job/words.h"

enum { LINE_MILLISECONDS = 100, EVENT_MILLISECONDS = 500 };

/* One run in work. */
typedef struct Runner {
    const NwRunRequest *request;
    const NwDesign *design;
    NwHarvest *harvest;
    guint64 number; /* findings printed */
    gint64 began;   /* monotonic time of the start of this session */
    gint64 shown;   /* of the last progress */
    gboolean ready; /* the search is set up */
} Runner;

/* Prints a batch, or keeps what there is room for, and unrefs it. */
static void receive(Runner *runner, GPtrArray *batch) {
    if (runner->request->lines)
        for (guint i = 0; i < batch->len; i++)
            nw_lines_assembly(runner->design, batch->pdata[i], ++runner->number);
    else
        nw_harvest_keep(runner->harvest, batch);
    g_ptr_array_unref(batch);
}

static void show_setup(const Runner *runner, const NwSearchProgress *progress, const char *words) {
    if (runner->request->lines)
        nw_lines_setup(&progress->setup);
    else if (!runner->request->quiet)
        nw_status_line(words);
}

static void show_progress(const Runner *runner, const NwSearchProgress *progress) {
    char *setup = nw_words_setup(&progress->setup);
    if (setup)
        show_setup(runner, progress, setup);
    else if (runner->request->lines)
        nw_lines_progress(progress);
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
    show_progress(runner, &runner->harvest->progress);
    runner->shown = now;
}

/* Tells what there is to tell once the search is set up. */
static void look_whether_ready(Runner *runner) {
    if (runner->ready || !nw_search_fit(runner->harvest->search))
        return;
    runner->ready = TRUE;
    if (runner->request->lines)
        nw_lines_start(runner->harvest->search);
    if (runner->harvest->was_older)
        nw_complain("%s", nw_words_older());
}

static gboolean has_enough(const Runner *runner) {
    double seconds = (double)(g_get_monotonic_time() - runner->began) / G_USEC_PER_SEC;
    return nw_interrupt_came() ||
           (runner->request->seconds > 0 && seconds >= runner->request->seconds);
}

static gboolean pursue(Runner *runner, NwPursuit *pursuit, GError **error) {
    GPtrArray *batch;
    gboolean good;
    runner->began = runner->shown = g_get_monotonic_time();
    do {
        good = nw_pursuit_step(pursuit, &batch, error);
        look_whether_ready(runner);
        receive(runner, batch);
        show_progress_at_times(runner);
    } while (good && !nw_pursuit_is_over(pursuit) && !has_enough(runner));
    if (good) {
        good = nw_pursuit_end(pursuit, &batch, error);
        receive(runner, batch);
    }
    nw_status_line(NULL);
    return good;
}

gboolean nw_run(const NwSource *source, const NwRunRequest *request, NwHarvest *harvest,
                GError **error) {
    const NwPursuitGoal goal = {source->design, request->options, source->library, source->version,
                                request->anew};
    Runner runner = {.request = request, .design = source->design, .harvest = harvest};
    nw_harvest_init(harvest);
    nw_interrupt_begin();
    NwPursuit *pursuit = nw_pursuit_begin(&goal, harvest, error);
    gboolean good = pursuit && pursue(&runner, pursuit, error);
    nw_interrupt_end();
    nw_pursuit_free(pursuit);
    if (good)
        nw_harvest_sort(harvest);
    else
        nw_harvest_clear(harvest);
    return good;
}

int nw_run_exit(const NwHarvest *harvest) {
    GError *error = NULL;
    if (!nw_harvest_check(&harvest->progress, &error))
        return (int)nw_give_up(error, NW_EXIT_FAILED);
    return harvest->progress.state == NW_SEARCH_COMPLETE ? NW_EXIT_COMPLETE : NW_EXIT_LIMIT;
}
