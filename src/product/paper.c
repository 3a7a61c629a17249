#include <glib/gi18n.h>

#include "product/rows.h"

const NwChoice nw_paper_choices[NW_PAPER_CHOICES] = {
    {"A4", "A4"},
    {"A3", "A3"},
    {"Letter", N_("Letter")},
};
