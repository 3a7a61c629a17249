#include <glib/gi18n.h>
#include <locale.h>

#include "app/application.h"

int main(int argc, char **argv) {
    const char *catalogues = g_getenv("NW_LOCALE_DIR"); /* where it is not installed yet */
    setlocale(LC_ALL, "");
    bindtextdomain(GETTEXT_PACKAGE, catalogues ? catalogues : NW_LOCALE_DIR);
    bind_textdomain_codeset(GETTEXT_PACKAGE, "UTF-8");
    textdomain(GETTEXT_PACKAGE);
    NwApplication *app = nw_application_new();
    int status = g_application_run(G_APPLICATION(app), argc, argv);
    g_object_unref(app);
    return status;
}
