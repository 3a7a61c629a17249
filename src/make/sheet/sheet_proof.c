/* What a sheet may claim, and how it words it. Declared in sheet.h and sheet_proof.h. */
#include "make/sheet/sheet_proof.h"

#include <glib/gi18n.h>
#include <inttypes.h>

guint64 nw_sheet_others(const NwSheetProof *proof) {
    return proof->opening - (proof->answer_opens && proof->opening ? 1 : 0);
}

char *nw_sheet_dup_refusal(const NwSheet *sheet) {
    const NwSheetProof *proof = &sheet->proof;
    guint64 open = proof->undecided + proof->unexamined, others = nw_sheet_others(proof);
    if (!proof->answer_opens)
        return g_strdup(proof->has_intended
                            ? _("no slides are known that put the intended assembly together, so "
                                "there is no answer to give; look at it with “notch show”")
                        : proof->complete
                            ? _("no assembly can be put together by slides, so there is no answer "
                                "to give; change the design")
                            : _("the search was stopped before it found an assembly that can be "
                                "put together, so there is no answer to give; let it go on"));
    if (!sheet->claims_only)
        return NULL;
    if (others)
        return g_strdup_printf(ngettext("the sheet would claim one answer, but %" PRIu64
                                        " other assembly can be put together too",
                                        "the sheet would claim one answer, but %" PRIu64
                                        " other assemblies can be put together too",
                                        (gulong)others),
                               others);
    if (!proof->complete)
        return g_strdup(_("the sheet would say that there is one answer, but the search is not "
                          "complete; let it go on to its end"));
    if (open)
        return g_strdup_printf(
            ngettext("the sheet would say that there is one answer, but for %" PRIu64
                     " assembly it is not known whether it can be put together",
                     "the sheet would say that there is one answer, but for %" PRIu64
                     " assemblies it is not known whether they can be put together",
                     (gulong)open),
            open);
    return NULL;
}

static void add(GString *text, const char *format, ...) G_GNUC_PRINTF(2, 3);
static void add(GString *text, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    if (text->len)
        g_string_append_c(text, ' ');
    g_string_append_vprintf(text, format, arguments);
    va_end(arguments);
}

char *nw_sheet_dup_proof(const NwSheet *sheet) {
    const NwSheetProof *proof = &sheet->proof;
    GString *text = g_string_new(NULL);
    guint64 open = proof->undecided + proof->unexamined;
    if (proof->complete)
        add(text,
            ngettext("%" PRIu64 " assembly of these pieces fits.",
                     "%" PRIu64 " assemblies of these pieces fit.", (gulong)proof->fitting),
            proof->fitting);
    else
        add(text, _("The search is not complete; so far it has found %" PRIu64 "."),
            proof->fitting);
    add(text,
        ngettext("%" PRIu64 " of them can be put together by slides.",
                 "%" PRIu64 " of them can be put together by slides.", (gulong)proof->opening),
        proof->opening);
    if (proof->unreachable)
        add(text,
            ngettext("%" PRIu64 " is proved to be unreachable.",
                     "%" PRIu64 " are proved to be unreachable.", (gulong)proof->unreachable),
            proof->unreachable);
    if (open)
        add(text, ngettext("%" PRIu64 " is undecided.", "%" PRIu64 " is undecided.", (gulong)open),
            open);
    if (sheet->claims_only && proof->complete && !open && !nw_sheet_others(proof))
        add(text, _("So the answer above is the only one."));
    add(text, proof->mirrors
                  ? _("Assemblies that differ by a turn of the whole or a reflection count as one.")
                  : _("Assemblies that differ by a turn of the whole count as one."));
    char levels[NW_LEVELS_TEXT_SIZE];
    nw_levels_text(&proof->levels, levels);
    add(text,
        ngettext("The answer as it is given here takes %d slide.",
                 "The answer as it is given here takes %d slides.", (gulong)proof->total),
        proof->total);
    /* Translators: a list such as 1·4·1·5 */
    add(text, _("Taken apart, the slides to each separation in order are %s."), levels);
    return g_string_free(text, FALSE);
}
