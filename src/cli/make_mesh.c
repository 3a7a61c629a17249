#include <glib/gi18n.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/make.h"
#include "cli/make_options.h"
#include "make/bed.h"
#include "make/caution.h"
#include "make/obj.h"
#include "make/output.h"
#include "make/piece_mesh.h"
#include "make/stl.h"
#include "make/threemf.h"
#ifdef NW_PICTURES
#include "view/palette.h"
#endif

enum { GAP_MM = 5 }; /* between pieces laid flat */

/* What the command line says. */
typedef struct Wish {
    char *out, *store;
    double cell_mm, clearance_mm;
    gboolean each, assembled, once, prove;
} Wish;

/* A product in work. */
typedef struct Work {
    const Wish *wish;
    const NwDesign *design;
    NwFacets **meshes;
    NwBed *beds;
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

static gboolean read_wish(const Wish *wish) {
    if (!wish->out) {
        nw_complain(_("--out is missing: name a file that ends in .3mf, .stl or .obj"));
        return FALSE;
    }
    if (!writer_for(wish->out)) {
        nw_complain(_("“%s” is no mesh: let the file end in .3mf, .stl or .obj"), wish->out);
        return FALSE;
    }
    return nw_make_number("--cell-mm", wish->cell_mm, 1, 500) &&
           nw_make_number("--clearance-mm", wish->clearance_mm, 0, 20);
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
    for (size_t i = 0; i < work->design->piece_count; i++)
        for (int copy = 0; copy < (work->wish->once ? 1 : work->design->pieces[i].copies); copy++)
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
            nw_bed_arrange((const double(*)[2])sizes, print->item_count, GAP_MM, at);
    }
    g_free(sizes);
    g_free(at);
}

