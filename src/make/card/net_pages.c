#include "make/card/net_pages.h"

#include <gio/gio.h>
#include <glib/gi18n.h>
#include <stdlib.h>

#include "base/memory.h"
#include "make/pack.h"
#include "make/safety/safety_notes.h"

static const double gap_mm = 4, small_mm = 2.1, caution_line_mm = 2.9;

/* All nets to be laid out; plots are borrowed from the pieces. */
typedef struct Stack {
    NwPacked *items;
    const NwPlot **plots;
    size_t count, item_capacity, plot_capacity;
} Stack;

static void add_copies(Stack *stack, const NwPieceNets *nets, int copies) {
    for (int c = 0; c < copies; c++)
        for (size_t i = 0; i < nets->count; i++) {
            const NwPlot *plot = nets->plots[i];
            stack->items =
                nw_grow(stack->items, stack->count, &stack->item_capacity, sizeof(NwPacked));
            stack->plots =
                nw_grow(stack->plots, stack->count, &stack->plot_capacity, sizeof(NwPlot *));
            stack->items[stack->count] = (NwPacked){plot->width_mm, plot->height_mm, 0, 0, 0};
            stack->plots[stack->count++] = plot;
        }
}

/* 50 mm long; the ticks stand on it, longer at 0, 10, 20 ... */
static void add_ruler(NwPlot *page, NwPoint at) {
    nw_plot_line(page, NW_INK_NOTE, at, (NwPoint){at.x + NW_RULER_MM, at.y});
    for (int mm = 0; mm <= NW_RULER_MM; mm++) {
        double tick = mm % 10 == 0 ? 4 : mm % 5 == 0 ? 2.6 : 1.4;
        nw_plot_line(page, NW_INK_NOTE, (NwPoint){at.x + mm, at.y},
                     (NwPoint){at.x + mm, at.y + tick});
    }
    for (int mm = 0; mm <= NW_RULER_MM; mm += 10) {
        char *number = g_strdup_printf("%d", mm);
        nw_plot_label(page, (NwPoint){at.x + mm, at.y + 5.8}, small_mm, 0, 0, false, number);
        g_free(number);
    }
    nw_plot_label(page, (NwPoint){at.x, at.y - 2.4}, small_mm, 0, -1, false,
                  _("print at 100 %: this must measure 50 mm"));
}

static void add_key(NwPlot *page, NwPoint at) {
    static const struct {
        NwInk ink;
        const char *text;
    } keys[] = {{NW_INK_CUT, N_("cut")},
                {NW_INK_MOUNTAIN, N_("mountain: fold back")},
                {NW_INK_VALLEY, N_("valley: fold towards you")}};
    for (size_t i = 0; i < G_N_ELEMENTS(keys); i++) {
        double y = at.y + 8 - 4.4 * (double)i;
        nw_plot_line(page, keys[i].ink, (NwPoint){at.x, y}, (NwPoint){at.x + 16, y});
        nw_plot_label(page, (NwPoint){at.x + 18, y}, small_mm, 0, -1, false, _(keys[i].text));
    }
}

static void add_foot(NwPlot *page, const NwDesign *design, const NwNetOptions *options,
                     size_t number, size_t count) {
    double left = NW_PAPER_MARGIN_MM, right = page->width_mm - NW_PAPER_MARGIN_MM;
    double foot = NW_PAPER_MARGIN_MM + 2 * caution_line_mm;
    add_ruler(page, (NwPoint){left + 1, NW_PAPER_MARGIN_MM + NW_RULER_ABOVE_MM});
    add_key(page, (NwPoint){left + 62, foot + 4});
    nw_plot_label(page, (NwPoint){right, foot + 12.6}, 3.2, 0, 1, true, design->name);
    char *scale = g_strdup_printf(_("1 cell = %g mm · card %g mm · page %d of %d"),
                                  options->cell_mm, options->card_mm, (int)number + 1, (int)count);
    nw_plot_label(page, (NwPoint){right, foot + 7.6}, small_mm, 0, 1, false, scale);
    nw_plot_label(page, (NwPoint){right, foot + 3.4}, small_mm, 0, 1, false,
                  _("printed side out · glue edges with the same letter"));
    g_auto(GStrv) lines =
        nw_dup_caution_lines(1 << NW_TOOL_KNIFE, nw_plot_letters(right - left - 1, small_mm));
    for (int i = 0; lines[i]; i++)
        nw_plot_label(page, (NwPoint){left + 1, foot - 1 - caution_line_mm * i}, small_mm, 0, -1,
                      false, lines[i]);
    g_free(scale);
}

static NwNetPages *lay_out(Stack *stack, const NwDesign *design, const NwNetOptions *options,
                           GError **error) {
    const NwPaperSize *paper = options->paper;
    double x = nw_paper_room_x(paper), y = nw_paper_room_y(paper);
    size_t count = nw_pack(stack->items, stack->count, x, y, gap_mm);
    if (!count) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    _("a net with its tabs does not fit a page of %s: take smaller cells "
                      "(--cell-mm) or larger paper (--paper)"),
                    paper->name);
        return NULL;
    }
    NwNetPages *pages = nw_alloc(1, sizeof *pages);
    *pages = (NwNetPages){nw_alloc(count, sizeof(NwPlot *)), count, stack->count, 0, 0, 0};
    for (size_t p = 0; p < count; p++)
        pages->pages[p] = nw_plot_new(paper->width_mm, paper->height_mm);
    for (size_t i = 0; i < stack->count; i++) {
        const NwPacked *item = &stack->items[i];
        double top = paper->height_mm - NW_PAPER_MARGIN_MM; /* the pages fill from the top */
        nw_plot_paste(pages->pages[item->page], stack->plots[i],
                      (NwPoint){NW_PAPER_MARGIN_MM + item->x, top - item->y - item->height});
    }
    for (size_t p = 0; p < count; p++)
        add_foot(pages->pages[p], design, options, p, count);
    return pages;
}

NwNetPages *nw_net_pages_new(const NwDesign *design, const NwNetOptions *options, GError **error) {
    NwPieceNets **pieces = nw_alloc(design->piece_count, sizeof *pieces);
    Stack stack = {NULL, NULL, 0, 0, 0};
    NwNetPages *pages = NULL;
    size_t done = 0, tabs = 0, bare = 0, more = 0;
    for (; done < design->piece_count; done++) {
        const NwPiece *piece = &design->pieces[done];
        int copies = options->once ? 1 : piece->copies;
        nw_progress_part(options->progress, (double)done / (double)design->piece_count,
                         (double)(done + 1) / (double)design->piece_count);
        pieces[done] = nw_piece_nets_new(piece, options, error);
        if (!pieces[done])
            break;
        add_copies(&stack, pieces[done], copies);
        tabs += (size_t)copies * pieces[done]->tabs;
        bare += (size_t)copies * pieces[done]->bare;
        more += (size_t)copies * (pieces[done]->count - pieces[done]->shells);
    }
    if (done == design->piece_count)
        pages = lay_out(&stack, design, options, error);
    if (pages) {
        pages->tabs = tabs;
        pages->bare = bare;
        pages->more = more;
    }
    for (size_t i = 0; i < done; i++)
        nw_piece_nets_free(pieces[i]);
    free(pieces);
    free(stack.items);
    free(stack.plots);
    return pages;
}

void nw_net_pages_free(NwNetPages *pages) {
    if (!pages)
        return;
    for (size_t i = 0; i < pages->count; i++)
        nw_plot_free(pages->pages[i]);
    free(pages->pages);
    free(pages);
}
