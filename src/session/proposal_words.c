#include "session/proposal_words.h"

#include <glib/gi18n.h>

#include "session/search_import.h"
#include "text/part_words.h"

static const char *name_of(const NwDesign *design, int piece) {
    return design->pieces[piece].name;
}

/* ---- changes ----------------------------------------------------------------------------- */

static char *change_words(const NwDesign *design, const NwChange *change, int axis) {
    char *part = nw_part_place_words(axis, change->part);
    char *words = NULL;
    switch (nw_change_kind(change)) {
    case NW_CHANGE_GIVE:
        /* Translators: the first is a part, the second the name of a piece */
        words = g_strdup_printf(_("Add %s to %s"), part, name_of(design, change->to));
        break;
    case NW_CHANGE_TAKE:
        words = g_strdup_printf(_("Remove %s from %s"), part, name_of(design, change->from));
        break;
    case NW_CHANGE_HAND:
        words = g_strdup_printf(_("Move %s from %s to %s"), part, name_of(design, change->from),
                                name_of(design, change->to));
        break;
    }
    g_free(part);
    return words;
}

char *nw_proposal_words_changes(const NwDesign *design, const NwChange *changes, int count,
                                int axis) {
    GString *lines = g_string_new(NULL);
    for (int i = 0; i < count; i++) {
        char *words = change_words(design, &changes[i], axis);
        g_string_append_printf(lines, "%s%s", i ? "\n" : "", words);
        g_free(words);
    }
    return g_string_free(lines, FALSE);
}

/* ---- a candidate ------------------------------------------------------------------------- */

char *nw_proposal_words_front(const NwFront *front) {
    static const char *const stages[NW_FRONT_COUNT] = {
        [NW_FRONT_FITS] = N_("does the intended assembly still fit"),
        [NW_FRONT_MARKS] = N_("looking for joints by a single face and sharp tips"),
        [NW_FRONT_OPENS] = N_("does the intended assembly still come apart"),
        [NW_FRONT_KILLS] = N_("is the cook gone"),
        [NW_FRONT_PROVED] = N_("searching the changed design"),
    };
    const char *stage = _(stages[front->stage]);
    /* Translators: what is being done, and how much of it is done */
    return front->share > 0 ? g_strdup_printf(_("%s, %.0f %%"), stage, 100 * front->share)
                            : g_strdup(stage);
}

/* ---- kills ------------------------------------------------------------------------------- */

static char *clash_words(const NwDesign *design, const NwKill *kill) {
    switch (kill->conflict.kind) {
    case NW_CONFLICT_OUTSIDE:
        return g_strdup(
            _("No longer fits: in the cook the part would reach out of the outside shape."));
    case NW_CONFLICT_OVERLAP:
        return g_strdup_printf(_("No longer fits: in the cook the part would lie in piece %s."),
                               name_of(design, kill->cook->placements[kill->conflict.other].piece));
    case NW_CONFLICT_HOLE:
        return g_strdup(_("No longer fits: in the cook it would leave a hole that nothing fills."));
    case NW_CONFLICT_ODD:
        return g_strdup(_("No longer fits: in the cook this piece must have whole cells only."));
    case NW_CONFLICT_NONE:
        break;
    }
    return g_strdup(_("No longer fits."));
}

char *nw_proposal_words_kill(NwProposalItem *advice, const NwKill *kill) {
    if (kill->fate == NW_FATE_BLOCKED)
        return g_strdup(_("Still fits, but its way out is blocked."));
    if (kill->fate == NW_FATE_MERGED)
        return g_strdup(_("It becomes the same as the intended assembly."));
    return clash_words(nw_proposal_item_get_before(advice), kill);
}

char *nw_proposal_words_cook(NwSearchSession *session, guint64 key) {
    guint number = nw_search_session_number_of(session, key);
    return number ? g_strdup_printf(_("Cook %u"), number) : g_strdup(_("A cook"));
}

/* ---- figures ----------------------------------------------------------------------------- */

