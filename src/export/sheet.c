/* The sheet for the box as a product: its search, its pictures, its pages. */
#include <gio/gio.h>
#include <glib/gi18n.h>

#include "base/bits.h"
#include "export/export_request.h"
#include "export/inquiry.h"
#include "export/products.h"
#include "export/rows.h"
#include "export/sheet_pictures.h"
#include "export/sheet_words.h"
#include "make/sheet/sheet_pdf.h"
#include "slide/clearance.h"
#include "slide/grips.h"
#include "text/words.h"

/* Shares of the whole at which the stages end. */
static const double searched = 0.6, judged = 0.7, drawn = 0.97;

static const NwOption options[] = {
    {.name = "challenge",
     .kind = NW_OPTION_SWITCH,
     .label = N_("Challenge only"),
     .help = N_("Only the challenge, without the sealed answer")},
    {.name = "no-claim",
     .kind = NW_OPTION_SWITCH,
     .label = N_("Do not claim that there is only one answer"),
     .help = N_("Do not claim that there is only one answer")},
    {.name = "paper",
     .kind = NW_OPTION_CHOICE,
     .label = N_("Paper"),
     .help = N_("A4 (default), A3 or Letter"),
     .unit = N_("NAME"),
     .choices = nw_paper_choices,
     .choice_count = NW_PAPER_CHOICES},
    {.name = "cell-mm",
     .kind = NW_OPTION_NUMBER,
     .label = N_("Cell size"),
     .help = N_("Cell size (default: 20)"),
     .unit = N_("MM"),
     .least = 1,
     .most = 1000,
     .standard = 20,
     .digits = 1},
    {.name = "diagonal",
     .kind = NW_OPTION_SWITCH,
     .label = N_("Also allow slides along face diagonals"),
     .help = N_("Also allow slides along face diagonals"),
     .search = TRUE},
    {.name = "seconds",
     .kind = NW_OPTION_NUMBER,
     .label = N_("Stop searching after"),
     .help = N_("Stop the search after S seconds"),
     .unit = N_("S"),
     .most = 1e9,
     .search = TRUE},
    {.name = "states",
     .kind = NW_OPTION_NUMBER,
     .label = N_("Positions per group"),
     .help = N_("Keep at most N positions per group of pieces (default: 2000000)"),
     .unit = N_("N"),
     .most = G_MAXINT32,
     .standard = NW_STATES_DEFAULT,
     .search = TRUE},
};

/* A sheet in work. */
typedef struct Maker {
    const NwExportRequest *request;
    const NwDesign *design;
    NwProgress *progress;
    NwExportReport *report;
    double cell_mm;
    NwSearchOptions search;
    NwSearchResults results;
    const NwFoundAssembly *answer; /* NULL: none is known */
    NwPosedScene *show;
    NwSheet *sheet;
    NwBody bodies[NW_BODIES_MAX];
    char *names[NW_BODIES_MAX + 1];
} Maker;

/* ---- the search --------------------------------------------------------------------------- */

static gboolean search(Maker *maker, GError **error) {
    const NwExportRequest *request = maker->request;
    const NwInquiry inquiry = {.design = maker->design,
                               .store = request->store,
                               .version = request->version,
                               .options = maker->search,
                               .seconds = nw_export_request_number(request, "seconds")};
    if (!nw_progress_stage(maker->progress, _("searching for all assemblies"), 0, searched))
        return nw_progress_set_error(error);
    return nw_inquire(&inquiry, maker->progress, &maker->results, error);
}

static void fill_proof(Maker *maker) {
    const NwSearchResults *results = &maker->results;
    NwTally tally = nw_tally_of_search(&results->progress);
    maker->answer = nw_search_results_answer(results);
    maker->sheet->proof = (NwSheetProof){
        .complete = tally.complete,
        .has_intended = nw_search_has_intended(results->search),
        .answer_opens = maker->answer != NULL,
        .mirrors = maker->design->mirrors_together,
        .fitting = tally.fitting,
        .opening = tally.opening,
        .unreachable = tally.unreachable,
        .undecided = tally.undecided,
        .unexamined = tally.unexamined,
        .levels = maker->answer ? nw_levels_of(maker->answer->slides, maker->answer->slide_count)
                                : (NwLevels){0},
        .total = maker->answer ? maker->answer->total : 0,
        .search = nw_search_fit(results->search)
                      ? nw_sheet_words_search(results->search, &maker->search)
                      : g_strdup(""), /* it was stopped before it began: a sheet is refused */
        .version = nw_sheet_words_version(maker->design, maker->request->version)};
}

