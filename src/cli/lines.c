#include "cli/lines.h"

#include <json-glib/json-glib.h>
#include <stdio.h>

#include "base/bits.h"

static JsonBuilder *begin(const char *event) {
    JsonBuilder *builder = json_builder_new();
    json_builder_begin_object(builder);
    json_builder_set_member_name(builder, "event");
    json_builder_add_string_value(builder, event);
    return builder;
}

static void add_int(JsonBuilder *builder, const char *name, gint64 value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_int_value(builder, value);
}

static void add_double(JsonBuilder *builder, const char *name, double value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_double_value(builder, value);
}

static void add_boolean(JsonBuilder *builder, const char *name, gboolean value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_boolean_value(builder, value);
}

static void add_string(JsonBuilder *builder, const char *name, const char *value) {
    json_builder_set_member_name(builder, name);
    json_builder_add_string_value(builder, value);
}

static void end(JsonBuilder *builder) {
    json_builder_end_object(builder);
    JsonNode *root = json_builder_get_root(builder);
    char *text = json_to_string(root, FALSE);
    puts(text);
    fflush(stdout);
    g_free(text);
    json_node_unref(root);
    g_object_unref(builder);
}

void nw_lines_start(const NwSearch *search) {
    const NwFit *fit = nw_search_fit(search);
    JsonBuilder *builder = begin("start");
    add_int(builder, "parts", fit->places->part_count);
    add_int(builder, "placements", fit->places->place_count);
    add_int(builder, "symmetries", fit->group->order);
    add_int(builder, "threads", nw_search_threads(search));
    end(builder);
}

void nw_lines_progress(const NwSearchProgress *progress) {
    JsonBuilder *builder = begin("progress");
    add_double(builder, "done", progress->share);
    add_int(builder, "found", (gint64)progress->found);
    if (progress->seconds_left >= 0)
        add_double(builder, "seconds_left", progress->seconds_left);
    end(builder);
}

static void add_placements(JsonBuilder *builder, const NwFinding *finding) {
    json_builder_set_member_name(builder, "placements");
    json_builder_begin_array(builder);
    for (int b = 0; b < finding->placement_count; b++) {
        const NwPlacement *placement = &finding->placements[b];
        char turn[NW_TURN_NAME_SIZE];
        nw_turn_name(placement->motion.turn, turn);
        json_builder_begin_object(builder);
        add_int(builder, "piece", placement->piece);
        add_int(builder, "copy", nw_finding_copy_of(finding, b));
        add_string(builder, "turn", turn);
        json_builder_set_member_name(builder, "shift");
        json_builder_begin_array(builder);
        for (int axis = 0; axis < 3; axis++)
            json_builder_add_int_value(builder, nw_vec_get(placement->motion.shift, axis));
        json_builder_end_array(builder);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

/* A body is named by its piece, or by [piece, copy] where the piece has copies. */
static void add_body(JsonBuilder *builder, const NwDesign *design, const NwFinding *finding,
                     int body) {
    int piece = finding->placements[body].piece;
    if (design->pieces[piece].copies == 1) {
        json_builder_add_int_value(builder, piece);
        return;
    }
    json_builder_begin_array(builder);
    json_builder_add_int_value(builder, piece);
    json_builder_add_int_value(builder, nw_finding_copy_of(finding, body));
    json_builder_end_array(builder);
}

static void add_way_out(JsonBuilder *builder, const NwDesign *design, const NwFinding *finding) {
    json_builder_set_member_name(builder, "way_out");
    json_builder_begin_array(builder);
    for (int i = 0; i < finding->slide_count; i++) {
        const NwSlide *slide = &finding->slides[i];
        char direction[NW_DIRECTION_NAME_SIZE];
        nw_direction_name(slide->direction, direction);
        json_builder_begin_object(builder);
        json_builder_set_member_name(builder, "pieces");
        json_builder_begin_array(builder);
        for (guint32 rest = slide->bodies; rest; rest &= rest - 1)
            add_body(builder, design, finding, nw_lowest(rest));
        json_builder_end_array(builder);
        add_string(builder, "direction", direction);
        json_builder_set_member_name(builder, "cells");
        if (slide->cells == NW_SLIDE_OUT)
            json_builder_add_null_value(builder);
        else
            json_builder_add_int_value(builder, slide->cells);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

void nw_lines_assembly(const NwDesign *design, const NwFinding *finding, guint64 number) {
    char key[17];
    g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", finding->key);
    JsonBuilder *builder = begin("assembly");
    add_int(builder, "number", (gint64)number);
    add_string(builder, "key", key);
    add_string(builder, "status", nw_verdict_name(finding->verdict));
    add_boolean(builder, "intended", finding->intended);
    if (finding->verdict == NW_OPENS) {
        add_int(builder, "level", finding->level);
        add_int(builder, "total", finding->total);
    }
    if (finding->verdict == NW_UNDECIDED)
        add_int(builder, "states", (gint64)finding->states);
    add_placements(builder, finding);
    if (finding->verdict == NW_OPENS)
        add_way_out(builder, design, finding);
    end(builder);
}

void nw_lines_done(const NwSearchProgress *progress) {
    JsonBuilder *builder = begin("done");
    add_boolean(builder, "complete", progress->state == NW_SEARCH_COMPLETE);
    add_int(builder, "assemblies", (gint64)progress->found);
    add_int(builder, "opening", (gint64)progress->verdicts[NW_OPENS]);
    add_int(builder, "cooks", (gint64)progress->cooks);
    add_int(builder, "unreachable", (gint64)progress->verdicts[NW_UNREACHABLE]);
    add_int(builder, "undecided", (gint64)progress->verdicts[NW_UNDECIDED]);
    add_double(builder, "seconds", progress->seconds);
    end(builder);
}
