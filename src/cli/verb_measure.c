#include <glib/gi18n.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>

#include "cli/json_line.h"
#include "cli/measure.h"
#include "cli/terminal.h"
#include "cli/verb.h"

enum { TITLE_WIDTH = 36, LINE_WIDTH = 92 };

/* Options as they are read. */
typedef struct Wanted {
    NwMeasureRequest request;
    int states, positions, dives;
    gint64 seed;
    gboolean json;
    char *store;
} Wanted;

/* A paragraph, indented, with lines no longer than a page is wide. */
static void print_wrapped(const char *text) {
    g_auto(GStrv) words = g_strsplit(text, " ", -1);
    glong column = 0;
    for (int i = 0; words[i]; i++) {
        glong width = g_utf8_strlen(words[i], -1);
        if (column && column + 1 + width > LINE_WIDTH) {
            printf("\n");
            column = 0;
        }
        printf("%s%s", column ? " " : "      ", words[i]);
        column += (column ? 1 : 6) + width;
    }
    printf("\n");
}

static void print_text(const NwDesign *design, const NwMeasures *measures) {
    printf("%s%s%s\n", nw_tint(stdout, NW_BOLD), design->name, nw_tint(stdout, NW_PLAIN));
    for (int i = 0; i < NW_MEASURE_COUNT; i++) {
        g_autofree char *value = nw_terminal_take(nw_measure_dup_text(measures, (NwMeasure)i));
        const char *title = nw_measure_title((NwMeasure)i);
        glong pad = TITLE_WIDTH - g_utf8_strlen(title, -1);
        printf("\n  %s%*s %s%s%s\n", title, (int)MAX(pad, 0), "", nw_tint(stdout, NW_BOLD), value,
               nw_tint(stdout, NW_PLAIN));
        printf("%s", nw_tint(stdout, NW_FAINT));
        print_wrapped(nw_measure_definition((NwMeasure)i));
        printf("%s", nw_tint(stdout, NW_PLAIN));
    }
}

/* All levels, or null, after the level itself. */
static void add_levels(JsonBuilder *builder, const NwMeasures *measures) {
    if (measures->has_way)
        nw_json_line_ints(builder, "levels", measures->levels.slides, measures->levels.count);
    else
        nw_json_line_string(builder, "levels", NULL);
}

/* Every measure by its name, null where it is not known, and what stands behind some. */
static void print_json(const NwDesign *design, const NwMeasures *measures) {
    g_autoptr(JsonBuilder) builder = json_builder_new();
    json_builder_begin_object(builder);
    json_builder_set_member_name(builder, "name");
    json_builder_add_string_value(builder, design->name);
    json_builder_set_member_name(builder, "complete");
    json_builder_add_boolean_value(builder, measures->tally.complete);
    for (int i = 0; i < NW_MEASURE_COUNT; i++) {
        double value;
        json_builder_set_member_name(builder, nw_measure_name((NwMeasure)i));
        if (!nw_measure_value(measures, (NwMeasure)i, &value))
            json_builder_add_null_value(builder);
        else if (i == NW_MEASURE_DEAD_ENDS || i == NW_MEASURE_BLIND)
            json_builder_add_double_value(builder, value);
        else
            json_builder_add_int_value(builder, (gint64)value);
        if (i == NW_MEASURE_LEVEL)
            add_levels(builder, measures);
    }
    if (measures->blind.dives) {
        json_builder_set_member_name(builder, "blind-error");
        json_builder_add_double_value(builder, sqrt(measures->blind.variance));
        json_builder_set_member_name(builder, "blind-dives");
        json_builder_add_int_value(builder, (gint64)measures->blind.dives);
    }
    json_builder_end_object(builder);
    JsonNode *root = json_builder_get_root(builder);
    g_autofree char *text = nw_json_dup_text(root, TRUE);
    puts(text);
    json_node_unref(root);
}

static gboolean read_options(Wanted *wanted, int *argc, char ***argv) {
    NwMeasureRequest *request = &wanted->request;
    const GOptionEntry entries[] = {
        {"json", 0, 0, G_OPTION_ARG_NONE, &wanted->json, N_("Print one JSON object"), NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &request->run.options.diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &request->run.seconds,
         N_("Stop the search for assemblies after S seconds"), N_("S")},
        {"states", 0, 0, G_OPTION_ARG_INT, &wanted->states,
         N_("Keep at most N positions per group of pieces (default: 2000000)"), N_("N")},
        {"positions", 0, 0, G_OPTION_ARG_INT, &wanted->positions,
         N_("List at most N positions of the assembly (default: 1000000)"), N_("N")},
        {"dives", 0, 0, G_OPTION_ARG_INT, &wanted->dives,
         N_("Number of random samples for the estimate (default: 10000; 0: no estimate)"), N_("N")},
        {"seed", 0, 0, G_OPTION_ARG_INT64, &wanted->seed,
         N_("Seed of the random numbers (default: 1)"), N_("N")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wanted->store, N_("Use this store"), N_("FILE")},
        {NULL}};
    if (!nw_verb_parse(
            argc, argv, entries, _("DESIGN"),
            _("Measures how hard a design is and defines each measure: assemblies that fit but "
              "cannot be reached,\nslides, positions and dead ends, pieces to hold, and the size "
              "of a blind search. Unknown values\nare reported as such. The assembly that is "
              "measured is the intended one or, if there is none, the\nfirst that comes apart."),
            1, 1))
        return FALSE;
    if (request->run.seconds < 0 || wanted->states < 0 || wanted->positions < 0 ||
        wanted->dives < 0) {
        nw_complain(_("limits and numbers of samples cannot be negative"));
        return FALSE;
    }
    request->run.options.max_states = (guint32)wanted->states;
    request->measuring.max_positions = (guint32)wanted->positions;
    request->measuring.dives = (gulong)wanted->dives;
    request->measuring.seed = (guint64)wanted->seed;
    return TRUE;
}

NwExit nw_verb_measure(int argc, char **argv) {
    Wanted wanted = {.dives = NW_MEASURE_DIVES, .seed = NW_MEASURE_SEED};
    NwExit exit = NW_EXIT_USAGE;
    if (read_options(&wanted, &argc, &argv)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wanted.store, TRUE, &error)) {
            NwMeasures measures;
            exit = nw_measure(&source, &wanted.request, &measures);
            if (exit == NW_EXIT_COMPLETE || exit == NW_EXIT_LIMIT)
                (wanted.json ? print_json : print_text)(source.design, &measures);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wanted.store);
    return exit;
}
