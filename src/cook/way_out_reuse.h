/* Whether the old way out still works.
 *
 * Parts that are gone stand in nobody's way, so of all pairs of parts only those with a part that
 * was won need be looked at: each such part is carried along all slides of the old way out, and
 * tested from the vertices (lattice/overlap.h) against the parts of the bodies that it has not
 * parted from and that move otherwise, at the positions that the replay (slide/replay.h) tests too.
 *
 * That spares a slide search where only it matters that an assembly comes apart: a cook. For the
 * intended one the level matters too, and it is known in two cases. If parts were only added,
 * nothing that was blocked is free now, so the level is what it was. And if the level was 1, it
 * cannot be lower. In all other cases a lost part may have opened a shorter way, and the search
 * must tell. Thread: any. */
#ifndef NW_COOK_WAY_OUT_REUSE_H
#define NW_COOK_WAY_OUT_REUSE_H

#include "cook/variant.h"

/* `slides` take the unchanged pieces apart, bodies numbered as the placements, which are places of
 * the changed pieces too. */
bool nw_way_out_still_works(const NwBaseline *baseline, const NwVariant *variant,
                            const NwPlacement *placements, const NwChange *changes, int count,
                            const NwSlide *slides, int slide_count);

#endif
