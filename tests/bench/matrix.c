#include "bench/matrix.h"

#include <stdlib.h>

#include "base/memory.h"
#include "plain/plain_places.h"

/* The column of each part of the envelope, NW_PARTS entries a cell. */
static int *number_columns(const NwDesign *design, NwTextbookMatrix *matrix) {
    const NwSolid *envelope = design->envelope;
    int bits = nw_design_is_whole(design) ? 1 : NW_PARTS;
    int *column = nw_alloc(envelope->count * NW_PARTS, sizeof *column);
    matrix->primary = (int)design->piece_count;
    matrix->secondary = 0;
    for (int pass = 0; pass < 2; pass++)
        for (size_t i = 0; i < envelope->count; i++)
            for (int bit = 0; bit < bits; bit++) {
                NwVec cell = nw_cell_at(&envelope->cells[i]);
                int optional = nw_solid_mask(design->may_be_empty, cell) >> bit & 1;
                if (!(envelope->cells[i].mask >> bit & 1) || optional != pass)
                    continue;
                column[i * NW_PARTS + (size_t)bit] = matrix->primary + matrix->secondary;
                if (optional)
                    matrix->secondary++;
                else
                    matrix->primary++;
            }
    return column;
}

typedef struct Writer {
    NwTextbookMatrix *matrix;
    size_t row_capacity, used, capacity;
} Writer;

static void put_column(Writer *writer, int column) {
    NwTextbookMatrix *matrix = writer->matrix;
    matrix->columns =
        nw_grow(matrix->columns, writer->used, &writer->capacity, sizeof *matrix->columns);
    matrix->columns[writer->used++] = column;
}

static void end_row(Writer *writer) {
    NwTextbookMatrix *matrix = writer->matrix;
    matrix->starts = nw_grow(matrix->starts, (size_t)matrix->rows + 1, &writer->row_capacity,
                             sizeof *matrix->starts);
    matrix->starts[++matrix->rows] = (int)writer->used;
}

static void put_place(Writer *writer, const NwDesign *design, const int *column, size_t piece,
                      const NwSolid *place) {
    int bits = nw_design_is_whole(design) ? 1 : NW_PARTS;
    put_column(writer, (int)piece);
    for (size_t i = 0; i < design->envelope->count; i++) {
        int mask = nw_solid_mask(place, nw_cell_at(&design->envelope->cells[i]));
        for (int bit = 0; bit < bits; bit++)
            if (mask >> bit & 1)
                put_column(writer, column[i * NW_PARTS + (size_t)bit]);
    }
    end_row(writer);
}

NwStatus nw_textbook_matrix(const NwDesign *design, NwTextbookMatrix *matrix) {
    *matrix = (NwTextbookMatrix){0};
    for (size_t p = 0; p < design->piece_count; p++)
        if (design->pieces[p].copies != 1)
            return NW_TOO_MANY;
    int *column = number_columns(design, matrix);
    Writer writer = {.matrix = matrix};
    matrix->starts = nw_grow(NULL, 0, &writer.row_capacity, sizeof *matrix->starts);
    matrix->starts[0] = 0;
    for (size_t p = 0; p < design->piece_count; p++) {
        NwPlainPlaces places = nw_plain_places(design->envelope, design->pieces[p].solid);
        for (size_t i = 0; i < places.count; i++)
            put_place(&writer, design, column, p, places.list[i].solid);
        nw_plain_places_free(&places);
    }
    free(column);
    return NW_OK;
}
