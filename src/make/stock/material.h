/* Materials that pieces are made of, and how heavy they are.
 *
 * Densities in kg/m3: cast acrylic 1190 (designerdata.nl; 1.19 +- 0.01 g/cm3 by ASTM D792). Woods
 * at 12 % moisture: the specific gravity at that moisture, as the Wood Handbook (USDA, FPL-GTR-190)
 * gives it, times 1.12 times 1000 (its chapter 4, quoted from memory): American beech 0.64, yellow
 * birch 0.62, black cherry 0.50. PLA 1240 is from memory. Thread: any. */
#ifndef NW_MAKE_STOCK_MATERIAL_H
#define NW_MAKE_STOCK_MATERIAL_H

#include <stddef.h>

typedef struct NwMaterial {
    const char *name;
    double density_kg_m3;
    unsigned tools; /* that it calls for: the bits 1 << NW_TOOL_... (safety_notes.h) */
} NwMaterial;

/* Row `index` of the table, NULL past its end. */
const NwMaterial *nw_material(size_t index);

/* The row of that name, in small or large letters, or NULL. */
const NwMaterial *nw_material_find(const char *name);

#endif
