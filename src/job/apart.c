#include "job/apart.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "design/check_assembly.h"
#include "job/verify.h"

G_DEFINE_QUARK(nw_apart_error, nw_apart_error)

struct NwApart {
    NwDesign *design; /* its own copy */
    NwVerifier *examiner;
    NwFoundAssembly *finding;
};

/* Places by piece; copies of one stay in their order. */
static NwFoundAssembly *finding_of(const NwPlacement *placements, size_t count) {
    NwAssembly assembly = {.count = 0};
    for (size_t i = 0; i < count; i++) {
        int at = assembly.count++;
        for (; at > 0 && assembly.placements[at - 1].piece > placements[i].piece; at--)
            assembly.placements[at] = assembly.placements[at - 1];
        assembly.placements[at] = placements[i];
    }
    return nw_found_assembly_new(&assembly);
}

/* FALSE with an error unless the placements can be taken apart. */
static gboolean check(const NwDesign *design, const NwPlacement *placements, size_t count,
                      GError **error) {
    const char *reason =
        count ? nw_check_assembly(design, placements, count) : N_("there are no pieces");
    if (reason)
        g_set_error(error, NW_APART_ERROR, NW_APART_ERROR_NO_ASSEMBLY, _("this is no assembly: %s"),
                    _(reason));
    else if (count > NW_BODIES_MAX)
        g_set_error(error, NW_APART_ERROR, NW_APART_ERROR_TOO_MANY,
                    _("%zu pieces are more than can be taken apart: %d, copies counted, is the "
                      "most"),
                    count, NW_BODIES_MAX);
    return !reason && count <= NW_BODIES_MAX;
}

NwApart *nw_apart_new(const NwDesign *design, const NwPlacement *placements, size_t count,
                      const NwApartOptions *options, GError **error) {
    if (!check(design, placements, count, error))
        return NULL;
    NwApart *apart = nw_alloc(1, sizeof *apart);
    apart->design = nw_design_copy(design);
    apart->examiner =
        nw_verifier_new(apart->design, options->diagonals,
                        options->max_states ? options->max_states : NW_STATES_DEFAULT);
    if (options->fewest)
        nw_verifier_seek_fewest(apart->examiner, (unsigned long)options->max_tries);
    apart->finding = finding_of(placements, count);
    nw_verifier_start(apart->examiner, apart->finding);
    return apart;
}

NwApart *nw_apart_new_shown(const NwDesign *design, const NwApartOptions *options, NwShown *shown,
                            GError **error) {
    NwPlacement *placements;
    size_t count;
    NwApart *apart = NULL;
    *shown = nw_design_shown(design, &placements, &count);
    if (*shown != NW_SHOWS_NONE)
        apart = nw_apart_new(design, placements, count, options, error);
    else
        g_set_error_literal(error, NW_APART_ERROR, NW_APART_ERROR_NONE_SHOWN,
                            design->intended_count
                                ? _("the intended assembly does not fit; “notch check” shows where")
                                : _("the design has no intended assembly, and its pieces as drawn "
                                    "are not one; find the assemblies with “notch fit”"));
    if (apart)
        apart->finding->intended = *shown == NW_SHOWS_INTENDED;
    free(placements);
    return apart;
}

void nw_apart_free(NwApart *apart) {
    if (!apart)
        return;
    nw_verifier_free(apart->examiner);
    nw_found_assembly_free(apart->finding);
    nw_design_free(apart->design);
    free(apart);
}

NwStatus nw_apart_step(NwApart *apart, long expansions, GError **error) {
    NwStatus status = nw_verifier_step(apart->examiner, expansions);
    if (status == NW_DOES_NOT_FIT)
        g_set_error_literal(
            error, NW_APART_ERROR, NW_APART_ERROR_CONTRADICTED,
            _("a check contradicts the search. This is a bug; please report it with the design"));
    return status;
}

NwTakeApartProgress nw_apart_progress(const NwApart *apart) {
    return nw_verifier_progress(apart->examiner);
}

const NwFoundAssembly *nw_apart_finding(const NwApart *apart) {
    return apart->finding;
}

NwFoundAssembly *nw_apart_steal(NwApart *apart) {
    return g_steal_pointer(&apart->finding);
}
