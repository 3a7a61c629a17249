#include <glib/gi18n.h>
#include <string.h>

#include "export/export_request.h"
#include "export/products.h"
#include "export/rows.h"
#include "make/mesh/obj.h"
#include "make/mesh/piece_mesh.h"
#include "make/mesh/print_orientation.h"
#include "make/mesh/stl.h"
#include "make/mesh/threemf.h"
#include "make/safety/safety_notes.h"
#ifdef NW_PICTURES
#include "view/palette.h"
#endif

static const NwOption options[] = {
    {"cell-mm", NW_OPTION_NUMBER, N_("Cell size"), N_("Cell size (default: 20)"), N_("MM"),
     .least = 1, .most = 500, .standard = 20, .digits = 1},
    {"clearance-mm", NW_OPTION_NUMBER, N_("Clearance"),
     N_("Move every face inwards by this much (default: 0.15)"), N_("MM"), .most = 20,
     .standard = 0.15, .digits = 2},
    {"each", NW_OPTION_SWITCH, N_("One file per piece"),
     N_("Write one file per piece, with its name before the ending")},
    {"assembled", NW_OPTION_SWITCH, N_("Leave assembled"),
     N_("Leave the pieces where the intended assembly has them")},
    {"once", NW_OPTION_SWITCH, N_("One of each piece"),
     N_("Include each piece once, however many copies it has")},
    {"prove", NW_OPTION_SWITCH, N_("Check clearance on the way out"),
     N_("First check how close pieces come along the whole way out")},
};

enum { GAP_MM = 5 }; /* between pieces laid flat */

/* A product in work. */
typedef struct Work {
    const NwExportRequest *request;
    double cell_mm, clearance_mm;
    gboolean once, assembled;
    NwFacets **meshes;
    NwPrintOrientation *beds;
    char (*colours)[NW_COLOUR_SIZE];
    NwPrint print;
} Work;

typedef GBytes *Writer(NwPrint *print, GError **error);

static GBytes *write_stl(NwPrint *print, GError **error) {
    (void)error;
    return g_byte_array_free_to_bytes(nw_stl_bytes(print));
}

static GBytes *write_obj(NwPrint *print, GError **error) {
    (void)error;
    return g_string_free_to_bytes(nw_obj_text(print));
}

static const struct {
    const char *ending;
    Writer *write;
} formats[] = {{".3mf", nw_threemf_bytes}, {".stl", write_stl}, {".obj", write_obj}};

static Writer *writer_for(const char *path) {
    for (gsize i = 0; i < G_N_ELEMENTS(formats); i++)
        if (g_str_has_suffix(path, formats[i].ending))
            return formats[i].write;
    return NULL;
}

static void choose_colour(const NwPiece *piece, size_t index, char colour[NW_COLOUR_SIZE]) {
    g_strlcpy(colour, piece->colour, NW_COLOUR_SIZE);
    if (*colour)
        return;
#ifdef NW_PICTURES
    NwColour c = nw_palette_piece((int)index);
    g_snprintf(colour, NW_COLOUR_SIZE, "#%02x%02x%02x", (unsigned)(c.r * 255 + 0.5f) & 255,
               (unsigned)(c.g * 255 + 0.5f) & 255, (unsigned)(c.b * 255 + 0.5f) & 255);
#else
    (void)index;
    g_strlcpy(colour, "#b8a890", NW_COLOUR_SIZE);
#endif
}

static void add_item(NwPrint *print, size_t object) {
    print->items = g_renew(NwPrintItem, print->items, print->item_count + 1);
    print->items[print->item_count++] = (NwPrintItem){.object = object};
}

