/* What the maker last wished for each product, kept in the settings: under "nets/cell-mm" a number,
 * under "mesh/each" whether, under "sheet/paper" a word. What no longer fits the row of the option
 * counts as its standard. Thread: the main one. */
#ifndef NW_SESSION_EXPORT_SETTINGS_H
#define NW_SESSION_EXPORT_SETTINGS_H

#include <gio/gio.h>

#include "export/product.h"

/* A number; of a switch 0 or 1; of a choice its index. */
double nw_export_settings_get(GSettings *settings, const NwProduct *product,
                              const NwOption *option);
void nw_export_settings_set(GSettings *settings, const NwProduct *product, const NwOption *option,
                            double value);

/* Back to the standards of all options of a product. */
void nw_export_settings_reset(GSettings *settings, const NwProduct *product);
gboolean nw_export_settings_any(GSettings *settings, const NwProduct *product);

#endif
