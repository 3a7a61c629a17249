#include <glib/gi18n.h>

#include "cli/advice.h"
#include "cli/interrupt.h"
#include "cli/source.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "cook/baseline_setup.h"

enum { EFFORT = 20000 };

/* Level and total of the intended assembly as it is drawn; FALSE if the user stopped it. */
static gboolean measure(NwBaseline *baseline, int *level, int *total) {
    NwStatus status;
    *level = *total = 0;
    nw_enumeration_slide(baseline->slides, baseline->design, baseline->kinds,
                         baseline->design->intended, baseline->bodies, baseline->max_states);
    do {
        long effort = EFFORT;
        status = nw_enumeration_slide_on(baseline->slides, &effort);
    } while (status == NW_STOPPED && !nw_interrupt_came());
    if (status == NW_OK) {
        *level = nw_take_apart_result(baseline->slides)->level;
        *total = nw_take_apart_result(baseline->slides)->total;
    }
    return status != NW_STOPPED;
}

static NwExit tell(NwBaseline *baseline, NwPart part, gboolean json) {
    NwExplain *explain;
    int level, total;
    NwStatus status;
    do {
        long effort = EFFORT;
        status = nw_baseline_step(baseline, &effort);
        nw_status_line(_("searching the design"));
    } while (status == NW_STOPPED && !nw_interrupt_came());
    if (status == NW_STOPPED || !measure(baseline, &level, &total)) {
        nw_status_line(NULL);
        return NW_EXIT_LIMIT;
    }
    status = nw_explain_new(baseline, part, &explain);
    if (status != NW_OK) {
        nw_status_line(NULL);
        nw_complain(status == NW_EMPTY ? _("no piece has this part in the intended assembly; "
                                           "“notch show” draws the pieces")
                    : status == NW_OFF_LATTICE
                        ? _("a copy of that piece stands at an odd shift, where only whole cells "
                            "may: no single part of it can be left out")
                        : _("the design without that part cannot be searched"));
        return NW_EXIT_USAGE;
    }
    while ((status = nw_explain_step(explain, EFFORT)) == NW_STOPPED && !nw_interrupt_came())
        nw_status_line(_("searching the design without the part"));
    nw_status_line(NULL);
    if (status == NW_NONE && json)
        nw_advice_line_part(baseline, part, explain, level, total);
    else if (status == NW_NONE)
        nw_advice_print_part(baseline, part, explain, level, total);
    nw_explain_free(explain);
    return status == NW_NONE ? NW_EXIT_COMPLETE : NW_EXIT_LIMIT;
}

/* NW_STOPPED: the user stopped it. */
static NwStatus make_ground(const NwDesign *design, NwBaselineOptions options,
                            NwBaseline **baseline) {
    NwBaselineSetup *setup;
    NwStatus status = nw_baseline_setup_new(design, options, &setup);
    if (status != NW_OK)
        return status;
    do
        status = nw_baseline_setup_step(setup, EFFORT, baseline);
    while (status == NW_STOPPED && !nw_interrupt_came());
    nw_baseline_setup_free(setup);
    return status;
}

static NwExit explain_part(const NwSource *source, NwBaselineOptions options, NwPart part,
                           gboolean json) {
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    NwBaseline *baseline;
    nw_interrupt_begin();
    NwStatus status = make_ground(source->design, options, &baseline);
    if (status != NW_OK)
        nw_interrupt_end();
    if (status == NW_STOPPED)
        return NW_EXIT_LIMIT;
    if (status != NW_OK) {
        nw_complain(status == NW_NONE
                        ? _("the design has no intended assembly; choose one with “notch intend”")
                    : status == NW_DOES_NOT_FIT
                        ? _("the intended assembly does not fit: “notch check” tells where")
                        : _("the design cannot be searched"));
        return NW_EXIT_USAGE;
    }
    NwExit exit = tell(baseline, part, json);
    nw_interrupt_end();
    nw_baseline_free(baseline);
    return exit;
}

NwExit nw_verb_explain(int argc, char **argv) {
    char *words = NULL, *store = NULL;
    gboolean json = FALSE, diagonals = FALSE;
    const GOptionEntry options[] = {
        {"part", 0, 0, G_OPTION_ARG_STRING, &words,
         N_("The part: its cell in the envelope and its bit (0 is the core, 1 to 4 the corners)"),
         N_("X,Y,Z,BIT")},
        {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("Print one JSON object"), NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    NwPart part;
    NwSource source;
    GError *error = NULL;
    if (!nw_verb_parse(&argc, &argv, options, _("DESIGN"),
                       _("Explains what a part of a piece does: which cooks there would be without "
                         "it, and what level the\nintended assembly would have."),
                       1, 1))
        exit = NW_EXIT_USAGE;
    else if (!words)
        nw_complain(_("no part given; use --part X,Y,Z,BIT"));
    else if (!nw_advice_parse_part(words, &part))
        nw_complain(_("invalid part “%s”; use a cell and a bit from 0 to 4, such as 1,3,1,3"),
                    words);
    else if (!nw_source_open(&source, argv[1], store, FALSE, &error))
        nw_give_up(error, exit);
    else {
        exit = explain_part(&source, (NwBaselineOptions){.diagonals = diagonals}, part, json);
        nw_source_close(&source);
    }
    g_free(words);
    g_free(store);
    return exit;
}