/* Every copy of every piece, laid flat side by side. */
static void lay_flat(Work *work) {
    NwPrint *print = &work->print;
    for (size_t i = 0; i < work->request->design->piece_count; i++)
        for (int copy = 0; copy < (work->once ? 1 : work->request->design->pieces[i].copies);
             copy++)
            add_item(print, i);
    double(*sizes)[2] = g_malloc_n(print->item_count, sizeof *sizes);
    double(*at)[2] = g_malloc_n(print->item_count, sizeof *at);
    for (int round = 0; round < 2; round++) {
        for (size_t i = 0; i < print->item_count; i++) {
            NwPrintItem *item = &print->items[i];
            static const double nowhere[3] = {0, 0, 0};
            double low[3], high[3];
            NwFacets *one = nw_facets_copy(work->meshes[item->object]);
            memcpy(item->rows, work->beds[item->object].rows, sizeof item->rows);
            nw_facets_move(one, item->rows, nowhere);
            nw_facets_bounds(one, low, high);
            nw_facets_free(one);
            for (int k = 0; k < 2; k++)
                sizes[i][k] = high[k] - low[k];
            for (int k = 0; k < 3 && round; k++)
                item->shift_mm[k] = (k < 2 ? at[i][k] : 0) - low[k];
        }
        if (!round)
            nw_print_orientation_arrange((const double(*)[2])sizes, print->item_count, GAP_MM, at);
    }
    g_free(sizes);
    g_free(at);
}

/* Every placement of the intended assembly. */
static void assemble(Work *work) {
    for (size_t i = 0; i < work->request->design->intended_count; i++) {
        add_item(&work->print, (size_t)work->request->design->intended[i].piece);
        NwPrintItem *item = &work->print.items[i];
        nw_motion_rows(work->request->design->intended[i].motion, work->cell_mm, item->rows,
                       item->shift_mm);
    }
    nw_print_to_corner(&work->print);
}

/* OUT with a piece's name before its ending, without what file names cannot have. */
static char *dup_path_for(const char *out, const char *piece) {
    char *name = g_strdelimit(g_strdup(piece), "/\\:*?\"<>| ", '_');
    const char *ending = strrchr(out, '.');
    char *path = g_strdup_printf("%.*s-%s%s", (int)(ending - out), out, name, ending);
    g_free(name);
    return path;
}

/* One file a piece: its first item, brought to the corner. */
static gboolean add_each(const Work *work, NwOutput *output, GError **error) {
    GHashTable *paths = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    gboolean done = TRUE;
    for (size_t i = 0; i < work->request->design->piece_count && done; i++) {
        NwPrintItem item = {.object = 0};
        NwPrintObject object = work->print.objects[i];
        for (size_t k = 0; k < work->print.item_count; k++)
            if (work->print.items[k].object == i)
                memcpy(item.rows, work->print.items[k].rows, sizeof item.rows);
        NwPrint one = {object.name, &object, 1, &item, 1};
        nw_print_to_corner(&one);
        char *path = dup_path_for(work->request->out, object.name);
        if (!g_hash_table_add(paths, g_strdup(path))) {
            g_set_error(error, G_IO_ERROR, G_IO_ERROR_EXISTS,
                        _("two pieces would both be written to “%s”: rename one of them"), path);
            done = FALSE;
        } else {
            GBytes *bytes = writer_for(path)(&one, error);
            done = bytes != NULL;
            if (done)
                nw_output_take(output, path, bytes);
        }
        g_free(path);
    }
    g_hash_table_unref(paths);
    return done;
}

static gboolean add_files(Work *work, NwOutput *output, GError **error) {
    if (nw_export_request_switch(work->request, "each"))
        return add_each(work, output, error);
    GBytes *bytes = writer_for(work->request->out)(&work->print, error);
    if (bytes)
        nw_output_take(output, work->request->out, bytes);
    return bytes != NULL;
}

static void report_piece(const Work *work, size_t i, NwExportReport *report) {
    const char *name = work->request->design->pieces[i].name;
    double cm3 = nw_facets_volume_mm3(work->meshes[i]) / 1000;
    g_autofree char *bed = work->assembled ? NULL : nw_dup_print_orientation_text(&work->beds[i]);
    nw_export_report_take_remark(report,
                                 bed ? g_strdup_printf(_("%s: %.2f cm³; %s"), name, cm3, bed)
                                     : g_strdup_printf(_("%s: %.2f cm³"), name, cm3));
}

