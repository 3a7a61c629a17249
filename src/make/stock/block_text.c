#include <glib/gi18n.h>

#include "lattice/number_text.h"
#include "make/stock/block_order.h"
#include "make/stock/blocks.h"

const char *nw_block_name(NwBlockKind kind, int count) {
    unsigned long n = (unsigned long)count;
    switch (kind) {
    case NW_BLOCK_OCTAHEDRON:
        return ngettext("octahedron", "octahedra", n);
    case NW_BLOCK_WHOLE:
        return ngettext("whole cell", "whole cells", n);
    case NW_BLOCK_HALF:
        return ngettext("half cell", "half cells", n);
    case NW_BLOCK_CORE:
        return ngettext("core", "cores", n);
    case NW_BLOCK_CORNER:
        return ngettext("corner", "corners", n);
    case NW_BLOCK_KINDS:
        break;
    }
    return "";
}

static void append_counts(GString *out, const int counts[NW_BLOCK_KINDS]) {
    bool first = true;
    for (int kind = 0; kind < NW_BLOCK_KINDS; kind++) {
        if (!counts[kind])
            continue;
        g_string_append_printf(out, "%s%d %s", first ? "" : ", ", counts[kind],
                               nw_block_name((NwBlockKind)kind, counts[kind]));
        first = false;
    }
    g_string_append_c(out, '\n');
}

/* "  4. core at (1,0,2), on 1 3: 346 mm²" */
static void append_block(GString *out, const NwBlocks *blocks, size_t index, double cell_mm) {
    const NwBlock *block = &blocks->blocks[index];
    char at[NW_VEC_TEXT_SIZE];
    double area = 0;
    g_string_append_printf(out, "  %3d. ", (int)index + 1);
    g_string_append_printf(out, _("%s at (%s)"), nw_block_name(block->kind, 1),
                           nw_vec_text(block->at, ',', at));
    for (size_t i = 0; i < index; i++) {
        double touch = nw_blocks_contact(block, &blocks->blocks[i]);
        if (touch <= 0)
            continue;
        if (area <= 0)
            g_string_append(out, _(", on"));
        g_string_append_printf(out, " %d", (int)i + 1);
        area += touch;
    }
    if (area > 0)
        g_string_append_printf(out, _(": %.0f mm²"), area * cell_mm * cell_mm);
    if (!block->straight)
        g_string_append(out, _(" (cannot slide in: glue it before its neighbours)"));
    g_string_append_c(out, '\n');
}

static void append_piece(GString *out, const NwPiece *piece, const NwBlocks *blocks,
                         double cell_mm) {
    g_string_append_printf(out, "\n%s", piece->name);
    if (piece->copies > 1)
        g_string_append_printf(out, " ×%d", piece->copies);
    g_string_append(out, ": ");
    append_counts(out, blocks->counts);
    if (!blocks->least)
        g_string_append(out, _("  (fewest found; there may be fewer)\n"));
    for (size_t i = 0; i < blocks->count; i++)
        append_block(out, blocks, i, cell_mm);
}

char *nw_blocks_text(const NwDesign *design, double cell_mm, NwProgress *progress) {
    GString *out = g_string_new(NULL), *list = g_string_new(NULL);
    int counts[NW_BLOCK_KINDS] = {0};
    for (size_t i = 0; i < design->piece_count; i++) {
        nw_progress_part(progress, (double)i / (double)design->piece_count,
                         (double)(i + 1) / (double)design->piece_count);
        NwBlocks *blocks = nw_blocks_new(design->pieces[i].solid, progress);
        if (!blocks) {
            g_string_free(list, TRUE);
            g_string_free(out, TRUE);
            return NULL;
        }
        for (int kind = 0; kind < NW_BLOCK_KINDS; kind++)
            counts[kind] += design->pieces[i].copies * blocks->counts[kind];
        append_piece(list, &design->pieces[i], blocks, cell_mm);
        nw_blocks_free(blocks);
    }
    g_string_append_printf(out, _("%s: blocks to glue, 1 cell = %g mm\n"), design->name, cell_mm);
    g_string_append(out, _("In all: "));
    append_counts(out, counts);
    g_string_append(out, _("A half cell is a core with one corner. Places are cells of the piece "
                           "as drawn; for an octahedron,\nits centre. After “on”: the blocks it is "
                           "glued to and the area of glue.\n"));
    g_string_append(out, list->str);
    g_string_free(list, TRUE);
    return g_string_free(out, FALSE);
}
