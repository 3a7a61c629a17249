#include <glib/gi18n.h>

#include "cli/make.h"
#include "cli/verb.h"
#include "export/products.h"

static char *dup_about(void) {
    GString *about =
        g_string_new(_("Makes nets, meshes, cutting lists or the sheet for the box.\n"));
    const NwProduct *product;
    for (size_t i = 0; (product = nw_product(i)); i++)
        g_string_append_printf(about, "\n  %-7s %s", product->name, _(product->title));
    g_string_append(about, _("\n\nRun “notch make PRODUCT --help” for more about a product."));
    return g_string_free(about, FALSE);
}

NwExit nw_verb_make(int argc, char **argv) {
    const NwProduct *product = argc > 1 ? nw_product_find(argv[1]) : NULL;
    if (product)
        return nw_make_product(product, argc - 1, argv + 1);
    char *about = dup_about();
    gboolean parsed = nw_verb_parse(&argc, &argv, NULL, _("PRODUCT DESIGN"), about, 1, -1);
    g_free(about);
    if (parsed)
        nw_complain(_("unknown product “%s”; see “notch make --help”"), argv[1]);
    return NW_EXIT_USAGE;
}
