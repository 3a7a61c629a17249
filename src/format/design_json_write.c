/* A design as text: fields in the order of the format, defaults left out, cells in rising order
 * and wrapped, so that two versions of a file can be compared line by line. */
#include "format/design_json.h"

enum { LINE_WIDTH = 96 };

static void write_text(GString *out, const char *text) {
    g_string_append_c(out, '"');
    for (const char *p = text; *p; p++) {
        unsigned char c = (unsigned char)*p;
        if (c == '"' || c == '\\')
            g_string_append_printf(out, "\\%c", c);
        else if (c < ' ' || c == 0x7f)
            g_string_append_printf(out, "\\u%04x", c);
        else
            g_string_append_c(out, (char)c);
    }
    g_string_append_c(out, '"');
}

/* The cells one behind the other, in lines that start with `indent` spaces. */
static void write_cells(GString *out, const NwSolid *solid, int indent) {
    gsize line = 0; /* where the line begins; 0 before the first */
    for (size_t i = 0; i < solid->count; i++) {
        const NwCell *cell = &solid->cells[i];
        char item[48];
        int length = g_snprintf(item, sizeof item, "[%d, %d, %d, %d]", cell->x, cell->y, cell->z,
                                cell->mask);
        if (i)
            g_string_append_c(out, ',');
        if (!line || out->len - line + (gsize)length + 2 > LINE_WIDTH) {
            g_string_append_c(out, '\n');
            line = out->len;
            g_string_append_printf(out, "%*s", indent, "");
        } else {
            g_string_append_c(out, ' ');
        }
        g_string_append(out, item);
    }
}

static void write_envelope(GString *out, const NwDesign *design) {
    g_string_append(out, "  \"envelope\": {\n    \"cells\": [");
    write_cells(out, design->envelope, 6);
    g_string_append(out, "]");
    if (design->may_be_empty->count) {
        g_string_append(out, ",\n    \"may_be_empty\": [");
        write_cells(out, design->may_be_empty, 6);
        g_string_append(out, "]");
    }
    g_string_append(out, "\n  },\n");
}

static void write_piece(GString *out, const NwPiece *piece) {
    g_string_append(out, "\n    {\"name\": ");
    write_text(out, piece->name);
    if (piece->colour[0]) {
        g_string_append(out, ", \"colour\": ");
        write_text(out, piece->colour);
    }
    if (piece->copies != 1)
        g_string_append_printf(out, ", \"copies\": %d", piece->copies);
    g_string_append(out, ", \"cells\": [");
    write_cells(out, piece->solid, 6);
    g_string_append(out, "]}");
}

static void write_placement(GString *out, const NwPlacement *placement) {
    char turn[NW_TURN_NAME_SIZE];
    NwVec shift = placement->motion.shift;
    nw_turn_name(placement->motion.turn, turn);
    g_string_append_printf(out, "\n    {\"piece\": %d, \"turn\": \"%s\", \"shift\": [%d, %d, %d]}",
                           placement->piece, turn, shift.x, shift.y, shift.z);
}

char *nw_design_to_json(const NwDesign *design) {
    GString *out = g_string_new("{\n  \"format\": \"notchwright design\",\n  \"version\": 1,\n"
                                "  \"name\": ");
    write_text(out, design->name);
    g_string_append(out, ",\n");
    write_envelope(out, design);
    g_string_append(out, "  \"pieces\": [");
    for (size_t i = 0; i < design->piece_count; i++) {
        g_string_append(out, i ? "," : "");
        write_piece(out, &design->pieces[i]);
    }
    g_string_append(out, "]");
    if (design->intended_count)
        g_string_append(out, ",\n  \"intended\": [");
    for (size_t i = 0; i < design->intended_count; i++) {
        g_string_append(out, i ? "," : "");
        write_placement(out, &design->intended[i]);
    }
    g_string_append(out, design->intended_count ? "]" : "");
    if (design->mirrors_together)
        g_string_append(out, ",\n  \"mirrors\": \"together\"");
    g_string_append(out, "\n}\n");
    return g_string_free(out, FALSE);
}
