#include "bench/instances.h"

#include <string.h>

static NwSolid *box(int x, int y, int z) {
    NwSolid *solid = nw_solid_new();
    for (int i = 0; i < x; i++)
        for (int j = 0; j < y; j++)
            for (int k = 0; k < z; k++)
                nw_solid_add(solid, nw_vec(i, j, k), NW_WHOLE);
    return solid;
}

static NwDesign *design_in_box(const char *name, const int sizes[3]) {
    NwDesign *design = nw_design_new(name);
    nw_solid_free(design->envelope);
    design->envelope = box(sizes[0], sizes[1], sizes[2]);
    return design;
}

static void add_boxes(NwDesign *design, const char *name, int x, int y, int z, int copies) {
    size_t piece = nw_design_take_piece(design, name, box(x, y, z));
    design->pieces[piece].copies = copies;
}

/* Cells as digits "xyz xyz ..." in one string. */
static void add_polycube(NwDesign *design, const char *name, const char *cells) {
    NwSolid *solid = nw_solid_new();
    for (const char *c = cells; *c; c += c[3] ? 4 : 3)
        nw_solid_add(solid, nw_vec(c[0] - '0', c[1] - '0', c[2] - '0'), NW_WHOLE);
    nw_design_take_piece(design, name, solid);
}

static NwDesign *build_soma(const char *name, const int sizes[3]) {
    NwDesign *design = design_in_box(name, sizes);
    add_polycube(design, "V", "000 100 010");
    add_polycube(design, "L", "000 100 200 010");
    add_polycube(design, "T", "000 100 200 110");
    add_polycube(design, "Z", "000 100 110 210");
    add_polycube(design, "A", "000 100 010 101");
    add_polycube(design, "B", "000 100 010 011");
    add_polycube(design, "P", "000 100 010 001");
    return design;
}

static void add_pentominoes(NwDesign *design) {
    static const char *const rows[12][2] = {
        {"F", "100 200 010 110 120"}, {"I", "000 100 200 300 400"}, {"L", "000 100 200 300 010"},
        {"N", "000 100 110 210 310"}, {"P", "000 100 010 110 020"}, {"T", "000 100 200 110 120"},
        {"U", "000 200 010 110 210"}, {"V", "000 100 200 010 020"}, {"W", "000 100 110 210 220"},
        {"X", "100 010 110 210 120"}, {"Y", "000 100 200 300 110"}, {"Z", "000 100 110 120 220"},
    };
    for (int i = 0; i < 12; i++)
        add_polycube(design, rows[i][0], rows[i][1]);
}

static NwDesign *build_pentominoes(const char *name, const int sizes[3]) {
    NwDesign *design = design_in_box(name, sizes);
    add_pentominoes(design);
    return design;
}

static NwDesign *build_holed_square(const char *name, const int sizes[3]) {
    NwDesign *design = build_pentominoes(name, sizes);
    for (int x = 3; x < 5; x++)
        for (int y = 3; y < 5; y++)
            nw_solid_remove(design->envelope, nw_vec(x, y, 0), NW_WHOLE);
    return design;
}

static NwDesign *build_slothouber_graatsma(const char *name, const int sizes[3]) {
    NwDesign *design = design_in_box(name, sizes);
    add_boxes(design, "1x2x2", 1, 2, 2, 6);
    add_boxes(design, "1x1x1", 1, 1, 1, 3);
    return design;
}

static NwDesign *build_conway(const char *name, const int sizes[3]) {
    NwDesign *design = design_in_box(name, sizes);
    add_boxes(design, "1x2x4", 1, 2, 4, 13);
    add_boxes(design, "2x2x2", 2, 2, 2, 1);
    add_boxes(design, "1x2x2", 1, 2, 2, 1);
    add_boxes(design, "1x1x3", 1, 1, 3, 3);
    return design;
}

static NwDesign *build_dominoes(const char *name, const int sizes[3]) {
    NwDesign *design = design_in_box(name, sizes);
    add_boxes(design, "1x1x2", 1, 1, 2, sizes[0] * sizes[1] * sizes[2] / 2);
    return design;
}

