/* The notch command as people and scripts use it. The first argument is the program. */
#include <check.h>
#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <json-glib/json-glib.h>
#include <pty.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/instances.h"
#include "design/check_assembly.h"
#include "format/design_json.h"
#include "lattice/named.h"
#include "notch_fixture.h"
#include "slide/replay.h"
#include "slide/way_out.h"
#include "sticks.h"
#include "store_fixture.h"
#include "suite.h"

/* One sentence on standard error, nothing on standard output, and exit status 2. */
static void assert_refused(const Told *told, const char *what) {
    ck_assert_msg(told->exit == USAGE, "%s: exit %d: %s", what, told->exit, told->err);
    ck_assert_msg(g_str_has_prefix(told->err, "notch: "), "%s: %s", what, told->err);
    const char *end = strchr(told->err, '\n');
    ck_assert_msg(end && !end[1], "%s: not one line: %s", what, told->err);
    ck_assert_msg(strlen(told->err) > 20, "%s: %s", what, told->err);
    ck_assert_msg(!*told->out, "%s: printed %s", what, told->out);
}

static void save(const NwDesign *design, const char *name) {
    g_autoptr(GError) error = NULL;
    gboolean saved = nw_design_save(design, store_file(name), &error);
    ck_assert_msg(saved, "%s", error ? error->message : "no error");
}

static void save_instance(const char *instance, const char *file) {
    NwDesign *design = nw_instance_build(nw_instance_find(instance));
    save(design, file);
    nw_design_free(design);
}

/* ---- reading its events ------------------------------------------------------------------ */

typedef struct Events {
    GHashTable *keys; /* of assemblies; each only once */
    int starts, progress, assemblies, dones, lines;
    int status[4]; /* in the order of `statuses` */
    int intended;
    int levels[16];
    JsonObject *start, *done;
} Events;

static const char *const statuses[] = {"opens", "unreachable", "undecided", "unexamined"};

