#include "base/memory.h"
#include "job/first_look.h"
#include "job/search_private.h"
#include "job/verify.h"
#include "slide/fewest.h"

/* Work is done in slices, short enough to pause or stop at once, long enough for the lock not to
 * matter: about a hundredth of a second. */
enum { LOOKS_A_SLICE = 20000, STATES_A_SLICE = 5000 };

/* What a worker keeps to itself. */
typedef struct Bench {
    NwWorker *worker;
    NwFitSearch *fitting;     /* NULL until it is needed */
    const NwOpen *opened;     /* the part of the tree that it is at */
    unsigned long long begun; /* its effort when it was set there */
    NwVerifier *examiner;
    NwVerifier *looking; /* of the first look; NULL until it is with this worker */
} Bench;

/* To starve is to wait for a part of the tree. */
typedef enum { WAIT, STARVE, LOOK, FIT, EXAMINE, LEAVE } Duty;

static bool reached_limit(const NwSearch *search) {
    return search->options.limit && search->progress.found >= search->options.limit;
}

/* Under the lock: what this worker should do next. An assembly that waits goes first. */
static Duty next_duty(NwSearch *search, NwWorker *worker) {
    if (search->stopping)
        return LEAVE;
    if (search->state == NW_SEARCH_PAUSED || search->batch->len >= NW_BATCH_MAX)
        return WAIT;
    NwFirstLookTurn turn = nw_first_look_turn(search, worker);
    if (turn != NW_FIRST_LOOK_NONE)
        return turn == NW_FIRST_LOOK_LOOK ? LOOK : WAIT;
    if (!worker->examining)
        worker->examining = g_queue_pop_head(&search->waiting);
    if (worker->examining)
        return EXAMINE;
    if (!reached_limit(search)) {
        if (!worker->open)
            worker->open = g_queue_pop_head(&search->open);
        if (worker->open)
            return FIT;
    }
    if (nw_first_look_is_with(search, worker))
        return LOOK;
    if (reached_limit(search))
        return LEAVE;
    /* Others may still turn up assemblies to examine, or give some of the tree away. */
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].open || search->workers[i].examining)
            return STARVE;
    return LEAVE;
}

static NwFoundAssembly *finding_of(const NwSearch *search, const NwAssembly *assembly) {
    NwFoundAssembly *finding = nw_found_assembly_new(assembly);
    finding->intended = nw_search_is_intended(search, assembly->key);
    finding->drawn = nw_search_is_drawn(search, assembly->key);
    return finding;
}

/* Sets the search of this worker to the part of the tree in hand. */
static void open_part(const NwSearch *search, Bench *bench) {
    if (!bench->fitting)
        bench->fitting = nw_fit_search_new(search->fit);
    NwCover *cover = nw_fit_search_cover(bench->fitting);
    nw_cover_restore(cover, &bench->worker->open->position);
    bench->begun = nw_cover_effort(cover);
    bench->opened = bench->worker->open;
}

/* Under the lock: notes how far it has got. */
static void note_position(const Bench *bench) {
    NwOpen *open = bench->worker->open;
    const NwCover *cover = nw_fit_search_cover(bench->fitting);
    nw_cover_save(cover, &open->position);
    open->left = nw_cover_left(cover);
}

/* Under the lock: lets those who starve have some of what is left. What is over within a slice is
 * not worth it. */
static void give_away(NwSearch *search, Bench *bench) {
    NwCover *cover = nw_fit_search_cover(bench->fitting);
    if (nw_cover_effort(cover) - bench->begun < LOOKS_A_SLICE)
        return;
    while ((int)g_queue_get_length(&search->open) < search->idle) {
        NwOpen *given = nw_alloc(1, sizeof *given);
        if (!nw_cover_give(cover, &given->position, &given->left)) {
            free(given);
            break;
        }
        g_queue_push_tail(&search->open, given);
        pthread_cond_broadcast(&search->changed);
    }
}

static void close_part(NwSearch *search, Bench *bench) {
    free(bench->worker->open);
    bench->worker->open = NULL;
    bench->opened = NULL;
    pthread_cond_broadcast(&search->changed);
}

