#include <glib/gi18n.h>
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/measure.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "format/replace_file.h"
#include "store/designs.h"
#include "store/trials.h"
#include "text/trial_words.h"
#ifdef NW_MAKING
#include "measure/chart.h"
#include "measure/times.h"
#endif

/* Options that only some actions use. */
typedef struct Wanted {
    char *store, *who, *when, *remark, *out, *measure;
    char *minutes; /* text, so that it is known whether it was given */
    gboolean gave_up, solved, colours, no_colours;
} Wanted;

static gboolean read_minutes(const char *text, double *minutes) {
    char *end;
    *minutes = g_ascii_strtod(text, &end);
    if (*text && !*end && isfinite(*minutes) && *minutes > 0)
        return TRUE;
    nw_complain(_("invalid minutes “%s”; use a number above 0, such as 12.5"), text);
    return FALSE;
}

static void replace(char **text, const char *by) {
    if (!by)
        return;
    g_free(*text);
    *text = g_strdup(by);
}

/* What the options say over what the trial says already. */
static gboolean read_trial(const Wanted *wanted, NwStoredTrial *trial, GError **error) {
    if ((wanted->gave_up && wanted->solved) || (wanted->colours && wanted->no_colours)) {
        nw_complain(
            _("use only one of --gave-up and --solved, and one of --colours and --no-colours"));
        return FALSE;
    }
    if ((wanted->when && !nw_trial_words_read_time(wanted->when, &trial->tried, error)) ||
        (wanted->minutes && !read_minutes(wanted->minutes, &trial->minutes)))
        return FALSE;
    replace(&trial->who, wanted->who);
    replace(&trial->remark, wanted->remark);
    trial->gave_up = wanted->gave_up || (trial->gave_up && !wanted->solved);
    trial->colours = wanted->colours || (trial->colours && !wanted->no_colours);
    if (trial->minutes > 0 || trial->gave_up)
        return TRUE;
    nw_complain(_("say how it ended: --minutes N, or --gave-up"));
    return FALSE;
}

static NwExit add(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, word, error);
    if (!entry)
        return NW_EXIT_USAGE;
    g_autoptr(NwStoredTrial) trial = g_new0(NwStoredTrial, 1);
    gint64 id;
    trial->design = entry->id;
    trial->who = g_strdup("");
    trial->remark = g_strdup("");
    trial->tried = g_get_real_time() / G_USEC_PER_SEC;
    trial->colours = TRUE;
    if (!read_trial(wanted, trial, error) || !nw_library_add_trial(library, trial, &id, error))
        return NW_EXIT_USAGE;
    printf(_("Added trial %" PRId64 " of “%s”.\n"), id, word);
    return NW_EXIT_COMPLETE;
}

static gboolean read_number(const char *word, gint64 *id) {
    char *end;
    *id = g_ascii_strtoll(word, &end, 10);
    if (g_ascii_isdigit(*word) && !*end && *id > 0)
        return TRUE;
    nw_complain(_("invalid trial number “%s”; see “notch trial list”"), word);
    return FALSE;
}

static NwExit edit(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    gint64 id;
    if (!read_number(word, &id))
        return NW_EXIT_USAGE;
    g_autoptr(NwStoredTrial) trial = nw_library_load_trial(library, id, error);
    if (!trial || !read_trial(wanted, trial, error) ||
        !nw_library_edit_trial(library, trial, error))
        return NW_EXIT_USAGE;
    return NW_EXIT_COMPLETE;
}

static NwExit take_out(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    (void)wanted;
    gint64 id;
    if (!read_number(word, &id))
        return NW_EXIT_USAGE;
    return nw_library_remove_trial(library, id, error) ? NW_EXIT_COMPLETE : NW_EXIT_USAGE;
}

/* The trials of the design named, or of all. */
static GPtrArray *load(NwLibrary *library, const char *word, GError **error) {
    gint64 design = 0;
    if (word) {
        g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, word, error);
        if (!entry)
            return NULL;
        design = entry->id;
    }
    return nw_library_list_trials(library, design, error);
}

static NwExit list(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    (void)wanted;
    g_autoptr(GPtrArray) trials = load(library, word, error);
    if (!trials)
        return NW_EXIT_USAGE;
    for (guint i = 0; i < trials->len; i++) {
        const NwStoredTrial *trial = trials->pdata[i];
        g_autofree char *when = nw_trial_words_time(trial->tried);
        g_autofree char *result = nw_trial_words_result(trial);
        printf("%5" PRId64 "  %s", trial->id, when);
        nw_print_column(trial->design_name, 24);
        nw_print_column(trial->who, 16);
        nw_print_column(result, 16);
        nw_print_column(trial->colours ? _("with colours") : _("without colours"), 15);
        printf("  %s\n", trial->remark);
    }
    if (!trials->len)
        printf(_("No trials yet; add one with “notch trial add NAME --minutes N”.\n"));
    return NW_EXIT_COMPLETE;
}

