#include "make/dxf.h"

/* Handles of what others refer to; entities get theirs from FIRST_HANDLE on. */
enum {
    H_BLOCKS = 0x1,
    H_LAYERS = 0x2,
    H_STYLES = 0x3,
    H_LINE_TYPES = 0x5,
    H_VIEWS = 0x6,
    H_UCS = 0x7,
    H_VPORTS = 0x8,
    H_APPS = 0x9,
    H_DIMENSIONS = 0xA,
    H_ROOT = 0xC,
    H_GROUPS = 0xD,
    H_MODEL = 0x1F,
    H_PAPER = 0x1B,
    FIRST_HANDLE = 0x100
};

typedef struct Writer {
    GString *out;
    unsigned handle;
} Writer;

static void put(Writer *w, int code, const char *text) {
    g_string_append_printf(w->out, "%d\n%s\n", code, text);
}

static void put_int(Writer *w, int code, int value) {
    g_string_append_printf(w->out, "%d\n%d\n", code, value);
}

static void put_handle(Writer *w, int code, unsigned handle) {
    g_string_append_printf(w->out, "%d\n%X\n", code, handle);
}

static void put_number(Writer *w, int code, double value) {
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    put(w, code, g_ascii_formatd(text, sizeof text, "%.6f", value));
}

static void put_point(Writer *w, int code, double x, double y) {
    put_number(w, code, x);
    put_number(w, code + 10, y);
}

static void put_new_handle(Writer *w, int code) {
    put_handle(w, code, w->handle++);
}

static void put_text(Writer *w, int code, const char *text) {
    GString *escaped = g_string_new(NULL);
    for (const char *p = text; *p; p = g_utf8_next_char(p)) {
        gunichar letter = g_utf8_get_char(p);
        if (letter >= 32 && letter < 127)
            g_string_append_c(escaped, (char)letter);
        else if (letter < 0x10000)
            g_string_append_printf(escaped, "\\U+%04X", letter);
        else
            g_string_append_c(escaped, '?');
    }
    put(w, code, escaped->str);
    g_string_free(escaped, TRUE);
}

static void header(Writer *w, const NwPlot *plot) {
    put(w, 0, "SECTION");
    put(w, 2, "HEADER");
    put(w, 9, "$ACADVER");
    put(w, 1, "AC1015");
    put(w, 9, "$DWGCODEPAGE");
    put(w, 3, "ANSI_1252");
    put(w, 9, "$INSUNITS");
    put_int(w, 70, 4);
    put(w, 9, "$MEASUREMENT");
    put_int(w, 70, 1);
    put(w, 9, "$EXTMIN");
    put_point(w, 10, 0, 0);
    put_number(w, 30, 0);
    put(w, 9, "$EXTMAX");
    put_point(w, 10, plot->width_mm, plot->height_mm);
    put_number(w, 30, 0);
    put(w, 9, "$HANDSEED");
    put(w, 5, "FFFFF");
    put(w, 0, "ENDSEC");
}

static void begin_table(Writer *w, const char *name, unsigned handle, int count) {
    put(w, 0, "TABLE");
    put(w, 2, name);
    put_handle(w, 5, handle);
    put_handle(w, 330, 0);
    put(w, 100, "AcDbSymbolTable");
    put_int(w, 70, count);
}

/* The head of a table's row up to its name. */
static void begin_row(Writer *w, const char *type, unsigned table, const char *class,
                      const char *name) {
    put(w, 0, type);
    put_new_handle(w, 5);
    put_handle(w, 330, table);
    put(w, 100, "AcDbSymbolTableRecord");
    put(w, 100, class);
    put(w, 2, name);
    put_int(w, 70, 0);
}

static void end_table(Writer *w) {
    put(w, 0, "ENDTAB");
}

static void line_type(Writer *w, const char *name, int count, const double *dashes) {
    double length = 0;
    for (int i = 0; i < count; i++)
        length += dashes[i];
    begin_row(w, "LTYPE", H_LINE_TYPES, "AcDbLinetypeTableRecord", name);
    put(w, 3, "");
    put_int(w, 72, 65);
    put_int(w, 73, count);
    put_number(w, 40, length);
    for (int i = 0; i < count; i++) { /* gaps are negative */
        put_number(w, 49, i % 2 ? -dashes[i] : dashes[i]);
        put_int(w, 74, 0);
    }
}

static void layer(Writer *w, const char *name, int colour, const char *type) {
    begin_row(w, "LAYER", H_LAYERS, "AcDbLayerTableRecord", name);
    put_int(w, 62, colour);
    put(w, 6, type);
}

static void block_record(Writer *w, const char *name, unsigned handle) {
    put(w, 0, "BLOCK_RECORD");
    put_handle(w, 5, handle);
    put_handle(w, 330, H_BLOCKS);
    put(w, 100, "AcDbSymbolTableRecord");
    put(w, 100, "AcDbBlockTableRecord");
    put(w, 2, name);
}

static const char *line_type_of(const NwInkRow *row) {
    return row->dash_count ? row->name : "Continuous";
}

