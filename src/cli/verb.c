#include "cli/verb.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "cli/terminal.h"

void nw_complain(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    char *message = nw_terminal_take(g_strdup_vprintf(format, arguments));
    va_end(arguments);
    fprintf(stderr, "notch: %s\n", message);
    g_free(message);
}

NwExit nw_give_up(GError *error, NwExit exit) {
    nw_complain("%s", error->message);
    g_error_free(error);
    return exit;
}

gboolean nw_verb_parse(int *argc, char ***argv, const GOptionEntry *options, const char *usage,
                       const char *about, int least, int most) {
    const char *verb = (*argv)[0];
    char *parameters = g_strdup_printf("%s %s", verb, usage);
    GOptionContext *context = g_option_context_new(usage);
    g_option_context_set_summary(context, about);
    if (options)
        g_option_context_add_main_entries(context, options, NULL);
    char *program = g_strdup_printf("notch %s", verb);
    g_set_prgname(program);
    GError *error = NULL;
    gboolean parsed = g_option_context_parse(context, argc, argv, &error);
    if (!parsed) {
        nw_complain(_("%s; see “notch %s --help”"), error->message, verb);
        g_error_free(error);
    } else if (*argc - 1 < least || (most >= 0 && *argc - 1 > most)) {
        nw_complain(_("usage: notch %s; see “notch %s --help”"), parameters, verb);
        parsed = FALSE;
    }
    g_free(program);
    g_free(parameters);
    g_option_context_free(context);
    return parsed;
}

GOptionEntry nw_entry_fewest(gboolean *fewest) {
    return (GOptionEntry){
        "fewest", 0, 0, G_OPTION_ARG_NONE, fewest, N_("Find the fewest slides in all, exactly"),
        NULL};
}

GOptionEntry nw_entry_tries(gint64 *tries) {
    return (GOptionEntry){
        "tries", 0,
        0,       G_OPTION_ARG_INT64,
        tries,   N_("With --fewest, try at most N sets of pieces (default: 5000000)"),
        N_("N")};
}
