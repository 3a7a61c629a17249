#include <glib/gi18n.h>
#include <inttypes.h>
#include <stdio.h>

#include "cli/advice.h"
#include "cli/terminal.h"
#include "cook/conflict.h"

enum { LISTED_MAX = 10 };

static const char *name_of(const NwBaseline *baseline, int piece) {
    return baseline->design->pieces[piece].name;
}

/* "give corner 3 of cell 1 3 1 to D". */
static char *change_words(const NwBaseline *baseline, const NwChange *change) {
    char *part = nw_advice_part(change->part), *words;
    switch (nw_change_kind(change)) {
    case NW_CHANGE_GIVE:
        words = g_strdup_printf(_("add %s to %s"), part, name_of(baseline, change->to));
        break;
    case NW_CHANGE_TAKE:
        words = g_strdup_printf(_("remove %s from %s"), part, name_of(baseline, change->from));
        break;
    default:
        words = g_strdup_printf(_("move %s from %s to %s"), part, name_of(baseline, change->from),
                                name_of(baseline, change->to));
    }
    g_free(part);
    return words;
}

static char *changes_words(const NwBaseline *baseline, const NwChange *changes, int count) {
    char *first = change_words(baseline, &changes[0]);
    if (count == 1)
        return first;
    char *second = change_words(baseline, &changes[1]);
    char *both = g_strdup_printf(_("%s, and %s"), first, second);
    g_free(first);
    g_free(second);
    return both;
}

void nw_advice_print_question(NwAdvisor *advisor, long target) {
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    const NwKnown *intended = &baseline->known[baseline->intended];
    printf("%s%s%s: ", nw_tint(stdout, NW_BOLD), baseline->design->name, nw_tint(stdout, NW_PLAIN));
    printf(ngettext("%zu cook", "%zu cooks", (unsigned long)baseline->cooks), baseline->cooks);
    if (intended->opens == NW_OK)
        printf(_("; the intended assembly has level %d"), intended->level);
    else
        printf(_("; the intended assembly does not come apart"));
    printf(".\n");
    if (target >= 0)
        printf(_("Looking for changes that remove assembly %u (%016" PRIx64 ").\n"),
               nw_advice_number(baseline, (size_t)target), baseline->known[target].key);
}

/* Why one cook is gone. */
static char *reason_words(const NwBaseline *baseline, const NwProposal *proposal, size_t known) {
    NwFate fate = proposal->outcome.fates[known];
    if (fate == NW_FATE_BLOCKED)
        return g_strdup(_("still fits, but cannot be reached any more"));
    if (fate == NW_FATE_MERGED)
        return g_strdup(_("becomes the same as the intended assembly"));
    NwConflict conflict =
        nw_conflict_find(baseline, proposal->design, proposal->changes, proposal->count, known);
    char *part = nw_advice_part(conflict.part), *words;
    switch (conflict.kind) {
    case NW_CONFLICT_OUTSIDE:
        words = g_strdup_printf(_("no longer fits: the part would be outside, at %s"), part);
        break;
    case NW_CONFLICT_OVERLAP:
        words = g_strdup_printf(
            _("no longer fits: the part would be in piece %s, at %s"),
            name_of(baseline, baseline->known[known].placements[conflict.other].piece), part);
        break;
    case NW_CONFLICT_HOLE:
        words = g_strdup_printf(_("no longer fits: it would leave a hole, %s"), part);
        break;
    case NW_CONFLICT_ODD:
        words = g_strdup(_("no longer fits: a piece with cut cells cannot stand there"));
        break;
    default:
        words = g_strdup(_("no longer fits"));
    }
    g_free(part);
    return words;
}

static void print_reasons(const NwBaseline *baseline, const NwProposal *proposal) {
    int listed = 0;
    for (size_t i = 0; i < baseline->known_count; i++) {
        if (!nw_baseline_is_cook(baseline, i) || proposal->outcome.fates[i] > NW_FATE_BLOCKED)
            continue;
        if (listed++ == LISTED_MAX) {
            printf(_("       … and more; use --json to see all\n"));
            return;
        }
        char *reason = reason_words(baseline, proposal, i);
        printf(_("       assembly %u %s\n"), nw_advice_number(baseline, i), reason);
        g_free(reason);
    }
}

void nw_advice_print_proposal(NwAdvisor *advisor, const NwProposal *proposal, guint rank) {
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    const NwOutcome *outcome = &proposal->outcome;
    int level, total;
    nw_advisor_before(advisor, &level, &total);
    char *changes = changes_words(baseline, proposal->changes, proposal->count);
    printf("%5u  %s%s%s\n", rank, nw_tint(stdout, outcome->cooks ? NW_BOLD : NW_GOOD), changes,
           nw_tint(stdout, NW_PLAIN));
    g_free(changes);
    print_reasons(baseline, proposal);
    printf("       ");
    if (outcome->cooks)
        printf(ngettext("%zu cook left", "%zu cooks left", (unsigned long)outcome->cooks),
               outcome->cooks);
    else
        printf(_("no cook left"));
    if (outcome->new_cooks)
        printf(_(", %zu of them new"), outcome->new_cooks);
    printf("; ");
    printf(ngettext("level %d, %d slide", "level %d, %d slides", (unsigned long)outcome->total),
           outcome->level, outcome->total);
    if (outcome->level != level || outcome->total != total)
        printf(_(" (before: %d, %d)"), level, total);
    if (proposal->rank.hangs)
        printf(_("; a new joint by a single face"));
    if (proposal->rank.tips)
        printf(_("; a new exposed sharp tip"));
    printf("; %s\n", proposal->proved ? _("proved") : _("not proved: some assembly is undecided"));
}