char *nw_proposal_words_left(const NwProposalFacts *facts) {
    if (!facts->cooks_left && !facts->undecided)
        return g_strdup(_("No cook left"));
    char *cooks = g_strdup_printf(
        ngettext("%zu cook left", "%zu cooks left", (unsigned long)facts->cooks_left),
        facts->cooks_left);
    if (!facts->undecided)
        return cooks;
    char *words = g_strdup_printf(_("%s, %zu undecided"), cooks, facts->undecided);
    g_free(cooks);
    return words;
}

char *nw_proposal_words_level(const NwProposalFacts *facts) {
    if (!facts->total_before)
        return g_strdup_printf(ngettext("Level %d, %d slide in all; before, it did not come apart",
                                        "Level %d, %d slides in all; before, it did not come apart",
                                        (unsigned long)facts->total),
                               facts->level, facts->total);
    /* Translators: the level before and after, then the number of slides before and after */
    return g_strdup_printf(_("Level %d → %d, slides %d → %d"), facts->level_before, facts->level,
                           facts->total_before, facts->total);
}

static void add_line(GString *lines, char *line) {
    g_string_append_printf(lines, "%s%s", lines->len ? "\n" : "", line);
    g_free(line);
}

char *nw_proposal_words_marks(const NwProposalFacts *facts) {
    GString *lines = g_string_new(NULL);
    if (facts->new_assemblies)
        add_line(lines, g_strdup_printf(ngettext("%zu new assembly", "%zu new assemblies",
                                                 (unsigned long)facts->new_assemblies),
                                        facts->new_assemblies));
    if (facts->hangs)
        add_line(lines, g_strdup_printf(ngettext("%zu more joint by a single face",
                                                 "%zu more joints by a single face",
                                                 (unsigned long)facts->hangs),
                                        facts->hangs));
    if (facts->tips)
        add_line(lines, g_strdup_printf(ngettext("%zu more exposed sharp tip",
                                                 "%zu more exposed sharp tips",
                                                 (unsigned long)facts->tips),
                                        facts->tips));
    gboolean any = lines->len > 0;
    char *words = g_string_free(lines, !any);
    return any ? words : NULL;
}

char *nw_proposal_words_proof(const NwProposalFacts *facts) {
    if (!facts->proved)
        return g_strdup(_("Not proved: the search for slides reached its limit"));
    if (!facts->searched)
        return g_strdup(_("Proved: it can bring no new assembly, and all known ones were tried"));
    return g_strdup_printf(ngettext("Proved by a full search: %zu assembly",
                                    "Proved by a full search: %zu assemblies",
                                    (unsigned long)facts->searched),
                           facts->searched);
}

/* ---- near misses ------------------------------------------------------------------------- */

char *nw_proposal_words_miss(const NwDesign *design, const NwMiss *miss) {
    switch (miss->reason) {
    case NW_MISS_LUMPS:
        return g_strdup_printf(_("Piece %s would be in separate bits."),
                               name_of(design, miss->piece));
    case NW_MISS_STUCK:
        return g_strdup(_("The intended assembly would be stuck."));
    case NW_MISS_UNDECIDED:
        return g_strdup(_("Whether the intended assembly still comes apart is undecided."));
    case NW_MISS_NEW_COOK:
        return g_strdup(_("There would be a new cook."));
    default:
        return g_strdup(_("The cook would stay."));
    }
}

char *nw_proposal_words_missed(NwMissReason reason, gsize count) {
    unsigned long plural = (unsigned long)count;
    switch (reason) {
    case NW_MISS_COOK_STAYS:
        return g_strdup_printf(ngettext("%zu leaves the cook", "%zu leave the cook", plural),
                               count);
    case NW_MISS_LUMPS:
        return g_strdup_printf(ngettext("%zu splits a piece", "%zu split a piece", plural), count);
    case NW_MISS_STUCK:
        return g_strdup_printf(
            ngettext("%zu locks the intended assembly", "%zu lock the intended assembly", plural),
            count);
    case NW_MISS_UNDECIDED:
        return g_strdup_printf(ngettext("%zu is undecided", "%zu are undecided", plural), count);
    default:
        return g_strdup_printf(ngettext("%zu brings a new cook", "%zu bring a new cook", plural),
                               count);
    }
}