/* Every placement of the intended assembly. */
static void assemble(Work *work) {
    for (size_t i = 0; i < work->design->intended_count; i++) {
        add_item(&work->print, (size_t)work->design->intended[i].piece);
        NwPrintItem *item = &work->print.items[i];
        nw_motion_rows(work->design->intended[i].motion, work->wish->cell_mm, item->rows,
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
    for (size_t i = 0; i < work->design->piece_count && done; i++) {
        NwPrintItem item = {.object = 0};
        NwPrintObject object = work->print.objects[i];
        for (size_t k = 0; k < work->print.item_count; k++)
            if (work->print.items[k].object == i)
                memcpy(item.rows, work->print.items[k].rows, sizeof item.rows);
        NwPrint one = {object.name, &object, 1, &item, 1};
        nw_print_to_corner(&one);
        char *path = dup_path_for(work->wish->out, object.name);
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

static void report_piece(const Work *work, size_t i) {
    const NwPiece *piece = &work->design->pieces[i];
    printf(_("%s: %.2f cm³"), piece->name, nw_facets_volume_mm3(work->meshes[i]) / 1000);
    if (!work->wish->assembled) {
        char *text = nw_dup_bed_text(&work->beds[i]);
        printf("; %s", text);
        g_free(text);
    }
    printf("\n");
    NwTip *tips;
    NwSmallPart part = nw_small_part_try(work->meshes[i]);
    size_t count = nw_piece_tips(work->design, (int)i, &tips);
    char *cautions[2] = {nw_dup_small_part_caution(piece->name, &part),
                         nw_dup_tips_caution(piece->name, tips, count)};
    for (int k = 0; k < 2; k++) {
        if (cautions[k])
            printf("  %s\n", cautions[k]);
        g_free(cautions[k]);
    }
    free(tips);
}

/* Measures the whole way out, where that is asked for; FALSE with a complaint. */
static gboolean prove(const Work *work) {
    NwMeshProof proof;
    GError *error = NULL;
    double asked = 2 * work->wish->clearance_mm, bound = 2 * asked + 0.01;
    if (!nw_mesh_prove(work->design, work->meshes, work->wish->cell_mm, bound, &proof, &error)) {
        nw_give_up(error, NW_EXIT_USAGE);
        return FALSE;
    }
    printf(ngettext("measured on the way out of %d slide: no two pieces come closer than %.4f mm, "
                    "and twice the clearance is %.4f mm\n",
                    "measured on the way out of %d slides: no two pieces come closer than %.4f mm, "
                    "and twice the clearance is %.4f mm\n",
                    (unsigned long)proof.slides),
           proof.slides, proof.free_way.least_mm, asked);
    if (proof.free_way.least_mm >= asked * (1 - 1e-9))
        return TRUE;
    nw_complain(_("pieces come closer than that: nothing is written"));
    return FALSE;
}

static NwExit write_all(Work *work) {
    GError *error = NULL;
    NwOutput *output = nw_output_new();
    gboolean made;
    if (work->wish->each) {
        made = add_each(work, output, &error);
    } else {
        GBytes *bytes = writer_for(work->wish->out)(&work->print, &error);
        made = bytes != NULL;
        if (made)
            nw_output_take(output, work->wish->out, bytes);
    }
    NwExit exit = made ? (NwExit)nw_make_write(output) : nw_give_up(error, NW_EXIT_USAGE);
    nw_output_free(output);
    return exit;
}

static NwExit make(const Wish *wish, const NwDesign *design) {
    Work work = {.wish = wish, .design = design};
    GError *error = NULL;
    if (wish->assembled && !design->intended_count) {
        nw_complain(_("the design has no intended assembly: leave out --assembled"));
        return NW_EXIT_USAGE;
    }
    work.meshes = nw_piece_meshes_new(design, wish->cell_mm, wish->clearance_mm, &error);
    if (!work.meshes)
        return nw_give_up(error, NW_EXIT_USAGE);
    size_t count = design->piece_count;
    work.beds = g_new0(NwBed, count);
    work.colours = g_malloc0_n(count, sizeof *work.colours);
    work.print = (NwPrint){design->name, g_new0(NwPrintObject, count), count, NULL, 0};
    for (size_t i = 0; i < count; i++) {
        work.beds[i] = nw_bed_choose(work.meshes[i]);
        choose_colour(&design->pieces[i], i, work.colours[i]);
        work.print.objects[i] =
            (NwPrintObject){design->pieces[i].name, work.colours[i], work.meshes[i]};
    }
    if (wish->assembled)
        assemble(&work);
    else
        lay_flat(&work);
    NwExit exit = wish->prove && !prove(&work) ? NW_EXIT_USAGE : write_all(&work);
    for (size_t i = 0; i < count && exit == NW_EXIT_COMPLETE; i++)
        report_piece(&work, i);
    if (exit == NW_EXIT_COMPLETE)
        printf("%s\n%s\n", nw_caution_for(NW_TOOL_PRINTER), nw_caution_limits());
    nw_piece_meshes_free(work.meshes, count);
    g_free(work.beds);
    g_free(work.colours);
    g_free(work.print.objects);
    g_free(work.print.items);
    return exit;
}

NwExit nw_make_mesh(int argc, char **argv) {
    static char name[] = "make mesh";
    Wish wish = {.cell_mm = 20, .clearance_mm = 0.15};
    const GOptionEntry options[] = {
        {"out", 'o', 0, G_OPTION_ARG_FILENAME, &wish.out, N_("Write this file: 3MF, STL or OBJ"),
         N_("FILE")},
        {"cell-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.cell_mm, N_("Length of a cell (20)"),
         N_("MM")},
        {"clearance-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.clearance_mm,
         N_("How far every face of a piece moves inwards (0.15)"), N_("MM")},
        {"each", 0, 0, G_OPTION_ARG_NONE, &wish.each,
         N_("Write one file for each piece, with its name before the ending"), NULL},
        {"assembled", 0, 0, G_OPTION_ARG_NONE, &wish.assembled,
         N_("Leave the pieces as the intended assembly has them, not laid flat"), NULL},
        {"once", 0, 0, G_OPTION_ARG_NONE, &wish.once,
         N_("Lay down every piece once, however many copies it has"), NULL},
        {"prove", 0, 0, G_OPTION_ARG_NONE, &wish.prove,
         N_("Measure how near pieces come on the whole way out first"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wish.store, N_("The store to find designs in"),
         N_("FILE")},
        {NULL}};
    argv[0] = name;
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN --out FILE"),
                      _("Writes meshes of the pieces for a printer, in millimetres.\n\n"
                        "Each piece is laid on the face that is best for printing. All faces move "
                        "inwards by the\nclearance, so that two pieces are twice that apart."),
                      1, 1) &&
        read_wish(&wish)) {
        NwSource source;
        GError *error = NULL;
        if (!nw_source_open(&source, argv[1], wish.store, FALSE, &error)) {
            exit = nw_give_up(error, NW_EXIT_USAGE);
        } else {
            if (nw_make_has_pieces(source.design) && !nw_source_refuse_faults(&source))
                exit = make(&wish, source.design);
            nw_source_close(&source);
        }
    }
    g_free(wish.out);
    g_free(wish.store);
    return exit;
}