static void events_clear(Events *events) {
    g_clear_pointer(&events->keys, g_hash_table_unref);
    g_clear_pointer(&events->start, json_object_unref);
    g_clear_pointer(&events->done, json_object_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Events, events_clear)

/* The object has these members, of these kinds, and no others. Kinds: i whole number, d any
 * number, s text, b truth, a array; ? before it: may be left out. */
static void assert_members(JsonObject *object, const char *members) {
    g_auto(GStrv) words = g_strsplit(members, " ", -1);
    guint known = 0;
    for (int i = 0; words[i]; i++) {
        gboolean optional = words[i][0] == '?';
        char kind = words[i][optional];
        const char *name = words[i] + optional + 2;
        if (!json_object_has_member(object, name)) {
            ck_assert_msg(optional, "no member %s", name);
            continue;
        }
        known++;
        JsonNode *node = json_object_get_member(object, name);
        if (kind == 'a') {
            ck_assert_msg(JSON_NODE_HOLDS_ARRAY(node), "%s is no array", name);
            continue;
        }
        ck_assert_msg(JSON_NODE_HOLDS_VALUE(node), "%s is no value", name);
        GType type = json_node_get_value_type(node);
        gboolean good = kind == 'i'   ? type == G_TYPE_INT64
                        : kind == 's' ? type == G_TYPE_STRING
                        : kind == 'b' ? type == G_TYPE_BOOLEAN
                                      : type == G_TYPE_DOUBLE || type == G_TYPE_INT64;
        ck_assert_msg(good, "%s is a %s", name, g_type_name(type));
    }
    g_autoptr(GList) all = json_object_get_members(object);
    ck_assert_msg(g_list_length(all) == known, "%u members, of which %u are documented",
                  g_list_length(all), known);
}

static JsonObject *parse_object(const char *line) {
    g_autoptr(JsonParser) parser = json_parser_new_immutable();
    g_autoptr(GError) error = NULL;
    gboolean parsed = json_parser_load_from_data(parser, line, -1, &error);
    ck_assert_msg(parsed, "%s in: %s", error ? error->message : "?", line);
    JsonNode *root = json_parser_get_root(parser);
    ck_assert(JSON_NODE_HOLDS_OBJECT(root));
    return json_object_ref(json_node_get_object(root));
}

/* The body that a slide names: a piece, or [piece, copy] where the piece has copies. */
static int body_of(const NwDesign *design, const NwPlacement *placements, int count,
                   JsonNode *node) {
    int piece, copy = 0;
    if (JSON_NODE_HOLDS_ARRAY(node)) {
        JsonArray *pair = json_node_get_array(node);
        ck_assert_int_eq((int)json_array_get_length(pair), 2);
        piece = (int)json_array_get_int_element(pair, 0);
        copy = (int)json_array_get_int_element(pair, 1);
        ck_assert_int_gt(design->pieces[piece].copies, 1);
    } else {
        piece = (int)json_node_get_int(node);
        ck_assert_int_eq(design->pieces[piece].copies, 1);
    }
    for (int b = 0; b < count; b++)
        if (placements[b].piece == piece && copy-- == 0)
            return b;
    ck_abort_msg("a slide names a body that is not there");
    return -1;
}

static int read_placements(const NwDesign *design, JsonArray *list, NwPlacement *placements) {
    int count = (int)json_array_get_length(list), copy = 0;
    ck_assert_int_eq(count, nw_design_copies(design));
    for (int b = 0; b < count; b++) {
        JsonObject *object = json_array_get_object_element(list, (guint)b);
        assert_members(object, "i:piece i:copy s:turn a:shift");
        JsonArray *shift = json_object_get_array_member(object, "shift");
        ck_assert_int_eq((int)json_array_get_length(shift), 3);
        placements[b].piece = (int)json_object_get_int_member(object, "piece");
        copy = b && placements[b - 1].piece == placements[b].piece ? copy + 1 : 0;
        ck_assert_int_eq((int)json_object_get_int_member(object, "copy"), copy);
        ck_assert_int_eq(nw_turn_parse(json_object_get_string_member(object, "turn"),
                                       &placements[b].motion.turn),
                         NW_OK);
        for (int axis = 0; axis < 3; axis++)
            nw_vec_set(&placements[b].motion.shift, axis,
                       (int)json_array_get_int_element(shift, (guint)axis));
    }
    const char *fault = nw_check_assembly(design, placements, (size_t)count);
    ck_assert_msg(fault == NULL, "recount: %s", fault);
    return count;
}

/* Follows the printed way out with the checker that shares no code with the search. */
static void follow(const NwDesign *design, JsonObject *object, const NwPlacement *placements,
                   int count) {
    JsonArray *list = json_object_get_array_member(object, "way_out");
    JsonArray *levels = json_object_get_array_member(object, "levels");
    guint slides = json_array_get_length(list), separations = 0, parted = 0;
    g_autofree NwReplaySlide *replay = g_new0(NwReplaySlide, slides + 1);
    for (guint i = 0; i < slides; i++) {
        JsonObject *slide = json_array_get_object_element(list, i);
        JsonNode *cells = json_object_get_member(slide, "cells");
        JsonArray *bodies = json_object_get_array_member(slide, "pieces");
        int direction;
        ck_assert_int_eq((int)json_object_get_size(slide), 3);
        ck_assert_int_eq(
            nw_direction_parse(json_object_get_string_member(slide, "direction"), &direction),
            NW_OK);
        replay[i].direction = nw_direction_step(direction);
        replay[i].cells = json_node_is_null(cells) ? NW_REPLAY_OUT : (int)json_node_get_int(cells);
        for (guint b = 0; b < json_array_get_length(bodies); b++)
            replay[i].set |= UINT32_C(1) << body_of(design, placements, count,
                                                    json_array_get_element(bodies, b));
        if (!json_node_is_null(cells))
            continue;
        ck_assert_uint_lt(separations, json_array_get_length(levels));
        ck_assert_int_eq(json_array_get_int_element(levels, separations++), i + 1 - parted);
        parted = i + 1;
    }
    ck_assert_uint_eq(parted, slides);
    ck_assert_uint_eq(separations, json_array_get_length(levels));
    ck_assert_int_eq((int)separations, count - 1);
    ck_assert_int_eq(json_object_get_int_member(object, "level"),
                     separations ? json_array_get_int_element(levels, 0) : 0);
    ck_assert_int_eq((int)json_object_get_int_member(object, "total"), (int)slides);
    NwSolid *solids[NW_REPLAY_SOLIDS_MAX];
    for (int b = 0; b < count; b++)
        nw_solid_moved(design->pieces[placements[b].piece].solid, placements[b].motion, &solids[b]);
    const char *fault = nw_replay((const NwSolid *const *)solids, (size_t)count, replay, slides);
    ck_assert_msg(fault == NULL, "replay: %s", fault);
    for (int b = 0; b < count; b++)
        nw_solid_free(solids[b]);
}

static void read_assembly(const NwDesign *design, JsonObject *object, Events *events) {
    const char *status = json_object_get_string_member(object, "status");
    const char *key = json_object_get_string_member(object, "key");
    int which = 0;
    while (which < 4 && strcmp(statuses[which], status) != 0)
        which++;
    ck_assert_msg(which < 4, "status %s", status);
    assert_members(object,
                   which == 0   ? "s:event i:number s:key s:status b:intended i:level a:levels "
                                  "i:total a:placements a:way_out"
                   : which == 2 ? "s:event i:number s:key s:status b:intended i:states a:placements"
                                : "s:event i:number s:key s:status b:intended a:placements");
    ck_assert_int_eq((int)strlen(key), 16);
    ck_assert_int_eq((int)strspn(key, "0123456789abcdef"), 16);
    ck_assert_msg(g_hash_table_add(events->keys, g_strdup(key)), "%s came twice", key);
    NwPlacement placements[NW_COPIES_MAX];
    int count =
        read_placements(design, json_object_get_array_member(object, "placements"), placements);
    /* The checker is slow with many bodies; one way out in eight is followed then. */
    if (which == 0 && (count <= 6 || events->assemblies % 8 == 0))
        follow(design, object, placements, count);
    if (which == 0)
        events->levels[MIN(json_object_get_int_member(object, "level"), 15)]++;
    events->status[which]++;
    events->assemblies++;
    events->intended += json_object_get_boolean_member(object, "intended");
}

static void read_event(const NwDesign *design, const char *line, Events *events) {
    g_autoptr(JsonObject) object = parse_object(line);
    ck_assert(json_object_has_member(object, "event"));
    const char *event = json_object_get_string_member(object, "event");
    ck_assert_msg(!events->dones, "an event after the end: %s", line);
    ck_assert_msg(events->starts || strcmp(event, "start") == 0, "before the start: %s", line);
    events->lines++;
    if (strcmp(event, "start") == 0) {
        assert_members(object, "s:event i:parts i:placements i:symmetries i:threads");
        ck_assert_int_eq(events->starts++, 0);
        events->start = json_object_ref(object);
    } else if (strcmp(event, "progress") == 0) {
        assert_members(object, "s:event d:done i:found ?d:seconds_left");
        double done = json_object_get_double_member(object, "done");
        ck_assert(done >= 0 && done <= 1);
        events->progress++;
    } else if (strcmp(event, "assembly") == 0) {
        read_assembly(design, object, events);
        ck_assert_int_eq((int)json_object_get_int_member(object, "number"), events->assemblies);
    } else {
        ck_assert_str_eq(event, "done");
        assert_members(object, "s:event b:complete i:assemblies i:opening i:cooks i:unreachable "
                               "i:undecided d:seconds");
        events->dones++;
        events->done = json_object_ref(object);
    }
}

static Events read_events(const NwDesign *design, const char *out) {
    Events events = {.keys = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL)};
    g_auto(GStrv) lines = g_strsplit(out, "\n", -1);
    for (int i = 0; lines[i] && (lines[i + 1] || *lines[i]); i++)
        read_event(design, lines[i], &events);
    ck_assert_int_eq(events.starts, 1);
    ck_assert_int_eq(events.dones, 1);
    ck_assert(g_str_has_suffix(out, "}\n"));
    JsonObject *done = events.done;
    /* A search that was stopped may have found some that it has not yet examined. */
    int found = (int)json_object_get_int_member(done, "assemblies");
    ck_assert_int_ge(found, events.assemblies);
    ck_assert(found == events.assemblies || !json_object_get_boolean_member(done, "complete"));
    ck_assert_int_eq((int)json_object_get_int_member(done, "opening"), events.status[0]);
    ck_assert_int_eq((int)json_object_get_int_member(done, "unreachable"), events.status[1]);
    ck_assert_int_eq((int)json_object_get_int_member(done, "undecided"), events.status[2]);
    return events;
}

static gboolean is_complete(const Events *events) {
    return json_object_get_boolean_member(events->done, "complete");
}

static void assert_same_keys(const Events *a, const Events *b) {
    ck_assert_uint_eq(g_hash_table_size(a->keys), g_hash_table_size(b->keys));
    GHashTableIter iter;
    gpointer key;
    g_hash_table_iter_init(&iter, a->keys);
    while (g_hash_table_iter_next(&iter, &key, NULL))
        ck_assert(g_hash_table_contains(b->keys, key));
}

