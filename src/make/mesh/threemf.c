#include "make/mesh/threemf.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <string.h>
#include <zip.h>

static const char types[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\n"
    " <Default Extension=\"rels\" "
    "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\n"
    " <Default Extension=\"model\" "
    "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\n"
    "</Types>\n";

static const char relations[] =
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\n"
    " <Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\n"
    "</Relationships>\n";

static void add_escaped(GString *text, const char *format, const char *value) {
    char *escaped = g_markup_printf_escaped(format, value);
    g_string_append(text, escaped);
    g_free(escaped);
}

static void add_materials(GString *text, const NwPrint *print) {
    g_string_append(text, "  <basematerials id=\"1\">\n");
    for (size_t i = 0; i < print->object_count; i++) {
        char *colour = g_ascii_strup(print->objects[i].colour, -1);
        add_escaped(text, "   <base name=\"%s\"", print->objects[i].name);
        add_escaped(text, " displaycolor=\"%s\"/>\n", colour);
        g_free(colour);
    }
    g_string_append(text, "  </basematerials>\n");
}

static void add_object(GString *text, const NwPrint *print, size_t number) {
    const NwPrintObject *object = &print->objects[number];
    g_string_append_printf(text, "  <object id=\"%zu\" type=\"model\" pid=\"1\" pindex=\"%zu\"",
                           number + 2, number);
    add_escaped(text, " name=\"%s\">\n   <mesh>\n    <vertices>\n", object->name);
    for (size_t p = 0; p < object->facets->point_count; p++) {
        static const char *const names[3] = {"     <vertex x=\"", "\" y=\"", "\" z=\""};
        for (int k = 0; k < 3; k++) {
            g_string_append(text, names[k]);
            nw_print_number(text, object->facets->points[p][k]);
        }
        g_string_append(text, "\"/>\n");
    }
    g_string_append(text, "    </vertices>\n    <triangles>\n");
    for (size_t f = 0; f < object->facets->facet_count; f++) {
        const size_t *points = object->facets->facets[f].points;
        g_string_append_printf(text, "     <triangle v1=\"%zu\" v2=\"%zu\" v3=\"%zu\"/>\n",
                               points[0], points[1], points[2]);
    }
    g_string_append(text, "    </triangles>\n   </mesh>\n  </object>\n");
}

/* The matrix goes with row vectors: what our rows are, are its columns. */
static void add_item(GString *text, const NwPrintItem *item) {
    g_string_append_printf(text, "  <item objectid=\"%zu\" transform=\"", item->object + 2);
    for (int i = 0; i < 9; i++) {
        nw_print_number(text, item->rows[i % 3][i / 3]);
        g_string_append_c(text, ' ');
    }
    for (int k = 0; k < 3; k++) {
        nw_print_number(text, item->shift_mm[k]);
        g_string_append(text, k < 2 ? " " : "\"/>\n");
    }
}

static GString *model_of(const NwPrint *print) {
    GString *text =
        g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<model unit=\"millimeter\" xml:lang=\"en-US\" "
                     "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n");
    add_escaped(text, " <metadata name=\"Title\">%s</metadata>\n", print->title);
    g_string_append(text, " <metadata name=\"Application\">Notchwright</metadata>\n <resources>\n");
    add_materials(text, print);
    for (size_t i = 0; i < print->object_count; i++)
        add_object(text, print, i);
    g_string_append(text, " </resources>\n <build>\n");
    for (size_t i = 0; i < print->item_count; i++)
        add_item(text, &print->items[i]);
    g_string_append(text, " </build>\n</model>\n");
    return text;
}

static gboolean add_part(zip_t *archive, const char *name, const char *text, size_t length) {
    zip_source_t *source = zip_source_buffer(archive, text, length, 0);
    if (!source)
        return FALSE;
    if (zip_file_add(archive, name, source, ZIP_FL_ENC_UTF_8) >= 0)
        return TRUE;
    zip_source_free(source);
    return FALSE;
}

/* What the archive has become, after it was closed. */
static GBytes *read_all(zip_source_t *source) {
    zip_stat_t stat;
    if (zip_source_stat(source, &stat) < 0 || zip_source_open(source) < 0)
        return NULL;
    guint8 *data = g_malloc(stat.size);
    zip_int64_t length = zip_source_read(source, data, stat.size);
    zip_source_close(source);
    if (length == (zip_int64_t)stat.size)
        return g_bytes_new_take(data, stat.size);
    g_free(data);
    return NULL;
}

GBytes *nw_threemf_bytes(NwPrint *print, GError **error) {
    nw_print_to_corner(print);
    GString *model = model_of(print);
    zip_error_t fault;
    zip_error_init(&fault);
    GBytes *bytes = NULL;
    zip_source_t *buffer = zip_source_buffer_create(NULL, 0, 0, &fault);
    zip_t *archive = buffer ? zip_open_from_source(buffer, ZIP_TRUNCATE, &fault) : NULL;
    if (archive) {
        zip_source_keep(buffer);
        if (add_part(archive, "[Content_Types].xml", types, sizeof types - 1) &&
            add_part(archive, "_rels/.rels", relations, sizeof relations - 1) &&
            add_part(archive, "3D/3dmodel.model", model->str, model->len) &&
            zip_close(archive) == 0)
            bytes = read_all(buffer);
        else
            zip_discard(archive);
    }
    if (buffer)
        zip_source_free(buffer);
    zip_error_fini(&fault);
    g_string_free(model, TRUE);
    if (!bytes)
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_FAILED, _("the 3MF archive could not be packed"));
    return bytes;
}
