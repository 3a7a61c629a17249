#include <gio/gio.h>
#include <glib/gi18n.h>
#include <locale.h>

#include "app/application.h"
#include "app/common/config.h"

/* GSettings ends the program where its schema is missing, so ask first. */
static gboolean has_settings(void) {
    GSettingsSchemaSource *source = g_settings_schema_source_get_default();
    GSettingsSchema *schema =
        source ? g_settings_schema_source_lookup(source, NW_APP_ID, TRUE) : NULL;
    if (!schema)
        return FALSE;
    g_settings_schema_unref(schema);
    return TRUE;
}

int main(int argc, char **argv) {
    const char *catalogues = g_getenv("NW_LOCALE_DIR"); /* where it is not installed yet */
    setlocale(LC_ALL, "");
    bindtextdomain(GETTEXT_PACKAGE, catalogues ? catalogues : NW_LOCALE_DIR);
    bind_textdomain_codeset(GETTEXT_PACKAGE, "UTF-8");
    textdomain(GETTEXT_PACKAGE);
    if (!has_settings()) {
        g_printerr(_("notchwright: settings schema not installed; start with “build-aux/run” or "
                     "run “ninja -C build install”\n"));
        return 1;
    }
    NwApplication *app = nw_application_new();
    int status = g_application_run(G_APPLICATION(app), argc, argv);
    g_object_unref(app);
    return status;
}
