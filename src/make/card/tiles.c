#include "make/card/tiles.h"

#include <stdlib.h>

#include "base/memory.h"

static const NwBox no_box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};

static void extend(NwBox *box, NwPoint p) {
    box->low = (NwPoint){fmin(box->low.x, p.x), fmin(box->low.y, p.y)};
    box->high = (NwPoint){fmax(box->high.x, p.x), fmax(box->high.y, p.y)};
}

void nw_posed_tiles_clear(NwPosedTiles *posed) {
    for (size_t i = 0; i < posed->count; i++)
        free(posed->tiles[i].corners);
    free(posed->tiles);
    free(posed->boxes);
    *posed = (NwPosedTiles){NULL, NULL, no_box, 0};
}

void nw_posed_tiles_set(NwPosedTiles *posed, const NwFace *face, NwPose pose) {
    nw_posed_tiles_clear(posed);
    posed->count = face->tile_count;
    posed->tiles = nw_alloc(posed->count, sizeof *posed->tiles);
    posed->boxes = nw_alloc(posed->count, sizeof *posed->boxes);
    for (size_t i = 0; i < posed->count; i++) {
        const NwTile *own = &face->tiles[i];
        NwTile *tile = &posed->tiles[i];
        *tile = (NwTile){nw_alloc(own->count, sizeof(NwExactPoint)), own->count};
        posed->boxes[i] = no_box;
        for (size_t k = 0; k < own->count; k++) {
            tile->corners[k] = nw_exact_point_posed(own->corners[k], pose);
            extend(&posed->boxes[i], nw_exact_point_mm(tile->corners[k], 1));
        }
        extend(&posed->box, posed->boxes[i].low);
        extend(&posed->box, posed->boxes[i].high);
    }
}

/* Boxes that are clearly apart: touching ones are left to the exact test. */
static bool boxes_apart(const NwBox *a, const NwBox *b) {
    double margin = 1e-6;
    return a->high.x < b->low.x - margin || b->high.x < a->low.x - margin ||
           a->high.y < b->low.y - margin || b->high.y < a->low.y - margin;
}

static bool side_separates(const NwTile *a, const NwTile *b) {
    for (size_t i = 0; i < a->count; i++) {
        NwExactPoint from = a->corners[i],
                     along = nw_exact_point_sub(a->corners[(i + 1) % a->count], from);
        size_t k = 0;
        while (k < b->count && nw_root3_sign(nw_exact_point_cross(
                                   along, nw_exact_point_sub(b->corners[k], from))) <= 0)
            k++;
        if (k == b->count)
            return true;
    }
    return false;
}

bool nw_posed_tiles_overlap(const NwPosedTiles *a, const NwPosedTiles *b,
                            unsigned long long *effort) {
    ++*effort;
    if (boxes_apart(&a->box, &b->box))
        return false;
    for (size_t i = 0; i < a->count; i++) {
        if (boxes_apart(&a->boxes[i], &b->box))
            continue;
        for (size_t k = 0; k < b->count; k++) {
            if (boxes_apart(&a->boxes[i], &b->boxes[k]))
                continue;
            ++*effort;
            if (!side_separates(&a->tiles[i], &b->tiles[k]) &&
                !side_separates(&b->tiles[k], &a->tiles[i]))
                return true;
        }
    }
    return false;
}
