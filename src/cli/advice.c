#include "cli/advice.h"

#include <glib.h>
#include <glib/gi18n.h>
#include <string.h>

#include "base/minus.h"
#include "cli/terminal.h"
#include "cli/verb.h"
#include "lattice/number_text.h"

char *nw_advice_part(NwPart part) {
    char cell[NW_VEC_TEXT_SIZE];
    nw_vec_text(part.cell, ' ', cell);
    return nw_terminal_take(part.bit == 0
                                ? g_strdup_printf(_("the core of cell %s"), cell)
                                : g_strdup_printf(_("corner %d of cell %s"), part.bit, cell));
}

/* One whole number and what must follow it. */
static gboolean read_number(const char **text, char after, int *value) {
    char *end;
    int minus = nw_minus_length(*text);
    const char *digits = *text + minus;
    gint64 number = g_ascii_strtoll(digits, &end, 10);
    number = minus ? -number : number;
    if (end == digits || (minus && !g_ascii_isdigit(*digits)) || *end != after ||
        number < NW_COORD_MIN || number > NW_COORD_MAX)
        return FALSE;
    *value = (int)number;
    *text = end + 1;
    return TRUE;
}

gboolean nw_advice_parse_part(const char *text, NwPart *part) {
    return read_number(&text, ',', &part->cell.x) && read_number(&text, ',', &part->cell.y) &&
           read_number(&text, ',', &part->cell.z) && read_number(&text, '\0', &part->bit) &&
           part->bit >= 0 && part->bit < NW_PARTS;
}

/* The order of text/words.h: the intended one, what opens, what may, the rest; then by key. */
static int group_of(const NwKnown *known) {
    if (known->intended)
        return 0;
    return known->opens == NW_OK ? 1 : known->opens == NW_LIMIT ? 2 : 3;
}

static gboolean comes_before(const NwKnown *a, const NwKnown *b) {
    return group_of(a) != group_of(b) ? group_of(a) < group_of(b) : a->key < b->key;
}

guint nw_advice_number(const NwBaseline *baseline, size_t known) {
    guint number = 1;
    for (size_t i = 0; i < baseline->known_count; i++)
        number += comes_before(&baseline->known[i], &baseline->known[known]);
    return number;
}

long nw_advice_known(const NwBaseline *baseline, guint number) {
    for (size_t i = 0; i < baseline->known_count; i++)
        if (nw_advice_number(baseline, i) == number)
            return (long)i;
    return -1;
}

/* How many keys begin with these letters; *known is the last of them. */
static int find_keys(const NwBaseline *baseline, const char *letters, long *known) {
    int matches = 0;
    for (size_t i = 0; i < baseline->known_count; i++) {
        char key[17];
        g_snprintf(key, sizeof key, "%016" G_GINT64_MODIFIER "x", baseline->known[i].key);
        if (!g_str_has_prefix(key, letters))
            continue;
        *known = (long)i;
        matches++;
    }
    return matches;
}

gboolean nw_advice_choose(const NwBaseline *baseline, const char *which, long *known) {
    enum { LETTERS_MIN = 4, DIGITS_MAX = 9 };
    char *end;
    guint64 number = g_ascii_strtoull(which, &end, 10);
    *known = *end || strlen(which) > DIGITS_MAX ? -1 : nw_advice_known(baseline, (guint)number);
    if (*known < 0 && strlen(which) >= LETTERS_MIN && find_keys(baseline, which, known) > 1) {
        nw_complain(_("several keys begin with “%s”; type more of it"), which);
        return FALSE;
    }
    if (*known >= 0 && nw_baseline_is_cook(baseline, (size_t)*known))
        return TRUE;
    if (*known >= 0)
        nw_complain(_("assembly “%s” is not a cook; “notch fit” lists the cooks"), which);
    else
        nw_complain(_("no assembly “%s”; use a number from the list of “notch fit”, or a key"),
                    which);
    return FALSE;
}
