#include "cli/assembly_arg.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "cli/verb.h"

gboolean nw_assembly_arg(const NwSearchResults *results, const char *which, guint *index) {
    guint count = results->findings->len;
    char *end;
    unsigned long number = strtoul(which, &end, 10);
    if (!*end && strlen(which) < 10 && number >= 1 && number <= count) {
        *index = (guint)number - 1;
        return TRUE;
    }
    guint matches = 0;
    for (guint i = 0; i < count && strlen(which) >= 4; i++) {
        const NwFoundAssembly *finding = results->findings->pdata[i];
        char key[17];
        g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", finding->key);
        if (g_str_has_prefix(key, which)) {
            *index = i;
            matches++;
        }
    }
    if (matches > 1)
        nw_complain(_("several keys begin with “%s”; type more of it"), which);
    else if (!count)
        nw_complain(_("the design has no assembly"));
    else if (!matches)
        nw_complain(_("no assembly “%s”; use a number from 1 to %u, or a key"), which, count);
    return matches == 1;
}