/* Whether the sheet may be made: FALSE with the reason. */
static gboolean may_be_made(const Maker *maker, GError **error) {
    g_autofree char *why = nw_sheet_dup_refusal(maker->sheet);
    if (!why)
        return TRUE;
    if (maker->answer)
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                    _("%s; with --no-claim the sheet does not say so"), why);
    else
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, why);
    return FALSE;
}

/* ---- what to mind ------------------------------------------------------------------------- */

/* Judges every piece, and leaves a short caution for the page. */
static gboolean judge(Maker *maker, GError **error) {
    const NwDesign *design = maker->design;
    double count = (double)design->piece_count;
    g_autoptr(GPtrArray) small = g_ptr_array_new(), sharp = g_ptr_array_new();
    gboolean wanted =
        nw_progress_stage(maker->progress, _("looking for small parts and tips"), searched, judged);
    for (size_t i = 0; i < design->piece_count && wanted; i++) {
        wanted = nw_progress_part(maker->progress, (double)i / count, (double)(i + 1) / count);
        unsigned traits =
            nw_add_cautions_of(maker->report, design, i, maker->cell_mm, 0, maker->progress);
        if (traits & NW_PIECE_SMALL)
            g_ptr_array_add(small, design->pieces[i].name);
        if (traits & NW_PIECE_SHARP)
            g_ptr_array_add(sharp, design->pieces[i].name);
    }
    maker->sheet->caution = nw_sheet_words_caution(small, sharp, design->piece_count);
    if (maker->sheet->caution)
        nw_add_tool_cautions(maker->report, 0);
    return wanted || nw_progress_set_error(error);
}

/* ---- pages -------------------------------------------------------------------------------- */

static void fill_front(Maker *maker) {
    const NwDesign *design = maker->design;
    NwSheet *sheet = maker->sheet;
    NwBounds box = nw_solid_bounds(design->envelope);
    sheet->title = g_strdup(design->name);
    sheet->diagonals = maker->search.diagonals;
    sheet->bodies = nw_design_copies(design);
    for (int axis = 0; axis < 3; axis++)
        sheet->size_mm[axis] = maker->cell_mm * nw_vec_get(nw_vec_sub(box.high, box.low), axis);
    for (size_t i = 0; i < design->piece_count; i++) {
        NwSheetPiece piece = {.name = g_strdup(design->pieces[i].name),
                              .copies = design->pieces[i].copies};
        g_array_append_val(sheet->pieces, piece);
    }
}

/* How far it goes: a slide out, until the box of what moves has left that of the rest. */
static int cells_of(const Maker *maker, int slide) {
    int cells = maker->answer->slides[slide].cells;
    return cells == NW_SLIDE_OUT ? nw_sheet_depth(maker->show, slide) : cells;
}

/* The way out backwards. A slide is shown with the group that it belongs to; what parts from that
 * group earlier on the way out has not come to it yet. */
static gboolean fill_steps(Maker *maker, NwAlbum *album, GError **error) {
    const NwFoundAssembly *answer = maker->answer;
    NwClearanceCache *cache = nw_clearance_cache_new(maker->search.diagonals);
    gboolean good = TRUE;
    for (int s = answer->slide_count - 1; s >= 0 && good; s--) {
        const NwSlide *slide = &answer->slides[s];
        NwGroupPositions standing;
        nw_group_positions_after(answer->placement_count, answer->slides, s, &standing);
        NwGrips hold = nw_grips_of_slide(cache, maker->bodies, &standing, slide, TRUE);
        NwSheetStep step = {.what = nw_sheet_words_step(maker->design, answer, slide,
                                                        cells_of(maker, s), maker->cell_mm),
                            .holds = nw_sheet_words_hold(maker->design, answer, &hold)};
        guint32 group = standing.group[nw_lowest(slide->bodies)];
        good = nw_sheet_draw_step(&step.picture, album, maker->show, s, group,
                                  (const char *const *)maker->names, error);
        g_array_append_val(maker->sheet->steps, step);
    }
    nw_clearance_cache_free(cache);
    return good;
}

