#include "base/memory.h"
#include "job/board.h"
#include "job/examine.h"

/* Work is done in slices, short enough to pause or stop at once, long enough for the lock not to
 * matter: about a hundredth of a second. */
enum { NODES_A_SLICE = 30000, STATES_A_SLICE = 5000 };

/* What a worker keeps to itself. */
typedef struct Bench {
    NwWorker *worker;
    NwFitSearch *fitting; /* the search of the task in hand */
    NwExaminer *examiner;
} Bench;

typedef enum { WAIT, FIT, EXAMINE, LEAVE } Duty;

static bool reached_limit(const NwSearch *search) {
    return search->options.limit && search->progress.found >= search->options.limit;
}

/* Under the lock: what this worker should do next. An assembly that waits goes first. */
static Duty next_duty(NwSearch *search, NwWorker *worker) {
    if (search->stopping)
        return LEAVE;
    if (search->state == NW_SEARCH_PAUSED || search->batch->len >= NW_BATCH_MAX)
        return WAIT;
    if (!worker->examining)
        worker->examining = g_queue_pop_head(&search->waiting);
    if (worker->examining)
        return EXAMINE;
    if (reached_limit(search))
        return LEAVE;
    while (worker->task < 0 && search->next_task < search->task_count) {
        int task = search->next_task++;
        if (!search->tasks[task].done)
            worker->task = task;
    }
    if (worker->task >= 0)
        return FIT;
    /* Others may still turn up assemblies to examine. */
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].task >= 0 || search->workers[i].examining)
            return WAIT;
    return LEAVE;
}

static NwFinding *finding_of(const NwSearch *search, const NwAssembly *assembly) {
    NwFinding *finding = nw_finding_new(assembly);
    finding->intended = nw_search_is_intended(search, assembly->key);
    return finding;
}

/* Opens the task in hand at the place where it was left. */
static void open_task(NwSearch *search, Bench *bench) {
    const NwTask *task = &search->tasks[bench->worker->task];
    bench->fitting = nw_fit_search_new(search->fit);
    NwCover *cover = nw_fit_search_cover(bench->fitting);
    nw_cover_confine(cover, &task->path);
    if (task->begun)
        nw_cover_restore(cover, &task->position);
}

/* Under the lock: notes how far the task has got. */
static void note_position(NwSearch *search, Bench *bench) {
    NwTask *task = &search->tasks[bench->worker->task];
    const NwCover *cover = nw_fit_search_cover(bench->fitting);
    nw_cover_save(cover, &task->position);
    task->share = nw_cover_share(cover);
    task->begun = true;
}

static void close_task(NwSearch *search, Bench *bench) {
    NwTask *task = &search->tasks[bench->worker->task];
    task->done = true;
    task->share = 1;
    search->tasks_done++;
    bench->worker->task = -1;
    nw_fit_search_free(bench->fitting);
    bench->fitting = NULL;
    pthread_cond_broadcast(&search->changed);
}

/* One slice of the fit search. Called and returns with the lock held. */
static bool fit_a_slice(NwSearch *search, Bench *bench) {
    bool wake = false;
    pthread_mutex_unlock(&search->lock);
    if (!bench->fitting)
        open_task(search, bench);
    NwAssembly assembly;
    NwStatus status = nw_fit_search_step(bench->fitting, NODES_A_SLICE, &assembly);
    pthread_mutex_lock(&search->lock);
    if (status == NW_OK) {
        if (reached_limit(search))
            return false; /* the position stays before this one, so a resumed search finds it */
        search->progress.found++;
        NwFinding *finding = finding_of(search, &assembly);
        if (search->options.fit_only) {
            wake = nw_board_post(search, finding);
        } else {
            g_queue_push_tail(&search->waiting, finding);
            pthread_cond_signal(&search->changed);
        }
    }
    if (status == NW_NONE)
        close_task(search, bench);
    else
        note_position(search, bench);
    return wake;
}

/* One slice of the slide search. Called and returns with the lock held. */
static bool examine_a_slice(NwSearch *search, Bench *bench, NwFinding **in_hand) {
    NwWorker *worker = bench->worker;
    pthread_mutex_unlock(&search->lock);
    if (*in_hand != worker->examining) {
        *in_hand = worker->examining;
        nw_examiner_start(bench->examiner, worker->examining);
    }
    NwStatus status = nw_examiner_step(bench->examiner, STATES_A_SLICE);
    pthread_mutex_lock(&search->lock);
    if (status == NW_STOPPED)
        return false;
    bool wake = nw_board_post(search, worker->examining);
    worker->examining = *in_hand = NULL;
    if (status != NW_OK) {
        search->state = NW_SEARCH_FAILED;
        search->stopping = true;
    }
    pthread_cond_broadcast(&search->changed);
    return wake;
}

/* Under the lock: the last worker to leave settles how the search ended. Those that wait look
 * again: with one that leaves at the limit, there may be nothing left to wait for. */
static bool leave(NwSearch *search) {
    pthread_cond_broadcast(&search->changed);
    if (--search->working)
        return false;
    nw_board_stop_clock(search); /* from now on it only grows older */
    bool all = search->tasks_done == search->task_count && g_queue_is_empty(&search->waiting);
    for (int i = 0; i < search->thread_count; i++)
        all = all && !search->workers[i].examining;
    if (search->state != NW_SEARCH_FAILED)
        search->state = all ? NW_SEARCH_COMPLETE : NW_SEARCH_STOPPED;
    bool wake = !search->wake_pending;
    search->wake_pending = true;
    return wake;
}

void *nw_worker_run(void *data) {
    NwWorker *worker = data;
    NwSearch *search = worker->search;
    Bench bench = {.worker = worker};
    bench.examiner =
        nw_examiner_new(search->fit->design, search->options.diagonals, search->options.max_states);
    NwFinding *in_hand = NULL;
    pthread_mutex_lock(&search->lock);
    for (Duty duty; (duty = next_duty(search, worker)) != LEAVE;) {
        bool wake = false;
        if (duty == WAIT)
            pthread_cond_wait(&search->changed, &search->lock);
        else if (duty == EXAMINE)
            wake = examine_a_slice(search, &bench, &in_hand);
        else
            wake = fit_a_slice(search, &bench);
        if (wake && search->wake) {
            pthread_mutex_unlock(&search->lock);
            search->wake(search->wake_data);
            pthread_mutex_lock(&search->lock);
        }
    }
    bool wake = leave(search);
    pthread_mutex_unlock(&search->lock);
    if (wake && search->wake)
        search->wake(search->wake_data);
    nw_fit_search_free(bench.fitting);
    nw_examiner_free(bench.examiner);
    return NULL;
}
