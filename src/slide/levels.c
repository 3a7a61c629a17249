#include "slide/levels.h"

#include <stdio.h>

NwLevels nw_levels_of(const NwSlide *slides, int slide_count) {
    NwLevels levels = {0};
    int since = 0;
    for (int i = 0; i < slide_count && levels.count < NW_BODIES_MAX; i++) {
        since++;
        if (slides[i].cells != NW_SLIDE_OUT)
            continue;
        levels.slides[levels.count++] = since;
        since = 0;
    }
    return levels;
}

int nw_levels_compare(const NwLevels *a, const NwLevels *b) {
    for (int i = 0; i < a->count && i < b->count; i++)
        if (a->slides[i] != b->slides[i])
            return a->slides[i] < b->slides[i] ? -1 : 1;
    return (a->count > b->count) - (a->count < b->count);
}

void nw_levels_text(const NwLevels *levels, char text[NW_LEVELS_TEXT_SIZE]) {
    int at = snprintf(text, NW_LEVELS_TEXT_SIZE, "%d", levels->count ? levels->slides[0] : 0);
    for (int i = 1; i < levels->count; i++)
        at += snprintf(text + at, (size_t)(NW_LEVELS_TEXT_SIZE - at), "·%d", levels->slides[i]);
}