/* ---- published values through the public verbs ------------------------------------------- */

/* Sources: bench/instances.c, and test_sticks.c for the sticks. */
static const struct {
    const char *instance; /* or NULL: sticks */
    int numbers[NW_STICKS];
    int assemblies, opening; /* -1: not published and not asserted */
    int symmetries;
} published[] = {
    {"soma", {0}, 240, -1, 48},
    {"slothouber-graatsma", {0}, 1, -1, 48},
    {"pentominoes-2x3x10", {0}, 12, -1, 8},
    {"dominoes-2x2x2", {0}, -1, -1, 24},
    {NULL, {88, 512, 768, 922, 1008, 1008}, 10, 1, 12}, /* Piston: unique, level 9 */
    {NULL, {52, 792, 824, 911, 975, 1024}, 8, 6, 12},   /* our own counts */
};
enum { PUBLISHED = G_N_ELEMENTS(published) };

START_TEST(published_values_come_out) {
    NwDesign *design = published[_i].instance
                           ? nw_instance_build(nw_instance_find(published[_i].instance))
                           : nw_sticks_design(published[_i].numbers, 6);
    save(design, "d.json");
    g_auto(Told) told = notch("fit --json --threads 3 d.json");
    assert_exit(&told, COMPLETE);
    ck_assert_str_eq(told.err, "");
    g_auto(Events) events = read_events(design, told.out);
    ck_assert(is_complete(&events));
    if (published[_i].assemblies >= 0)
        ck_assert_int_eq(events.assemblies, published[_i].assemblies);
    if (published[_i].opening >= 0)
        ck_assert_int_eq(events.status[0], published[_i].opening);
    if (published[_i].numbers[0] == 88)
        ck_assert_int_eq(events.levels[9], 1);
    JsonObject *start = events.start;
    ck_assert_int_eq((int)json_object_get_int_member(start, "parts"),
                     (int)nw_solid_parts(design->envelope));
    ck_assert_int_eq((int)json_object_get_int_member(start, "threads"), 3);
    ck_assert_int_eq((int)json_object_get_int_member(start, "symmetries"),
                     published[_i].symmetries);
    /* Without --json the sums are the same. */
    g_auto(Told) text = notch("fit d.json");
    assert_exit(&text, COMPLETE);
    g_autofree char *sum = g_strdup_printf(
        events.assemblies == 1 ? "\n%d assembly:" : "\n%d assemblies:", events.assemblies);
    ck_assert_msg(strstr(text.out, sum) != NULL, "no “%s” in %s", sum, text.out);
    /* --fit-only finds the same assemblies and examines none. */
    g_auto(Told) fits = notch("fit --json --fit-only d.json");
    assert_exit(&fits, COMPLETE);
    g_auto(Events) unexamined = read_events(design, fits.out);
    assert_same_keys(&unexamined, &events);
    ck_assert_int_eq(unexamined.status[3], events.assemblies);
    nw_design_free(design);
}
END_TEST

START_TEST(undecided_is_said) {
    NwDesign *design = nw_sticks_design(published[4].numbers, 6);
    save(design, "d.json");
    g_auto(Told) told = notch("fit --json --states 5 d.json");
    assert_exit(&told, COMPLETE);
    g_auto(Events) events = read_events(design, told.out);
    ck_assert_int_gt(events.status[2], 0);
    ck_assert_int_eq(events.levels[9], 0);
    nw_design_free(design);
}
END_TEST

/* Slides are looked for among 32 bodies at most; a row as drawn of more says why it is undecided.
 */
START_TEST(too_many_to_take_apart_is_said) {
    g_autoptr(GString) cells = g_string_new(NULL), pieces = g_string_new(NULL);
    for (int x = 0; x < 33; x++) {
        const char *comma = x ? "," : "";
        g_string_append_printf(cells, "%s[%d,0,0,31]", comma, x);
        g_string_append_printf(pieces, "%s{\"name\":\"P%d\",\"cells\":[[%d,0,0,31]]}", comma, x, x);
    }
    g_autofree char *text =
        g_strdup_printf("{\"format\":\"notchwright design\",\"version\":1,\"name\":\"Row\","
                        "\"envelope\":{\"cells\":[%s]},\"pieces\":[%s]}",
                        cells->str, pieces->str);
    g_auto(Told) told = notch_reading(text, "fit --limit 1 -");
    assert_exit(&told, LIMIT);
    ck_assert_msg(strstr(told.out, "as drawn, undecided    more than 32 pieces"), "%s", told.out);
}
END_TEST

/* A design with an answer and a cook: two cubes that can change places. */
START_TEST(cooks_and_the_intended_assembly_are_told) {
    static const char text[] =
        "{\"format\":\"notchwright design\",\"version\":1,\"name\":\"Bar\",\"envelope\":{\"cells\":"
        "[[0,0,0,31],[1,0,0,31],[2,0,0,31],[3,0,0,31],[1,1,0,31]]},\"pieces\":[{\"name\":\"T\","
        "\"cells\":[[0,0,0,31],[1,0,0,31],[1,1,0,31]]},{\"name\":\"I\",\"cells\":[[0,0,0,31],"
        "[1,0,0,31]]}],\"intended\":[{\"piece\":0,\"turn\":\"+x+y+z\",\"shift\":[0,0,0]},{"
        "\"piece\":1,\"turn\":\"+x+y+z\",\"shift\":[2,0,0]}]}";
    NwDesign *design = nw_design_from_json(text, -1, NULL, NULL);
    ck_assert_ptr_nonnull(design);
    g_auto(Told) told = notch_reading(text, "fit --json -");
    assert_exit(&told, COMPLETE);
    g_auto(Events) events = read_events(design, told.out);
    ck_assert_int_eq(events.intended, 1);
    ck_assert_int_eq((int)json_object_get_int_member(events.done, "cooks"), events.status[0] - 1);
    /* The fewest slides are looked for of each, the one that is looked at first too. */
    g_auto(Told) fewest = notch_reading(text, "fit --json --fewest -");
    assert_exit(&fewest, COMPLETE);
    g_auto(GStrv) bounds = g_strsplit(fewest.out, "\"at_least\"", -1);
    ck_assert_int_eq((int)g_strv_length(bounds) - 1, events.status[0]);
    nw_design_free(design);
}
END_TEST

/* Of each that opens a total, which is the fewest or an upper bound, and never better than what is
 * proved; kept in a store, and apart from the same search without. */
