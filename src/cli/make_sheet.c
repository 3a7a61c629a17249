#include <glib/gi18n.h>
#include <inttypes.h>
#include <string.h>

#include "base/bits.h"
#include "cli/make.h"
#include "cli/make_options.h"
#include "cli/measure.h"
#include "cli/sheet_pictures.h"
#include "job/words.h"
#include "product/inquiry.h"
#include "slide/hold.h"
#include "store/drawing.h"

/* Options as they are read; freed by the caller. */
typedef struct Wish {
    NwRunRequest request;
    char *out, *paper, *store;
    double cell_mm;
    int states;
    gboolean challenge, no_claim;
} Wish;

/* A sheet in work. */
typedef struct Maker {
    const Wish *wish;
    const NwSource *source;
    const NwFinding *answer; /* NULL: none is known */
    NwShow *show;
    NwSheet *sheet;
    NwBody bodies[NW_BODIES_MAX];
    char *names[NW_BODIES_MAX + 1];
} Maker;

/* ---- words -------------------------------------------------------------------------------- */

/* "1 cell (20 mm)" */
static char *dup_distance(const Maker *maker, int cells) {
    return g_strdup_printf(
        ngettext("%d cell (%.0f\u00a0mm)", "%d cells (%.0f\u00a0mm)", (gulong)cells), cells,
        cells * maker->wish->cell_mm);
}

static char *dup_what(const Maker *maker, int index) {
    const NwDesign *design = maker->source->design;
    const NwSlide *slide = &maker->answer->slides[index];
    gboolean in = slide->cells == NW_SLIDE_OUT;
    g_autofree char *who = nw_words_bodies(design, maker->answer, slide->bodies);
    g_autofree char *far =
        dup_distance(maker, in ? nw_sheet_depth(maker->show, index) : slide->cells);
    gulong bodies = (gulong)nw_count_bits(slide->bodies);
    if (in)
        /* Translators: a piece, or pieces held as one, and a distance such as “2 cells (40 mm)”. */
        return g_strdup_printf(ngettext("Bring %s in along the arrow, %s deep.",
                                        "Bring %s in together along the arrow, %s deep.", bodies),
                               who, far);
    return g_strdup_printf(ngettext("Slide %s along the arrow by %s.",
                                    "Slide %s together along the arrow by %s.", bodies),
                           who, far);
}

static char *dup_holds(const Maker *maker, const NwHold *hold) {
    const NwDesign *design = maker->source->design;
    g_autofree char *movers = nw_words_bodies(design, maker->answer, hold->movers);
    g_autofree char *rest = nw_words_bodies(design, maker->answer, hold->rest);
    return g_strdup_printf(_("Hold %s to move, %s to stay."), movers, rest);
}

/* 2000000 as "2 000 000", with narrow spaces that do not break. */
static char *dup_grouped(guint32 number) {
    GString *text = g_string_new(NULL);
    g_string_printf(text, "%u", number);
    for (gssize at = (gssize)text->len - 3; at > 0; at -= 3)
        g_string_insert(text, at, "\u202f");
    return g_string_free(text, FALSE);
}

static char *dup_search(const Maker *maker, const NwHarvest *harvest) {
    const NwFit *fit = nw_search_fit(harvest->search);
    const NwSearchOptions *options = &maker->wish->request.options;
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    g_autofree char *date = g_date_time_format(now, "%x");
    g_autofree char *states =
        dup_grouped(options->max_states ? options->max_states : NW_STATES_DEFAULT);
    return g_strdup_printf(
        _("The search: every assembly by exact cover of %d parts by %d places of the pieces, with "
          "%d symmetries of the whole; then each taken apart by slides along %s, breadth first, "
          "with room for %s positions a group. The way in was replayed slide by slide by a checker "
          "that shares no code with the search. Notchwright %s, %s."),
        fit->places->part_count, fit->places->place_count, fit->group->order,
        options->diagonals ? _("the cube's edges and the diagonals of its faces")
                           : _("the cube's edges"),
        states, NW_VERSION, date);
}

