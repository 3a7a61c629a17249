#include "session/trial_item.h"

struct _NwTrialItem {
    GObject parent;
    NwStoredTrial *trial;
};

G_DEFINE_FINAL_TYPE(NwTrialItem, nw_trial_item, G_TYPE_OBJECT)

static void nw_trial_item_finalize(GObject *object) {
    nw_stored_trial_free(NW_TRIAL_ITEM(object)->trial);
    G_OBJECT_CLASS(nw_trial_item_parent_class)->finalize(object);
}

static void nw_trial_item_class_init(NwTrialItemClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_trial_item_finalize;
}

static void nw_trial_item_init(NwTrialItem *self) {
    (void)self;
}

NwTrialItem *nw_trial_item_new_take(NwStoredTrial *trial) {
    NwTrialItem *self = g_object_new(NW_TYPE_TRIAL_ITEM, NULL);
    self->trial = trial;
    return self;
}

const NwStoredTrial *nw_trial_item_get(NwTrialItem *self) {
    return self->trial;
}