START_TEST(the_fewest_slides_are_found_or_bounded) {
    static const char *const verbs[] = {"fit --json d.json --store f.notch",
                                        "fit --json d.json --store f.notch --fewest --tries 50",
                                        "fit --json d.json --store f.notch --fewest",
                                        "fit --json d.json --store f.notch --fewest"};
    NwDesign *design = nw_sticks_design(published[4].numbers, 6); /* Piston: 9.3 */
    save(design, "d.json");
    int total[4] = {0}, at_least[4] = {0};
    for (int i = 0; i < 4; i++) {
        g_auto(Told) told = notch(verbs[i]);
        assert_exit(&told, COMPLETE);
        g_auto(GStrv) lines = g_strsplit(told.out, "\n", -1);
        for (int k = 0; lines[k]; k++) {
            if (!strstr(lines[k], "\"status\":\"opens\""))
                continue;
            JsonNode *node = json_from_string(lines[k], NULL);
            JsonObject *object = json_node_get_object(node);
            total[i] = (int)json_object_get_int_member(object, "total");
            ck_assert_int_eq(json_object_has_member(object, "at_least"), i > 0);
            at_least[i] = i ? (int)json_object_get_int_member(object, "at_least") : 0;
            if (i)
                ck_assert_int_eq(json_object_get_boolean_member(object, "fewest"),
                                 total[i] == at_least[i]);
            json_node_unref(node);
        }
    }
    ck_assert_int_eq(total[1], total[0]);
    ck_assert_int_lt(at_least[1], total[1]);
    ck_assert_int_eq(at_least[2], total[2]);
    ck_assert(total[2] >= at_least[1] && total[2] <= total[0]);
    ck_assert(total[3] == total[2] && at_least[3] == total[3]);
    nw_design_free(design);
}
END_TEST

/* Fractions have the digits that they have. */
START_TEST(fractions_are_printed_short) {
    static const char *const words[] = {"fit --json d.json", "measure --json d.json"};
    NwDesign *design = nw_sticks_design(published[4].numbers, 6);
    save(design, "d.json");
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++) {
        g_auto(Told) told = notch("%s", words[i]);
        assert_exit(&told, COMPLETE);
        ck_assert(g_regex_match_simple("[0-9]\\.[0-9]", told.out, 0, 0));
        g_autoptr(GRegex) longer = g_regex_new("\"[a-z_-]+\" ?: ?[0-9]+\\.[0-9]{10,}", 0, 0, NULL);
        g_autoptr(GMatchInfo) match = NULL;
        gboolean found = g_regex_match(longer, told.out, 0, &match);
        g_autofree char *number = found ? g_match_info_fetch(match, 0) : NULL;
        ck_assert_msg(!found, "%s: %s", words[i], number);
    }
    nw_design_free(design);
}
END_TEST

/* One part is no "1 parts", and numbers below nought have a minus sign, where the character set has
 * one; JSON has its own. */
START_TEST(numbers_are_printed_as_people_write_them) {
    const char *text =
        "{\"format\": \"notchwright design\", \"version\": 1, \"name\": \"Two\","
        "\"envelope\": {\"cells\": [[-1, 0, -1, 31], [0, 0, -1, 31]]}, \"pieces\": ["
        "{\"name\": \"dot\", \"cells\": [[0, 0, 0, 2]]},"
        "{\"name\": \"rest\", \"cells\": [[0, 0, 0, 29], [1, 0, 0, 31]]}],"
        "\"intended\": [{\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [-1, 0, -1]},"
        "{\"piece\": 1, \"turn\": \"+x+y+z\", \"shift\": [-1, 0, -1]}]}";
    ck_assert(g_file_set_contents(store_file("two.json"), text, -1, NULL));
    g_auto(Told) check = notch("check two.json");
    assert_exit(&check, COMPLETE);
    ck_assert_ptr_nonnull(strstr(check.out, "  dot               1 part   volume 1/6 "));
    ck_assert_ptr_nonnull(strstr(check.out, "  rest              9 parts  volume 1 5/6 "));
    g_auto(Told) show = notch("show two.json 1");
    assert_exit(&show, COMPLETE);
    ck_assert_msg(strstr(show.out, "  z = −1") != NULL, "%s", show.out);
    ck_assert_ptr_null(strstr(show.out, "z = -1"));
    g_auto(Told) part = notch("explain two.json --part=-1,0,-1,3");
    assert_exit(&part, COMPLETE);
    ck_assert_msg(strstr(part.out, "corner 3 of cell −1 0 −1 of piece rest") != NULL, "%s",
                  part.out);
    ck_assert_msg(strstr(part.out, "would have level 1, 1 slide (now 1, 1)") != NULL, "%s",
                  part.out);
    g_auto(Told) plane = notch("solid planes 'x+y+z<=-3' 'x<=1'");
    assert_exit(&plane, USAGE);
    ck_assert_msg(strstr(plane.err, "the nearest are −4 and −2") != NULL, "%s", plane.err);
    g_auto(Told) once = notch("measure two.json --dives 1");
    ck_assert_msg(strstr(once.out, "(1 sample, ") != NULL, "%s", once.out);
}
END_TEST

/* One piece, which no turn carries to itself. */
START_TEST(counts_of_one_are_singular) {
    static const char cells[] = "\"cells\": [[0, 0, 0, 31], [1, 0, 0, 31], [2, 0, 0, 31], "
                                "[2, 1, 0, 31], [2, 1, 1, 31]]";
    g_autofree char *text = g_strdup_printf("{\"format\": \"notchwright design\", \"version\": 1, "
                                            "\"name\": \"Bent\", \"envelope\": {%s}, \"pieces\": "
                                            "[{\"name\": \"bent\", %s}]}",
                                            cells, cells);
    g_auto(Told) told = notch_reading(text, "fit -");
    assert_exit(&told, COMPLETE);
    ck_assert_msg(g_str_has_prefix(told.out, "Bent: 1 piece, 25 parts, 1 place, 1 symmetry\n"),
                  "%s", told.out);
    ck_assert_msg(strstr(told.out, "\n1 assembly: 1 comes apart, "), "%s", told.out);
}
END_TEST

/* ---- the other verbs --------------------------------------------------------------------- */

START_TEST(help_is_where_it_is_looked_for) {
    static const char *const words[] = {"--help",         "help",       "solid --help",
                                        "check --help",   "fit --help", "show --help",
                                        "library --help", "--version"};
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++) {
        g_auto(Told) told = notch("%s", words[i]);
        assert_exit(&told, COMPLETE);
        ck_assert_str_eq(told.err, "");
        ck_assert_int_gt((int)strlen(told.out), 8);
    }
    g_auto(Told) none = notch(" ");
    assert_exit(&none, USAGE);
    ck_assert_str_eq(none.out, "");
    g_auto(Told) unknown = notch("frobnicate");
    assert_refused(&unknown, "an unknown verb");
}
END_TEST

