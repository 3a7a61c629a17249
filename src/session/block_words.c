#include "session/block_words.h"

#include <glib/gi18n.h>

#include "session/proposal_words.h"

/* ---- how far ----------------------------------------------------------------------------- */

static char *working_words(const NwAdvisorProgress *progress) {
    switch (progress->changes) {
    case 0:
        return g_strdup(_("Searching the design as it is"));
    case 1:
        return g_strdup_printf(_("Checking single changes: %zu of %zu done"), progress->settled[1],
                               progress->tried[1]);
    default:
        return g_strdup_printf(_("Being checked: pairs of changes, %zu of %zu settled"),
                               progress->settled[2], progress->tried[2]);
    }
}

/* What was looked through without leaving anything out. */
static char *bounds_words(const NwAdvisorProgress *progress) {
    char *single = g_strdup_printf(
        ngettext("%zu single change", "%zu single changes", (unsigned long)progress->tried[1]),
        progress->tried[1]);
    if (progress->changes < 2)
        return single;
    char *pairs = g_strdup_printf(
        ngettext("%zu pair", "%zu pairs", (unsigned long)progress->tried[2]), progress->tried[2]);
    char *words = g_strdup_printf(_("%s and %s"), single, pairs);
    g_free(single);
    g_free(pairs);
    return words;
}

static char *done_words(const NwAdvisorProgress *progress, guint proposals) {
    char *bounds = bounds_words(progress);
    char *words =
        proposals ? g_strdup_printf(ngettext("Complete: %u proposal. Nothing else among %s works.",
                                             "Complete: %u proposals. Nothing else among %s works.",
                                             proposals),
                                    proposals, bounds)
                  : g_strdup_printf(_("None of the %s works. This is proved."), bounds);
    g_free(bounds);
    return words;
}

static char *failed_words(NwStatus status) {
    switch (status) {
    case NW_EMPTY:
        return g_strdup(_("The search finds no such cook in this design."));
    case NW_NONE:
        return g_strdup(_("The design has no intended assembly. Make one the intended one first."));
    case NW_DOES_NOT_FIT:
        return g_strdup(_("The intended assembly does not fit. Correct the design first."));
    case NW_TOO_MANY:
        return g_strdup(_("The design has more pieces than can be searched for slides."));
    default:
        return g_strdup_printf(_("It cannot be searched: %s."), nw_status_text(status));
    }
}

static char *state_words(NwBlockSession *session) {
    NwAdvisorProgress progress;
    nw_block_session_get_progress(session, &progress);
    guint proposals = g_list_model_get_n_items(nw_block_session_get_list(session));
    switch (nw_block_session_get_state(session)) {
    case NW_BLOCK_SESSION_PREPARING:
        return g_strdup(_("Getting ready…"));
    case NW_BLOCK_SESSION_WORKING:
        return working_words(&progress);
    case NW_BLOCK_SESSION_PAUSED:
        return g_strdup_printf(ngettext("Paused after %u proposal. Resume looks for more.",
                                        "Paused after %u proposals. Resume looks for more.",
                                        proposals),
                               proposals);
    case NW_BLOCK_SESSION_STOPPED:
        return g_strdup(_("Stopped. There may be more proposals; Resume looks for them."));
    case NW_BLOCK_SESSION_DONE:
        return done_words(&progress, proposals);
    case NW_BLOCK_SESSION_FAILED:
        return failed_words(nw_block_session_get_status(session));
    default:
        return g_strdup("");
    }
}

char *nw_block_words_status(NwBlockSession *session) {
    const char *trouble = nw_block_session_get_trouble(session);
    char *state = state_words(session);
    if (!trouble)
        return state;
    /* Translators: the second is why */
    char *words = g_strdup_printf(_("%s\nProgress could not be saved: %s"), state, trouble);
    g_free(state);
    return words;
}

/* ---- near misses ------------------------------------------------------------------------- */

char *nw_block_words_missed(NwBlockSession *session) {
    static const NwMissReason reasons[] = {NW_MISS_LUMPS, NW_MISS_STUCK, NW_MISS_UNDECIDED,
                                           NW_MISS_NEW_COOK};
    NwAdvisorProgress progress;
    nw_block_session_get_progress(session, &progress);
    GString *words = g_string_new(NULL);
    for (gsize i = 0; i < G_N_ELEMENTS(reasons); i++) {
        if (!progress.missed[reasons[i]])
            continue;
        char *one = nw_proposal_words_missed(reasons[i], progress.missed[reasons[i]]);
        g_string_append_printf(words, "%s%s", words->len ? "\n" : "", one);
        g_free(one);
    }
    gboolean any = words->len > 0;
    char *text = g_string_free(words, !any);
    return any ? text : NULL;
}

char *nw_block_words_misses(NwBlockSession *session, const NwDesign *design, int axis, guint most) {
    const GArray *misses = nw_block_session_get_misses(session);
    GString *lines = g_string_new(NULL);
    for (guint i = 0; i < MIN(misses->len, most); i++) {
        const NwMiss *miss = &g_array_index(misses, NwMiss, i);
        char *changes = nw_proposal_words_changes(design, miss->changes, miss->count, axis);
        char *broke = nw_proposal_words_miss(design, miss);
        /* Translators: what was changed, then what broke */
        g_string_append_printf(lines, _("%s: %s"), changes, broke);
        g_string_append_c(lines, '\n');
        g_free(changes);
        g_free(broke);
    }
    if (misses->len > most)
        g_string_append_printf(lines, ngettext("and %u more", "and %u more", misses->len - most),
                               misses->len - most);
    return g_string_free(lines, FALSE);
}