/* The number of the version in its store, and a fingerprint that is the same wherever it is. */
static char *dup_version(const Maker *maker) {
    g_autoptr(GBytes) digest = nw_drawing_dup_digest(maker->source->design);
    const guint8 *bytes = g_bytes_get_data(digest, NULL);
    g_autoptr(GString) hex = g_string_new(NULL);
    for (int i = 0; i < 8; i++)
        g_string_append_printf(hex, "%s%02x", i && i % 2 == 0 ? " " : "", bytes[i]);
    if (maker->source->version)
        return g_strdup_printf(_("The design: version %" PRId64 " of its store, fingerprint %s."),
                               maker->source->version, hex->str);
    return g_strdup_printf(_("The design: fingerprint %s."), hex->str);
}

/* ---- making it ---------------------------------------------------------------------------- */

static void fill_proof(Maker *maker, const NwHarvest *harvest) {
    NwSheetProof *proof = &maker->sheet->proof;
    NwTally tally = nw_tally_of_search(&harvest->progress);
    *proof = (NwSheetProof){.complete = tally.complete,
                            .has_intended = nw_search_has_intended(harvest->search),
                            .answer_opens = maker->answer != NULL,
                            .mirrors = maker->source->design->mirrors_together,
                            .fitting = tally.fitting,
                            .opening = tally.opening,
                            .unreachable = tally.unreachable,
                            .undecided = tally.undecided,
                            .unexamined = tally.unexamined,
                            .search = dup_search(maker, harvest),
                            .version = dup_version(maker)};
    if (maker->answer) {
        proof->level = maker->answer->level;
        proof->total = maker->answer->total;
    }
}

static void fill_front(Maker *maker) {
    const NwDesign *design = maker->source->design;
    NwSheet *sheet = maker->sheet;
    NwBounds box = nw_solid_bounds(design->envelope);
    sheet->title = g_strdup(design->name);
    sheet->diagonals = maker->wish->request.options.diagonals;
    sheet->bodies = nw_design_copies(design);
    for (int axis = 0; axis < 3; axis++)
        sheet->size_mm[axis] =
            maker->wish->cell_mm * nw_vec_get(nw_vec_sub(box.high, box.low), axis);
    for (size_t i = 0; i < design->piece_count; i++) {
        NwSheetPiece piece = {.name = g_strdup(design->pieces[i].name),
                              .copies = design->pieces[i].copies};
        g_array_append_val(sheet->pieces, piece);
    }
}

/* The way out backwards. A slide is shown with the group that it belongs to; what parts from that
 * group earlier on the way out has not come to it yet. */
static gboolean fill_steps(Maker *maker, NwAlbum *album, GError **error) {
    const NwFinding *answer = maker->answer;
    NwClearanceCache *cache = nw_clearance_cache_new(maker->wish->request.options.diagonals);
    gboolean drawn = TRUE;
    for (int s = answer->slide_count - 1; s >= 0 && drawn; s--) {
        NwStanding standing;
        nw_standing_after(answer->placement_count, answer->slides, s, &standing);
        NwHold hold = nw_hold_of_slide(cache, maker->bodies, &standing, &answer->slides[s], TRUE);
        NwSheetStep step = {.what = dup_what(maker, s), .holds = dup_holds(maker, &hold)};
        guint32 group = standing.group[nw_lowest(answer->slides[s].bodies)];
        drawn = nw_sheet_draw_step(&step.picture, album, maker->show, s, group,
                                   (const char *const *)maker->names, error);
        g_array_append_val(maker->sheet->steps, step);
    }
    nw_clearance_cache_free(cache);
    return drawn;
}

static gboolean draw_all(Maker *maker, GError **error) {
    NwAlbum *album = nw_album_new(error);
    gboolean drawn = album &&
                     nw_sheet_draw_solid(&maker->sheet->solid, album, maker->show, error) &&
                     nw_sheet_draw_pieces(maker->sheet, album, maker->source->design, error) &&
                     (maker->wish->challenge || fill_steps(maker, album, error));
    nw_album_free(album);
    return drawn;
}

static NwExit refuse(const Maker *maker, char *why) {
    if (maker->answer)
        nw_complain(_("%s; --no-claim makes a sheet that does not say so"), why);
    else
        nw_complain("%s", why);
    g_free(why);
    return NW_EXIT_USAGE;
}

