/* Asks where a product is to be written: a file with an ending that the product knows, or a folder.
 * A name without such an ending gets the one that was chosen; if a file of that name is there, it
 * is asked again, so that none is replaced unasked. Thread: the main one. */
#ifndef NW_APP_MAKING_EXPORT_DIALOG_H
#define NW_APP_MAKING_EXPORT_DIALOG_H

#include <gtk/gtk.h>

#include "export/product.h"

/* Called once at most, with a path on this machine. */
typedef void NwExportDialogCall(const char *path, gpointer data);

/* Shows the dialog. `name` is suggested, without an ending; `ending` is NULL for a folder; `folder`
 * is where it begins, or NULL. The caller keeps the dialog while it is open, and unrefs it. */
GtkFileChooserNative *nw_export_dialog_new(GtkWindow *parent, const NwProduct *product,
                                           const char *name, const char *ending, const char *folder,
                                           NwExportDialogCall *call, gpointer data);

#endif