static NwExit write_out(const char *path, const char *bytes, gsize size) {
    g_autoptr(GError) error = NULL;
    if (nw_replace_file(path, bytes, size, &error))
        return NW_EXIT_COMPLETE;
    nw_complain(
        _("Could not save “%s” (%s): check that the folder exists, is writable and has room."),
        path, error->message);
    return NW_EXIT_FAILED;
}

static NwExit export(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    g_autoptr(GPtrArray) trials = load(library, word, error);
    if (!trials)
        return NW_EXIT_USAGE;
    g_autofree char *csv = nw_stored_trials_to_csv(trials);
    if (wanted->out)
        return write_out(wanted->out, csv, strlen(csv));
    fputs(csv, stdout);
    return NW_EXIT_COMPLETE;
}

#ifdef NW_MAKING
/* The measures of designs by their ids, NULL where one could not be measured, and the store to find
 * those of others in. */
typedef struct Known {
    GHashTable *measures;
    NwLibrary *library;
} Known;

/* A design is measured as it is now. */
static NwMeasures *measure_now(NwLibrary *library, const char *design) {
    NwMeasures *measures = g_new0(NwMeasures, 1);
    const NwMeasureRequest request = {
        .run.quiet = TRUE, .measuring = {.dives = NW_MEASURE_DIVES, .seed = NW_MEASURE_SEED}};
    NwSource source = {.library = library};
    g_autoptr(NwDesignEntry) entry = nw_library_find_design(library, design, NULL);
    source.version = entry ? entry->current_version : 0;
    source.design = entry ? nw_library_load_design(library, source.version, NULL) : NULL;
    NwExit exit = source.design ? nw_measure(&source, &request, measures) : NW_EXIT_FAILED;
    nw_design_free(source.design);
    if (exit != NW_EXIT_COMPLETE)
        g_clear_pointer(&measures, g_free);
    return measures;
}

static const NwMeasures *measures_of(const NwStoredTrial *trial, gpointer data) {
    const Known *known = data;
    gpointer found;
    if (g_hash_table_lookup_extended(known->measures, &trial->design, NULL, &found))
        return found;
    NwMeasures *measures = measure_now(known->library, trial->design_name);
    g_hash_table_insert(known->measures, g_memdup2(&trial->design, sizeof trial->design), measures);
    return measures;
}

static NwExit draw_plot(const NwTimes *times, NwMeasure measure, const char *path, GError **error) {
    const NwChart chart = {nw_measure_axis(measure), _("Trials"),
                           (const NwChartDot *)times->dots->data, times->dots->len};
    gboolean pdf = g_str_has_suffix(path, ".pdf");
    g_autoptr(GBytes) bytes = (pdf ? nw_chart_to_pdf : nw_chart_to_svg)(&chart, error);
    if (!bytes)
        return NW_EXIT_FAILED;
    gsize size;
    const char *data = g_bytes_get_data(bytes, &size);
    return write_out(path, data, size);
}

static NwExit plot_times(const NwTimes *times, NwMeasure measure, const char *path,
                         GError **error) {
    guint left_out = times->untimed + times->unmeasured;
    if (!times->dots->len) {
        nw_complain(_("there is nothing to plot: no trial with minutes is of a design that has "
                      "that measure"));
        return NW_EXIT_USAGE;
    }
    if (left_out)
        nw_complain(ngettext("%u trial left out: no time, or its design lacks this measure",
                             "%u trials left out: no time, or their designs lack this measure",
                             left_out),
                    left_out);
    return draw_plot(times, measure, path, error);
}

static NwExit plot(NwLibrary *library, const Wanted *wanted, const char *word, GError **error) {
    const char *name = wanted->measure ? wanted->measure : "total";
    NwMeasure measure = nw_measure_of_name(name);
    if (!wanted->out) {
        nw_complain(_("say where to write the plot: --out FILE.svg or FILE.pdf"));
        return NW_EXIT_USAGE;
    }
    if (measure == NW_MEASURE_COUNT) {
        g_autoptr(GString) names = g_string_new(NULL);
        for (int i = 0; i < NW_MEASURE_COUNT; i++)
            g_string_append_printf(names, "%s%s", i ? ", " : "", nw_measure_name((NwMeasure)i));
        nw_complain(_("unknown measure “%s”; use one of %s"), name, names->str);
        return NW_EXIT_USAGE;
    }
    g_autoptr(GPtrArray) trials = load(library, word, error);
    if (!trials)
        return NW_EXIT_USAGE;
    g_autoptr(GHashTable) measures =
        g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, g_free);
    Known known = {measures, library};
    NwTimes times;
    nw_times_init(&times, trials, measure, measures_of, &known);
    NwExit exit = plot_times(&times, measure, wanted->out, error);
    nw_times_clear(&times);
    return exit;
}
#endif