/* One slice of the fit search. Called and returns with the lock held. */
static bool fit_a_slice(NwSearch *search, Bench *bench) {
    bool wake = false;
    pthread_mutex_unlock(&search->lock);
    if (bench->opened != bench->worker->open)
        open_part(search, bench);
    NwAssembly assembly;
    NwStatus status = nw_fit_search_step(bench->fitting, LOOKS_A_SLICE, &assembly);
    pthread_mutex_lock(&search->lock);
    if (status == NW_OK && !nw_first_look_has(search, assembly.key)) {
        if (reached_limit(search))
            return false; /* the position stays before this one, so a resumed search finds it */
        search->progress.found++;
        NwFoundAssembly *finding = finding_of(search, &assembly);
        if (search->options.fit_only) {
            wake = nw_search_post(search, finding);
        } else {
            g_queue_push_tail(&search->waiting, finding);
            pthread_cond_broadcast(&search->changed);
        }
    }
    if (status == NW_NONE) {
        close_part(search, bench);
    } else {
        give_away(search, bench);
        note_position(bench);
    }
    return wake;
}

/* Everything that is examined is examined with the same options. */
static NwVerifier *new_examiner(const NwSearch *search) {
    const NwSearchOptions *options = &search->options;
    NwVerifier *examiner =
        nw_verifier_new(search->fit->design, options->diagonals, options->max_states);
    if (options->fewest)
        nw_verifier_seek_fewest(examiner, (unsigned long)options->max_tries);
    return examiner;
}

/* One slice of the slide search. Called and returns with the lock held. */
static bool examine_a_slice(NwSearch *search, Bench *bench, NwFoundAssembly **in_hand) {
    NwWorker *worker = bench->worker;
    pthread_mutex_unlock(&search->lock);
    if (*in_hand != worker->examining) {
        *in_hand = worker->examining;
        nw_verifier_start(bench->examiner, worker->examining);
    }
    NwStatus status = nw_verifier_step(bench->examiner, STATES_A_SLICE);
    pthread_mutex_lock(&search->lock);
    if (status == NW_STOPPED)
        return false;
    bool wake = nw_search_post(search, worker->examining);
    worker->examining = *in_hand = NULL;
    if (status != NW_OK) {
        search->state = NW_SEARCH_FAILED;
        search->stopping = true;
    }
    pthread_cond_broadcast(&search->changed);
    return wake;
}

/* One slice of the first look. Called and returns with the lock held. */
static bool look_a_slice(NwSearch *search, Bench *bench) {
    NwFoundAssembly *first = search->first; /* it stays where it is while this worker has it */
    pthread_mutex_unlock(&search->lock);
    if (!bench->looking) {
        bench->looking = new_examiner(search);
        nw_verifier_start(bench->looking, first);
    }
    NwStatus status = nw_verifier_step(bench->looking, STATES_A_SLICE);
    pthread_mutex_lock(&search->lock);
    nw_first_look_note_slice(search);
    if (status == NW_STOPPED)
        return false;
    search->first = NULL;
    if (status != NW_OK) {
        search->state = NW_SEARCH_FAILED;
        search->stopping = true;
    }
    pthread_cond_broadcast(&search->changed);
    return nw_search_post(search, first);
}

/* Under the lock: the last worker to leave settles how the search ended. Those that wait look
 * again: with one that leaves at the limit, there may be nothing left to wait for. */
static bool leave(NwSearch *search) {
    pthread_cond_broadcast(&search->changed);
    if (--search->working)
        return false;
    nw_search_stop_clock(search); /* from now on it only grows older */
    bool all =
        !search->first && g_queue_is_empty(&search->open) && g_queue_is_empty(&search->waiting);
    for (int i = 0; i < search->thread_count; i++)
        all = all && !search->workers[i].open && !search->workers[i].examining;
    if (search->state != NW_SEARCH_FAILED)
        search->state = all ? NW_SEARCH_COMPLETE : NW_SEARCH_STOPPED;
    bool wake = !search->wake_pending;
    search->wake_pending = true;
    return wake;
}

static void wait(NwSearch *search, bool starves) {
    search->idle += starves;
    pthread_cond_wait(&search->changed, &search->lock);
    search->idle -= starves;
}

void *nw_worker_run(void *data) {
    NwWorker *worker = data;
    NwSearch *search = worker->search;
    Bench bench = {.worker = worker};
    bench.examiner = new_examiner(search);
    NwFoundAssembly *in_hand = NULL;
    pthread_mutex_lock(&search->lock);
    for (Duty duty; (duty = next_duty(search, worker)) != LEAVE;) {
        bool wake = false;
        if (duty == STARVE || duty == WAIT)
            wait(search, duty == STARVE);
        else if (duty == LOOK)
            wake = look_a_slice(search, &bench);
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
    nw_verifier_free(bench.examiner);
    nw_verifier_free(bench.looking);
    return NULL;
}
