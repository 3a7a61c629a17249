#include <glib/gi18n.h>

#include "export/rows.h"

const NwOptionChoice nw_paper_choices[NW_PAPER_CHOICES] = {
    {"A4", "A4"},
    {"A3", "A3"},
    {"Letter", N_("Letter")},
};
