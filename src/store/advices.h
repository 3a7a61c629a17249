/* Advices: where the advisor (cook/advisor.h) stands that looks into one version of a design.
 *
 * The bytes are the advisor's own, which checks them when it takes them up again. A version has at
 * most one advice for the same question, told by the canonical text of its options; what is known
 * of the design alone, before anything is asked, has a text of its own. An advice goes with its
 * version. Each save is one transaction.
 * Ownership: what is returned is the caller's. Thread: that of the library. Failures: library.h. */
#ifndef NW_STORE_ADVICES_H
#define NW_STORE_ADVICES_H

#include "cook/advisor.h"
#include "store/library.h"

/* Equal questions, equal texts (g_free). */
char *nw_stored_advice_question(const NwAdvisorOptions *options);
char *nw_stored_advice_design(const NwBaselineOptions *options); /* the design alone */

typedef struct NwStoredAdvice {
    GBytes *state;
    gboolean complete; /* nothing within the bounds is left to try */
    gint64 saved;      /* seconds since 1970 */
} NwStoredAdvice;

void nw_stored_advice_free(NwStoredAdvice *advice); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwStoredAdvice, nw_stored_advice_free)

/* Keeps the advice in place of an earlier one. ERROR_GONE if there is no such version. */
gboolean nw_library_save_advice(NwLibrary *library, gint64 version_id, const char *question,
                                GBytes *state, gboolean complete, GError **error);

/* NULL with no error set if there is none. */
NwStoredAdvice *nw_library_load_advice(NwLibrary *library, gint64 version_id, const char *question,
                                       GError **error);

/* No failure if there is none. */
gboolean nw_library_remove_advice(NwLibrary *library, gint64 version_id, const char *question,
                                  GError **error);

#endif