static void tables(Writer *w) {
    put(w, 0, "SECTION");
    put(w, 2, "TABLES");
    begin_table(w, "VPORT", H_VPORTS, 0);
    end_table(w);
    begin_table(w, "LTYPE", H_LINE_TYPES, 3 + NW_INK_COUNT);
    line_type(w, "ByBlock", 0, NULL);
    line_type(w, "ByLayer", 0, NULL);
    line_type(w, "Continuous", 0, NULL);
    for (NwInk ink = 0; ink < NW_INK_COUNT; ink++)
        if (nw_ink_row(ink)->dash_count)
            line_type(w, nw_ink_row(ink)->name, nw_ink_row(ink)->dash_count,
                      nw_ink_row(ink)->dashes_mm);
    end_table(w);
    begin_table(w, "LAYER", H_LAYERS, 1 + NW_INK_COUNT);
    layer(w, "0", 7, "Continuous");
    for (NwInk ink = 0; ink < NW_INK_COUNT; ink++)
        layer(w, nw_ink_row(ink)->name, nw_ink_row(ink)->colour_index,
              line_type_of(nw_ink_row(ink)));
    end_table(w);
    begin_table(w, "STYLE", H_STYLES, 1);
    begin_row(w, "STYLE", H_STYLES, "AcDbTextStyleTableRecord", "Standard");
    put_number(w, 40, 0);
    put_number(w, 41, 1);
    put_number(w, 50, 0);
    put_int(w, 71, 0);
    put_number(w, 42, 2.5);
    put(w, 3, "txt");
    put(w, 4, "");
    end_table(w);
    begin_table(w, "VIEW", H_VIEWS, 0);
    end_table(w);
    begin_table(w, "UCS", H_UCS, 0);
    end_table(w);
    begin_table(w, "APPID", H_APPS, 1);
    begin_row(w, "APPID", H_APPS, "AcDbRegAppTableRecord", "ACAD");
    end_table(w);
    begin_table(w, "DIMSTYLE", H_DIMENSIONS, 0);
    put(w, 100, "AcDbDimStyleTable");
    end_table(w);
    begin_table(w, "BLOCK_RECORD", H_BLOCKS, 2);
    block_record(w, "*Model_Space", H_MODEL);
    block_record(w, "*Paper_Space", H_PAPER);
    end_table(w);
    put(w, 0, "ENDSEC");
}

static void block(Writer *w, const char *name, unsigned record) {
    put(w, 0, "BLOCK");
    put_new_handle(w, 5);
    put_handle(w, 330, record);
    put(w, 100, "AcDbEntity");
    put(w, 8, "0");
    put(w, 100, "AcDbBlockBegin");
    put(w, 2, name);
    put_int(w, 70, 0);
    put_point(w, 10, 0, 0);
    put_number(w, 30, 0);
    put(w, 3, name);
    put(w, 1, "");
    put(w, 0, "ENDBLK");
    put_new_handle(w, 5);
    put_handle(w, 330, record);
    put(w, 100, "AcDbEntity");
    put(w, 8, "0");
    put(w, 100, "AcDbBlockEnd");
}

static void begin_entity(Writer *w, const char *type, const char *layer_name) {
    put(w, 0, type);
    put_new_handle(w, 5);
    put_handle(w, 330, H_MODEL);
    put(w, 100, "AcDbEntity");
    put(w, 8, layer_name);
}

static void stroke(Writer *w, const NwStroke *s) {
    if (s->tint != NW_NO_TINT)
        return;
    begin_entity(w, "LWPOLYLINE", nw_ink_row(s->ink)->name);
    put(w, 100, "AcDbPolyline");
    put_int(w, 90, (int)s->count);
    put_int(w, 70, s->closed);
    for (size_t i = 0; i < s->count; i++)
        put_point(w, 10, s->points[i].x, s->points[i].y);
}

/* Aligned by its middle line; 72 and 73 say how, and the second point where. */
static void label(Writer *w, const NwLabel *l) {
    begin_entity(w, "TEXT", nw_ink_row(NW_INK_NOTE)->name);
    put(w, 100, "AcDbText");
    put_point(w, 10, l->at.x, l->at.y);
    put_number(w, 30, 0);
    put_number(w, 40, l->height_mm);
    put_text(w, 1, l->text);
    put_number(w, 50, l->degrees);
    put_int(w, 72, l->align + 1);
    put_point(w, 11, l->at.x, l->at.y);
    put_number(w, 31, 0);
    put(w, 100, "AcDbText");
    put_int(w, 73, 2);
}

static void objects(Writer *w) {
    put(w, 0, "SECTION");
    put(w, 2, "OBJECTS");
    put(w, 0, "DICTIONARY");
    put_handle(w, 5, H_ROOT);
    put_handle(w, 330, 0);
    put(w, 100, "AcDbDictionary");
    put_int(w, 281, 1);
    put(w, 3, "ACAD_GROUP");
    put_handle(w, 350, H_GROUPS);
    put(w, 0, "DICTIONARY");
    put_handle(w, 5, H_GROUPS);
    put_handle(w, 330, H_ROOT);
    put(w, 100, "AcDbDictionary");
    put_int(w, 281, 1);
    put(w, 0, "ENDSEC");
}

GBytes *nw_plot_to_dxf(const NwPlot *plot) {
    Writer w = {g_string_new(NULL), FIRST_HANDLE};
    header(&w, plot);
    put(&w, 0, "SECTION");
    put(&w, 2, "CLASSES");
    put(&w, 0, "ENDSEC");
    tables(&w);
    put(&w, 0, "SECTION");
    put(&w, 2, "BLOCKS");
    block(&w, "*Model_Space", H_MODEL);
    block(&w, "*Paper_Space", H_PAPER);
    put(&w, 0, "ENDSEC");
    put(&w, 0, "SECTION");
    put(&w, 2, "ENTITIES");
    for (size_t i = 0; i < plot->stroke_count; i++)
        stroke(&w, &plot->strokes[i]);
    for (size_t i = 0; i < plot->label_count; i++)
        label(&w, &plot->labels[i]);
    put(&w, 0, "ENDSEC");
    objects(&w);
    put(&w, 0, "EOF");
    return g_string_free_to_bytes(w.out);
}
