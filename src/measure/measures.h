/* How hard is it? Figures that can be looked up in their definitions, and no made-up score.
 *
 * Every measure has a name for scripts, a title and a definition for people, and either a value or
 * none: none where what it rests on is not known (a search that was stopped, an assembly that does
 * not open, a limit that was reached). The figures come from the search for assemblies, from the
 * way out of one of them, from the graph of its positions (slide/graph.h), from what must be held
 * (slide/grips.h), and from random dives (fit/estimate.h).
 *
 * Ownership: nothing is owned but by the caller. Thread: any. Cost: the graph, up to its limit of
 * positions; a dive costs a look at every place of every piece. */
#ifndef NW_MEASURE_MEASURES_H
#define NW_MEASURE_MEASURES_H

#include <glib.h>

#include "assembly/found_assembly.h"
#include "fit/estimate.h"
#include "make/progress.h"
#include "slide/graph.h"
#include "slide/levels.h"

typedef enum NwMeasure {
    NW_MEASURE_FITTING,
    NW_MEASURE_UNREACHABLE,
    NW_MEASURE_LEVEL,
    NW_MEASURE_TOTAL,
    NW_MEASURE_POSITIONS,
    NW_MEASURE_DEAD_ENDS,
    NW_MEASURE_HELD_OUT,
    NW_MEASURE_HELD_IN,
    NW_MEASURE_BLIND,
    NW_MEASURE_COUNT
} NwMeasure;

/* What the search for assemblies came to. */
typedef struct NwTally {
    gboolean complete;
    guint64 fitting, opening, unreachable, undecided, unexamined;
} NwTally;

typedef struct NwMeasures {
    NwTally tally;
    gboolean has_way; /* an assembly that opens was measured: the next five mean something */
    NwLevels levels;  /* of the way out; the first is the level */
    int total;
    int held_out, held_in; /* at the worst slide, taking apart and putting together */
    NwStatus graph_status; /* NW_OK: complete; NW_LIMIT: too large */
    NwGraphFigures graph;
    NwEstimate blind; /* no dives: not estimated */
} NwMeasures;

/* "fitting", "dead-ends", ...; and the measure of that name, or NW_MEASURE_COUNT. */
const char *nw_measure_name(NwMeasure measure);
NwMeasure nw_measure_of_name(const char *name);

/* In the language of the user: a few words, and one or two sentences. */
const char *nw_measure_title(NwMeasure measure);
const char *nw_measure_definition(NwMeasure measure);

/* The title where it stands alone, such as along the axis of a chart. */
const char *nw_measure_axis(NwMeasure measure);

/* FALSE where it is not known. Shares are from 0 to 1. */
gboolean nw_measure_value(const NwMeasures *measures, NwMeasure measure, double *value);

/* The value as it is shown, with its spread or share, or why there is none. The caller frees. */
char *nw_measure_dup_text(const NwMeasures *measures, NwMeasure measure);

/* Measures an assembly that opens: its way, the graph of its positions, what must be held. Those
 * figures are left as they are if it does not open or has too many pieces for the slide search.
 * FALSE: stopped; the figures then mean nothing. */
gboolean nw_measures_take_way(NwMeasures *measures, const NwDesign *design,
                              const NwFoundAssembly *finding, gboolean diagonals,
                              guint32 max_positions, NwProgress *progress);

/* Estimates the blind tree. FALSE: stopped; the estimate is then of fewer dives. */
gboolean nw_measures_take_dives(NwMeasures *measures, const NwFit *fit, guint64 seed, gulong dives,
                                NwProgress *progress);

#endif
