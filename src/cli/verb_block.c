#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "cli/advice.h"
#include "cli/interrupt.h"
#include "cli/source.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "cook/baseline_setup.h"
#include "format/design_json.h"
#include "job/advice_record.h"
#include "job/import.h"

enum { EFFORT = 20000, SHOW_MILLISECONDS = 100, EVENT_MILLISECONDS = 500 };

/* Saving may take a twentieth of the time at most. */
enum { SAVE_SECONDS = 2, SAVE_SHARE = 20 };

typedef struct Wanted {
    char *cook, *out, *store;
    int changes, limit, states;
    double seconds;
    gboolean json, diagonals, anew;
} Wanted;

static gboolean read_options(Wanted *wanted, int *argc, char ***argv) {
    const GOptionEntry entries[] = {
        {"cook", 0, 0, G_OPTION_ARG_STRING, &wanted->cook,
         N_("Remove only this cook: its number in the list of “notch fit”, or its key"),
         N_("NUMBER")},
        {"changes", 0, 0, G_OPTION_ARG_INT, &wanted->changes,
         N_("1: single changes only; 2: pairs too (default: pairs if no single change works)"),
         N_("N")},
        {"limit", 0, 0, G_OPTION_ARG_INT, &wanted->limit, N_("Stop after N proposals"), N_("N")},
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wanted->seconds, N_("Stop after S seconds"),
         N_("S")},
        {"json", 0, 0, G_OPTION_ARG_NONE, &wanted->json,
         N_("Print one JSON object per line as results come in"), NULL},
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &wanted->out,
         N_("Write the design with the best proved proposal applied"), N_("FILE")},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wanted->diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        {"states", 0, 0, G_OPTION_ARG_INT, &wanted->states,
         N_("Keep at most N positions per group of pieces (default: 2000000)"), N_("N")},
        {"anew", 0, 0, G_OPTION_ARG_NONE, &wanted->anew,
         N_("Start from scratch, even if the store has results"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted->store,
         N_("Use this store, and keep a design from a file there"), N_("FILE")},
        {NULL}};
    if (!nw_verb_parse(
            argc, argv, entries, _("DESIGN"),
            _("Looks for the smallest changes of parts that remove a cook and leave the intended "
              "assembly its way\nout, best first. Each proposal is proved by a search of the "
              "changed design. A second run on a\ndesign in the store lists the earlier proposals, "
              "then resumes. Exit status: 0 everything was tried,\n1 could not run, 2 bad input or "
              "usage, 3 stopped by a limit or Ctrl+C."),
            1, 1))
        return FALSE;
    if (wanted->changes < 0 || wanted->changes > NW_CHANGES_MAX) {
        nw_complain(_("--changes must be 1 or 2"));
        return FALSE;
    }
    if (wanted->limit < 0 || wanted->states < 0 || wanted->seconds < 0) {
        nw_complain(_("limits cannot be negative"));
        return FALSE;
    }
    return TRUE;
}

/* One run of the advisor. */
typedef struct Session {
    const Wanted *wanted;
    const NwSource *source;
    NwAdvisorOptions options;
    NwAdvisor *advisor;
    char *question; /* under which it is kept in the store */
    gint64 began, next_save;
    const NwProposal *best;
    guint proposals, proved;
    gint64 shown;
} Session;

static void show_progress(Session *session) {
    gint64 now = g_get_monotonic_time();
    gint64 pause = session->wanted->json ? EVENT_MILLISECONDS : SHOW_MILLISECONDS;
    if (!session->shown)
        session->shown = now;
    if (now - session->shown < pause * 1000)
        return;
    session->shown = now;
    NwAdvisorProgress progress;
    nw_advisor_progress(session->advisor, &progress);
    if (session->wanted->json) {
        nw_advice_line_progress(&progress);
        return;
    }
    char *line =
        progress.changes == 0
            ? g_strdup_printf(_("%5.1f %% of the design searched"), 100 * progress.share)
            : g_strdup_printf(ngettext("%5.1f %% of %s settled · %u proposal",
                                       "%5.1f %% of %s settled · %u proposals", session->proposals),
                              100 * progress.share,
                              progress.changes == 1 ? _("single changes") : _("pairs"),
                              session->proposals);
    nw_status_line(line);
    g_free(line);
}

