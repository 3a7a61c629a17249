#include "cli/report.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <stdio.h>

#include "base/bits.h"
#include "cli/layers.h"
#include "cli/terminal.h"
#include "text/words.h"

enum { LISTED_MAX = 500, WIDTH = 96, MEASURES_WIDTH = 22 };

void nw_report_question(const NwDesign *design, const NwSearch *search) {
    const NwFit *fit = nw_search_fit(search);
    printf("%s%s%s: ", nw_tint(stdout, NW_BOLD), design->name, nw_tint(stdout, NW_PLAIN));
    int count = nw_design_copies(design);
    printf(ngettext("%d piece", "%d pieces", (unsigned long)count), count);
    if (!fit) { /* it was stopped before */
        printf("\n");
        return;
    }
    printf(ngettext(", %d part", ", %d parts", (unsigned long)fit->places->part_count),
           fit->places->part_count);
    printf(ngettext(", %d place", ", %d places", (unsigned long)fit->places->place_count),
           fit->places->place_count);
    printf(ngettext(", %d symmetry\n", ", %d symmetries\n", (unsigned long)fit->group->order),
           fit->group->order);
}

static NwTint tint_of(const NwFoundAssembly *finding, gboolean has_intended) {
    if (finding->verdict != NW_OPENS)
        return finding->intended ? NW_WARNING : NW_FAINT;
    return finding->intended || !has_intended ? NW_GOOD : NW_WARNING;
}

char *nw_report_dup_total(const NwFoundAssembly *finding) {
    char *plain = g_strdup_printf(ngettext("%d slide", "%d slides", (unsigned long)finding->total),
                                  finding->total);
    if (!finding->at_least)
        return plain;
    char *total = finding->at_least == finding->total
                      ? g_strdup_printf(_("%s, the fewest"), plain)
                      : g_strdup_printf(_("%s at most, %d at least"), plain, finding->at_least);
    g_free(plain);
    return total;
}

/* "levels 3·1·2, 6 slides"; "" where nothing is known of slides. */
static char *dup_measures(const NwFoundAssembly *finding) {
    if (finding->verdict == NW_UNDECIDED && finding->placement_count > NW_BODIES_MAX)
        return g_strdup_printf(_("more than %d pieces"), NW_BODIES_MAX);
    if (finding->verdict == NW_UNDECIDED)
        return g_strdup_printf(
            ngettext("%llu position seen", "%llu positions seen", (unsigned long)finding->states),
            finding->states);
    if (finding->verdict != NW_OPENS)
        return g_strdup("");
    NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
    char *list = nw_terminal_take(nw_words_levels(&levels));
    char *total = nw_report_dup_total(finding);
    char *text = levels.count > 1 ? g_strdup_printf(_("levels %s, %s"), list, total)
                                  : g_strdup_printf(_("level %s, %s"), list, total);
    g_free(total);
    g_free(list);
    return text;
}

/* "  1  intended      levels 3·1·2, 6 slides    0f3c..."; the key begins in column `width`. */
static void print_line(const NwFoundAssembly *finding, gboolean has_intended, guint number,
                       glong width) {
    const char *role = nw_words_role(finding, has_intended);
    char *measures = dup_measures(finding);
    glong gap = width - g_utf8_strlen(measures, -1);
    int pad = 22 - (int)g_utf8_strlen(role, -1);
    printf("%5u  %s%s%s%*s %s%*s %016" G_GINT64_MODIFIER "x\n", number,
           nw_tint(stdout, tint_of(finding, has_intended)), role, nw_tint(stdout, NW_PLAIN),
           MAX(pad, 0), "", measures, (int)MAX(gap, 0), "", finding->key);
    g_free(measures);
}

/* All slides of a way out in a paragraph, indented. */
static void print_slides(const NwDesign *design, const NwFoundAssembly *finding) {
    int column = 0;
    for (int i = 0; i < finding->slide_count; i++) {
        char *slide = nw_terminal_take(nw_words_slide(design, finding, &finding->slides[i]));
        int width = (int)g_utf8_strlen(slide, -1) + 2;
        gboolean fresh = !column || column + width > WIDTH;
        if (fresh && column)
            printf("\n");
        if (fresh)
            column = printf("      ");
        printf(" %s%s", slide, i + 1 < finding->slide_count ? ";" : "\n");
        column += width;
        g_free(slide);
    }
}

static void print_sums(const NwDesign *design, const NwSearchResults *results) {
    const NwSearchProgress *p = &results->progress;
    char *seconds = nw_words_seconds(p->seconds), *setup = nw_words_setup(&p->setup);
    gboolean complete = p->state == NW_SEARCH_COMPLETE;
    printf(ngettext("%" PRIu64 " assembly", "%" PRIu64 " assemblies", (unsigned long)p->found),
           p->found);
    if (p->verdicts[NW_UNEXAMINED] == 0 && p->found) {
        printf(ngettext(": %" PRIu64 " comes apart", ": %" PRIu64 " come apart",
                        (unsigned long)p->verdicts[NW_OPENS]),
               p->verdicts[NW_OPENS]);
        if (nw_search_has_intended(results->search))
            printf(ngettext(" (%" PRIu64 " cook)", " (%" PRIu64 " cooks)", (unsigned long)p->cooks),
                   p->cooks);
        printf(_(", %" PRIu64 " proved unreachable"), p->verdicts[NW_UNREACHABLE]);
        if (p->verdicts[NW_UNDECIDED])
            printf(_(", %" PRIu64 " undecided"), p->verdicts[NW_UNDECIDED]);
    }
    printf(".\n");
    if (results->from_store)
        printf(_("From the store: search complete, it took %s.\n"), seconds);
    else if (complete)
        printf(_("Search complete after %s.\n"), seconds);
    else if (setup)
        printf(_("Stopped after %s, while preparing the search (%s).\n"), seconds, setup);
    else
        printf(_("Search stopped after %s, %.0f %% done.\n"), seconds, 100 * p->share);
    g_free(setup);
    if (complete && design->intended_count && p->intended_opens && !p->cooks &&
        !p->verdicts[NW_UNDECIDED] && !p->verdicts[NW_UNEXAMINED])
        printf(_("%sThe intended assembly is the only answer.%s\n"), nw_tint(stdout, NW_GOOD),
               nw_tint(stdout, NW_PLAIN));
    g_free(seconds);
}

