/* One assembly on its own, taken apart without any search for fits.
 *
 * The assembly is recounted part by part, then its slides are searched and replayed
 * (job/verify.h). So a design of many pieces can be worked on whose assemblies nobody could list.
 * The finding has the placements as they were given, sorted by piece, and no key: to tell that two
 * assemblies are the same up to a motion of the envelope takes the places of all pieces (fit/).
 *
 * A pull iterator; effort is counted in expanded positions. Ownership: it holds a copy of the
 * design. Thread: each belongs to one. */
#ifndef NW_JOB_APART_H
#define NW_JOB_APART_H

#include <glib.h>

#include "assembly/found_assembly.h"
#include "design/shown.h"

typedef struct NwApartOptions {
    gboolean diagonals; /* slides along face diagonals too */
    guint32 max_states; /* for each group; 0: NW_STATES_DEFAULT */
    gboolean fewest;    /* look for the fewest slides in all, once it is known to come apart */
    guint64 max_tries;  /* for that; 0: NW_FEWEST_TRIES_DEFAULT */
} NwApartOptions;

typedef enum NwApartError {
    NW_APART_ERROR_NONE_SHOWN,   /* the design shows no assembly by itself */
    NW_APART_ERROR_NO_ASSEMBLY,  /* the placements are none */
    NW_APART_ERROR_TOO_MANY,     /* more than NW_BODIES_MAX bodies */
    NW_APART_ERROR_CONTRADICTED, /* a check contradicts the search: a fault of this program */
} NwApartError;

#define NW_APART_ERROR (nw_apart_error_quark())
GQuark nw_apart_error_quark(void);

typedef struct NwApart NwApart;

/* For `count` placements in any order; NULL with an error where they cannot be taken apart. */
NwApart *nw_apart_new(const NwDesign *design, const NwPlacement *placements, size_t count,
                      const NwApartOptions *options, GError **error);

/* For the assembly that the design shows by itself; *shown tells which that is. */
NwApart *nw_apart_new_shown(const NwDesign *design, const NwApartOptions *options, NwShown *shown,
                            GError **error);
void nw_apart_free(NwApart *apart); /* NULL is allowed */

/* Goes on for at most `expansions` positions. NW_STOPPED: call again; NW_OK: the finding has its
 * verdict, checked; NW_DOES_NOT_FIT with an error: a check contradicts it. */
NwStatus nw_apart_step(NwApart *apart, long expansions, GError **error);

NwTakeApartProgress nw_apart_progress(const NwApart *apart);

/* The assembly; unexamined until a step has said NW_OK, or until the fewest slides are looked for:
 * then it has a way out, and as `at_least` what is proved so far. Borrowed, or taken from it. */
const NwFoundAssembly *nw_apart_finding(const NwApart *apart);
NwFoundAssembly *nw_apart_steal(NwApart *apart);

#endif
