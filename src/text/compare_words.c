#include "text/compare_words.h"

#include <glib/gi18n.h>
#include <stdlib.h>

#include "design/compare.h"

static void say(GPtrArray *lines, char *line) {
    g_ptr_array_add(lines, line);
}

static gulong parts_of(const NwSolid *solid) {
    return solid ? (gulong)nw_solid_parts(solid) : 0;
}

static char *dup_parts(gulong parts) {
    return g_strdup_printf(ngettext("%lu part", "%lu parts", parts), parts);
}

/* Says a loss, a gain or both, in one of three sentences; nothing if there is neither. The first
 * %s of each is `who`, which may be NULL for sentences that name nobody. */
static void say_exchange(GPtrArray *lines, const NwSolid *lost, const NwSolid *won,
                         char *(*sentence)(const char *who, const char *lost, const char *won),
                         const char *who) {
    char *fewer = parts_of(lost) ? dup_parts(parts_of(lost)) : NULL;
    char *more = parts_of(won) ? dup_parts(parts_of(won)) : NULL;
    if (fewer || more)
        say(lines, sentence(who, fewer, more));
    g_free(fewer);
    g_free(more);
}

static char *of_envelope(const char *who, const char *lost, const char *won) {
    (void)who;
    return !won    ? g_strdup_printf(_("The outside shape loses %s."), lost)
           : !lost ? g_strdup_printf(_("The outside shape gains %s."), won)
                   : g_strdup_printf(_("The outside shape loses %s and wins %s."), lost, won);
}

static char *of_empties(const char *who, const char *lost, const char *won) {
    (void)who;
    return !won ? g_strdup_printf(_("%s may no longer stay empty."), lost)
           : !lost
               ? g_strdup_printf(_("%s more may stay empty."), won)
               : g_strdup_printf(_("%s may no longer stay empty, and %s others may."), lost, won);
}

static char *of_piece(const char *who, const char *lost, const char *won) {
    return !won    ? g_strdup_printf(_("“%s” loses %s."), who, lost)
           : !lost ? g_strdup_printf(_("“%s” gains %s."), who, won)
                   : g_strdup_printf(_("“%s” loses %s and wins %s."), who, lost, won);
}

static void say_copies(GPtrArray *lines, const char *name, int change) {
    gulong count = (gulong)abs(change);
    if (change > 0)
        say(lines,
            g_strdup_printf(ngettext("“%s” has %lu copy more.", "“%s” has %lu copies more.", count),
                            name, count));
    if (change < 0)
        say(lines, g_strdup_printf(
                       ngettext("“%s” has %lu copy fewer.", "“%s” has %lu copies fewer.", count),
                       name, count));
}

static void say_piece(GPtrArray *lines, const NwDesign *before, const NwDesign *after,
                      const NwPieceChange *change) {
    const char *old = change->before < 0 ? NULL : before->pieces[change->before].name;
    const char *new = change->after < 0 ? NULL : after->pieces[change->after].name;
    if (!old || !new) {
        const NwPiece *piece =
            old ? &before->pieces[change->before] : &after->pieces[change->after];
        char *parts = dup_parts(parts_of(piece->solid));
        say(lines, old ? g_strdup_printf(_("“%s”, with %s, is gone."), old, parts)
                       : g_strdup_printf(_("“%s”, with %s, is new."), new, parts));
        g_free(parts);
        return;
    }
    if (change->renamed)
        say(lines, g_strdup_printf(_("“%s” is now called “%s”."), old, new));
    say_exchange(lines, change->lost, change->won, of_piece, new);
    say_copies(lines, new, change->copies_change);
    if (change->recoloured)
        say(lines, g_strdup_printf(_("“%s” has another colour."), new));
    if (change->reordered)
        say(lines, g_strdup_printf(_("“%s” has moved in the list."), new));
}

static void say_moved(GPtrArray *lines, const NwDesign *before, const NwDesign *after,
                      const NwPartsMoved *moved) {
    gulong parts = parts_of(moved->parts);
    say(lines,
        g_strdup_printf(
            ngettext("%lu part goes from “%s” to “%s”.", "%lu parts go from “%s” to “%s”.", parts),
            parts, before->pieces[moved->before].name, after->pieces[moved->after].name));
}

static void say_all(GPtrArray *lines, const NwDesign *before, const NwDesign *after,
                    const NwComparison *comparison) {
    if (comparison->same)
        say(lines, g_strdup(_("These versions are the same.")));
    if (comparison->renamed)
        say(lines, g_strdup_printf(_("The design was called “%s” and is now called “%s”."),
                                   before->name, after->name));
    say_exchange(lines, comparison->envelope_lost, comparison->envelope_won, of_envelope, NULL);
    say_exchange(lines, comparison->empty_lost, comparison->empty_won, of_empties, NULL);
    for (size_t i = 0; i < comparison->piece_count; i++)
        say_piece(lines, before, after, &comparison->pieces[i]);
    for (size_t i = 0; i < comparison->moved_count; i++)
        say_moved(lines, before, after, &comparison->moved[i]);
    if (comparison->intended_changed && (before->intended_count || after->intended_count))
        say(lines, g_strdup(_("Another assembly is intended.")));
    if (comparison->mirrors_changed)
        say(lines, after->mirrors_together
                       ? g_strdup(_("Mirror images now count as one assembly."))
                       : g_strdup(_("Mirror images now count as two assemblies.")));
}

char *nw_compare_words(const NwDesign *before, const NwDesign *after) {
    NwComparison *comparison;
    if (nw_compare(before, after, &comparison) != NW_OK)
        return g_strdup(_("These versions cannot be compared."));
    GPtrArray *lines = g_ptr_array_new_with_free_func(g_free);
    say_all(lines, before, after, comparison);
    g_ptr_array_add(lines, NULL);
    char *text = g_strjoinv("\n", (char **)lines->pdata);
    g_ptr_array_unref(lines);
    nw_comparison_free(comparison);
    return text;
}