static const struct Action {
    const char *name;
    int least, most; /* words */
    NwLibraryMode mode;
    NwExit (*run)(NwLibrary *, const Wanted *, const char *, GError **);
} actions[] = {
    {"list", 0, 1, NW_LIBRARY_READ_ONLY, list},
    {"add", 1, 1, NW_LIBRARY_READ_WRITE, add},
    {"edit", 1, 1, NW_LIBRARY_READ_WRITE, edit},
    {"remove", 1, 1, NW_LIBRARY_READ_WRITE, take_out},
    {"export", 0, 1, NW_LIBRARY_READ_ONLY, export},
#ifdef NW_MAKING
    {"plot", 0, 1, NW_LIBRARY_READ_WRITE, plot},
#endif
};

static NwExit act(const Wanted *wanted, int argc, char **argv) {
    const char *name = argc > 1 ? argv[1] : "list";
    const struct Action *action = NULL;
    for (gsize i = 0; i < G_N_ELEMENTS(actions) && !action; i++)
        if (strcmp(actions[i].name, name) == 0)
            action = &actions[i];
    if (!action) {
        nw_complain(_("unknown command “trial %s”; see “notch trial --help”"), name);
        return NW_EXIT_USAGE;
    }
    int words = MAX(argc - 2, 0);
    if (words < action->least || words > action->most) {
        nw_complain(action->least ? _("“notch trial %s” needs a design or a trial number")
                                  : _("“notch trial %s” takes one design, or none for all"),
                    name);
        return NW_EXIT_USAGE;
    }
    GError *error = NULL;
    NwLibrary *library = nw_library_open(wanted->store, action->mode, &error);
    if (!library)
        return nw_give_up(error, NW_EXIT_USAGE);
    NwExit exit = action->run(library, wanted, words ? argv[2] : NULL, &error);
    if (error)
        nw_give_up(error, exit);
    nw_library_close(library);
    return exit;
}

NwExit nw_verb_trial(int argc, char **argv) {
    Wanted wanted = {0};
    const GOptionEntry options[] = {
        {"who", 0, 0, G_OPTION_ARG_STRING, &wanted.who, N_("add, edit: who tried it"), N_("TEXT")},
        {"when", 0, 0, G_OPTION_ARG_STRING, &wanted.when,
         N_("add, edit: when, such as “2026-03-01 14:30” (default: now)"), N_("TIME")},
        {"minutes", 0, 0, G_OPTION_ARG_STRING, &wanted.minutes,
         N_("add, edit: how long it took, or how long until they gave up"), N_("N")},
        {"gave-up", 0, 0, G_OPTION_ARG_NONE, &wanted.gave_up, N_("add, edit: they gave up"), NULL},
        {"solved", 0, 0, G_OPTION_ARG_NONE, &wanted.solved, N_("edit: they solved it after all"),
         NULL},
        {"colours", 0, 0, G_OPTION_ARG_NONE, &wanted.colours,
         N_("add, edit: the pieces had colours (default)"), NULL},
        {"no-colours", 0, 0, G_OPTION_ARG_NONE, &wanted.no_colours,
         N_("add, edit: the pieces looked alike"), NULL},
        {"remark", 0, 0, G_OPTION_ARG_STRING, &wanted.remark, N_("add, edit: a remark"),
         N_("TEXT")},
#ifdef NW_MAKING
        {"measure", 0, 0, G_OPTION_ARG_STRING, &wanted.measure,
         N_("plot: a measure named as in “notch measure --json” (default: total)"), N_("NAME")},
#endif
        {"out", 0, 0, G_OPTION_ARG_FILENAME, &wanted.out,
         N_("export, plot: write to this file (export: default standard output)"), N_("FILE")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted.store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options,
                      _("[list [NAME] | add NAME | edit N | remove N | export | plot]"),
                      _("Keeps a log of who tried to solve a puzzle that you made and how long it "
                        "took. “list”, “export”\n(CSV) and “plot” (times against a measure, SVG or "
                        "PDF) take the name of a design, or none for all\ndesigns.\n\nThe log "
                        "stays on this machine; nothing is sent anywhere."),
                      0, 2))
        exit = act(&wanted, argc, argv);
    char *texts[] = {wanted.store, wanted.who,     wanted.when,   wanted.remark,
                     wanted.out,   wanted.measure, wanted.minutes};
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
        g_free(texts[i]);
    return exit;
}
