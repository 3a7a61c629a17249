/* The application: one store, one window. Thread: the main one. */
#ifndef NW_APP_APPLICATION_H
#define NW_APP_APPLICATION_H

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define NW_TYPE_APPLICATION (nw_application_get_type())
G_DECLARE_FINAL_TYPE(NwApplication, nw_application, NW, APPLICATION, GtkApplication)

NwApplication *nw_application_new(void);

G_END_DECLS

#endif
