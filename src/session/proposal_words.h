/* Proposals and near misses in sentences. Strings are the caller's (g_free). `axis` is the one
 * whose layers the board shows. Thread: the main one. */
#ifndef NW_SESSION_PROPOSAL_WORDS_H
#define NW_SESSION_PROPOSAL_WORDS_H

#include "session/proposal_item.h"
#include "session/search_session.h"

/* "Give the upper corner north-east of cell 1,3 in layer z = 2 to D", one line for each change. */
char *nw_proposal_words_changes(const NwDesign *design, const NwChange *changes, int count,
                                int axis);

/* What is being found out about a candidate: "searching the changed design, 40 %". */
char *nw_proposal_words_front(const NwFront *front);

/* "No longer fits: in the cook the part would lie in piece C." */
char *nw_proposal_words_kill(NwProposalItem *advice, const NwKill *kill);

/* "Cook 3" as the list numbers it, or "A cook". */
char *nw_proposal_words_cook(NwSearchSession *session, guint64 key);

/* "No cook left", "2 cooks left, 1 undecided". */
char *nw_proposal_words_left(const NwProposalFacts *facts);

/* "Level 4 → 4, 11 → 12 slides in all". */
char *nw_proposal_words_level(const NwProposalFacts *facts);

/* What else there is to know, one line each: new assemblies, what hangs, what pricks; or NULL. */
char *nw_proposal_words_marks(const NwProposalFacts *facts);

/* "Proved by a full search of 4 assemblies", or why it is not. */
char *nw_proposal_words_proof(const NwProposalFacts *facts);

/* What broke: "Piece C would fall into lumps." */
char *nw_proposal_words_miss(const NwDesign *design, const NwMiss *miss);

/* The same for all of a kind: "the intended assembly would be stuck", with their number. */
char *nw_proposal_words_missed(NwMissReason reason, gsize count);

#endif
