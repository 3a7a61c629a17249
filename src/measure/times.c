#include "measure/times.h"

#include <glib/gi18n.h>
#include <math.h>

void nw_times_init(NwTimes *times, const GPtrArray *trials, NwMeasure measure,
                   NwTimesMeasures *measures_of, gpointer data) {
    *times = (NwTimes){.dots = g_array_new(FALSE, TRUE, sizeof(NwChartDot))};
    g_autoptr(GHashTable) unmeasured = g_hash_table_new(g_int64_hash, g_int64_equal);
    for (guint i = 0; i < trials->len; i++) {
        NwStoredTrial *trial = trials->pdata[i];
        NwChartDot dot = {.minutes = trial->minutes,
                          .gave_up = trial->gave_up,
                          .colours = trial->colours,
                          .design = trial->design_name};
        if (!(trial->minutes > 0)) {
            times->untimed++;
            continue;
        }
        const NwMeasures *measures = measures_of(trial, data);
        if (measures && nw_measure_value(measures, measure, &dot.value)) {
            g_array_append_val(times->dots, dot);
        } else {
            times->unmeasured++;
            g_hash_table_add(unmeasured, &trial->design);
        }
    }
    times->unmeasured_designs = g_hash_table_size(unmeasured);
}

void nw_times_clear(NwTimes *times) {
    g_clear_pointer(&times->dots, g_array_unref);
}

/* The dots of the design that dot `first` is the first of; nothing if it is not. */
static void add_design(GString *words, const NwTimes *times, guint first) {
    const NwChartDot *dots = (const NwChartDot *)times->dots->data;
    double least = INFINITY, most = 0;
    guint count = 0;
    for (guint i = 0; i < times->dots->len; i++) {
        if (!g_str_equal(dots[i].design, dots[first].design))
            continue;
        if (i < first)
            return;
        least = fmin(least, dots[i].minutes);
        most = fmax(most, dots[i].minutes);
        count++;
    }
    g_string_append_c(words, ' ');
    if (count == 1)
        /* TRANSLATORS: a design, its measure, and the time of the only trial */
        g_string_append_printf(words, _("%s (%.4g): %.4g minutes."), dots[first].design,
                               dots[first].value, least);
    else
        g_string_append_printf(words,
                               ngettext("%s (%.4g): %u trial, %.4g to %.4g minutes.",
                                        "%s (%.4g): %u trials, %.4g to %.4g minutes.", count),
                               dots[first].design, dots[first].value, count, least, most);
}

char *nw_times_dup_words(const NwTimes *times) {
    guint count = times->dots->len;
    GString *words = g_string_new(NULL);
    g_string_append_printf(words, ngettext("%u dot.", "%u dots.", count), count);
    for (guint i = 0; i < count; i++)
        add_design(words, times, i);
    return g_string_free(words, FALSE);
}
