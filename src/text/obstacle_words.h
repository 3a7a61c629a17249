/* What stops a piece, in words (slide/obstacles.h). Strings are the caller's (g_free). */
#ifndef NW_TEXT_OBSTACLE_WORDS_H
#define NW_TEXT_OBSTACLE_WORDS_H

#include <glib.h>

#include "assembly/found_assembly.h"
#include "slide/obstacles.h"

/* All that the words are about: a finding, and how things stand on its way out. */
typedef struct NwObstacleView {
    const NwDesign *design;
    const NwFoundAssembly *finding;
    NwBody bodies[NW_BODIES_MAX];
    NwGroupPositions standing;
    NwObstacles obstacles;
} NwObstacleView;

/* After the first `slides_done` slides. FALSE for more bodies than the slide search takes. */
gboolean nw_obstacle_view_fill(NwObstacleView *view, const NwDesign *design,
                               const NwFoundAssembly *finding, int slides_done);

/* A cell of the table: "free", "C", "BC", "2, then C". */
char *nw_obstacle_words_short(const NwObstacleView *view, int body, int direction);

/* Whole sentences, with the parts that do the stopping. */
char *nw_obstacle_words_long(const NwObstacleView *view, int body, int direction);

#endif
