/* A screen reader takes the name of a button from its label and, once more, from the label's being
 * the mnemonic of the button: it reads "Create Create". Here the first of the two is taken away. */
#ifndef NW_APP_COMMON_ACCESSIBLE_NAMES_H
#define NW_APP_COMMON_ACCESSIBLE_NAMES_H

#include <gtk/gtk.h>

/* For all buttons in a widget, once their labels are what they stay. */
void nw_accessible_name_once(GtkWidget *widget);

#endif