START_TEST(solids_are_printed_as_designs) {
    const NwNamedSolid *named;
    for (gsize i = 0; (named = nw_named_solid(i)); i++) {
        int sizes[NW_SIZES_MAX] = {2 * named->step, 4 * named->step, 3 * named->step};
        g_autoptr(GString) words = g_string_new("solid --name 'The name' ");
        g_string_append(words, named->name);
        for (int k = 0; k < named->sizes; k++)
            g_string_append_printf(words, " %d", sizes[k]);
        g_auto(Told) told = notch("%s", words->str);
        assert_exit(&told, COMPLETE);
        NwDesign *design = nw_design_from_json(told.out, -1, NULL, NULL);
        NwSolid *wanted = NULL;
        nw_named_solid_build(named, sizes, &wanted);
        ck_assert_msg(design != NULL, "%s", told.out);
        ck_assert(nw_solid_equal(design->envelope, wanted));
        ck_assert_str_eq(design->name, "The name");
        ck_assert_int_eq((int)design->piece_count, 0);
        g_auto(Told) check = notch_reading(told.out, "check -");
        ck_assert_ptr_nonnull(strstr(check.out, "The name"));
        nw_solid_free(wanted);
        nw_design_free(design);
    }
    g_auto(Told) planes = notch("solid planes 'x<=2' '-x<=0' 'y<=2' '-y<=0' 'z<=2' '-z<=0' "
                                "'x+y+z<=4'");
    assert_exit(&planes, COMPLETE);
    NwDesign *design = nw_design_from_json(planes.out, -1, NULL, NULL);
    ck_assert_ptr_nonnull(design);
    /* The cube of 8 cells less a right-angled corner with legs of 2: 48 - 8 sixths. */
    ck_assert_int_eq(nw_solid_volume6(design->envelope), 40);
    nw_design_free(design);
}
END_TEST

START_TEST(check_tells_faults) {
    save_instance("soma", "soma.json");
    g_auto(Told) good = notch("check soma.json");
    assert_exit(&good, COMPLETE);
    ck_assert_ptr_nonnull(strstr(good.out, "No problems found."));
    ck_assert_str_eq(good.err, "");
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    nw_solid_add(design->pieces[0].solid, nw_vec(5, 5, 5), NW_WHOLE);
    save(design, "bad.json");
    g_auto(Told) bad = notch("check bad.json");
    assert_exit(&bad, USAGE);
    ck_assert_ptr_nonnull(strstr(bad.out, "problem:"));
    nw_design_free(design);
}
END_TEST

/* The same assembly by its number, its key and the beginning of its key. */
START_TEST(show_finds_by_number_and_key) {
    NwDesign *design = nw_sticks_design(published[5].numbers, 6);
    save(design, "d.json");
    g_auto(Told) first = notch("show --json d.json 1");
    assert_exit(&first, COMPLETE);
    g_autoptr(JsonObject) object = parse_object(first.out);
    Events events = {.keys = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL)};
    read_assembly(design, object, &events);
    events_clear(&events);
    const char *key = json_object_get_string_member(object, "key");
    g_auto(Told) by_key = notch("show --json d.json %s", key);
    g_auto(Told) by_start = notch("show --json d.json %.6s", key);
    ck_assert_str_eq(first.out, by_key.out);
    ck_assert_str_eq(first.out, by_start.out);
    g_auto(Told) text = notch("show d.json %s", key);
    assert_exit(&text, COMPLETE);
    ck_assert_ptr_nonnull(strstr(text.out, key));
    ck_assert_ptr_nonnull(strstr(text.out, "z = 0"));
    ck_assert_ptr_nonnull(strstr(text.out, "out "));
    g_auto(Told) last = notch("show --json d.json 8");
    assert_exit(&last, COMPLETE);
    static const char *const wrong[] = {"0", "9", "-1", "zzzz", "''", "99999999999999999999"};
    for (gsize i = 0; i < G_N_ELEMENTS(wrong); i++) {
        g_auto(Told) told = notch("show d.json -- %s", wrong[i]);
        assert_refused(&told, wrong[i]);
    }
    nw_design_free(design);
}
END_TEST

START_TEST(the_library_adds_lists_exports_and_removes) {
    save_instance("soma", "soma.json");
    g_auto(Told) empty = notch("library");
    assert_exit(&empty, COMPLETE);
    g_auto(Told) added = notch("library add soma.json");
    assert_exit(&added, COMPLETE);
    g_auto(Told) twice = notch("library add soma.json");
    assert_refused(&twice, "a name that is taken");
    g_auto(Told) other = notch("library add soma.json --name 'Other one'");
    assert_exit(&other, COMPLETE);
    g_auto(Told) list = notch("library list");
    assert_exit(&list, COMPLETE);
    ck_assert_ptr_nonnull(strstr(list.out, "soma"));
    ck_assert_ptr_nonnull(strstr(list.out, "Other one"));
    g_auto(Told) exported = notch("library export soma");
    g_autofree char *written = NULL, *out = NULL;
    ck_assert(g_file_get_contents(store_file("soma.json"), &written, NULL, NULL));
    ck_assert_str_eq(exported.out, written);
    g_auto(Told) file = notch("library export soma --out out.json");
    assert_exit(&file, COMPLETE);
    ck_assert(g_file_get_contents(store_file("out.json"), &out, NULL, NULL));
    ck_assert_str_eq(out, written);
    g_auto(Told) nowhere = notch("library export soma --out nowhere/out.json");
    assert_exit(&nowhere, FAILED); /* 1: it could not run */
    ck_assert(g_str_has_prefix(nowhere.err, "notch: "));
    g_auto(Told) removed = notch("library remove 'Other one'");
    assert_exit(&removed, COMPLETE);
    g_auto(Told) gone = notch("library remove 'Other one'");
    assert_refused(&gone, "a design that is gone");
    g_auto(Told) none = notch("library export 'Other one'");
    assert_refused(&none, "a design that is gone");
    /* A design in the store is searched by its name. */
    g_auto(Told) fit = notch("fit --json soma");
    assert_exit(&fit, COMPLETE);
    g_auto(Told) searched = notch("library");
    ck_assert_ptr_nonnull(strstr(searched.out, "240"));
    static const char *const folder[] = {"notchwright/library.notch", "notchwright"};
    for (gsize i = 0; i < G_N_ELEMENTS(folder); i++) {
        g_autofree char *path = g_build_filename(store_folder, folder[i], NULL);
        ck_assert_int_eq(g_remove(path), 0);
    }
}
END_TEST

