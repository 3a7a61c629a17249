#include "cli/advice.h"
#include "cli/json_line.h"
#include "cook/conflict.h"

/* ---- JSON, one object a line ------------------------------------------------------------- */

static void add_part(JsonBuilder *builder, const char *name, NwPart part) {
    json_builder_set_member_name(builder, name);
    json_builder_begin_array(builder);
    for (int axis = 0; axis < 3; axis++)
        json_builder_add_int_value(builder, nw_vec_get(part.cell, axis));
    json_builder_add_int_value(builder, part.bit);
    json_builder_end_array(builder);
}

/* {"level": L, "total": T}, or null if it does not come apart. */
static void add_way(JsonBuilder *builder, const char *name, NwStatus opens, int level, int total) {
    json_builder_set_member_name(builder, name);
    if (opens != NW_OK) {
        json_builder_add_null_value(builder);
        return;
    }
    json_builder_begin_object(builder);
    nw_json_line_int(builder, "level", level);
    nw_json_line_int(builder, "total", total);
    json_builder_end_object(builder);
}

static void add_key(JsonBuilder *builder, uint64_t key) {
    char text[17];
    g_snprintf(text, sizeof text, "%016" G_GINT64_MODIFIER "x", key);
    json_builder_add_string_value(builder, text);
}

static const char *piece_name(const NwBaseline *baseline, int piece) {
    return piece < 0 ? NULL : baseline->design->pieces[piece].name;
}

