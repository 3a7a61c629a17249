#include "cli/search_json.h"

#include "base/bits.h"
#include "cli/json_line.h"
#include "slide/levels.h"

void nw_search_json_start(const NwSearch *search) {
    const NwFit *fit = nw_search_fit(search);
    JsonBuilder *builder = nw_json_line_begin("start");
    nw_json_line_int(builder, "parts", fit->places->part_count);
    nw_json_line_int(builder, "placements", fit->places->place_count);
    nw_json_line_int(builder, "symmetries", fit->group->order);
    nw_json_line_int(builder, "threads", nw_search_threads(search));
    nw_json_line_end(builder);
}

void nw_search_json_setup(const NwSetupProgress *setup) {
    static const char *const names[] = {[NW_SETUP_LISTING] = "places",
                                        [NW_SETUP_SYMMETRY] = "symmetries",
                                        [NW_SETUP_MATRIX] = "matrix",
                                        [NW_SETUP_PRUNING] = "pruning"};
    JsonBuilder *builder = nw_json_line_begin("setup");
    nw_json_line_string(builder, "stage", names[setup->stage]);
    nw_json_line_int(builder, "done", setup->done);
    nw_json_line_int(builder, "of", setup->total);
    nw_json_line_end(builder);
}

void nw_search_json_progress(const NwSearchProgress *progress) {
    JsonBuilder *builder = nw_json_line_begin("progress");
    nw_json_line_double(builder, "done", progress->share);
    nw_json_line_int(builder, "found", (gint64)progress->found);
    if (progress->seconds_left >= 0)
        nw_json_line_double(builder, "seconds_left", progress->seconds_left);
    nw_json_line_end(builder);
}

void nw_search_json_add_placements(JsonBuilder *builder, const NwFoundAssembly *finding) {
    json_builder_set_member_name(builder, "placements");
    json_builder_begin_array(builder);
    for (int b = 0; b < finding->placement_count; b++) {
        const NwPlacement *placement = &finding->placements[b];
        char turn[NW_TURN_NAME_SIZE];
        nw_turn_name(placement->motion.turn, turn);
        json_builder_begin_object(builder);
        nw_json_line_int(builder, "piece", placement->piece);
        nw_json_line_int(builder, "copy", nw_found_assembly_copy_of(finding, b));
        nw_json_line_string(builder, "turn", turn);
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
static void add_body(JsonBuilder *builder, const NwDesign *design, const NwFoundAssembly *finding,
                     int body) {
    int piece = finding->placements[body].piece;
    if (design->pieces[piece].copies == 1) {
        json_builder_add_int_value(builder, piece);
        return;
    }
    json_builder_begin_array(builder);
    json_builder_add_int_value(builder, piece);
    json_builder_add_int_value(builder, nw_found_assembly_copy_of(finding, body));
    json_builder_end_array(builder);
}

void nw_search_json_add_way_out(JsonBuilder *builder, const NwDesign *design,
                                const NwFoundAssembly *finding) {
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
        nw_json_line_string(builder, "direction", direction);
        json_builder_set_member_name(builder, "cells");
        if (slide->cells == NW_SLIDE_OUT)
            json_builder_add_null_value(builder);
        else
            json_builder_add_int_value(builder, slide->cells);
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

void nw_search_json_add_total(JsonBuilder *builder, const NwFoundAssembly *finding) {
    nw_json_line_int(builder, "total", finding->total);
    if (finding->at_least) {
        nw_json_line_boolean(builder, "fewest", finding->at_least == finding->total);
        nw_json_line_int(builder, "at_least", finding->at_least);
    }
}

void nw_search_json_assembly(const NwDesign *design, const NwFoundAssembly *finding,
                             guint64 number) {
    char key[17];
    g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", finding->key);
    JsonBuilder *builder = nw_json_line_begin("assembly");
    nw_json_line_int(builder, "number", (gint64)number);
    nw_json_line_string(builder, "key", key);
    nw_json_line_string(builder, "status", nw_verdict_name(finding->verdict));
    nw_json_line_boolean(builder, "intended", finding->intended);
    if (finding->drawn)
        nw_json_line_boolean(builder, "drawn", TRUE);
    if (finding->verdict == NW_OPENS) {
        NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
        nw_json_line_int(builder, "level", finding->level);
        nw_json_line_ints(builder, "levels", levels.slides, levels.count);
        nw_search_json_add_total(builder, finding);
    }
    if (finding->verdict == NW_UNDECIDED)
        nw_json_line_int(builder, "states", (gint64)finding->states);
    nw_search_json_add_placements(builder, finding);
    if (finding->verdict == NW_OPENS)
        nw_search_json_add_way_out(builder, design, finding);
    nw_json_line_end(builder);
}

void nw_search_json_done(const NwSearchProgress *progress) {
    JsonBuilder *builder = nw_json_line_begin("done");
    nw_json_line_boolean(builder, "complete", progress->state == NW_SEARCH_COMPLETE);
    nw_json_line_int(builder, "assemblies", (gint64)progress->found);
    nw_json_line_int(builder, "opening", (gint64)progress->verdicts[NW_OPENS]);
    nw_json_line_int(builder, "cooks", (gint64)progress->cooks);
    nw_json_line_int(builder, "unreachable", (gint64)progress->verdicts[NW_UNREACHABLE]);
    nw_json_line_int(builder, "undecided", (gint64)progress->verdicts[NW_UNDECIDED]);
    nw_json_line_double(builder, "seconds", progress->seconds);
    nw_json_line_end(builder);
}
