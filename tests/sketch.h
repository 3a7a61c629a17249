/* Random sketching for tests: edits of any kind on a design, and what must hold after each. */
#ifndef NW_TESTS_SKETCH_H
#define NW_TESTS_SKETCH_H

#include "design/edit.h"
#include "plain/random_design.h"

/* One random edit, with a random selection where one is needed. */
NwStatus sketch_random_edit(NwEdit *edit, NwRandom *random);

/* Whether two designs agree in every field. */
bool sketch_same(const NwDesign *a, const NwDesign *b);

/* Whether all bodies lie in the envelope and no two share a part. */
bool sketch_is_disjoint(const NwDesign *design);

#endif