/* ---- in the store ------------------------------------------------------------------------ */

static gboolean take_up(Session *session, gboolean *taken, GError **error) {
    *taken = FALSE;
    const NwSource *source = session->source;
    return !source->library || session->wanted->anew ||
           nw_advice_record_take_up(source->library, source->version, session->question,
                                    session->advisor, taken, error);
}

static gboolean save(Session *session, gboolean complete, GError **error) {
    const NwSource *source = session->source;
    if (!source->library)
        return TRUE;
    gint64 before = g_get_monotonic_time();
    gboolean saved = nw_advice_record_save(source->library, source->version, session->question,
                                           session->advisor, complete, error);
    gint64 after = g_get_monotonic_time();
    session->next_save = after + MAX(SAVE_SECONDS * G_USEC_PER_SEC, SAVE_SHARE * (after - before));
    return saved;
}

static gboolean save_now_and_then(Session *session, GError **error) {
    return g_get_monotonic_time() < session->next_save || save(session, FALSE, error);
}

/* A search of “notch fit” that is complete spares one. */
static gboolean learn(Session *session, GError **error) {
    const NwSource *source = session->source;
    gboolean learnt;
    return !source->library || session->wanted->anew ||
           nw_founds_learn(source->library, source->version, source->design,
                           &session->options.baseline, nw_interrupt_came, session->advisor, &learnt,
                           error);
}

/* ---- the run ----------------------------------------------------------------------------- */

static gboolean time_is_up(const Session *session) {
    double seconds = (double)(g_get_monotonic_time() - session->began) / G_USEC_PER_SEC;
    return nw_interrupt_came() ||
           (session->wanted->seconds > 0 && seconds >= session->wanted->seconds);
}

static gboolean is_enough(const Session *session) {
    return session->wanted->limit && session->proposals >= (guint)session->wanted->limit;
}

static void receive(Session *session, const NwProposal *proposal) {
    session->proposals++;
    session->proved += proposal->proved;
    if (!session->best && proposal->proved)
        session->best = proposal;
    nw_status_line(NULL);
    if (session->wanted->json)
        nw_advice_line_proposal(session->advisor, proposal, session->proposals);
    else
        nw_advice_print_proposal(session->advisor, proposal, session->proposals);
}

