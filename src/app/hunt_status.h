/* The search at a glance: one button, how far it is, what it has found, how long it will take, and
 * a bar when the design is another by now. Watches a hunt. */
#ifndef NW_APP_HUNT_STATUS_H
#define NW_APP_HUNT_STATUS_H

#include <gtk/gtk.h>

#include "app/hunt.h"

G_BEGIN_DECLS

#define NW_TYPE_HUNT_STATUS (nw_hunt_status_get_type())
G_DECLARE_FINAL_TYPE(NwHuntStatus, nw_hunt_status, NW, HUNT_STATUS, GtkWidget)

void nw_hunt_status_set_hunt(NwHuntStatus *self, NwHunt *hunt);

G_END_DECLS

#endif
