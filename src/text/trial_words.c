#include "text/trial_words.h"

#include <glib/gi18n.h>
#include <string.h>

char *nw_trial_words_result(const NwStoredTrial *trial) {
    if (!trial->gave_up)
        return g_strdup_printf(_("%.4g min"), trial->minutes);
    return trial->minutes > 0 ? g_strdup_printf(_("gave up, %.4g min"), trial->minutes)
                              : g_strdup(_("gave up"));
}

char *nw_trial_words_time(gint64 tried) {
    g_autoptr(GDateTime) time = g_date_time_new_from_unix_local(tried);
    return time ? g_date_time_format(time, "%Y-%m-%d %H:%M") : g_strdup("");
}

gboolean nw_trial_words_read_time(const char *text, gint64 *tried, GError **error) {
    g_autofree char *stripped = g_strstrip(g_strdup(text));
    g_autofree char *whole = strlen(stripped) == 10 ? g_strconcat(stripped, "T12:00", NULL)
                                                    : g_strdelimit(g_strdup(stripped), " ", 'T');
    g_autofree char *seconds = g_strconcat(whole, strlen(whole) == 16 ? ":00" : "", NULL);
    g_autoptr(GTimeZone) zone = g_time_zone_new_local();
    g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(seconds, zone);
    if (time)
        *tried = g_date_time_to_unix(time);
    else
        g_set_error(error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                    _("“%s” is not a valid time; write 2026-03-01 or “2026-03-01 14:30”"), text);
    return time != NULL;
}
