#include "cli/layers.h"

#include <glib.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include "cli/terminal.h"

/* Characters of one cell: corners at the corners of a square, the core in its middle.
 *
 *      A C'        columns 0 and 1: a corner and its mark
 *       B          columns 2 and 3: the core
 *      D'A         columns 4 and 5: a corner and its mark
 */
enum { CELL_ROWS = 3, CELL_COLUMNS = 6, PAGE_WIDTH = 100, GAP = 3 };

char nw_layers_letter(int body) {
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789";
    return body < (int)sizeof letters - 1 ? letters[body] : '*';
}

/* The body that fills a part, or -1. */
static int body_at(NwSolid *const *solids, int count, NwPart part) {
    for (int b = 0; b < count; b++)
        if (nw_solid_mask(solids[b], part.cell) >> part.bit & 1)
            return b;
    return -1;
}

/* Writes one part into the square of its cell; row 0 is the top, which is the highest y. */
static void put_part(char square[CELL_ROWS][CELL_COLUMNS], NwPart part, char letter) {
    if (part.bit == 0) {
        square[1][2] = letter;
        return;
    }
    int v = nw_part_vertex(nw_vec_parity(part.cell), part.bit);
    int row = v & 2 ? 0 : 2, column = v & 1 ? 4 : 0;
    square[row][column] = letter;
    if (v & 4)
        square[row][column + 1] = '\'';
}

static void fill_square(char square[CELL_ROWS][CELL_COLUMNS], const NwDesign *design,
                        NwSolid *const *solids, int count, NwVec cell) {
    memset(square, ' ', CELL_ROWS * CELL_COLUMNS);
    int mask = nw_solid_mask(design->envelope, cell);
    for (int bit = 0; bit < NW_PARTS; bit++) {
        if (!(mask >> bit & 1))
            continue;
        NwPart part = {cell, bit};
        int body = body_at(solids, count, part);
        put_part(square, part, body < 0 ? '.' : nw_layers_letter(body));
    }
}

static void print_layers(const NwDesign *design, NwSolid *const *solids, int count, NwBounds box,
                         int first, int last) {
    int width = (box.high.x - box.low.x) * CELL_COLUMNS + GAP;
    for (int z = first; z < last; z++) {
        g_autofree char *number = nw_terminal_dup_number(z);
        g_autofree char *title = g_strdup_printf(_("z = %s"), number);
        nw_print_column(title, width);
    }
    printf("\n");
    for (int y = box.high.y - 1; y >= box.low.y; y--)
        for (int row = 0; row < CELL_ROWS; row++) {
            GString *line = g_string_new(NULL);
            for (int z = first; z < last; z++) {
                g_string_append(line, "  ");
                for (int x = box.low.x; x < box.high.x; x++) {
                    char square[CELL_ROWS][CELL_COLUMNS];
                    fill_square(square, design, solids, count, nw_vec(x, y, z));
                    g_string_append_len(line, square[row], CELL_COLUMNS);
                }
                g_string_append_printf(line, "%*s", GAP, "");
            }
            printf("%s\n", g_strchomp(line->str));
            g_string_free(line, TRUE);
        }
}

void nw_layers_print(const NwDesign *design, const NwFoundAssembly *finding) {
    int count = finding->placement_count;
    NwSolid **solids = g_new0(NwSolid *, count);
    for (int b = 0; b < count; b++)
        nw_solid_moved(design->pieces[finding->placements[b].piece].solid,
                       finding->placements[b].motion, &solids[b]);
    NwBounds box = nw_solid_bounds(design->envelope);
    int width = (box.high.x - box.low.x) * CELL_COLUMNS + GAP + 2;
    int abreast = MAX(1, PAGE_WIDTH / width);
    for (int z = box.low.z; z < box.high.z; z += abreast)
        print_layers(design, solids, count, box, z, MIN(z + abreast, box.high.z));
    for (int b = 0; b < count; b++)
        nw_solid_free(solids[b]);
    g_free(solids);
}
