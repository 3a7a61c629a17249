/* A symmetry of the outside shape in the words of a menu, translated: "Half turn about x", "Mirror
 * across x = y". The caller frees (g_free). Thread: the main one. */
#ifndef NW_TEXT_SYMMETRY_WORDS_H
#define NW_TEXT_SYMMETRY_WORDS_H

#include <glib.h>

#include "lattice/turn.h"

char *nw_symmetry_words(NwTurn turn);

#endif
