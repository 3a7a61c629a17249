/* An advisor that is kept: the tie between an advisor and where it stands in the store.
 *
 * A question about a version of a design has a text (store/advices.h). What is saved under it is
 * taken up again; bytes that the advisor does not accept count as none. A store that can only be
 * read is read, and nothing is saved. Thread: that of the library and of the advisor. */
#ifndef NW_JOB_ADVICE_RECORD_H
#define NW_JOB_ADVICE_RECORD_H

#include "store/advices.h"

/* Before the advisor's first step. *taken (NULL allowed): there was something to go on from. */
gboolean nw_advice_record_take_up(NwLibrary *library, gint64 version, const char *question,
                                  NwAdvisor *advisor, gboolean *taken, GError **error);

/* Saves where it stands. `complete`: it has come to its end. */
gboolean nw_advice_record_save(NwLibrary *library, gint64 version, const char *question,
                               const NwAdvisor *advisor, gboolean complete, GError **error);

#endif
