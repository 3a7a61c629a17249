/* Which raw assemblies of the plain solver are the same; the rule is in plain_fit.h.
 *
 * `keys` has raw * bodies numbers, rising within an assembly and the assemblies all different: the
 * number of a placement is its index in the places of its piece plus base[piece]. Fills class_of,
 * classes and symmetries of `fit`, whose places must be there. */
#ifndef NW_TESTS_PLAIN_CLASS_H
#define NW_TESTS_PLAIN_CLASS_H

#include "plain/plain_fit.h"

void nw_plain_classify(const NwDesign *design, NwPlainFit *fit, const size_t *keys,
                       const size_t *base);

#endif
