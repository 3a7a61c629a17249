#include "measure/measures.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "base/bits.h"
#include "slide/grips.h"

static const struct {
    const char *name, *title, *definition;
} table[NW_MEASURE_COUNT] = {
    [NW_MEASURE_FITTING] = {"fitting", N_("Assemblies that fit"),
                            N_("Ways in which all pieces fit the outside shape. Ways that differ "
                               "by a turn of the whole count once.")},
    [NW_MEASURE_UNREACHABLE] = {"unreachable", N_("… unreachable"),
                                N_("Assemblies that fit, but no sequence of slides gets there. On "
                                   "paper they look like the answer.")},
    [NW_MEASURE_LEVEL] =
        {"level", N_("Levels"),
         N_("The slides to each separation of the way out, in order. The first is the level: the "
            "fewest slides until a piece or group is free, including the one that frees it. A "
            "slide counts once, however far it goes.")},
    [NW_MEASURE_TOTAL] = {"total", N_("Slides in all"),
                          N_("Slides of the way out until every piece is on its own. Each group "
                             "that comes free is taken apart by the fewest slides until something "
                             "of it is free, so another way may need fewer in all.")},
    [NW_MEASURE_POSITIONS] = {"positions", N_("Positions before anything is free"),
                              N_("Ways in which the pieces can stand to each other after any "
                                 "slides from the assembled one, up to the first from which "
                                 "something can leave; those count too.")},
    [NW_MEASURE_DEAD_ENDS] =
        {"dead-ends", N_("… of them dead ends"),
         N_("Positions from which you must turn back: no way from the assembled position to one "
            "where something is free leads through them without repeating a position.")},
    [NW_MEASURE_HELD_OUT] =
        {"held-out", N_("Held at once, taking apart"),
         N_("The fewest pieces that you must hold at the worst slide of the way out, so that "
            "exactly the right pieces move whatever friction does. Gravity is ignored.")},
    [NW_MEASURE_HELD_IN] = {"held-in", N_("Held at once, putting together"),
                            N_("The same for the way in.")},
    [NW_MEASURE_BLIND] =
        {"blind", N_("Pieces tried in a blind search"),
         N_("How often a piece is placed if you try everything: largest piece first, anywhere it "
            "overlaps nothing, without looking ahead and ignoring slides; one of several "
            "equivalent first places. Estimated from random samples (D. E. Knuth, 1975), with the "
            "standard error of the mean.")},
};

const char *nw_measure_name(NwMeasure measure) {
    return table[measure].name;
}

NwMeasure nw_measure_of_name(const char *name) {
    for (int i = 0; i < NW_MEASURE_COUNT; i++)
        if (strcmp(table[i].name, name) == 0)
            return (NwMeasure)i;
    return NW_MEASURE_COUNT;
}

const char *nw_measure_title(NwMeasure measure) {
    return _(table[measure].title);
}

const char *nw_measure_definition(NwMeasure measure) {
    return _(table[measure].definition);
}

const char *nw_measure_axis(NwMeasure measure) {
    switch (measure) {
    case NW_MEASURE_UNREACHABLE:
        return _("Assemblies that fit and are unreachable");
    case NW_MEASURE_LEVEL:
        return _("Level");
    case NW_MEASURE_DEAD_ENDS:
        return _("Dead ends, as a share of all positions");
    default:
        return nw_measure_title(measure);
    }
}

gboolean nw_measure_value(const NwMeasures *measures, NwMeasure measure, double *value) {
    const NwTally *tally = &measures->tally;
    const NwGraphFigures *graph = &measures->graph;
    gboolean graph_known = measures->has_way && measures->graph_status == NW_OK;
    switch (measure) {
    case NW_MEASURE_FITTING:
        *value = (double)tally->fitting;
        return tally->complete;
    case NW_MEASURE_UNREACHABLE:
        *value = (double)tally->unreachable;
        return tally->complete && !tally->undecided && !tally->unexamined;
    case NW_MEASURE_LEVEL:
        *value = measures->levels.count ? measures->levels.slides[0] : 0;
        return measures->has_way;
    case NW_MEASURE_TOTAL:
        *value = measures->total;
        return measures->has_way;
    case NW_MEASURE_POSITIONS:
        *value = graph->positions;
        return graph_known;
    case NW_MEASURE_DEAD_ENDS:
        *value = graph->positions ? (double)graph->dead_ends / graph->positions : 0;
        return graph_known;
    case NW_MEASURE_HELD_OUT:
        *value = measures->held_out;
        return measures->has_way;
    case NW_MEASURE_HELD_IN:
        *value = measures->held_in;
        return measures->has_way;
    case NW_MEASURE_BLIND:
        *value = measures->blind.nodes;
        return measures->blind.dives > 0;
    default:
        return FALSE;
    }
}

static char *dup_unknown(const NwMeasures *measures, NwMeasure measure) {
    switch (measure) {
    case NW_MEASURE_FITTING:
        return g_strdup_printf(_("unknown: the search was stopped (%" PRIu64 " so far)"),
                               measures->tally.fitting);
    case NW_MEASURE_UNREACHABLE:
        return g_strdup(measures->tally.complete ? _("unknown: some assemblies are undecided")
                                                 : _("unknown: the search was stopped"));
    case NW_MEASURE_BLIND:
        return g_strdup(_("not estimated"));
    case NW_MEASURE_POSITIONS:
        if (measures->has_way)
            return g_strdup_printf(_("unknown: more than %u"), measures->graph.positions);
        break;
    case NW_MEASURE_DEAD_ENDS:
        if (measures->has_way)
            return g_strdup(_("unknown: too many positions"));
        break;
    default:
        break;
    }
    return g_strdup(_("unknown: no assembly found that comes apart"));
}

