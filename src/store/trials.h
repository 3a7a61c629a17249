/* Trials: who tried a made puzzle, when, and how long it took.
 *
 * A trial belongs to a design and names the version that was tried. It stays when that version is
 * pruned (its version is then 0), and goes with the design. Who it was is free text, and may be
 * left empty. Nothing of this leaves the machine.
 * Ownership: what is returned is the caller's. Thread: that of the library. Failures: library.h. */
#ifndef NW_STORE_TRIALS_H
#define NW_STORE_TRIALS_H

#include "store/library.h"

typedef struct NwStoredTrial {
    gint64 id, design;
    gint64 version;    /* 0: it is not in the store any more */
    char *design_name; /* as it is now; read only */
    char *who, *remark;
    gint64 tried;     /* seconds since 1970 */
    gboolean colours; /* the pieces had colours of their own */
    gboolean gave_up;
    double minutes; /* until it was together, or given up; 0: not noted, if given up */
} NwStoredTrial;

void nw_stored_trial_free(NwStoredTrial *trial); /* NULL is allowed */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NwStoredTrial, nw_stored_trial_free)

/* Adds a trial; its id is not looked at. With version 0 it is one of the current version.
 * ERROR_UNFIT if minutes are missing or no number over 0, or a text is not UTF-8; ERROR_GONE if
 * there is no such design, or no such version of it. `id` may be NULL. */
gboolean nw_library_add_trial(NwLibrary *library, const NwStoredTrial *trial, gint64 *id,
                              GError **error);

/* Replaces all that is said of trial `trial->id`, but for its design and version. */
gboolean nw_library_edit_trial(NwLibrary *library, const NwStoredTrial *trial, GError **error);
gboolean nw_library_remove_trial(NwLibrary *library, gint64 id, GError **error);

/* ERROR_GONE if there is none with that number. */
NwStoredTrial *nw_library_load_trial(NwLibrary *library, gint64 id, GError **error);

/* The trials (NwStoredTrial) of a design, or of all for 0; by time, then by number. */
GPtrArray *nw_library_list_trials(NwLibrary *library, gint64 design_id, GError **error);

/* A table as in RFC 4180, with a line of headings, in UTF-8; times are in UTC as in ISO 8601. A
 * text that a spreadsheet would take for a formula gets an apostrophe before it. */
char *nw_stored_trials_to_csv(GPtrArray *trials);

#endif
