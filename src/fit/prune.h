/* Finding the rows of a matrix that cannot be part of any cover.
 *
 * A row that, once chosen, leaves some item that must be covered with nothing to cover it, is dead;
 * rows that only dead ones would have helped die in the next round, until none does. For each item
 * there is a list of its rows, and any live one that does not conflict will do as a support. One
 * that did moves ahead in its list, so that most often the first that is looked at is the one
 * (residual supports: Lecoutre, Hemery, "A study of residual supports in arc consistency", IJCAI
 * 2007; self-organizing lists: Rivest, CACM 19, 1976).
 *
 * A dead row costs a search little: choosing it is refuted at once. So it is asked first whether it
 * is worth while: a sample of rows, scattered over the matrix, is looked at, and where too few of
 * them die nothing more is done. Rows that died in the sample stay dead.
 *
 * A pull iterator; the matrix is borrowed. Thread: each belongs to one. */
#ifndef NW_FIT_PRUNE_H
#define NW_FIT_PRUNE_H

#include "fit/matrix.h"

typedef struct NwPruner NwPruner;

NwPruner *nw_pruner_new(const NwMatrix *matrix);
void nw_pruner_free(NwPruner *pruner); /* NULL is allowed */

/* Goes on until `effort` is spent, about a thousandth of a millisecond each; whether it is done. */
bool nw_pruner_step(NwPruner *pruner, long effort);

/* How many rows are dead, and which: a flag for each (borrowed). */
int nw_pruner_dead(const NwPruner *pruner, const bool **dead);

/* Rows looked at in the round in work, of all. */
int nw_pruner_row(const NwPruner *pruner);

#endif