/* Measures the whole way out. */
static gboolean prove(const Work *work, NwExportReport *report, NwProgress *progress,
                      GError **error) {
    NwMeshProof proof;
    double asked = 2 * work->clearance_mm, bound = 2 * asked + 0.01;
    if (!nw_mesh_prove(work->request->design, work->meshes, work->cell_mm, bound, &proof, progress,
                       error))
        return FALSE;
    if (proof.free_way.least_mm < asked * (1 - 1e-9)) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("on the way out pieces come as close as %.4f mm, and twice the clearance is "
                      "%.4f mm: nothing is written"),
                    proof.free_way.least_mm, asked);
        return FALSE;
    }
    nw_export_report_take_remark(
        report, g_strdup_printf(
                    ngettext("measured on the way out of %d slide: no two pieces come closer than "
                             "%.4f mm, and twice the clearance is %.4f mm",
                             "measured on the way out of %d slides: no two pieces come closer than "
                             "%.4f mm, and twice the clearance is %.4f mm",
                             (unsigned long)proof.slides),
                    proof.slides, proof.free_way.least_mm, asked));
    return TRUE;
}

static void fill_print(Work *work) {
    const NwDesign *design = work->request->design;
    size_t count = design->piece_count;
    work->beds = g_new0(NwPrintOrientation, count);
    work->colours = g_malloc0_n(count, sizeof *work->colours);
    work->print = (NwPrint){design->name, g_new0(NwPrintObject, count), count, NULL, 0};
    for (size_t i = 0; i < count; i++) {
        work->beds[i] = nw_print_orientation_choose(work->meshes[i]);
        choose_colour(&design->pieces[i], i, work->colours[i]);
        work->print.objects[i] =
            (NwPrintObject){design->pieces[i].name, work->colours[i], work->meshes[i]};
    }
    if (work->assembled)
        assemble(work);
    else
        lay_flat(work);
}

static void clear(Work *work) {
    nw_piece_meshes_free(work->meshes, work->request->design->piece_count);
    g_free(work->beds);
    g_free(work->colours);
    g_free(work->print.objects);
    g_free(work->print.items);
}

static gboolean work_through(Work *work, NwOutput *output, NwExportReport *report,
                             NwProgress *progress, GError **error) {
    const NwDesign *design = work->request->design;
    nw_progress_stage(progress, _("moving faces inwards"), 0, 0.3);
    work->meshes = nw_piece_meshes_new(design, work->cell_mm, work->clearance_mm, progress, error);
    if (!work->meshes)
        return FALSE;
    nw_progress_stage(progress, _("measuring the way out"), 0.3, 0.6);
    if (nw_export_request_switch(work->request, "prove") && !prove(work, report, progress, error))
        return FALSE;
    if (!nw_progress_stage(progress, _("laying pieces down"), 0.6, 0.7))
        return nw_progress_set_error(error);
    fill_print(work);
    if (!add_files(work, output, error))
        return FALSE;
    for (size_t i = 0; i < design->piece_count; i++)
        report_piece(work, i, report);
    return nw_add_piece_cautions(report, design, work->cell_mm, work->clearance_mm, progress,
                                 error);
}

static gboolean make(const NwExportRequest *request, NwOutput *output, NwExportReport *report,
                     NwProgress *progress, GError **error) {
    Work work = {.request = request,
                 .cell_mm = nw_export_request_number(request, "cell-mm"),
                 .clearance_mm = nw_export_request_number(request, "clearance-mm"),
                 .once = nw_export_request_switch(request, "once"),
                 .assembled = nw_export_request_switch(request, "assembled")};
    if (work.assembled && !request->design->intended_count) {
        g_set_error_literal(
            error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
            _("the design has no intended assembly; choose one, or leave out --assembled"));
        return FALSE;
    }
    gboolean done = work_through(&work, output, report, progress, error);
    clear(&work);
    return done;
}

static void warn(const NwExportRequest *request, NwExportReport *report) {
    (void)request;
    nw_add_tool_cautions(report, 1 << NW_TOOL_PRINTER);
}

static const char *const endings[] = {".3mf", ".stl", ".obj", NULL};

const NwProduct nw_product_mesh = {
    .name = "mesh",
    .title = N_("3D Models"),
    .brief = N_("A mesh of each piece for a 3D printer, laid on its best face."),
    .about = N_("Writes meshes of the pieces for a 3D printer, in millimetres.\n\nEach piece is "
                "laid on its best face. Every face moves inwards by the clearance, so two pieces "
                "are\ntwice that apart."),
    .target = NW_EXPORT_TARGET_FILE,
    .endings = endings,
    .options = options,
    .option_count = G_N_ELEMENTS(options),
    .warn = warn,
    .make = make,
};