static gboolean draw_all(Maker *maker, GError **error) {
    NwSheet *sheet = maker->sheet;
    guint wanted = 1 + sheet->pieces->len;
    if (!sheet->challenge)
        wanted += (guint)maker->answer->slide_count;
    if (!nw_progress_stage(maker->progress, _("drawing the pictures"), judged, drawn))
        return nw_progress_set_error(error);
    NwAlbum *album = nw_album_new(wanted, maker->progress, error);
    gboolean good = album && nw_sheet_draw_solid(&sheet->solid, album, maker->show, error) &&
                    nw_sheet_draw_pieces(sheet, album, maker->design, error) &&
                    (sheet->challenge || fill_steps(maker, album, error));
    nw_album_free(album);
    return good;
}

/* Lays out who is who in the answer. */
static gboolean set_out(Maker *maker, GError **error) {
    const NwFoundAssembly *answer = maker->answer;
    if (answer->placement_count > NW_BODIES_MAX ||
        !(maker->show = nw_posed_scene_new(maker->design, answer))) {
        g_set_error_literal(error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA,
                            _("there is no way in to be drawn: the design has too many pieces"));
        return FALSE;
    }
    nw_found_assembly_bodies(maker->design, answer->placements, answer->placement_count,
                             maker->bodies);
    for (int b = 0; b < answer->placement_count; b++)
        maker->names[b] = nw_words_body(maker->design, answer, b);
    return TRUE;
}

static gboolean write_pages(Maker *maker, NwOutput *output, GError **error) {
    if (!nw_progress_stage(maker->progress, _("setting the pages"), drawn, 1))
        return nw_progress_set_error(error);
    GBytes *pdf = nw_sheet_to_pdf(maker->sheet, error);
    if (!pdf)
        return FALSE;
    nw_output_take(output, maker->request->out, pdf);
    return TRUE;
}

static gboolean make_of_results(Maker *maker, NwOutput *output, GError **error) {
    fill_proof(maker);
    fill_front(maker);
    return may_be_made(maker, error) && set_out(maker, error) && judge(maker, error) &&
           draw_all(maker, error) && write_pages(maker, output, error);
}

static gboolean make(const NwExportRequest *request, NwOutput *output, NwExportReport *report,
                     NwProgress *progress, GError **error) {
    Maker maker = {.request = request,
                   .design = request->design,
                   .progress = progress,
                   .report = report,
                   .cell_mm = nw_export_request_number(request, "cell-mm")};
    maker.search.diagonals = nw_export_request_switch(request, "diagonal");
    maker.search.max_states = (guint32)nw_export_request_number(request, "states");
    if (!search(&maker, error))
        return FALSE;
    maker.sheet = nw_sheet_new();
    maker.sheet->claims_only = !nw_export_request_switch(request, "no-claim");
    maker.sheet->challenge = nw_export_request_switch(request, "challenge");
    maker.sheet->paper = nw_paper_size_find(nw_export_request_choice(request, "paper"));
    gboolean good = make_of_results(&maker, output, error);
    nw_sheet_free(maker.sheet);
    nw_posed_scene_free(maker.show);
    for (int b = 0; b < NW_BODIES_MAX; b++)
        g_free(maker.names[b]);
    nw_search_results_clear(&maker.results);
    return good;
}

static const char *const endings[] = {".pdf", NULL};

const NwProduct nw_product_sheet = {
    .name = "sheet",
    .title = N_("Sheet for the Box"),
    .brief = N_("The challenge, and on pages to fold and seal, the way in and what is proved."),
    .about = N_("Makes the sheet for the box: the finished solid and the pieces and, on pages to "
                "fold and seal, the\nway in step by step and what is proved. It claims that there "
                "is only one answer if a complete\nsearch has shown it, and is refused otherwise."),
    .target = NW_EXPORT_TARGET_FILE,
    .endings = endings,
    .options = options,
    .option_count = G_N_ELEMENTS(options),
    .make = make};