/* What is known of the design bears on every question, so it is kept under none. */
static NwExit search_design(Session *session) {
    GError *error = NULL;
    gboolean taken, good = TRUE;
    session->question = nw_stored_advice_design(&session->options.baseline);
    if (!take_up(session, &taken, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    if (!nw_advisor_ground(session->advisor)->complete && !learn(session, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    gboolean known = nw_advisor_ground(session->advisor)->complete;
    NwStatus status;
    while (good && (status = nw_advisor_search(session->advisor, EFFORT)) == NW_STOPPED &&
           !time_is_up(session)) {
        show_progress(session);
        good = save_now_and_then(session, &error);
    }
    nw_status_line(NULL);
    if (!good || (!known && !save(session, FALSE, &error)))
        return nw_give_up(error, NW_EXIT_FAILED);
    return status == NW_STOPPED ? NW_EXIT_LIMIT : NW_EXIT_COMPLETE;
}

/* Which cook it is about, and what was found out about that before. */
static NwExit put_question(Session *session) {
    const NwBaseline *baseline = nw_advisor_ground(session->advisor);
    long target = -1;
    if (session->wanted->cook && !nw_advice_choose(baseline, session->wanted->cook, &target))
        return NW_EXIT_USAGE;
    if (target >= 0)
        session->options.cook = baseline->known[target].key;
    nw_advisor_aim(session->advisor, session->options.cook);
    g_free(session->question);
    session->question = nw_stored_advice_question(&session->options);
    GError *error = NULL;
    gboolean taken;
    if (!take_up(session, &taken, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    size_t count;
    const NwProposal *const *list = nw_advisor_proposals(session->advisor, &count);
    if (!session->wanted->json) {
        nw_advice_print_question(session->advisor, target);
        if (taken)
            nw_advice_print_going_on(session->advisor, (guint)count);
    }
    for (size_t i = 0; i < count && !is_enough(session); i++)
        receive(session, list[i]);
    return NW_EXIT_COMPLETE;
}

static NwExit ask(Session *session) {
    NwStatus status = NW_STOPPED;
    GError *error = NULL;
    gboolean good = TRUE, stands = is_enough(session); /* where it stood before */
    while (good && !time_is_up(session) && !is_enough(session)) {
        const NwProposal *proposal;
        status = nw_advisor_step(session->advisor, EFFORT, &proposal);
        if (status == NW_OK)
            receive(session, proposal);
        else if (status != NW_STOPPED)
            break;
        show_progress(session);
        good = save_now_and_then(session, &error);
    }
    nw_status_line(NULL);
    gboolean complete = status == NW_NONE || status == NW_EMPTY;
    if (!good || (status != NW_EMPTY && !stands && !save(session, complete, &error)))
        return nw_give_up(error, NW_EXIT_FAILED);
    if (session->wanted->json) {
        nw_advice_line_misses(session->advisor);
        nw_advice_line_done(session->advisor, complete, session->proposals, session->proved);
    } else if (status != NW_EMPTY) {
        nw_advice_print_sums(session->advisor, complete, session->proposals);
    }
    return complete ? NW_EXIT_COMPLETE : NW_EXIT_LIMIT;
}

static NwExit write_best(const Session *session, NwExit exit) {
    GError *error = NULL;
    if (!session->wanted->out)
        return exit;
    if (!session->best) {
        nw_complain(_("“%s” was not written: there is no proved proposal"), session->wanted->out);
        return exit == NW_EXIT_COMPLETE ? NW_EXIT_FAILED : exit;
    }
    if (!nw_design_save(session->best->design, session->wanted->out, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    return exit;
}

static void complain_of(NwStatus status) {
    if (status == NW_NONE)
        nw_complain(_("the design has no intended assembly; choose one with “notch intend”"));
    else if (status == NW_DOES_NOT_FIT)
        nw_complain(_("the intended assembly does not fit: “notch check” tells where"));
    else
        nw_complain(_("the design cannot be searched: %s"), nw_status_text(status));
}

/* NW_STOPPED: a limit of time or Ctrl-C came first. */
static NwStatus make_advisor(Session *session) {
    NwBaselineSetup *setup;
    NwBaseline *baseline;
    NwStatus status =
        nw_baseline_setup_new(session->source->design, session->options.baseline, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, EFFORT, &baseline);
    while (status == NW_STOPPED && !time_is_up(session));
    nw_baseline_setup_free(setup);
    if (status == NW_OK)
        session->advisor = nw_advisor_new_on(baseline, session->options);
    return status;
}

static NwExit block(NwSource *source, const Wanted *wanted) {
    GError *error = NULL;
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    NwAdvisorOptions options = {
        .baseline = {.diagonals = wanted->diagonals, .max_states = (uint32_t)wanted->states},
        .pairs = wanted->changes == 2,
        .singles = wanted->changes == 1};
    Session session = {.wanted = wanted, .source = source, .options = options};
    if (!nw_source_keep(source, wanted->store, &error))
        return nw_give_up(error, NW_EXIT_USAGE);
    session.began = g_get_monotonic_time();
    NwStatus status = make_advisor(&session);
    if (status == NW_STOPPED)
        return NW_EXIT_LIMIT;
    if (status != NW_OK) {
        complain_of(status);
        return NW_EXIT_USAGE;
    }
    session.next_save = session.began + SAVE_SECONDS * G_USEC_PER_SEC;
    NwExit exit = search_design(&session);
    if (exit == NW_EXIT_COMPLETE)
        exit = put_question(&session);
    if (exit == NW_EXIT_COMPLETE)
        exit = write_best(&session, ask(&session));
    nw_advisor_free(session.advisor);
    g_free(session.question);
    return exit;
}

NwExit nw_verb_block(int argc, char **argv) {
    Wanted wanted = {0};
    NwExit exit = NW_EXIT_USAGE;
    if (read_options(&wanted, &argc, &argv)) {
        NwSource source;
        GError *error = NULL;
        nw_interrupt_begin();
        if (nw_source_open(&source, argv[1], wanted.store, TRUE, &error)) {
            exit = block(&source, &wanted);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
        nw_interrupt_end();
    }
    g_free(wanted.cook);
    g_free(wanted.out);
    g_free(wanted.store);
    return exit;
}
