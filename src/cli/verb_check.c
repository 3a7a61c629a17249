#include <glib/gi18n.h>
#include <stdio.h>
#include <stdlib.h>

#include "cli/same.h"
#include "cli/source.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "design/check_assembly.h"
#include "design/faults.h"
#include "fit/fit.h"
#include "lattice/symmetry.h"

/* Volume in cells, with sixths: "21 1/3", "1/2" or "0". */
static char *dup_volume(long volume6) {
    static const char *const sixths[6] = {"", "1/6", "1/3", "1/2", "2/3", "5/6"};
    const char *rest = sixths[volume6 % 6];
    if (volume6 < 6 && *rest)
        return g_strdup(rest);
    return g_strdup_printf("%ld%s%s", volume6 / 6, *rest ? " " : "", rest);
}

static void print_solid(const char *name, const char *remark, const NwSolid *solid) {
    char *volume = dup_volume(nw_solid_volume6(solid));
    NwBounds box = nw_solid_bounds(solid);
    NwVec size = nw_vec_sub(box.high, box.low);
    NwMotion motions[NW_TURNS];
    NwAllowed rotations = {.odd_shifts = nw_solid_is_whole(solid)};
    NwAllowed all = {.reflections = true, .odd_shifts = rotations.odd_shifts};
    int turns = nw_solid_symmetries(solid, rotations, motions);
    int with_mirrors = nw_solid_symmetries(solid, all, motions);
    size_t count = nw_solid_parts(solid);
    nw_print_column(name, 14);
    /* Translators: a row of a table; let what follows the parts begin in the same column. */
    printf(
        ngettext(" %4zu part   volume %-9s box %d × %d × %d  symmetries %d (%d with mirrors)%s\n",
                 " %4zu parts  volume %-9s box %d × %d × %d  symmetries %d (%d with mirrors)%s\n",
                 (unsigned long)count),
        count, volume, size.x, size.y, size.z, turns, with_mirrors, remark);
    g_free(volume);
}

static void print_pieces(const NwDesign *design) {
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        char *remark = piece->copies > 1 ? g_strdup_printf(ngettext("  %d copy", "  %d copies",
                                                                    (unsigned long)piece->copies),
                                                           piece->copies)
                                         : g_strdup("");
        print_solid(piece->name, remark, piece->solid);
        g_free(remark);
    }
}

static int print_fault(const char *text) {
    printf("%s%s%s %s\n", nw_tint(stdout, NW_WARNING), _("problem:"), nw_tint(stdout, NW_PLAIN),
           text);
    return 1;
}

/* Whether it was said already that the piece is too large for the envelope. */
static gboolean is_too_wide(const NwDesign *design, int piece) {
    NwFault *faults;
    size_t count = nw_design_faults(design, &faults), i = 0;
    while (i < count && (faults[i].kind != NW_FAULT_TOO_WIDE || faults[i].piece != piece))
        i++;
    free(faults);
    return i < count;
}

/* Pieces that have no place in the envelope, by trying all turns and shifts. */
static int print_misfits(const NwDesign *design) {
    NwPlacementTable *places;
    int faults = 0;
    if (nw_placement_table_build(design, &places) != NW_OK)
        return 0;
    printf(_("Places in the envelope:"));
    for (int i = 0; i < places->piece_count; i++)
        printf(" %s %d%s", design->pieces[i].name,
               places->first_of_piece[i + 1] - places->first_of_piece[i],
               i + 1 < places->piece_count ? "," : "\n");
    for (int i = 0; i < places->piece_count; i++)
        if (places->first_of_piece[i + 1] == places->first_of_piece[i] && !is_too_wide(design, i)) {
            char *text = g_strdup_printf(
                _("piece “%s” fits nowhere in the envelope: make it smaller or change its shape"),
                design->pieces[i].name);
            faults += print_fault(text);
            g_free(text);
        }
    nw_placement_table_free(places);
    return faults;
}

static int print_faults(const NwDesign *design) {
    NwFault *faults;
    size_t count = nw_design_faults(design, &faults);
    for (size_t i = 0; i < count; i++) {
        char *text = nw_fault_text(design, &faults[i]);
        print_fault(text);
        free(text);
    }
    free(faults);
    return (int)count;
}

static void print_intended(const NwDesign *design) {
    if (!design->intended_count)
        printf(_("No intended assembly yet; choose one with “notch intend”.\n"));
    else if (nw_check_assembly(design, design->intended, design->intended_count))
        printf(_("Its intended assembly does not fit.\n"));
    else
        printf(_("It has an intended assembly.\n"));
}

static NwExit check(const NwSource *source) {
    const NwDesign *design = source->design;
    char *empty = dup_volume(nw_solid_volume6(design->may_be_empty));
    printf("%s%s%s\n", nw_tint(stdout, NW_BOLD), design->name, nw_tint(stdout, NW_PLAIN));
    print_solid(_("envelope"), "", design->envelope);
    if (design->may_be_empty->count)
        printf(_("  %zu of its parts may stay empty (volume %s)\n"),
               nw_solid_parts(design->may_be_empty), empty);
    g_free(empty);
    print_pieces(design);
    printf(design->mirrors_together ? _("Mirror images count as one assembly.\n")
                                    : _("Mirror images count as two assemblies.\n"));
    print_intended(design);
    nw_print_same(source);
    int faults = print_faults(design);
    if (design->piece_count)
        faults += print_misfits(design);
    if (!faults)
        printf(_("No problems found.\n"));
    return faults ? NW_EXIT_USAGE : NW_EXIT_COMPLETE;
}

NwExit nw_verb_check(int argc, char **argv) {
    char *store = NULL;
    const GOptionEntry options[] = {
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &store, N_("Use this store"), N_("FILE")}, {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN"),
                      _("Reports properties and problems of a design: volumes, parts, boxes, "
                        "symmetries; pieces that do\nnot hold together or fit nowhere; volumes "
                        "that cannot match. Exit status 2 if there are problems."),
                      1, 1)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], store, FALSE, &error)) {
            exit = check(&source);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(store);
    return exit;
}