static void add_changes(JsonBuilder *builder, const NwBaseline *baseline, const NwChange *changes,
                        int count) {
    json_builder_set_member_name(builder, "changes");
    json_builder_begin_array(builder);
    for (int i = 0; i < count; i++) {
        json_builder_begin_object(builder);
        add_part(builder, "part", changes[i].part);
        nw_json_line_string(builder, "from", piece_name(baseline, changes[i].from));
        nw_json_line_string(builder, "to", piece_name(baseline, changes[i].to));
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

/* ---- proposals --------------------------------------------------------------------------- */

static const char *const how[] = {
    [NW_FATE_NO_FIT] = "no longer fits",
    [NW_FATE_MERGED] = "same as the intended",
    [NW_FATE_BLOCKED] = "way out blocked",
    [NW_FATE_UNDECIDED] = "undecided",
    [NW_FATE_OPENS] = "opens",
};

static const char *const clash_names[] = {
    [NW_CONFLICT_NONE] = NULL,         [NW_CONFLICT_OUTSIDE] = "outside",
    [NW_CONFLICT_OVERLAP] = "overlap", [NW_CONFLICT_HOLE] = "hole",
    [NW_CONFLICT_ODD] = "odd shift",
};

static gboolean is_killed(const NwBaseline *baseline, const NwOutcome *outcome, size_t known) {
    return nw_baseline_is_cook(baseline, known) && outcome->fates[known] <= NW_FATE_BLOCKED;
}

/* One "how" for all, or "several ways". */
static const char *how_all(const NwBaseline *baseline, const NwOutcome *outcome) {
    const char *one = NULL;
    for (size_t i = 0; i < baseline->known_count; i++) {
        if (!is_killed(baseline, outcome, i))
            continue;
        if (one && one != how[outcome->fates[i]])
            return "several ways";
        one = how[outcome->fates[i]];
    }
    return one;
}

/* For each cook that is gone: how, and which part of the cook does it. */
static void add_reasons(JsonBuilder *builder, const NwBaseline *baseline,
                        const NwProposal *proposal) {
    json_builder_set_member_name(builder, "reasons");
    json_builder_begin_array(builder);
    for (size_t i = 0; i < baseline->known_count; i++) {
        if (!is_killed(baseline, &proposal->outcome, i))
            continue;
        json_builder_begin_object(builder);
        json_builder_set_member_name(builder, "cook");
        add_key(builder, baseline->known[i].key);
        nw_json_line_string(builder, "how", how[proposal->outcome.fates[i]]);
        NwConflict conflict =
            nw_conflict_find(baseline, proposal->design, proposal->changes, proposal->count, i);
        if (proposal->outcome.fates[i] == NW_FATE_NO_FIT && conflict.kind != NW_CONFLICT_NONE) {
            const NwPlacement *placements = baseline->known[i].placements;
            nw_json_line_string(builder, "clash", clash_names[conflict.kind]);
            nw_json_line_int(builder, "change", conflict.change);
            if (conflict.kind != NW_CONFLICT_ODD)
                add_part(builder, "part", conflict.part);
            if (conflict.kind == NW_CONFLICT_OVERLAP)
                nw_json_line_string(builder, "in",
                                    piece_name(baseline, placements[conflict.other].piece));
        }
        json_builder_end_object(builder);
    }
    json_builder_end_array(builder);
}

void nw_advice_line_proposal(NwAdvisor *advisor, const NwProposal *proposal, guint rank) {
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    const NwOutcome *outcome = &proposal->outcome;
    int level, total;
    NwStatus before = nw_advisor_before(advisor, &level, &total);
    JsonBuilder *builder = nw_json_line_begin("proposal");
    nw_json_line_int(builder, "rank", rank);
    add_changes(builder, baseline, proposal->changes, proposal->count);
    json_builder_set_member_name(builder, "kills");
    json_builder_begin_array(builder);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (is_killed(baseline, outcome, i))
            add_key(builder, baseline->known[i].key);
    json_builder_end_array(builder);
    nw_json_line_string(builder, "how", how_all(baseline, outcome));
    add_reasons(builder, baseline, proposal);
    nw_json_line_int(builder, "cooks_left", (gint64)outcome->cooks);
    nw_json_line_int(builder, "new_assemblies", (gint64)outcome->new_assemblies);
    nw_json_line_int(builder, "new_cooks", (gint64)outcome->new_cooks);
    nw_json_line_int(builder, "assemblies", (gint64)outcome->assemblies);
    nw_json_line_int(builder, "unreachable", (gint64)outcome->unreachable);
    nw_json_line_int(builder, "undecided", (gint64)outcome->undecided);
    nw_json_line_int(builder, "hanging", (gint64)proposal->rank.hangs);
    nw_json_line_int(builder, "sharp", (gint64)proposal->rank.tips);
    add_way(builder, "intended", outcome->opens, outcome->level, outcome->total);
    add_way(builder, "before", before, level, total);
    nw_json_line_boolean(builder, "proved", proposal->proved);
    nw_json_line_end(builder);
}

void nw_advice_line_progress(const NwAdvisorProgress *progress) {
    JsonBuilder *builder = nw_json_line_begin("progress");
    nw_json_line_int(builder, "changes", progress->changes);
    nw_json_line_double(builder, "done", progress->share);
    nw_json_line_int(builder, "searches", (gint64)progress->proofs);
    nw_json_line_end(builder);
}

static const char *const broke[NW_MISS_COUNT] = {
    [NW_MISS_COOK_STAYS] = "cook stays",
    [NW_MISS_LUMPS] = "piece in lumps",
    [NW_MISS_STUCK] = "intended assembly stuck",
    [NW_MISS_UNDECIDED] = "undecided",
    [NW_MISS_NEW_COOK] = "new cook",
};

void nw_advice_line_misses(NwAdvisor *advisor) {
    const NwBaseline *baseline = nw_advisor_ground(advisor);
    size_t count;
    const NwMiss *misses = nw_advisor_misses(advisor, &count);
    for (size_t i = 0; i < count; i++) {
        JsonBuilder *builder = nw_json_line_begin("near-miss");
        add_changes(builder, baseline, misses[i].changes, misses[i].count);
        nw_json_line_string(builder, "broke", broke[misses[i].reason]);
        if (misses[i].piece >= 0)
            nw_json_line_string(builder, "piece", piece_name(baseline, misses[i].piece));
        nw_json_line_end(builder);
    }
}

void nw_advice_line_done(NwAdvisor *advisor, gboolean complete, guint proposals, guint proved) {
    NwAdvisorProgress progress;
    nw_advisor_progress(advisor, &progress);
    JsonBuilder *builder = nw_json_line_begin("done");
    nw_json_line_boolean(builder, "complete", complete);
    nw_json_line_int(builder, "proposals", proposals);
    nw_json_line_int(builder, "proved", proved);
    nw_json_line_int(builder, "single_changes", (gint64)progress.tried[1]);
    nw_json_line_int(builder, "pairs", (gint64)progress.tried[2]);
    nw_json_line_int(builder, "searches", (gint64)progress.proofs);
    json_builder_set_member_name(builder, "failed");
    json_builder_begin_object(builder);
    for (int i = 0; i < NW_MISS_COUNT; i++)
        nw_json_line_int(builder, broke[i], (gint64)progress.missed[i]);
    json_builder_end_object(builder);
    nw_json_line_end(builder);
}

/* ---- what a part does -------------------------------------------------------------------- */

void nw_advice_line_part(const NwBaseline *baseline, NwPart part, const NwExplain *explain,
                         int level, int total) {
    const NwExplanation *told = nw_explain_get(explain);
    const NwKnown *intended = &baseline->known[baseline->intended];
    JsonBuilder *builder = nw_json_line_begin("part");
    add_part(builder, "part", part);
    nw_json_line_string(builder, "piece", piece_name(baseline, told->piece));
    nw_json_line_boolean(builder, "may_be_empty", told->may_be_empty);
    nw_json_line_boolean(builder, "holds", told->holds);
    if (told->holds) {
        json_builder_set_member_name(builder, "revives");
        json_builder_begin_array(builder);
        for (size_t i = 0; i < baseline->known_count; i++)
            if (nw_explain_revives(baseline, told, i))
                add_key(builder, baseline->known[i].key);
        json_builder_end_array(builder);
        nw_json_line_int(builder, "new_cooks", (gint64)told->outcome.new_cooks);
        nw_json_line_int(builder, "cooks", (gint64)told->outcome.cooks);
        nw_json_line_int(builder, "undecided", (gint64)told->outcome.undecided);
        add_way(builder, "intended", told->outcome.opens, told->outcome.level, told->outcome.total);
        nw_json_line_boolean(builder, "idle", told->idle);
    }
    add_way(builder, "before", intended->opens, level, total);
    nw_json_line_end(builder);
}
