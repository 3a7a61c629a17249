#include <glib/gi18n.h>
#include <string.h>

#include "cli/make.h"
#include "cli/verb.h"

static const struct {
    const char *name, *summary;
    NwVerbRun *run;
} products[] = {
    {"mesh", N_("meshes for printing: 3MF, STL or OBJ"), nw_make_mesh},
    {"nets", N_("nets of card to cut and fold: PDF or SVG"), nw_make_nets},
    {"cuts", N_("panels, blocks and a table for sheet and solid stock"), nw_make_cuts},
#ifdef NW_PICTURES
    {"sheet", N_("the sheet for the box, with the answer to be sealed"), nw_make_sheet},
#endif
};

static char *dup_about(void) {
    GString *about = g_string_new(_("Makes what a maker needs from a design.\n"));
    for (gsize i = 0; i < G_N_ELEMENTS(products); i++)
        g_string_append_printf(about, "\n  %-7s %s", products[i].name, _(products[i].summary));
    g_string_append(about, _("\n\n“notch make PRODUCT --help” tells more about each."));
    return g_string_free(about, FALSE);
}

NwExit nw_verb_make(int argc, char **argv) {
    for (gsize i = 0; argc > 1 && i < G_N_ELEMENTS(products); i++)
        if (strcmp(products[i].name, argv[1]) == 0)
            return products[i].run(argc - 1, argv + 1);
    char *about = dup_about();
    gboolean parsed = nw_verb_parse(&argc, &argv, NULL, _("PRODUCT DESIGN"), about, 1, -1);
    g_free(about);
    if (parsed)
        nw_complain(_("there is no product “%s”: “notch make --help” lists them"), argv[1]);
    return NW_EXIT_USAGE;
}
