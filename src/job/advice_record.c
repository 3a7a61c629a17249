#include "job/advice_record.h"

#include <stdlib.h>

gboolean nw_advice_record_take_up(NwLibrary *library, gint64 version, const char *question,
                                  NwAdvisor *advisor, gboolean *taken, GError **error) {
    GError *failure = NULL;
    g_autoptr(NwStoredAdvice) advice = nw_library_load_advice(library, version, question, &failure);
    if (taken)
        *taken = FALSE;
    if (failure) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (!advice || !advice->state)
        return TRUE;
    gsize size;
    const guint8 *bytes = g_bytes_get_data(advice->state, &size);
    gboolean good = nw_advisor_restore(advisor, bytes, size) == NW_OK;
    if (taken)
        *taken = good;
    return TRUE;
}

gboolean nw_advice_record_save(NwLibrary *library, gint64 version, const char *question,
                               const NwAdvisor *advisor, gboolean complete, GError **error) {
    if (nw_library_is_read_only(library))
        return TRUE;
    guint8 *bytes;
    gsize size;
    nw_advisor_save(advisor, &bytes, &size);
    g_autoptr(GBytes) state = g_bytes_new_with_free_func(bytes, size, free, bytes);
    return nw_library_save_advice(library, version, question, state, complete, error);
}
