#include "design/check_assembly.h"

#include <stdlib.h>

#include "base/mark.h"
#include "base/memory.h"

/* How often each part of the envelope is covered, NW_PARTS entries for each of its cells. */
typedef struct Tally {
    const NwSolid *envelope;
    int *covered;
} Tally;

static int compare_to_cell(const void *key, const void *cell) {
    return nw_vec_compare(*(const NwVec *)key, nw_cell_at(cell));
}

static const char *cover(Tally *tally, NwPart part) {
    const NwSolid *envelope = tally->envelope;
    const NwCell *cell = bsearch(&part.cell, envelope->cells, envelope->count,
                                 sizeof *envelope->cells, compare_to_cell);
    if (!cell || !(cell->mask >> part.bit & 1))
        return N_("a piece reaches out of the envelope");
    int *covered = &tally->covered[(cell - envelope->cells) * NW_PARTS + part.bit];
    return (*covered)++ ? N_("a part is covered twice") : NULL;
}

static NwVec lowest(const NwVec *vertices, int count) {
    NwVec low = vertices[0];
    for (int k = 1; k < count; k++)
        low = nw_vec(vertices[k].x < low.x ? vertices[k].x : low.x,
                     vertices[k].y < low.y ? vertices[k].y : low.y,
                     vertices[k].z < low.z ? vertices[k].z : low.z);
    return low;
}

static bool holds_all(const NwVec set[4], const NwVec wanted[4]) {
    for (int i = 0; i < 4; i++) {
        bool found = false;
        for (int k = 0; k < 4; k++)
            found = found || nw_vec_equal(set[k], wanted[i]);
        if (!found)
            return false;
    }
    return true;
}

/* Every part spans its cell, so the lowest corner of its vertices names the cell. */
static bool part_on(const NwVec vertices[4], NwPart *part) {
    part->cell = lowest(vertices, 4);
    for (part->bit = 0; part->bit < NW_PARTS; part->bit++) {
        NwVec own[4];
        nw_part_vertices(*part, own);
        if (holds_all(own, vertices))
            return true;
    }
    return false;
}

static NwVec carried(NwMotion motion, NwVec vertex) {
    return nw_vec_add(nw_turn_vec(motion.turn, vertex), motion.shift);
}

static const char *cover_part(Tally *tally, NwPart part, NwMotion motion) {
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    for (int k = 0; k < 4; k++)
        vertices[k] = carried(motion, vertices[k]);
    NwPart there;
    if (!part_on(vertices, &there))
        return N_("a cut cell is carried off the lattice by an odd shift");
    return cover(tally, there);
}

/* A whole cell is a cube wherever it lands. */
static const char *cover_whole_cell(Tally *tally, NwVec cell, NwMotion motion) {
    NwVec ends[2] = {carried(motion, cell), carried(motion, nw_vec_add(cell, nw_vec(1, 1, 1)))};
    NwPart part = {lowest(ends, 2), 0};
    const char *reason = NULL;
    for (part.bit = 0; part.bit < NW_PARTS && !reason; part.bit++)
        reason = cover(tally, part);
    return reason;
}

static const char *cover_piece(Tally *tally, const NwSolid *piece, NwMotion motion) {
    const char *reason = NULL;
    for (size_t i = 0; i < piece->count && !reason; i++) {
        NwVec cell = nw_cell_at(&piece->cells[i]);
        int mask = piece->cells[i].mask;
        if (mask == NW_WHOLE)
            reason = cover_whole_cell(tally, cell, motion);
        for (int bit = 0; bit < NW_PARTS && mask != NW_WHOLE && !reason; bit++)
            if (mask >> bit & 1)
                reason = cover_part(tally, (NwPart){cell, bit}, motion);
    }
    return reason;
}

static const char *check_copies(const NwDesign *design, const NwPlacement *placements,
                                size_t count) {
    for (size_t i = 0; i < count; i++) {
        if (placements[i].piece < 0 || (size_t)placements[i].piece >= design->piece_count)
            return N_("a placement names a piece that the design does not have");
        if (placements[i].motion.turn < 0 || placements[i].motion.turn >= NW_ROTATIONS)
            return N_("a placement is no rotation");
    }
    for (size_t p = 0; p < design->piece_count; p++) {
        int copies = 0;
        for (size_t i = 0; i < count; i++)
            copies += (size_t)placements[i].piece == p;
        if (copies != design->pieces[p].copies)
            return N_("a piece is not placed as often as it has copies");
    }
    return NULL;
}

static const char *check_filled(const NwDesign *design, const Tally *tally) {
    for (size_t i = 0; i < design->envelope->count; i++) {
        const NwCell *cell = &design->envelope->cells[i];
        int open = cell->mask & ~nw_solid_mask(design->may_be_empty, nw_cell_at(cell));
        for (int bit = 0; bit < NW_PARTS; bit++)
            if (open >> bit & 1 && !tally->covered[i * NW_PARTS + (size_t)bit])
                return N_("a part that must be filled is left open");
    }
    return NULL;
}

const char *nw_check_assembly(const NwDesign *design, const NwPlacement *placements, size_t count) {
    const char *reason = check_copies(design, placements, count);
    if (reason)
        return reason;
    Tally tally = {design->envelope,
                   nw_alloc(design->envelope->count * NW_PARTS, sizeof *tally.covered)};
    for (size_t i = 0; i < count && !reason; i++)
        reason =
            cover_piece(&tally, design->pieces[placements[i].piece].solid, placements[i].motion);
    if (!reason)
        reason = check_filled(design, &tally);
    free(tally.covered);
    return reason;
}