static void print_misses(NwAdvisor *advisor) {
    static const char *const broke[NW_MISS_COUNT] = {
        [NW_MISS_LUMPS] = N_("would be in separate bits"),
        [NW_MISS_STUCK] = N_("the intended assembly would be stuck"),
        [NW_MISS_UNDECIDED] = N_("whether it comes apart is undecided"),
        [NW_MISS_NEW_COOK] = N_("would bring a new cook"),
    };
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    size_t count;
    const NwMiss *misses = nw_advisor_misses(advisor, &count);
    if (count)
        printf(_("Near misses:\n"));
    for (size_t i = 0; i < count && i < LISTED_MAX; i++) {
        char *changes = changes_words(baseline, misses[i].changes, misses[i].count);
        if (misses[i].reason == NW_MISS_LUMPS)
            printf("       %s: %s %s\n", changes, name_of(baseline, misses[i].piece),
                   _(broke[misses[i].reason]));
        else
            printf("       %s: %s\n", changes, _(broke[misses[i].reason]));
        g_free(changes);
    }
    if (count > LISTED_MAX)
        printf(_("       … and %zu more; use --json to see all\n"), count - LISTED_MAX);
}

void nw_advice_print_going_on(NwAdvisor *advisor, guint proposals) {
    NwAdvisorProgress progress;
    nw_advisor_progress(advisor, &progress);
    size_t settled = progress.settled[1] + progress.settled[2];
    printf(ngettext("Resuming (%zu change tried, ", "Resuming (%zu changes tried, ",
                    (unsigned long)settled),
           settled);
    printf(ngettext("%u proposal so far).\n", "%u proposals so far).\n", proposals), proposals);
}

static char *dup_single_changes(size_t count) {
    return g_strdup_printf(
        ngettext("%zu single change", "%zu single changes", (unsigned long)count), count);
}

static char *dup_pairs(size_t count) {
    return g_strdup_printf(ngettext("%zu pair", "%zu pairs", (unsigned long)count), count);
}

void nw_advice_print_sums(NwAdvisor *advisor, gboolean complete, guint proposals) {
    NwAdvisorProgress progress;
    nw_advisor_progress(advisor, &progress);
    if (!proposals)
        print_misses(advisor);
    g_autofree char *single = dup_single_changes(progress.tried[1]);
    g_autofree char *pairs = dup_pairs(progress.tried[2]);
    if (!complete && !progress.tried[2]) {
        /* Translators: so many of "12 single changes" */
        printf(_("Stopped: %zu of %s tried.\n"), progress.settled[1], single);
        return;
    }
    if (!complete) {
        /* Translators: so many of "12 single changes" and so many of "66 pairs" */
        printf(_("Stopped: %zu of %s and %zu of %s tried.\n"), progress.settled[1], single,
               progress.settled[2], pairs);
        return;
    }
    g_autofree char *tried =
        progress.changes > 1 ? g_strdup_printf(_("%s and %s"), single, pairs) : g_strdup(single);
    /* Translators: "12 single changes", or "12 single changes and 66 pairs" */
    printf(proposals ? _("Complete: %s tried.\n")
                     : _("None of the %s removes it; this is proved.\n"),
           tried);
}

void nw_advice_print_part(const NwBaseline *baseline, NwPart part, const NwExplain *explain,
                          int level, int total) {
    const NwExplanation *told = nw_explain_get(explain);
    const NwOutcome *outcome = &told->outcome;
    char *words = nw_advice_part(part);
    printf(_("%s%s%s of piece %s"), nw_tint(stdout, NW_BOLD), words, nw_tint(stdout, NW_PLAIN),
           name_of(baseline, told->piece));
    g_free(words);
    if (!told->holds) {
        printf(_(" holds its piece together: without it the piece would be in separate bits.\n"));
        return;
    }
    printf(_(", if removed:\n"));
    for (size_t i = 0; i < baseline->known_count; i++)
        if (nw_explain_revives(baseline, told, i))
            printf(_("  assembly %u (%016" PRIx64 "), which is unreachable now, would be a cook\n"),
                   nw_advice_number(baseline, i), baseline->known[i].key);
    if (outcome->new_cooks)
        printf(ngettext("  %zu new cook would come\n", "  %zu new cooks would come\n",
                        (unsigned long)outcome->new_cooks),
               outcome->new_cooks);
    if (!told->revived && !outcome->new_cooks)
        printf(_("  there would be no new cook\n"));
    if (outcome->opens == NW_OK)
        printf(ngettext("  the intended assembly would have level %d, %d slide (now %d, %d)\n",
                        "  the intended assembly would have level %d, %d slides (now %d, %d)\n",
                        (unsigned long)outcome->total),
               outcome->level, outcome->total, level, total);
    else
        printf(_("  the intended assembly would still not come apart\n"));
    if (told->idle)
        printf(told->may_be_empty
                   ? _("It does nothing, and can be removed.\n")
                   : _("It does nothing; allow its place to stay empty, then remove it.\n"));
}