void nw_report_list(const NwDesign *design, const NwSearchResults *results) {
    gboolean has_intended = nw_search_has_intended(results->search);
    glong width = MEASURES_WIDTH;
    for (guint i = 0; i < results->findings->len && i < LISTED_MAX; i++) {
        g_autofree char *measures = dup_measures(results->findings->pdata[i]);
        width = MAX(width, g_utf8_strlen(measures, -1) + 1);
    }
    for (guint i = 0; i < results->findings->len && i < LISTED_MAX; i++) {
        const NwFoundAssembly *finding = results->findings->pdata[i];
        print_line(finding, has_intended, i + 1, width);
        if (finding->verdict == NW_OPENS)
            print_slides(design, finding);
    }
    if (results->findings->len > LISTED_MAX)
        printf(_("       … and %" PRIu64 " more; use --json to see all\n"),
               results->progress.found - LISTED_MAX);
    print_sums(design, results);
    if (results->findings->len && ((NwFoundAssembly *)results->findings->pdata[0])->drawn)
        printf(_("The first is the pieces as drawn. To make it the intended assembly: notch intend "
                 "DESIGN drawn\n"));
}

static void print_placements(const NwDesign *design, const NwFoundAssembly *finding) {
    for (int b = 0; b < finding->placement_count; b++) {
        char turn[NW_TURN_NAME_SIZE];
        char *name = nw_words_body(design, finding, b);
        const NwMotion *motion = &finding->placements[b].motion;
        nw_turn_name(motion->turn, turn);
        printf(_("  %c  %-16s turn %s  shift"), nw_layers_letter(b), name, turn);
        for (int axis = 0; axis < 3; axis++) {
            g_autofree char *number = nw_terminal_dup_number(nw_vec_get(motion->shift, axis));
            printf("%*s%s", (int)(4 - g_utf8_strlen(number, -1)), "", number);
        }
        printf("\n");
        g_free(name);
    }
}

void nw_report_way(const NwDesign *design, const NwFoundAssembly *finding) {
    int width = finding->slide_count > 99 ? 4 : 3;
    for (int i = 0; i < finding->slide_count; i++) {
        char *slide = nw_terminal_take(nw_words_slide(design, finding, &finding->slides[i]));
        printf("%*d. %s\n", width, i + 1, slide);
        g_free(slide);
    }
}

void nw_report_fewest(const NwFoundAssembly *finding) {
    if (finding->at_least && finding->at_least == finding->total)
        printf(_("Proved: no way out has fewer slides.\n"));
    else if (finding->at_least)
        printf(_("Another way out may have fewer slides, but none has fewer than %d. Use --tries N "
                 "to search longer.\n"),
               finding->at_least);
}

void nw_report_assembly(const NwDesign *design, const NwSearchResults *results, guint index) {
    const NwFoundAssembly *finding = results->findings->pdata[index];
    print_line(finding, nw_search_has_intended(results->search), index + 1, MEASURES_WIDTH);
    printf("\n");
    print_placements(design, finding);
    printf(_("\nLayers from z = 0 upwards; x points right, y up. Each cell shows its core in the "
             "middle and its\nfour corners around it; ' marks an upper corner.\n\n"));
    nw_layers_print(design, finding);
    switch (finding->verdict) {
    case NW_OPENS:
        printf(_("\nThe way out, one slide per line (read backwards, it is the way in):\n"));
        nw_report_way(design, finding);
        nw_report_fewest(finding);
        break;
    case NW_UNREACHABLE: {
        char *stuck = nw_words_bodies(design, finding, finding->stuck);
        printf(ngettext("\nIt fits, but no sequence of slides takes it apart: in %llu position, "
                        "nothing comes free of %s.\n",
                        "\nIt fits, but no sequence of slides takes it apart: in %llu positions, "
                        "nothing comes free of %s.\n",
                        (unsigned long)finding->states),
               finding->states, stuck);
        if (finding->slide_count) {
            printf(_("Found so far:\n"));
            nw_report_way(design, finding);
        }
        g_free(stuck);
        break;
    }
    case NW_UNDECIDED:
        printf(ngettext("\nUndecided after %llu position; allow more with --states N.\n",
                        "\nUndecided after %llu positions; allow more with --states N.\n",
                        (unsigned long)finding->states),
               finding->states);
        break;
    default:
        printf(_("\nIts slides were not searched.\n"));
    }
}
