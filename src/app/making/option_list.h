/* The options of a product, a row each, and before them the kind of file where a product can be
 * written as several. What is chosen is kept in the settings as it is chosen, and is there again
 * when the product is shown the next time.
 *
 * Signals:
 *   "changed"  the maker chose something
 * Thread: the main one. */
#ifndef NW_APP_MAKING_OPTION_LIST_H
#define NW_APP_MAKING_OPTION_LIST_H

#include <gtk/gtk.h>

#include "export/export_request.h"

G_BEGIN_DECLS

#define NW_TYPE_OPTION_LIST (nw_option_list_get_type())
G_DECLARE_FINAL_TYPE(NwOptionList, nw_option_list, NW, OPTION_LIST, GtkWidget)

/* Shows the rows of a product, which is constant. */
void nw_option_list_show(NwOptionList *self, const NwProduct *product);

/* Sets what is chosen and is not the standard, of the product that is shown. */
void nw_option_list_fill(NwOptionList *self, NwExportRequest *request);

/* The ending that the file is to have; borrowed, NULL for a folder. */
const char *nw_option_list_get_ending(NwOptionList *self);

/* Whether something else than the standard is chosen; and back to it. */
gboolean nw_option_list_is_changed(NwOptionList *self);
void nw_option_list_reset(NwOptionList *self);

gboolean nw_option_list_is_empty(NwOptionList *self);

G_END_DECLS

#endif
