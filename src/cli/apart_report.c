#include "cli/apart_report.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "cli/json_line.h"
#include "cli/report.h"
#include "cli/search_json.h"
#include "cli/terminal.h"
#include "slide/levels.h"
#include "text/words.h"

/* ---- progress ---------------------------------------------------------------------------- */

static char *dup_seen(const NwTakeApartProgress *progress) {
    return g_strdup_printf(
        ngettext("%llu position seen", "%llu positions seen", (unsigned long)progress->states),
        progress->states);
}

void nw_apart_report_line(const NwTakeApartProgress *progress, const NwFoundAssembly *finding) {
    g_autofree char *seen = dup_seen(progress);
    g_autofree char *deep =
        g_strdup_printf(ngettext("%d slide deep", "%d slides deep", (unsigned long)progress->depth),
                        progress->depth);
    g_autofree char *apart = g_strdup_printf(ngettext("%d separation found", "%d separations found",
                                                      (unsigned long)progress->separations),
                                             progress->separations);
    g_autofree char *total = finding->at_least ? nw_report_dup_total(finding) : NULL;
    g_autofree char *line = total ? g_strdup_printf("%s · %s", seen, total)
                                  : g_strdup_printf("%s · %s · %s", seen, deep, apart);
    nw_status_line(line);
}

void nw_apart_report_event(const NwTakeApartProgress *progress, const NwFoundAssembly *finding) {
    JsonBuilder *builder = nw_json_line_begin("progress");
    nw_json_line_int(builder, "positions", (gint64)progress->states);
    nw_json_line_int(builder, "depth", progress->depth);
    nw_json_line_int(builder, "separations", progress->separations);
    if (finding->at_least)
        nw_search_json_add_total(builder, finding);
    nw_json_line_end(builder);
}

/* ---- for a person ------------------------------------------------------------------------ */

static char *dup_subject(const char *which) {
    if (g_str_equal(which, "intended"))
        return g_strdup(_("the intended assembly"));
    if (g_str_equal(which, "drawn"))
        return g_strdup(_("the pieces as drawn"));
    if (g_str_equal(which, "given"))
        return g_strdup(_("the given assembly"));
    return g_strdup_printf(_("assembly %s"), which);
}

static void print_end(const NwApartReport *report) {
    const NwFoundAssembly *finding = report->finding;
    g_autofree char *seen = dup_seen(&report->progress);
    g_autofree char *seconds = nw_words_seconds(report->seconds);
    if (finding->verdict == NW_OPENS) {
        NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
        g_autofree char *list = nw_terminal_take(nw_words_levels(&levels));
        g_autofree char *total = nw_report_dup_total(finding);
        printf(_("%sComes apart: %s%s, %s (%s in %s).\n"), nw_tint(stdout, NW_GOOD), list,
               nw_tint(stdout, NW_PLAIN), total, seen, seconds);
    } else if (finding->verdict == NW_UNREACHABLE) {
        g_autofree char *stuck = nw_words_bodies(report->design, finding, finding->stuck);
        printf(_("%sLocked%s: nothing comes free of %s (%s in %s, and there are no others).\n"),
               nw_tint(stdout, NW_WARNING), nw_tint(stdout, NW_PLAIN), stuck, seen, seconds);
    } else if (finding->verdict == NW_UNDECIDED) {
        printf(_("Undecided: %s in %s, which is the limit. Allow more with --states N.\n"), seen,
               seconds);
    } else {
        printf(_("Not known yet: stopped after %s with %s.\n"), seconds, seen);
    }
}

void nw_apart_report_text(const NwApartReport *report) {
    g_autofree char *subject = dup_subject(report->which);
    const NwFoundAssembly *finding = report->finding;
    printf("%s%s%s: ", nw_tint(stdout, NW_BOLD), report->design->name, nw_tint(stdout, NW_PLAIN));
    printf(ngettext("%s, %d piece, checked part by part.\n",
                    "%s, %d pieces, checked part by part.\n",
                    (unsigned long)finding->placement_count),
           subject, finding->placement_count);
    print_end(report);
    if (finding->verdict != NW_OPENS && finding->slide_count)
        printf(_("Found so far:\n"));
    nw_report_way(report->design, finding);
    if (report->stopped && finding->verdict == NW_OPENS)
        printf(
            _("Another way out may have fewer slides, but none has fewer than %d: the search was "
              "stopped.\n"),
            finding->at_least);
    else
        nw_report_fewest(finding);
}

/* ---- for a program ----------------------------------------------------------------------- */

/* What nothing comes free of, by its place among the placements. */
static void add_stuck(JsonBuilder *builder, const NwFoundAssembly *finding) {
    json_builder_set_member_name(builder, "stuck");
    json_builder_begin_array(builder);
    for (int body = 0; body < finding->placement_count; body++)
        if (finding->stuck >> body & 1)
            json_builder_add_int_value(builder, body);
    json_builder_end_array(builder);
}

void nw_apart_report_json(const NwApartReport *report) {
    const NwFoundAssembly *finding = report->finding;
    NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
    JsonBuilder *builder = nw_json_line_begin("apart");
    nw_json_line_string(builder, "assembly", report->which);
    nw_json_line_string(
        builder, "status",
        nw_verdict_name(finding->verdict == NW_UNEXAMINED ? NW_UNDECIDED : finding->verdict));
    nw_json_line_boolean(builder, "stopped", report->stopped);
    nw_json_line_int(builder, "positions", (gint64)report->progress.states);
    nw_json_line_double(builder, "seconds", report->seconds);
    if (finding->verdict == NW_OPENS) {
        nw_json_line_ints(builder, "levels", levels.slides, levels.count);
        nw_search_json_add_total(builder, finding);
    }
    nw_search_json_add_placements(builder, finding);
    nw_search_json_add_way_out(builder, report->design, finding);
    if (finding->verdict == NW_UNREACHABLE)
        add_stuck(builder, finding);
    nw_json_line_end(builder);
}
