/* One proposal of the advisor (cook/advisor.h) as a GObject, fixed once made: a row of the panel
 * that blocks cooks. It holds copies of all that the window needs, so the advisor that gave it may
 * be gone; and, for each cook that it kills, that cook as it stood and the parts that collide.
 *
 * May be made in any thread. Coordinates: the frame of the envelope. */
#ifndef NW_SESSION_PROPOSAL_ITEM_H
#define NW_SESSION_PROPOSAL_ITEM_H

#include <glib-object.h>

#include "cook/advisor.h"
#include "cook/conflict.h"
#include "session/assembly_item.h"

G_BEGIN_DECLS

#define NW_TYPE_PROPOSAL_ITEM (nw_proposal_item_get_type())
G_DECLARE_FINAL_TYPE(NwProposalItem, nw_proposal_item, NW, PROPOSAL_ITEM, GObject)

enum { NW_KILLS_MAX = 200 }; /* that many are kept in detail; a packing has thousands of cooks */

/* A cook that is gone after the proposal. */
typedef struct NwKill {
    guint64 key;
    NwFate fate;           /* of a cook that is gone: not NW_FATE_OPENS, not NW_FATE_UNDECIDED */
    NwConflict conflict;   /* why it no longer fits */
    NwFoundAssembly *cook; /* where its pieces stood */
    NwSolid *there;        /* the parts of the cook that are in the way, or fall away */
} NwKill;

typedef struct NwProposalFacts {
    NwChange changes[NW_CHANGES_MAX];
    int count;
    gboolean proved;
    gsize cooks_left, undecided, new_assemblies, hangs, tips;
    gsize searched;                 /* assemblies that the proof has found by a search of its own */
    int level_before, total_before; /* 0 if the intended assembly did not come apart */
    int level, total;
} NwProposalFacts;

/* All are copied. `target` is the key of the cook asked about, whose kill then comes first; or 0.
 */
NwProposalItem *nw_proposal_item_new(NwAdvisor *advisor, const NwProposal *proposal,
                                     guint64 target);

const NwProposalFacts *nw_proposal_item_get_facts(NwProposalItem *self);

/* The design before, settled, and after. Borrowed. */
const NwDesign *nw_proposal_item_get_before(NwProposalItem *self);
const NwDesign *nw_proposal_item_get_after(NwProposalItem *self);

/* All assemblies of the design after, as they are known; borrowed. Empty if they are not. */
const NwFounds *nw_proposal_item_get_founds(NwProposalItem *self);

/* The parts that change, in the intended assembly. Borrowed. */
const NwSolid *nw_proposal_item_get_here(NwProposalItem *self);

/* Whether it kills the cook with that key, and how many it kills. */
gboolean nw_advice_kills(NwProposalItem *self, guint64 key);
gsize nw_proposal_item_get_kill_count(NwProposalItem *self);

/* The first NW_KILLS_MAX of them in detail; NULL beyond. */
const NwKill *nw_proposal_item_get_kill(NwProposalItem *self, gsize index);

G_END_DECLS

#endif
