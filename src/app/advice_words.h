/* Proposals and near misses in sentences. Strings are the caller's (g_free). `axis` is the one
 * whose layers the board shows. Thread: the main one. */
#ifndef NW_APP_ADVICE_WORDS_H
#define NW_APP_ADVICE_WORDS_H

#include "app/advice.h"
#include "app/hunt.h"

/* "Give the upper corner north-east of cell 1,3 in layer z = 2 to D", one line for each change. */
char *nw_advice_words_changes(const NwDesign *design, const NwChange *changes, int count, int axis);

/* What is being found out about a candidate: "searching the changed design, 40 %". */
char *nw_advice_words_front(const NwFront *front);

/* "No longer fits: in the cook the part would lie in piece C." */
char *nw_advice_words_kill(NwAdvice *advice, const NwKill *kill);

/* "Cook 3" as the list numbers it, or "A cook". */
char *nw_advice_words_cook(NwHunt *hunt, guint64 key);

/* "No cook left", "2 cooks left, 1 undecided". */
char *nw_advice_words_left(const NwAdviceFacts *facts);

/* "Level 4 → 4, 11 → 12 slides in all". */
char *nw_advice_words_level(const NwAdviceFacts *facts);

/* What else there is to know, one line each: new assemblies, what hangs, what pricks; or NULL. */
char *nw_advice_words_marks(const NwAdviceFacts *facts);

/* "Proved by a full search of 4 assemblies", or why it is not. */
char *nw_advice_words_proof(const NwAdviceFacts *facts);

/* What broke: "Piece C would fall into lumps." */
char *nw_advice_words_miss(const NwDesign *design, const NwMiss *miss);

/* The same for all of a kind: "the intended assembly would be stuck", with their number. */
char *nw_advice_words_missed(NwMissReason reason, gsize count);

#endif