/* A number of two digits and its power of ten where it is large: such an estimate is no better. */
static char *dup_rough(double value) {
    if (value < 1e6)
        return g_strdup_printf(value < 1000 ? "%.1f" : "%.0f", value);
    int power = (int)floor(log10(value));
    return g_strdup_printf("%.1f · 10^%d", value / pow(10, power), power);
}

char *nw_measure_dup_text(const NwMeasures *measures, NwMeasure measure) {
    double value;
    if (!nw_measure_value(measures, measure, &value))
        return dup_unknown(measures, measure);
    if (measure == NW_MEASURE_LEVEL) {
        char levels[NW_LEVELS_TEXT_SIZE];
        nw_levels_text(&measures->levels, levels);
        return g_strdup(levels);
    }
    if (measure == NW_MEASURE_DEAD_ENDS)
        return g_strdup_printf(_("%u (%.0f %%)"), measures->graph.dead_ends, 100 * value);
    if (measure != NW_MEASURE_BLIND)
        return g_strdup_printf("%.0f", value);
    g_autofree char *mean = dup_rough(value);
    g_autofree char *error = dup_rough(sqrt(measures->blind.variance));
    return g_strdup_printf(ngettext("%s ± %s (%lu sample, %lu of them complete)",
                                    "%s ± %s (%lu samples, %lu of them complete)",
                                    measures->blind.dives),
                           mean, error, measures->blind.dives, measures->blind.full);
}

/* ---- measuring ---------------------------------------------------------------------------- */

/* Positions and dives between two looks at whether the figures are still wanted. */
enum { POSITIONS_A_STEP = 2000, DIVES_A_STEP = 50 };

static int held_at_worst(const NwBody *bodies, const NwFoundAssembly *finding, gboolean diagonals,
                         gboolean backwards, NwProgress *progress) {
    NwClearanceCache *cache = nw_clearance_cache_new(diagonals);
    int most = 0;
    for (int s = 0; s < finding->slide_count && !nw_progress_is_stopped(progress); s++) {
        NwGroupPositions standing;
        nw_group_positions_after(finding->placement_count, finding->slides, s, &standing);
        NwGrips hold = nw_grips_of_slide(cache, bodies, &standing, &finding->slides[s], backwards);
        most = MAX(most, nw_count_bits(hold.movers) + nw_count_bits(hold.rest));
    }
    nw_clearance_cache_free(cache);
    return most;
}

/* The graph of one piece is one position: nothing can slide. */
static void take_graph(NwMeasures *measures, const NwBody *bodies, int count, gboolean diagonals,
                       guint32 max_positions, NwProgress *progress) {
    NwGraph *graph;
    if (nw_graph_new(bodies, count, diagonals, max_positions, &graph) != NW_OK) {
        measures->graph = (NwGraphFigures){.positions = 1};
        measures->graph_status = NW_OK;
        return;
    }
    gboolean wanted = TRUE;
    do {
        measures->graph_status = nw_graph_step(graph, POSITIONS_A_STEP);
        measures->graph = nw_graph_figures(graph);
        wanted = nw_progress_tell(progress, (double)measures->graph.positions / max_positions);
    } while (measures->graph_status == NW_STOPPED && wanted);
    nw_graph_free(graph);
}

gboolean nw_measures_take_way(NwMeasures *measures, const NwDesign *design,
                              const NwFoundAssembly *finding, gboolean diagonals,
                              guint32 max_positions, NwProgress *progress) {
    if (finding->verdict != NW_OPENS || finding->placement_count > NW_BODIES_MAX)
        return TRUE;
    NwBody bodies[NW_BODIES_MAX];
    nw_found_assembly_bodies(design, finding->placements, finding->placement_count, bodies);
    measures->has_way = TRUE;
    measures->levels = nw_levels_of(finding->slides, finding->slide_count);
    measures->total = finding->total;
    measures->held_out = held_at_worst(bodies, finding, diagonals, FALSE, progress);
    measures->held_in = held_at_worst(bodies, finding, diagonals, TRUE, progress);
    take_graph(measures, bodies, finding->placement_count, diagonals,
               max_positions ? max_positions : NW_GRAPH_POSITIONS_DEFAULT, progress);
    return !nw_progress_is_stopped(progress);
}

gboolean nw_measures_take_dives(NwMeasures *measures, const NwFit *fit, guint64 seed, gulong dives,
                                NwProgress *progress) {
    NwEstimator *estimator = nw_estimator_new(fit, seed);
    gulong made = 0;
    while (made < dives && nw_progress_tell(progress, (double)made / (double)dives)) {
        gulong some = MIN(DIVES_A_STEP, dives - made);
        nw_estimator_step(estimator, some);
        made += some;
    }
    measures->blind = nw_estimator_result(estimator);
    nw_estimator_free(estimator);
    return made == dives;
}
