#include "make/stock/table.h"

#include <math.h>
#include <stdlib.h>

#include "base/memory.h"
#include "lattice/edge.h"
#include "make/text.h"

static int compare_numbers(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static void set_angles(const NwSolid *solid, NwTableRow *row) {
    NwSurface *surface = nw_surface_new(solid);
    NwEdge *edges;
    size_t count = nw_surface_edges(surface, &edges);
    double *angles = nw_alloc(count, sizeof *angles);
    for (size_t i = 0; i < count; i++)
        angles[i] = nw_edge_degrees(&edges[i]);
    if (count)
        qsort(angles, count, sizeof *angles, compare_numbers);
    row->angle_count = 0;
    for (size_t i = 0; i < count; i++)
        if (!row->angle_count || angles[i] - angles[row->angle_count - 1] > 1e-6)
            angles[row->angle_count++] = angles[i];
    row->angles = angles;
    free(edges);
    nw_surface_free(surface);
}

/* The box of the vertices: that of the cells may be larger where they are cut. */
static void set_box(const NwSolid *solid, double cell_mm, NwTableRow *row) {
    for (int axis = 0; axis < 3; axis++) {
        int low = 0, high = 0;
        bool begun = false;
        for (size_t i = 0; i < solid->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                NwPart part = {nw_cell_at(&solid->cells[i]), bit};
                NwVec vertices[4];
                if (!(solid->cells[i].mask >> bit & 1))
                    continue;
                nw_part_vertices(part, vertices);
                for (int k = 0; k < 4; k++) {
                    int at = nw_vec_get(vertices[k], axis);
                    low = !begun || at < low ? at : low;
                    high = !begun || at > high ? at : high;
                    begun = true;
                }
            }
        row->box_mm[axis] = (high - low) * cell_mm;
    }
}

void nw_table_row_fill(const NwSolid *solid, const NwTableOptions *options, NwTableRow *row) {
    double cell_cm = options->cell_mm / 10;
    row->volume_cm3 = (double)nw_solid_volume6(solid) / 6 * pow(cell_cm, 3);
    row->mass_g = row->volume_cm3 * options->density_kg_m3 / 1000;
    set_box(solid, options->cell_mm, row);
    set_angles(solid, row);
}

void nw_table_row_clear(NwTableRow *row) {
    free(row->angles);
    row->angles = NULL;
}

char *nw_table_csv(const NwDesign *design, const NwTableOptions *options) {
    GString *out = g_string_new("piece,copies,volume cm3,mass g,material,density kg/m3,x mm,y mm,"
                                "z mm,dihedral angles deg\r\n");
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        NwTableRow row;
        nw_table_row_fill(piece->solid, options, &row);
        nw_append_csv(out, piece->name);
        g_string_append_printf(out, ",%d", piece->copies);
        nw_append_number(out, ",", row.volume_cm3, 4);
        nw_append_number(out, ",", row.mass_g, 2);
        g_string_append_c(out, ',');
        nw_append_csv(out, options->material);
        nw_append_number(out, ",", options->density_kg_m3, 1);
        for (int axis = 0; axis < 3; axis++)
            nw_append_number(out, ",", row.box_mm[axis], 3);
        for (size_t k = 0; k < row.angle_count; k++)
            nw_append_number(out, k ? " " : ",", row.angles[k], 4);
        g_string_append(out, "\r\n");
        nw_table_row_clear(&row);
    }
    return g_string_free(out, FALSE);
}