/* ---- bad input --------------------------------------------------------------------------- */

static const char good_text[] =
    "{\"format\":\"notchwright design\",\"version\":1,\"name\":\"Two\",\"envelope\":{\"cells\":[[0,"
    "0,0,31],[1,0,0,31]]},\"pieces\":[{\"name\":\"A\",\"cells\":[[0,0,0,31]]},{\"name\":\"B\","
    "\"cells\":[[0,0,0,31]]}],\"intended\":[{\"piece\":0,\"turn\":\"+x+y+z\",\"shift\":[0,0,0]},{"
    "\"piece\":1,\"turn\":\"+x+y+z\",\"shift\":[1,0,0]}]}";

/* Each puts one thing wrong into the text above. */
static const struct {
    const char *what, *from, *to;
} wrongs[] = {
    {"malformed JSON", "\"pieces\":[", "\"pieces\":"},
    {"a file cut short", "\"pieces\":", NULL},
    {"an empty file", "{\"format\"", NULL},
    {"something else after it", "[1,0,0]}]}", "[1,0,0]}]} {}"},
    {"another format", "notchwright design", "design"},
    {"a newer version", "\"version\":1", "\"version\":2"},
    {"an unknown field", "\"name\":\"Two\"", "\"name\":\"Two\",\"maker\":\"me\""},
    {"an unknown field of a piece", "{\"name\":\"A\"", "{\"weight\":3,\"name\":\"A\""},
    {"a mask over 31", "[1,0,0,31]", "[1,0,0,32]"},
    {"a mask of nothing", "[1,0,0,31]", "[1,0,0,0]"},
    {"a coordinate out of range", "[1,0,0,31]", "[1000,0,0,31]"},
    {"a coordinate far out of range", "[1,0,0,31]", "[1,-99999999999,0,31]"},
    {"a fraction", "[1,0,0,31]", "[1.5,0,0,31]"},
    {"a repeated part", "[1,0,0,31]", "[1,0,0,31],[1,0,0,1]"},
    {"a cell of three numbers", "[1,0,0,31]", "[1,0,0]"},
    {"two pieces of one name", "{\"name\":\"B\"", "{\"name\":\"A\""},
    {"a piece without parts", "\"cells\":[[0,0,0,31]]},{", "\"cells\":[]},{"},
    {"a turn that is no rotation", "\"+x+y+z\",\"shift\":[1", "\"+x+y-z\",\"shift\":[1"},
    {"a turn that is nothing", "\"+x+y+z\",\"shift\":[1", "\"+x+x+z\",\"shift\":[1"},
    {"a piece that is not there", "\"piece\":1", "\"piece\":2"},
    {"no copies", "{\"name\":\"A\"", "{\"copies\":0,\"name\":\"A\""},
    {"empty parts outside the envelope", "{\"cells\":[[0,0,0,31],",
     "{\"may_be_empty\":[[5,0,0,31]],\"cells\":[[0,0,0,31],"},
    {"a piece in two lumps", "\"cells\":[[0,0,0,31]]},{", "\"cells\":[[0,0,0,31],[0,1,1,31]]},{"},
    {"intended placements that overlap", "\"shift\":[1", "\"shift\":[0"},
    {"an intended placement outside", "\"shift\":[1", "\"shift\":[2"},
    {"one intended placement too few", ",{\"piece\":1,\"turn\":\"+x+y+z\",\"shift\":[1,0,0]}", ""},
};
enum { WRONGS = G_N_ELEMENTS(wrongs), MEANINGS = 4 /* the last so many read, but mean nothing */ };

static char *dup_wrong(int which) {
    const char *at = strstr(good_text, wrongs[which].from);
    ck_assert_msg(at != NULL, "%s", wrongs[which].what);
    GString *text = g_string_new_len(good_text, at - good_text);
    if (wrongs[which].to) {
        g_string_append(text, wrongs[which].to);
        g_string_append(text, at + strlen(wrongs[which].from));
    }
    return g_string_free(text, FALSE);
}

START_TEST(bad_designs_are_refused_and_change_nothing) {
    ck_assert(g_file_set_contents(store_file("good.json"), good_text, -1, NULL));
    g_auto(Told) good = notch("fit --json good.json --store s.notch");
    assert_exit(&good, COMPLETE);
    for (int i = 0; i < WRONGS; i++) {
        g_autofree char *text = dup_wrong(i);
        ck_assert(g_file_set_contents(store_file("bad.json"), text, -1, NULL));
        g_autofree char *before = store_snapshot();
        g_auto(Told) fit = notch("fit bad.json");
        assert_refused(&fit, wrongs[i].what);
        g_auto(Told) json = notch("fit --json bad.json --store s.notch");
        assert_refused(&json, wrongs[i].what);
        g_auto(Told) fresh = notch("fit bad.json --store fresh.notch");
        assert_refused(&fresh, wrongs[i].what);
        g_auto(Told) show = notch("show bad.json 1");
        assert_refused(&show, wrongs[i].what);
        g_auto(Told) piped = notch_reading(text, "fit -");
        assert_refused(&piped, wrongs[i].what);
        g_auto(Told) check = notch("check bad.json");
        if (i < WRONGS - MEANINGS) {
            assert_refused(&check, wrongs[i].what);
            g_auto(Told) add = notch("library add bad.json --name N --store s.notch");
            assert_refused(&add, wrongs[i].what);
        } else {
            assert_exit(&check, USAGE);
            ck_assert_ptr_nonnull(strstr(check.out, "problem:"));
        }
        g_autofree char *after = store_snapshot();
        ck_assert_msg(strcmp(before, after) == 0, "%s changed a file:\n%s\n%s", wrongs[i].what,
                      before, after);
    }
}
END_TEST

START_TEST(bad_words_are_refused) {
    static const char *const words[] = {
        "solid dodecahedron 3",
        "solid stella-octangula 3",
        "solid cube",
        "solid cube two",
        "solid cube 0",
        "solid cube 99999",
        "solid box 1 2",
        "solid planes 'x<=1'",
        "solid planes 'x+y<=1'",
        "solid planes 'x+y+z<=1'",
        "solid planes 'w<=1'",
        "solid",
        "solid planes 'x<=0' '-x<=0' 'y<=1' '-y<=0' 'z<=1' '-z<=0'",
        "fit",
        "fit nowhere.json",
        "fit ./nowhere",
        "fit 'no such design'",
        "fit good.json more.json",
        "fit --limit -1 good.json",
        "fit --threads -2 good.json",
        "fit --threads x good.json",
        "fit --bogus good.json",
        "fit --seconds -1 good.json",
        "fit --limit 1.5 good.json",
        "show good.json",
        "show",
        "check",
        "check nowhere.json",
        "library frobnicate",
        "library add",
        "library add nowhere.json",
        "library remove nothing",
        "library export nothing",
        "library list more",
        "fit .",
        "library add .",
    };
    ck_assert(g_file_set_contents(store_file("good.json"), good_text, -1, NULL));
    g_auto(Told) made = notch("library list --store s.notch");
    assert_exit(&made, COMPLETE);
    g_autofree char *before = store_snapshot();
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++) {
        gboolean stored = !g_str_has_prefix(words[i], "solid");
        g_auto(Told) told = notch("%s%s", words[i], stored ? " --store s.notch" : "");
        assert_refused(&told, words[i]);
    }
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
}
END_TEST

