#include "make/material.h"

#include <glib/gi18n.h>

#define PER_GRAVITY (1.12 * 1000) /* specific gravity to kg/m3, at 12 % moisture */

#define WOOD                                                                                       \
    N_("Saws and knives: hold small stock in a jig, never by hand. Keep "                          \
       "wood dust out of your lungs and away from sparks.")
#define ACRYLIC                                                                                    \
    N_("Acrylic: mask against the dust of cutting and polishing; it softens, then burns, with "    \
       "heat; solvent cement gives off fumes that burn: air the room, no flames.")
#define PRINTED                                                                                    \
    N_("Printed parts: the nozzle and the bed are hot; print in a room "                           \
       "that is aired.")

const char *nw_material_any_caution(void) {
    return N_("Saws and knives: hold small stock in a jig, never by hand. Mind the dust and fumes "
              "of your material.");
}

const NwMaterial *nw_material(size_t index) {
    static const NwMaterial materials[] = {
        {"acrylic", 1190, ACRYLIC},
        {"beech", 0.64 * PER_GRAVITY, WOOD},
        {"birch", 0.62 * PER_GRAVITY, WOOD},
        {"cherry", 0.50 * PER_GRAVITY, WOOD},
        {"PLA", 1240, PRINTED},
    };
    return index < G_N_ELEMENTS(materials) ? &materials[index] : NULL;
}

const NwMaterial *nw_material_find(const char *name) {
    const NwMaterial *material;
    for (size_t i = 0; (material = nw_material(i)); i++)
        if (g_ascii_strcasecmp(material->name, name) == 0)
            return material;
    return NULL;
}
