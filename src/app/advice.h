/* One proposal of the advisor (cook/advisor.h) as a GObject, fixed once made: a row of the panel
 * that blocks cooks. It holds copies of all that the window needs, so the advisor that gave it may
 * be gone; and, for each cook that it kills, that cook as it stood and the parts that collide.
 *
 * May be made in any thread. Coordinates: the frame of the envelope. */
#ifndef NW_APP_ADVICE_H
#define NW_APP_ADVICE_H

#include <glib-object.h>

#include "app/finding_item.h"
#include "cook/advisor.h"
#include "cook/clash.h"

G_BEGIN_DECLS

#define NW_TYPE_ADVICE (nw_advice_get_type())
G_DECLARE_FINAL_TYPE(NwAdvice, nw_advice, NW, ADVICE, GObject)

enum { NW_KILLS_MAX = 200 }; /* that many are kept in detail; a packing has thousands of cooks */

/* A cook that is gone after the proposal. */
typedef struct NwKill {
    guint64 key;
    NwFate fate;     /* of a cook that is gone: not NW_FATE_OPENS, not NW_FATE_UNDECIDED */
    NwClash clash;   /* why it no longer fits */
    NwFinding *cook; /* where its pieces stood */
    NwSolid *there;  /* the parts of the cook that are in the way, or fall away */
} NwKill;

typedef struct NwAdviceFacts {
    NwChange changes[NW_CHANGES_MAX];
    int count;
    gboolean proved;
    gsize cooks_left, undecided, new_assemblies, hangs, tips;
    gsize searched;                 /* assemblies that the proof has found by a search of its own */
    int level_before, total_before; /* 0 if the intended assembly did not come apart */
    int level, total;
} NwAdviceFacts;

/* All are copied. `target` is the key of the cook asked about, whose kill then comes first; or 0.
 */
NwAdvice *nw_advice_new(NwAdvisor *advisor, const NwProposal *proposal, guint64 target);

const NwAdviceFacts *nw_advice_get_facts(NwAdvice *self);

/* The design before, settled, and after. Borrowed. */
const NwDesign *nw_advice_get_before(NwAdvice *self);
const NwDesign *nw_advice_get_after(NwAdvice *self);

/* All assemblies of the design after, as they are known; borrowed. Empty if they are not. */
const NwFounds *nw_advice_get_founds(NwAdvice *self);

/* The parts that change, in the intended assembly. Borrowed. */
const NwSolid *nw_advice_get_here(NwAdvice *self);

/* Whether it kills the cook with that key, and how many it kills. */
gboolean nw_advice_kills(NwAdvice *self, guint64 key);
gsize nw_advice_get_kill_count(NwAdvice *self);

/* The first NW_KILLS_MAX of them in detail; NULL beyond. */
const NwKill *nw_advice_get_kill(NwAdvice *self, gsize index);

G_END_DECLS

#endif
