/* One row of the log of trials, fixed once made. Thread: the main one. */
#ifndef NW_SESSION_TRIAL_ITEM_H
#define NW_SESSION_TRIAL_ITEM_H

#include <glib-object.h>

#include "store/trials.h"

G_BEGIN_DECLS

#define NW_TYPE_TRIAL_ITEM (nw_trial_item_get_type())
G_DECLARE_FINAL_TYPE(NwTrialItem, nw_trial_item, NW, TRIAL_ITEM, GObject)

/* Takes the trial over. */
NwTrialItem *nw_trial_item_new_take(NwStoredTrial *trial);
const NwStoredTrial *nw_trial_item_get(NwTrialItem *self);

G_END_DECLS

#endif
