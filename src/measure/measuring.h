/* Measuring a design: from its answer and its fit, or from the complete search that a store has.
 *
 * Nothing is searched here. A measuring of a large design takes long, for its graph of positions
 * and its dives: give it a thread of its own, and a progress to be stopped by. FALSE with an error:
 * G_IO_ERROR_CANCELLED where it was stopped, G_IO_ERROR_NOT_FOUND where the store has no complete
 * search, or what the store or the fit say. Thread: that of the library, which is opened for it. */
#ifndef NW_MEASURE_MEASURING_H
#define NW_MEASURE_MEASURING_H

#include "measure/measures.h"

enum { NW_MEASURE_DIVES = 10000, NW_MEASURE_SEED = 1 };

/* How to measure. */
typedef struct NwMeasuring {
    gboolean diagonals;    /* slides along face diagonals too */
    guint32 max_states;    /* of the search in the store; 0: the standard */
    guint32 max_positions; /* 0: NW_GRAPH_POSITIONS_DEFAULT */
    gulong dives;          /* 0: no estimate */
    guint64 seed;
} NwMeasuring;

/* Adds to `measures`, whose tally stands, what `answer` (NULL: there is none) and dives into `fit`
 * (NULL: it is built) tell. */
gboolean nw_measuring_of_answer(const NwMeasuring *measuring, const NwDesign *design,
                                const NwFit *fit, const NwFoundAssembly *answer,
                                NwProgress *progress, NwMeasures *measures, GError **error);

/* All of it, for one version of a design in the store at `path`. */
gboolean nw_measuring_from_store(const NwMeasuring *measuring, const char *path, gint64 version,
                                 NwProgress *progress, NwMeasures *measures, GError **error);

#endif
