/* A slow, plain judge of changes to a design, to judge the advisor by. It shares no code with it:
 * assemblies come from the plain solver, ways out from the plain search, and what an assembly of
 * the changed design was before is found by comparing solids.
 *
 * An assembly of the changed design *is* one of the unchanged design if the pieces can be in the
 * same places: each body stands as a rotation and shift of its changed piece, and the same rotation
 * and shift of the unchanged piece is a body of the other assembly. Assemblies that count as one
 * are taken together. Undecided ways out are failures: the designs are to be small enough. */
#ifndef NW_TESTS_PLAIN_COOK_H
#define NW_TESTS_PLAIN_COOK_H

#include "design/design.h"
#include "plain/plain_fit.h"

typedef struct NwPlainCensus {
    const NwDesign *design; /* borrowed */
    NwPlainFit *fit;
    bool *opens; /* of each class */
    int *level;
    size_t intended;           /* its class; fit->classes if it does not fit */
    size_t cooks, unreachable; /* without the intended one */
} NwPlainCensus;

/* False if it is too large for plain searching: more than `raw` raw assemblies, or a way out that
 * takes more than `positions`. */
bool nw_plain_census(const NwDesign *design, size_t raw, size_t positions,
                     NwPlainCensus *enumeration);
void nw_plain_census_clear(NwPlainCensus *enumeration);

typedef struct NwPlainVerdict {
    bool *alive; /* of each class before: some class after that is it opens, and is not the
                    intended one */
    size_t new_assemblies, new_cooks; /* after: that are none of before */
} NwPlainVerdict;

void nw_plain_compare(const NwPlainCensus *before, const NwPlainCensus *after,
                      NwPlainVerdict *verdict);
void nw_plain_verdict_clear(NwPlainVerdict *verdict);

/* The designs that one part given, handed over or taken away makes of this one, whose intended
 * assembly fits: those in which it fits still, each once. Where the pieces come to fill the
 * envelope, nothing may be empty any more. The caller frees them and the array. */
size_t nw_plain_changes(const NwDesign *design, NwDesign ***changed);

/* Whether two designs have the same pieces, solid for solid. */
bool nw_plain_same_pieces(const NwDesign *a, const NwDesign *b);

#endif
