#include <glib/gi18n.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>

#include "cli/advice.h"
#include "cli/source.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "store/design_json.h"

enum { EFFORT = 20000, SHOW_MILLISECONDS = 100, EVENT_MILLISECONDS = 500 };

static volatile sig_atomic_t interrupted;

static void interrupt(int signal_number) {
    (void)signal_number;
    interrupted = 1;
}

typedef struct Wanted {
    char *cook, *out, *store;
    int changes, limit, states;
    gboolean json, diagonals;
} Wanted;

static gboolean read_options(Wanted *wanted, int *argc, char ***argv) {
    const GOptionEntry entries[] = {
        {"cook", 0, 0, G_OPTION_ARG_STRING, &wanted->cook,
         N_("Remove this one: its number in the list of “notch fit”, or its key (all)"),
         N_("NUMBER")},
        {"changes", 0, 0, G_OPTION_ARG_INT, &wanted->changes,
         N_("1: single changes only; 2: pairs too (pairs only if no single one does it)"), N_("N")},
        {"limit", 0, 0, G_OPTION_ARG_INT, &wanted->limit, N_("Stop after N proposals"), N_("N")},
        {"json", 0, 0, G_OPTION_ARG_NONE, &wanted->json,
         N_("Print one JSON object a line, as things are found"), NULL},
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &wanted->out,
         N_("Write the design with the best proved proposal carried out"), N_("FILE")},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wanted->diagonals,
         N_("Slides along face diagonals too"), NULL},
        {"states", 0, 0, G_OPTION_ARG_INT, &wanted->states,
         N_("Positions to hold for each group before it is undecided (2000000)"), N_("N")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted->store, N_("Look for DESIGN in this store"),
         N_("FILE")},
        {NULL}};
    if (!nw_verb_parse(
            argc, argv, entries, _("DESIGN"),
            _("Looks for the smallest changes of parts that remove a cook and leave the intended "
              "assembly its way\nout, best first. Each proposal is proved by a search of the "
              "changed design. Exit status: 0 all is\nsettled, 3 it was stopped by a limit or by "
              "Ctrl-C, 1 it could not run, 2 bad input or usage."),
            1, 1))
        return FALSE;
    if (wanted->changes < 0 || wanted->changes > NW_CHANGES_MAX) {
        nw_complain(_("--changes takes 1 or 2"));
        return FALSE;
    }
    if (wanted->limit < 0 || wanted->states < 0) {
        nw_complain(_("a limit below zero means nothing: leave it out"));
        return FALSE;
    }
    return TRUE;
}

/* One run of the advisor. */
typedef struct Session {
    const Wanted *wanted;
    NwAdvisor *advisor;
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
            : g_strdup_printf(_("%5.1f %% of %s settled · %u proposals"), 100 * progress.share,
                              progress.changes == 1 ? _("single changes") : _("pairs"),
                              session->proposals);
    nw_status_line(line);
    g_free(line);
}

/* The known assembly that --cook names; FALSE with a complaint if it is no cook. */
static gboolean choose_cook(const NwGround *ground, const char *which, long *known) {
    char *end;
    guint64 number = g_ascii_strtoull(which, &end, 10);
    *known = *end || strlen(which) > 9 ? -1 : nw_advice_known(ground, (guint)number);
    size_t matches = *known >= 0;
    for (size_t i = 0; i < ground->known_count && !matches && strlen(which) >= 4; i++) {
        char key[17];
        g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", ground->known[i].key);
        if (g_str_has_prefix(key, which)) {
            *known = (long)i;
            for (size_t k = i + 1; k < ground->known_count; k++) {
                g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", ground->known[k].key);
                if (g_str_has_prefix(key, which)) {
                    nw_complain(_("several keys begin with “%s”: write more of it"), which);
                    return FALSE;
                }
            }
            matches = 1;
        }
    }
    if (matches && nw_ground_is_cook(ground, (size_t)*known))
        return TRUE;
    if (matches)
        nw_complain(_("assembly “%s” is no cook: “notch fit” lists the cooks"), which);
    else
        nw_complain(_("there is no assembly “%s”: name a cook by its number in the list of “notch "
                      "fit”, or by its key"),
                    which);
    return FALSE;
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

static NwExit search_design(Session *session, long *target) {
    NwStatus status;
    while ((status = nw_advisor_search(session->advisor, EFFORT)) == NW_STOPPED && !interrupted)
        show_progress(session);
    nw_status_line(NULL);
    if (status == NW_STOPPED)
        return NW_EXIT_LIMIT;
    const NwGround *ground = nw_advisor_ground(session->advisor);
    *target = -1;
    if (session->wanted->cook && !choose_cook(ground, session->wanted->cook, target))
        return NW_EXIT_USAGE;
    if (*target >= 0)
        nw_advisor_aim(session->advisor, ground->known[*target].key);
    if (!session->wanted->json)
        nw_advice_print_question(session->advisor, *target);
    return NW_EXIT_COMPLETE;
}

static NwExit ask(Session *session) {
    NwStatus status = NW_STOPPED;
    guint limit = (guint)session->wanted->limit;
    gboolean limited = FALSE;
    while (!interrupted && !limited) {
        const NwProposal *proposal;
        status = nw_advisor_step(session->advisor, EFFORT, &proposal);
        if (status == NW_OK)
            receive(session, proposal);
        else if (status != NW_STOPPED)
            break;
        limited = limit && session->proposals >= limit;
        show_progress(session);
    }
    nw_status_line(NULL);
    gboolean complete = status == NW_NONE || status == NW_EMPTY;
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
        nw_complain(_("the design has no intended assembly, so nothing is a cook: declare one "
                      "first"));
    else if (status == NW_DOES_NOT_FIT)
        nw_complain(_("the intended assembly does not fit: “notch check” tells where"));
    else
        nw_complain(_("the design cannot be searched: %s"), nw_status_text(status));
}

static NwExit block(const NwSource *source, const Wanted *wanted) {
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    NwAdvisorOptions options = {
        .ground = {.diagonals = wanted->diagonals, .max_states = (uint32_t)wanted->states},
        .pairs = wanted->changes == 2,
        .singles = wanted->changes == 1};
    Session session = {.wanted = wanted};
    NwStatus status = nw_advisor_new(source->design, options, &session.advisor);
    if (status != NW_OK) {
        complain_of(status);
        return NW_EXIT_USAGE;
    }
    struct sigaction action = {.sa_handler = interrupt}, before;
    sigaction(SIGINT, &action, &before);
    long target;
    NwExit exit = search_design(&session, &target);
    if (exit == NW_EXIT_COMPLETE)
        exit = write_best(&session, ask(&session));
    sigaction(SIGINT, &before, NULL);
    nw_advisor_free(session.advisor);
    return exit;
}

NwExit nw_verb_block(int argc, char **argv) {
    Wanted wanted = {0};
    NwExit exit = NW_EXIT_USAGE;
    if (read_options(&wanted, &argc, &argv)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wanted.store, FALSE, &error)) {
            exit = block(&source, &wanted);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wanted.cook);
    g_free(wanted.out);
    g_free(wanted.store);
    return exit;
}
