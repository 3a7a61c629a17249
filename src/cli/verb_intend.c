#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "cli/assembly_arg.h"
#include "cli/interrupt.h"
#include "cli/rewrite.h"
#include "cli/run.h"
#include "cli/verb.h"
#include "design/bodies.h"
#include "design/check_assembly.h"

typedef struct Wanted {
    gboolean none;
    NwRunRequest request;
    char *store, *out;
    const char *argument; /* the word that names the design */
} Wanted;

/* ---- which assembly ---------------------------------------------------------------------- */

/* What is to be declared. */
typedef struct Declared {
    NwPlacement placements[NW_COPIES_MAX];
    size_t count;     /* 0: none */
    gboolean already; /* nothing is to be changed */
    char *sentence;   /* what is said when it is done */
} Declared;

static gboolean choose_none(const NwDesign *design, Declared *declared) {
    declared->count = 0;
    declared->already = design->intended_count == 0;
    declared->sentence =
        g_strdup_printf(declared->already ? _("“%s” has no intended assembly as it is.")
                                          : _("“%s” no longer has an intended assembly."),
                        design->name);
    return TRUE;
}

static gboolean is_drawn_already(const NwDesign *design) {
    gboolean same = design->intended_count == design->piece_count;
    for (size_t i = 0; i < design->intended_count && same; i++)
        same = nw_motion_equal(design->intended[i].motion, (NwMotion){0, {0, 0, 0}});
    return same && !nw_check_assembly(design, design->intended, design->intended_count);
}

static gboolean choose_drawn(const NwSource *source, Declared *declared) {
    const NwDesign *design = source->design;
    if (!design->piece_count) {
        nw_complain(_("the design has no pieces yet: draw some first"));
        return FALSE;
    }
    if (nw_design_drawn(design, declared->placements) != NW_OK) {
        nw_complain(_("a piece with copies is drawn only once, so the pieces as they are drawn are "
                      "no assembly: name one of those that “notch fit %s” finds"),
                    source->words);
        return FALSE;
    }
    declared->count = design->piece_count;
    const char *fault = nw_check_assembly(design, declared->placements, declared->count);
    if (fault) {
        nw_complain(_("the pieces as they are drawn are no assembly: %s"), _(fault));
        return FALSE;
    }
    declared->already = is_drawn_already(design);
    declared->sentence = g_strdup_printf(
        declared->already
            ? _("The pieces of “%s” as drawn are already its intended assembly.")
            : _("The pieces of “%s” as they are drawn are its intended assembly now."),
        design->name);
    return TRUE;
}

static void take_finding(const NwDesign *design, const NwFoundAssembly *finding, guint number,
                         Declared *declared) {
    declared->count = (size_t)finding->placement_count;
    memcpy(declared->placements, finding->placements,
           declared->count * sizeof *declared->placements);
    declared->already = finding->intended;
    char *done = g_strdup_printf(
        finding->intended
            ? _("Assembly %u of “%s” is already the intended one.")
            : _("Assembly %u of “%s” is now the intended one and comes first in the list."),
        number, design->name);
    declared->sentence = finding->verdict == NW_UNREACHABLE
                             ? g_strconcat(done, "\n", _("Note: no slides take it apart."), NULL)
                             : g_strdup(done);
    g_free(done);
}

/* An intended assembly that does not fit stands in the way of a search, and is to be replaced: it
 * is left out, and with it the store, where this is another design. */
static void set_broken_one_aside(NwSource *source) {
    NwDesign *design = source->design;
    if (!design->intended_count ||
        !nw_check_assembly(design, design->intended, design->intended_count))
        return;
    nw_design_set_intended(design, NULL, 0);
    nw_library_close(source->library);
    source->library = NULL;
}

/* Searches as “notch show” does. Who presses Ctrl-C does not want a change. */
static NwExit choose_found(NwSource *source, const Wanted *wanted, const char *which,
                           Declared *declared) {
    set_broken_one_aside(source);
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    NwSearchResults results;
    GError *error = NULL;
    if (!nw_run(source, &wanted->request, &results, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&results);
    guint index;
    if (nw_interrupt_came())
        nw_complain(_("the search was stopped; nothing was changed"));
    else if (exit != NW_EXIT_FAILED && !nw_assembly_arg(&results, which, &index))
        exit = NW_EXIT_USAGE;
    else if (exit != NW_EXIT_FAILED)
        take_finding(source->design, results.findings->pdata[index], index + 1, declared);
    nw_search_results_clear(&results);
    return exit;
}

/* ---- declaring it ------------------------------------------------------------------------ */

static NwExit declare(NwSource *source, const Wanted *wanted, gboolean stored,
                      const Declared *declared) {
    const NwRewrite rewrite = {.argument = wanted->argument,
                               .store = wanted->store,
                               .out = wanted->out,
                               .stored = stored,
                               .unchanged = declared->already,
                               .action =
                                   declared->count ? _("Make intended") : _("Intend no assembly"),
                               .sentence = declared->sentence};
    if (!declared->already)
        nw_design_set_intended(source->design, declared->placements, declared->count);
    return nw_rewrite(source->design, &rewrite);
}

static NwExit intend(NwSource *source, const Wanted *wanted, const char *which) {
    gboolean stored = source->library != NULL, found;
    Declared declared = {.sentence = NULL};
    NwExit exit = NW_EXIT_USAGE;
    if (!which)
        found = choose_none(source->design, &declared);
    else if (strcmp(which, "drawn") == 0)
        found = choose_drawn(source, &declared);
    else
        found = (exit = choose_found(source, wanted, which, &declared), declared.count > 0);
    if (found)
        exit = declare(source, wanted, stored, &declared);
    g_free(declared.sentence);
    return exit;
}

NwExit nw_verb_intend(int argc, char **argv) {
    Wanted wanted = {0};
    const GOptionEntry options[] = {
        {"none", 0, 0, G_OPTION_ARG_NONE, &wanted.none,
         N_("Leave the design without an intended assembly"), NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wanted.request.options.diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wanted.request.seconds,
         N_("Search for at most S seconds, and take N from what was found by then"), N_("S")},
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &wanted.out,
         N_("Write to this file and leave DESIGN unchanged"), N_("FILE")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted.store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN [N | drawn]"),
                      _("Chooses the intended assembly of a design. N is its number in the list of "
                        "“notch fit DESIGN”, its\nkey, or at least the first four digits of its "
                        "key; “drawn” stands for the pieces as drawn. A file\nis rewritten; a "
                        "design in the store gets a new version."),
                      1, 2)) {
        NwSource source;
        GError *error = NULL;
        wanted.argument = argv[1];
        if (wanted.none == (argc == 3)) {
            nw_complain(wanted.none
                            ? _("--none takes no assembly; remove “%s”")
                            : _("no assembly given: use a number, a key, “drawn” or --none"),
                        argc == 3 ? argv[2] : "");
        } else if (nw_source_open(&source, argv[1], wanted.store, TRUE, &error)) {
            exit = intend(&source, &wanted, argc == 3 ? argv[2] : NULL);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wanted.store);
    g_free(wanted.out);
    return exit;
}
