/* The soft shadow of a scene on the ground under it, as a small grey picture.
 *
 * Triangles are carried along the light to the ground plane, filled, and blurred three times by a
 * box, which comes close to a bell curve (W. M. Wells, "Efficient synthesis of Gaussian filters by
 * cascaded uniform filters", IEEE PAMI 8, 1986). It depends on the bodies only, not on the eye.
 * Coordinates: cells. Thread: read-only once built. Cost: 100 to 500 microseconds. */
#ifndef NW_VIEW_SHADOW_H
#define NW_VIEW_SHADOW_H

#include "view/scene.h"

enum { NW_SHADOW_SIDE = 128 };

typedef struct NwShadow {
    unsigned char grey[NW_SHADOW_SIDE * NW_SHADOW_SIDE]; /* 255: wholly in shadow */
    float corner[3];                                     /* of the picture, on the ground */
    float across[3], upwards[3];                         /* its two sides */
} NwShadow;

/* False, and no picture, if nothing casts a shadow. */
bool nw_shadow_cast(const NwScene *scene, NwShadow *shadow);

#endif
