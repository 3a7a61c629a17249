#include <errno.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/verb.h"
#include "format/design_json.h"
#include "lattice/named.h"
#include "lattice/number_text.h"
#include "lattice/plane_text.h"

static char *dup_about(void) {
    GString *about = g_string_new(_("Prints, as JSON, a design with this envelope and no pieces "
                                    "yet.\n\nSolids and their sizes, in cells:\n"));
    const NwNamedSolid *named;
    for (gsize i = 0; (named = nw_named_solid(i)); i++)
        g_string_append_printf(about, "  %-22s %s, %s\n", named->name,
                               named->sizes == 1 ? "N" : "A B C", named->measure);
    g_string_append(about, _("  planes                 PLANE…, the solid within these planes, such "
                             "as “x<=4”, “-z<=0”,\n                         “x+y-z<=6”; a plane "
                             "across all three axes needs an even limit"));
    return g_string_free(about, FALSE);
}

static gboolean parse_number(const char *text, int *number) {
    char *end;
    errno = 0;
    long value = strtol(text, &end, 10);
    if (errno || *end || end == text || value < -100000 || value > 100000)
        return FALSE;
    *number = (int)value;
    return TRUE;
}

static gboolean build_planes(int count, char **words, NwSolid **solid) {
    NwPlane planes[NW_PLANES_MAX];
    if (count > NW_PLANES_MAX) {
        nw_complain(_("too many planes (at most %d)"), NW_PLANES_MAX);
        return FALSE;
    }
    for (int i = 0; i < count; i++)
        if (!nw_plane_read(words[i], &planes[i])) {
            nw_complain(_("“%s” is no plane: write one such as “x<=4” or “x+y-z<=6”"), words[i]);
            return FALSE;
        }
    size_t fault = 0;
    char below[NW_NUMBER_TEXT_SIZE], above[NW_NUMBER_TEXT_SIZE];
    NwStatus status = nw_solid_from_planes(planes, (size_t)count, solid, &fault);
    switch (status) {
    case NW_OK:
        return TRUE;
    case NW_OFF_LATTICE:
        nw_complain(_("plane “%s”: the limit of a plane across all three axes must be even; the "
                      "nearest are %s and %s"),
                    words[fault], nw_number_text(planes[fault].limit - 1, below),
                    nw_number_text(planes[fault].limit + 1, above));
        return FALSE;
    case NW_UNKNOWN_NAME:
        nw_complain(_("plane “%s”: planes go across one axis or across all three, not two"),
                    words[fault]);
        return FALSE;
    case NW_OUT_OF_RANGE:
        nw_complain(_("plane “%s”: the limit is too far out; keep coordinates from %s to %d"),
                    words[fault], nw_number_text(NW_COORD_MIN, below), NW_COORD_MAX);
        return FALSE;
    case NW_UNBOUNDED:
        nw_complain(_("these planes do not enclose a solid; add planes on the open sides"));
        return FALSE;
    case NW_EMPTY:
        nw_complain(_("there is nothing within these planes; move some outwards"));
        return FALSE;
    default:
        nw_complain(_("the solid is too large: keep it within %d cells along each axis"),
                    NW_EXTENT_MAX);
        return FALSE;
    }
}

static void complain_of_size(const NwNamedSolid *named, int size) {
    int below, above;
    nw_named_solid_nearest(named, size, &below, &above);
    if (below > 0 && above != below)
        nw_complain(_("no %s of size %d; the nearest sizes are %d and %d"), named->name, size,
                    below, above);
    else
        nw_complain(_("the lattice holds no %s of size %d: the nearest size is %d"), named->name,
                    size, above);
}

static gboolean build_named(const NwNamedSolid *named, int count, char **words, NwSolid **solid) {
    int sizes[NW_SIZES_MAX];
    if (count != named->sizes) {
        nw_complain(
            ngettext("%s needs %d size: %s", "%s needs %d sizes: %s", (unsigned long)named->sizes),
            named->name, named->sizes, named->measure);
        return FALSE;
    }
    for (int i = 0; i < count; i++)
        if (!parse_number(words[i], &sizes[i])) {
            nw_complain(_("invalid size “%s”; use a whole number from 1 to %d"), words[i],
                        named->largest);
            return FALSE;
        }
    for (int i = 0; i < count; i++)
        if (sizes[i] < 1 || sizes[i] > named->largest || sizes[i] % named->step) {
            complain_of_size(named, sizes[i]);
            return FALSE;
        }
    return nw_named_solid_build(named, sizes, solid) == NW_OK;
}

/* A plane such as "-x<=0" looks like an option. A space before it keeps it from being taken for
 * one. The caller frees the array, and the words once. */
static char **shield_planes(int argc, char **argv) {
    char **words = g_new0(char *, argc + 1);
    for (int i = 0; i < argc; i++) {
        gboolean plane = argv[i][0] == '-' && argv[i][1] >= 'x' && argv[i][1] <= 'z';
        words[i] = g_strconcat(plane ? " " : "", argv[i], NULL);
    }
    return words;
}

NwExit nw_verb_solid(int argc, char **argv) {
    char *name = NULL, *about = dup_about();
    const GOptionEntry options[] = {
        {"name", 'n', 0, G_OPTION_ARG_STRING, &name, N_("Name of the design"), N_("TEXT")}, {NULL}};
    char **words = shield_planes(argc, argv);
    char **kept = g_memdup2(words, ((gsize)argc + 1) * sizeof *words);
    argv = words;
    gboolean parsed = nw_verb_parse(&argc, &argv, options, _("NAME SIZE…"), about, 1, -1);
    g_free(about);
    for (int i = 1; parsed && i < argc; i++)
        argv[i] += strspn(argv[i], " ");
    NwSolid *solid = NULL;
    gboolean built = FALSE;
    const NwNamedSolid *named = parsed ? nw_named_solid_find(argv[1]) : NULL;
    if (parsed && strcmp(argv[1], "planes") == 0)
        built = build_planes(argc - 2, argv + 2, &solid);
    else if (named)
        built = build_named(named, argc - 2, argv + 2, &solid);
    else if (parsed)
        nw_complain(_("there is no solid “%s”: “notch solid --help” lists them"), argv[1]);
    if (built) {
        char *title = name ? g_strdup(name) : g_strjoinv(" ", argv + 1);
        NwDesign *design = nw_design_new(title);
        nw_solid_free(design->envelope);
        design->envelope = solid;
        char *json = nw_design_to_json(design);
        fputs(json, stdout);
        g_free(json);
        g_free(title);
        nw_design_free(design);
    }
    g_strfreev(kept);
    g_free(words);
    g_free(name);
    return built ? NW_EXIT_COMPLETE : NW_EXIT_USAGE;
}