#define FIVES build_pentominoes
#define BOUWKAMP                                                                                   \
    "together: C. J. Bouwkamp, J. Combin. Theory 7 (1969) 278-280 (number from memory, "           \
    "recomputed)"
#define HASELGROVE                                                                                 \
    "together: C. B. and J. Haselgrove, Eureka 23 (1960) (cited from memory); also "               \
    "mathschallenge.net problem 15"
#define CHALLENGE "together: mathschallenge.net problem 15"
#define SCOTT                                                                                      \
    "together: D. S. Scott, Princeton TR 1 (1958); D. E. Knuth, arXiv cs/0011047 (number from "    \
    "memory, recomputed)"
#define SOMA                                                                                       \
    "together: J. H. Conway and M. Guy 1961, in E. Weisstein, CRC Concise Encyclopedia, 'Soma "    \
    "Cube'"
#define UNIQUE "together: unique; Winning Ways, 2nd edition, volume 4 (2004)"
#define CONWAY "pieces: Winning Ways, 2nd edition, volume 4; no count published, these are our own"
#define DOMINOES "raw: OEIS A006253 (fixed box)"

static const NwInstance table[] = {
    {"soma", build_soma, {3, 3, 3}, true, true, 11520, 480, 240, SOMA},
    {"pentominoes-3x4x5", FIVES, {5, 4, 3}, true, true, 31520, 7880, 3940, BOUWKAMP},
    {"pentominoes-2x5x6", FIVES, {6, 5, 2}, true, true, 2112, 528, 264, BOUWKAMP},
    {"pentominoes-2x3x10", FIVES, {10, 3, 2}, true, true, 96, 24, 12, BOUWKAMP},
    {"pentominoes-6x10", FIVES, {10, 6, 1}, true, true, 9356, 2339, 2339, HASELGROVE},
    {"pentominoes-5x12", FIVES, {12, 5, 1}, true, true, 4040, 1010, 1010, CHALLENGE},
    {"pentominoes-4x15", FIVES, {15, 4, 1}, true, true, 1472, 368, 368, CHALLENGE},
    {"pentominoes-3x20", FIVES, {20, 3, 1}, true, true, 8, 2, 2, CHALLENGE},
    {"pentominoes-8x8", build_holed_square, {8, 8, 1}, true, true, 520, 65, 65, SCOTT},
    {"slothouber-graatsma", build_slothouber_graatsma, {3, 3, 3}, true, false, 8, 1, 1, UNIQUE},
    {"conway-box", build_conway, {5, 5, 5}, true, false, 27456, 1144, 572, CONWAY},
    {"dominoes-2x2x1", build_dominoes, {1, 2, 2}, false, false, 2, -1, -1, DOMINOES},
    {"dominoes-2x2x2", build_dominoes, {2, 2, 2}, false, false, 9, -1, -1, DOMINOES},
    {"dominoes-2x2x3", build_dominoes, {3, 2, 2}, false, false, 32, -1, -1, DOMINOES},
    {"dominoes-2x2x4", build_dominoes, {4, 2, 2}, false, false, 121, -1, -1, DOMINOES},
    {"dominoes-2x2x5", build_dominoes, {5, 2, 2}, false, false, 450, -1, -1, DOMINOES},
};

const NwInstance *nw_instance(size_t index) {
    return index < sizeof table / sizeof table[0] ? &table[index] : NULL;
}

const NwInstance *nw_instance_find(const char *name) {
    const NwInstance *instance;
    for (size_t i = 0; (instance = nw_instance(i)); i++)
        if (strcmp(instance->name, name) == 0)
            return instance;
    return NULL;
}

NwDesign *nw_instance_build(const NwInstance *instance) {
    NwDesign *design = instance->build(instance->name, instance->sizes);
    design->mirrors_together = instance->mirrors_together;
    return design;
}

long nw_instance_classes(const NwInstance *instance) {
    return instance->mirrors_together ? instance->together : instance->apart;
}