static NwExit write_sheet(Maker *maker) {
    GError *error = NULL;
    const NwDesign *design = maker->source->design;
    const NwFinding *answer = maker->answer;
    if (answer->placement_count > NW_BODIES_MAX || !(maker->show = nw_show_new(design, answer))) {
        nw_complain(_("there is no way in to be drawn: the design has too many pieces"));
        return NW_EXIT_USAGE;
    }
    nw_finding_bodies(design, answer->placements, answer->placement_count, maker->bodies);
    for (int b = 0; b < answer->placement_count; b++)
        maker->names[b] = nw_words_body(design, answer, b);
    fill_front(maker);
    GBytes *pdf = draw_all(maker, &error) ? nw_sheet_to_pdf(maker->sheet, &error) : NULL;
    if (!pdf)
        return nw_give_up(error, NW_EXIT_FAILED);
    NwOutput *output = nw_output_new();
    nw_output_take(output, maker->wish->out, pdf);
    NwExit exit = (NwExit)nw_make_write(output);
    nw_output_free(output);
    return exit;
}

static NwExit make(const NwSource *source, const Wish *wish) {
    NwHarvest harvest;
    GError *error = NULL;
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_run(source, &wish->request, &harvest, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&harvest);
    if (exit != NW_EXIT_FAILED) {
        Maker maker = {.wish = wish, .source = source, .sheet = nw_sheet_new()};
        maker.answer = nw_harvest_answer(&harvest);
        maker.sheet->claims_only = !wish->no_claim;
        maker.sheet->challenge = wish->challenge;
        maker.sheet->paper = nw_make_paper(wish->paper);
        fill_proof(&maker, &harvest);
        char *why = nw_sheet_dup_refusal(maker.sheet);
        exit = why ? refuse(&maker, why) : write_sheet(&maker);
        nw_sheet_free(maker.sheet);
        nw_show_free(maker.show);
        for (int b = 0; b < NW_BODIES_MAX; b++)
            g_free(maker.names[b]);
    }
    nw_harvest_clear(&harvest);
    return exit;
}

/* ---- options ------------------------------------------------------------------------------ */

static gboolean check_wish(Wish *wish) {
    if (!wish->out) {
        nw_complain(_("say where to write the sheet: --out FILE.pdf"));
        return FALSE;
    }
    if (!nw_make_paper(wish->paper) || !nw_make_number("--cell-mm", wish->cell_mm, 1, 1000))
        return FALSE;
    if (wish->request.seconds < 0 || wish->states < 0) {
        nw_complain(_("a limit below zero means nothing: leave it out"));
        return FALSE;
    }
    wish->request.options.max_states = (guint32)wish->states;
    return TRUE;
}

NwExit nw_make_sheet(int argc, char **argv) {
    Wish wish = {.cell_mm = 20};
    const GOptionEntry options[] = {
        {"out", 'o', 0, G_OPTION_ARG_FILENAME, &wish.out, N_("Write this PDF file"), N_("FILE")},
        {"challenge", 0, 0, G_OPTION_ARG_NONE, &wish.challenge,
         N_("Only the challenge, without the sealed answer"), NULL},
        {"no-claim", 0, 0, G_OPTION_ARG_NONE, &wish.no_claim,
         N_("Do not say that there is only one answer"), NULL},
        {"paper", 0, 0, G_OPTION_ARG_STRING, &wish.paper,
         N_("A4, which is taken if left out, A3 or Letter"), N_("NAME")},
        {"cell-mm", 0, 0, G_OPTION_ARG_DOUBLE, &wish.cell_mm,
         N_("The edge of a cell of the object, in millimetres (20)"), N_("N")},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wish.request.options.diagonals,
         N_("Slides along face diagonals too"), NULL},
        {"seconds", 0, 0, G_OPTION_ARG_DOUBLE, &wish.request.seconds,
         N_("Stop the search after S seconds"), N_("S")},
        {"states", 0, 0, G_OPTION_ARG_INT, &wish.states,
         N_("Positions to hold for each group before it is undecided (2000000)"), N_("N")},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wish.store, N_("Look for DESIGN in this store"),
         N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(
            &argc, &argv, options, _("DESIGN --out FILE.pdf"),
            _("Makes the sheet for the box: the finished solid and the pieces; then, to be folded "
              "and sealed,\nthe way in step by step and what is proved. It says that there is one "
              "answer only where a\ncomplete search says so, and is refused otherwise."),
            1, 1) &&
        check_wish(&wish)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wish.store, TRUE, &error)) {
            exit = make(&source, &wish);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    g_free(wish.out);
    g_free(wish.paper);
    g_free(wish.store);
    return exit;
}
