/* notch: the command line. */
#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "cli/verb.h"

static const struct {
    const char *name, *summary;
    NwVerbRun *run;
} verbs[] = {
    {"solid", N_("start a design from a named solid"), nw_verb_solid},
    {"check", N_("report properties and problems of a design"), nw_verb_check},
    {"fit", N_("find every assembly and a way to take it apart"), nw_verb_fit},
    {"show", N_("show one assembly and its way out"), nw_verb_show},
    {"intend", N_("choose the intended assembly"), nw_verb_intend},
    {"merge", N_("turn pieces of the same shape into copies of one piece"), nw_verb_merge},
    {"apart", N_("take one assembly apart without searching for others"), nw_verb_apart},
    {"block", N_("find the smallest changes that remove a cook"), nw_verb_block},
    {"explain", N_("explain what a part of a piece does"), nw_verb_explain},
#ifdef NW_PICTURES
    {"draw", N_("draw a picture of a design, an assembly or its way out"), nw_verb_draw},
#endif
    {"measure", N_("measure how hard a design is"), nw_verb_measure},
    {"trial", N_("log who tried to solve a puzzle and how long it took"), nw_verb_trial},
#ifdef NW_MAKING
    {"make", N_("make meshes, nets, cutting lists and the sheet for the box"), nw_verb_make},
#endif
    {"library", N_("list, add, export and remove designs in the store"), nw_verb_library},
};

static void print_help(FILE *stream) {
    fprintf(
        stream,
        _("Usage: notch COMMAND …\n\nDesigns interlocking solid puzzles on the cube lattice.\n\n"));
    for (gsize i = 0; i < G_N_ELEMENTS(verbs); i++)
        fprintf(stream, "  %-9s %s\n", verbs[i].name, _(verbs[i].summary));
    fprintf(stream, _("\nRun “notch COMMAND --help” for more about a command.\n"));
}

int main(int argc, char **argv) {
    setlocale(LC_ALL, "");
    bindtextdomain(GETTEXT_PACKAGE, NW_LOCALE_DIR);
    bind_textdomain_codeset(GETTEXT_PACKAGE, "UTF-8");
    textdomain(GETTEXT_PACKAGE);
    const char *verb = argc > 1 ? argv[1] : "--help";
    if (strcmp(verb, "--help") == 0 || strcmp(verb, "-h") == 0 || strcmp(verb, "help") == 0) {
        print_help(argc > 1 ? stdout : stderr);
        return argc > 1 ? NW_EXIT_COMPLETE : NW_EXIT_USAGE;
    }
    if (strcmp(verb, "--version") == 0) {
        printf("notch %s\n", NW_VERSION);
        return NW_EXIT_COMPLETE;
    }
    for (gsize i = 0; i < G_N_ELEMENTS(verbs); i++)
        if (strcmp(verbs[i].name, verb) == 0)
            return verbs[i].run(argc - 1, argv + 1);
    nw_complain(_("unknown command “%s”; see “notch --help”"), verb);
    return NW_EXIT_USAGE;
}
