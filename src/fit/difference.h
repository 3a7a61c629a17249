/* How far one assembly is from another: the fewest bodies that stand elsewhere, over all motions
 * that make assemblies the same. */
#ifndef NW_FIT_DIFFERENCE_H
#define NW_FIT_DIFFERENCE_H

#include "fit/fit.h"

/* The placements are two assemblies of `fit`, fit->count each, sorted by piece. Sets bit b of
 * *moved (NULL allowed) for body b of `assembly` (b < 32) that stands elsewhere than any body of
 * its piece in the nearest image of `other`. Returns how many do, or -1 if either is no assembly
 * of `fit`. Cost: the order of the group times the bodies. */
int nw_fit_difference(const NwFit *fit, const NwPlacement *assembly, const NwPlacement *other,
                      uint32_t *moved);

#endif
