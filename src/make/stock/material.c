#include "make/stock/material.h"

#include <glib.h>

#include "make/safety/safety_notes.h"

#define PER_GRAVITY (1.12 * 1000) /* specific gravity to kg/m3, at 12 % moisture */

enum {
    WOOD = 1 << NW_TOOL_SAW | 1 << NW_TOOL_KNIFE | 1 << NW_TOOL_SANDING | 1 << NW_TOOL_GLUE,
    ACRYLIC = 1 << NW_TOOL_SAW | 1 << NW_TOOL_ACRYLIC | 1 << NW_TOOL_CEMENT,
    PRINTED = 1 << NW_TOOL_PRINTER,
};

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