static void write_sqlite(const char *file, const char *sql) {
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(store_file(file), &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, sql, NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
}

START_TEST(stores_that_are_not_ours_are_left_alone) {
    ck_assert(g_file_set_contents(store_file("good.json"), good_text, -1, NULL));
    ck_assert(g_file_set_contents(store_file("text.notch"), "A letter to a friend.\n", -1, NULL));
    ck_assert(g_file_set_contents(store_file("empty.notch"), "", -1, NULL));
    write_sqlite("other.notch", "CREATE TABLE designs(id INTEGER PRIMARY KEY, name TEXT);"
                                "PRAGMA application_id = 42;");
    g_auto(Told) made = notch("library list --store newer.notch");
    assert_exit(&made, COMPLETE);
    write_sqlite("newer.notch", "PRAGMA user_version = 9999; PRAGMA journal_mode = DELETE;");
    ck_assert_int_eq(g_mkdir(store_file("folder.notch"), 0755), 0);
    static const char *const stores[] = {"text.notch",  "empty.notch",  "other.notch",
                                         "newer.notch", "folder.notch", "no/way/there.notch"};
    static const char *const words[] = {"fit good.json",
                                        "fit --json good.json",
                                        "fit Two",
                                        "show Two 1",
                                        "check Two",
                                        "library list",
                                        "library add good.json",
                                        "library export Two",
                                        "library remove Two"};
    g_autofree char *before = store_snapshot();
    for (gsize s = 0; s < G_N_ELEMENTS(stores); s++)
        for (gsize w = 0; w < G_N_ELEMENTS(words); w++) {
            g_autofree char *line = g_strdup_printf("%s --store %s", words[w], stores[s]);
            g_auto(Told) told = notch("%s", line);
            assert_refused(&told, line);
        }
    g_autofree char *after = store_snapshot();
    ck_assert_str_eq(before, after);
    ck_assert_int_eq(g_rmdir(store_file("folder.notch")), 0);
}
END_TEST

START_TEST(a_locked_store_is_refused_in_time) {
    ck_assert(g_file_set_contents(store_file("good.json"), good_text, -1, NULL));
    g_auto(Told) made = notch("library list --store s.notch");
    assert_exit(&made, COMPLETE);
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(store_file("s.notch"), &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    gint64 start = g_get_monotonic_time();
    g_auto(Told) fit = notch("fit good.json --store s.notch");
    assert_refused(&fit, "a locked store");
    g_auto(Told) add = notch("library add good.json --store s.notch");
    assert_refused(&add, "a locked store");
    ck_assert_int_lt((int)((g_get_monotonic_time() - start) / G_USEC_PER_SEC), 30);
    ck_assert_int_eq(sqlite3_exec(db, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    g_auto(Told) list = notch("library list --store s.notch");
    assert_exit(&list, COMPLETE);
    ck_assert_ptr_null(strstr(list.out, "Two")); /* nothing was half added */
    g_auto(Told) free_again = notch("fit good.json --store s.notch");
    assert_exit(&free_again, COMPLETE);
}
END_TEST

/* ---- stopping and going on --------------------------------------------------------------- */

START_TEST(limits_stop_and_the_store_goes_on) {
    NwDesign *design = nw_instance_build(nw_instance_find("soma"));
    save(design, "soma.json");
    g_auto(Told) whole = notch("fit --json soma.json");
    assert_exit(&whole, COMPLETE);
    g_auto(Events) all = read_events(design, whole.out);
    for (int limit = 1; limit <= 240; limit += limit) {
        g_auto(Told) told = notch("fit --json soma.json --store s.notch --limit %d", limit);
        assert_exit(&told, LIMIT);
        g_auto(Events) events = read_events(design, told.out);
        ck_assert_int_eq(events.assemblies, limit);
        ck_assert(!is_complete(&events));
    }
    g_auto(Told) rest = notch("fit --json soma --store s.notch"); /* by its name now */
    assert_exit(&rest, COMPLETE);
    g_auto(Events) together = read_events(design, rest.out);
    ck_assert(is_complete(&together));
    assert_same_keys(&together, &all);
    for (int i = 0; i < 4; i++)
        ck_assert_int_eq(together.status[i], all.status[i]);
    g_auto(Told) again = notch("fit --json soma --store s.notch");
    assert_exit(&again, COMPLETE);
    g_auto(Events) stored = read_events(design, again.out);
    assert_same_keys(&stored, &all);
    g_auto(Told) anew = notch("fit --json --anew soma --store s.notch");
    assert_exit(&anew, COMPLETE);
    g_auto(Events) fresh = read_events(design, anew.out);
    assert_same_keys(&fresh, &all);
    g_auto(Told) beside = notch("fit --json --limit 5 soma.json"); /* kept nowhere */
    assert_exit(&beside, LIMIT);
    nw_design_free(design);
}
END_TEST

/* Each run may take as long as it is given, however long the runs before it took. */
START_TEST(seconds_stop_and_the_store_goes_on) {
    NwDesign *design = nw_instance_build(nw_instance_find("pentominoes-2x5x6"));
    save(design, "d.json");
    g_auto(Told) whole = notch("fit --json --fit-only d.json");
    assert_exit(&whole, COMPLETE);
    g_auto(Events) all = read_events(design, whole.out);
    ck_assert_int_eq(all.assemblies, 264); /* bench/instances.c has the source */
    double took = json_object_get_double_member(all.done, "seconds");
    int runs = 0, exit = LIMIT;
    while (exit == LIMIT) {
        g_auto(Told) told =
            notch("fit --json --fit-only d.json --store s.notch --seconds %.3f", took / 4);
        g_auto(Events) events = read_events(design, told.out);
        ck_assert(told.exit == COMPLETE || told.exit == LIMIT);
        ck_assert(is_complete(&events) == (told.exit == COMPLETE));
        exit = told.exit;
        if (exit == COMPLETE)
            assert_same_keys(&events, &all);
        runs++;
        ck_assert_msg(runs < 16, "16 runs of a quarter of the time do not finish");
    }
    ck_assert_int_gt(runs, 1);
    nw_design_free(design);
}
END_TEST

/* Ctrl-C: what was found is kept, the last line says so, and the exit status is 3. */
START_TEST(an_interrupt_stops_in_good_order) {
    NwDesign *design = nw_instance_build(nw_instance_find("pentominoes-3x4x5"));
    save(design, "d.json");
    GSubprocess *process = spawn(G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_PIPE,
                                 "fit --json --threads 1 d.json --store s.notch");
    g_usleep(1500000);
    g_subprocess_send_signal(process, SIGINT);
    g_auto(Told) told = wait_for(process, NULL);
    assert_exit(&told, LIMIT);
    g_auto(Events) events = read_events(design, told.out);
    ck_assert(!is_complete(&events));
    g_auto(Told) list = notch("library list --store s.notch");
    g_autofree char *found = g_strdup_printf(" %d assemblies", events.assemblies);
    ck_assert_ptr_nonnull(strstr(list.out, found));
    ck_assert_int_gt(events.assemblies, 0);
    nw_design_free(design);
}
END_TEST

/* ---- terminals --------------------------------------------------------------------------- */

static gboolean has_escapes(const char *text) {
    return strchr(text, '\033') != NULL || strchr(text, '\r') != NULL;
}

START_TEST(piped_output_has_no_escapes) {
    save_instance("soma", "soma.json");
    static const char *const words[] = {"--help",
                                        "solid cube 2",
                                        "check soma.json",
                                        "fit soma.json",
                                        "fit --json soma.json",
                                        "show soma.json 1",
                                        "library --store s.notch",
                                        "fit nowhere.json"};
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++) {
        g_auto(Told) told = notch("%s", words[i]);
        ck_assert_msg(!has_escapes(told.out) && !has_escapes(told.err), "%s", words[i]);
    }
}
END_TEST

/* Whether this machine lends a terminal: a bare root without devpts has none. */
static gboolean has_terminal(void) {
    int keyboard, screen;
    if (openpty(&keyboard, &screen, NULL, NULL, NULL) < 0) {
        g_printerr("Skipped: no terminal can be had here (%s); mount devpts on /dev/pts.\n",
                   g_strerror(errno));
        return FALSE;
    }
    close(keyboard);
    close(screen);
    return TRUE;
}

/* Standard output as a terminal gets it; standard error goes nowhere. */
static char *on_terminal(const char *words, const char *no_color, const char *term) {
    g_autofree char *line = g_strconcat("'", program, "' ", words, NULL);
    g_auto(GStrv) argv = NULL;
    ck_assert(g_shell_parse_argv(line, NULL, &argv, NULL));
    int terminal;
    pid_t child = forkpty(&terminal, NULL, NULL, NULL);
    ck_assert_int_ge(child, 0);
    if (!child) {
        int nowhere = open("/dev/null", O_WRONLY);
        if (nowhere < 0 || dup2(nowhere, STDERR_FILENO) < 0 || chdir(store_folder) != 0)
            _exit(127);
        setenv("LC_ALL", "C.UTF-8", 1);
        setenv("TERM", term, 1);
        unsetenv("NO_COLOR");
        if (no_color)
            setenv("NO_COLOR", no_color, 1);
        execv(argv[0], argv);
        _exit(127);
    }
    GString *text = g_string_new(NULL);
    char buffer[4096];
    for (ssize_t got; (got = read(terminal, buffer, sizeof buffer)) > 0;)
        g_string_append_len(text, buffer, got);
    close(terminal);
    int status;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(WEXITSTATUS(status), COMPLETE);
    return g_string_free(text, FALSE);
}

START_TEST(a_terminal_gets_colour_unless_it_is_refused) {
    if (!has_terminal())
        return;
    save_instance("soma", "soma.json");
    g_autofree char *colour = on_terminal("check soma.json", NULL, "xterm");
    g_autofree char *unset = on_terminal("check soma.json", "", "xterm");
    g_autofree char *refused = on_terminal("check soma.json", "1", "xterm");
    g_autofree char *dumb = on_terminal("fit soma.json", NULL, "dumb");
    g_autofree char *json = on_terminal("fit --json soma.json", NULL, "xterm");
    ck_assert_ptr_nonnull(strchr(colour, '\033'));
    ck_assert_ptr_nonnull(strchr(unset, '\033')); /* the rule: set and not empty */
    ck_assert_ptr_null(strchr(refused, '\033'));
    ck_assert_ptr_null(strchr(dumb, '\033'));
    ck_assert_ptr_null(strchr(json, '\033'));
    ck_assert_ptr_nonnull(strstr(refused, "No problems found."));
}
END_TEST

int main(int argc, char **argv) {
    if (argc != 2)
        return EXIT_FAILURE;
    program = argv[1];
    Suite *suite = suite_create("notch");
    TCase *group = tcase_create("notch");
    tcase_set_timeout(group, 600);
    tcase_add_checked_fixture(group, store_folder_make, store_folder_remove);
    tcase_add_loop_test(group, published_values_come_out, 0, PUBLISHED);
    tcase_add_test(group, undecided_is_said);
    tcase_add_test(group, too_many_to_take_apart_is_said);
    tcase_add_test(group, the_fewest_slides_are_found_or_bounded);
    tcase_add_test(group, fractions_are_printed_short);
    tcase_add_test(group, numbers_are_printed_as_people_write_them);
    tcase_add_test(group, counts_of_one_are_singular);
    tcase_add_test(group, cooks_and_the_intended_assembly_are_told);
    tcase_add_test(group, help_is_where_it_is_looked_for);
    tcase_add_test(group, solids_are_printed_as_designs);
    tcase_add_test(group, check_tells_faults);
    tcase_add_test(group, show_finds_by_number_and_key);
    tcase_add_test(group, the_library_adds_lists_exports_and_removes);
    tcase_add_test(group, bad_designs_are_refused_and_change_nothing);
    tcase_add_test(group, bad_words_are_refused);
    tcase_add_test(group, stores_that_are_not_ours_are_left_alone);
    tcase_add_test(group, a_locked_store_is_refused_in_time);
    tcase_add_test(group, limits_stop_and_the_store_goes_on);
    tcase_add_test(group, seconds_stop_and_the_store_goes_on);
    tcase_add_test(group, an_interrupt_stops_in_good_order);
    tcase_add_test(group, piped_output_has_no_escapes);
    tcase_add_test(group, a_terminal_gets_colour_unless_it_is_refused);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
