/* Packing rectangles onto pages.
 *
 * The tallest come first. On each page that is begun the free room is kept as a skyline, the lowest
 * free height above each stretch of the page's width; a rectangle goes where its top comes to lie
 * lowest, of equals farthest left (the bottom-left rule; a survey is J. Jylanki, "A Thousand Ways
 * to Pack the Bin", 2010). Where rectangles may be turned by 90 degrees, the longest come first,
 * and each is tried both ways. Where no page has room a new one is begun.
 *
 *      |        +---+     |
 *      +-----+  |   |     |     the skyline: 0-6 at 4, 6-9 at 0, 9-13 at 5 ...
 *      |     |  |   +--+  |
 *      +-----+--+---+--+--+
 *
 * Any unit; here millimetres. Thread: any. Cost: count * (count + stretches). */
#ifndef NW_MAKE_PACK_H
#define NW_MAKE_PACK_H

#include <stdbool.h>
#include <stddef.h>

typedef struct NwPacked {
    double width, height; /* set by the caller */
    size_t page;          /* set by nw_pack */
    double x, y;          /* of its lower left corner */
    bool turned;          /* so that it lies `height` wide */
} NwPacked;

/* Places all; no two are nearer than `gap`. Returns the number of pages, or 0 if one is larger than
 * the page (or there is none). */
size_t nw_pack(NwPacked *items, size_t count, double width, double height, double gap);

/* The same with turns by 90 degrees, where they make the top lie lower. */
size_t nw_pack_turning(NwPacked *items, size_t count, double width, double height, double gap);

#endif
