#include <glib/gi18n.h>
#include <string.h>

#include "cli/make.h"
#include "cli/verb.h"

static const struct {
    const char *name, *summary;
    NwVerbRun *run;
} by_hand[] = {
    {"mesh", N_("meshes for printing: 3MF, STL or OBJ"), nw_make_mesh},
    {"cuts", N_("panels, blocks and a table for sheet and solid stock"), nw_make_cuts},
#ifdef NW_PICTURES
    {"sheet", N_("the sheet for the box, with the answer to be sealed"), nw_make_sheet},
#endif
};

static char *dup_about(void) {
    GString *about = g_string_new(_("Makes what a maker needs from a design.\n"));
    const NwProduct *product;
    for (size_t i = 0; (product = nw_product(i)); i++)
        g_string_append_printf(about, "\n  %-7s %s", product->name, _(product->title));
    for (gsize i = 0; i < G_N_ELEMENTS(by_hand); i++)
        g_string_append_printf(about, "\n  %-7s %s", by_hand[i].name, _(by_hand[i].summary));
    g_string_append(about, _("\n\n“notch make PRODUCT --help” tells more about each."));
    return g_string_free(about, FALSE);
}

NwExit nw_verb_make(int argc, char **argv) {
    const NwProduct *product = argc > 1 ? nw_product_find(argv[1]) : NULL;
    if (product)
        return nw_make_product(product, argc - 1, argv + 1);
    for (gsize i = 0; argc > 1 && i < G_N_ELEMENTS(by_hand); i++)
        if (strcmp(by_hand[i].name, argv[1]) == 0)
            return by_hand[i].run(argc - 1, argv + 1);
    char *about = dup_about();
    gboolean parsed = nw_verb_parse(&argc, &argv, NULL, _("PRODUCT DESIGN"), about, 1, -1);
    g_free(about);
    if (parsed)
        nw_complain(_("there is no product “%s”: “notch make --help” lists them"), argv[1]);
    return NW_EXIT_USAGE;
}
