#include "design/brush.h"

#include "design/bodies.h"
#include "lattice/connect.h"

/* What the envelope has of a solid, which is freed. */
static NwSolid *clipped(const NwDesign *design, NwSolid *solid) {
    NwSolid *inside = nw_solid_intersection(solid, design->envelope);
    nw_solid_free(solid);
    return inside;
}

static NwSolid *of_cell(const NwDesign *design, NwVec cell, int mask) {
    NwSolid *solid = nw_solid_new();
    nw_solid_add(solid, cell, mask);
    return clipped(design, solid);
}

NwSolid *nw_brush_part(const NwDesign *design, NwPart part) {
    return of_cell(design, part.cell, 1 << part.bit);
}

NwSolid *nw_brush_cell(const NwDesign *design, NwVec cell) {
    return of_cell(design, cell, NW_WHOLE);
}

/* How far a part reaches along the normal. */
static int reach(NwVec normal, NwPart part) {
    NwVec vertices[4];
    nw_part_vertices(part, vertices);
    int most = nw_vec_dot(normal, vertices[0]);
    for (int k = 1; k < 4; k++)
        if (nw_vec_dot(normal, vertices[k]) > most)
            most = nw_vec_dot(normal, vertices[k]);
    return most;
}

static int step_of(NwVec normal) {
    return nw_vec_dot(normal, normal) == 3 ? 2 : 1;
}

NwPlane nw_plane_over(NwVec normal, NwPart part) {
    int limit = reach(normal, part);
    return (NwPlane){normal, step_of(normal) == 2 ? limit + (limit & 1) : limit};
}

/* The parts of the envelope whose reach is over `low` and not over `high`. */
static NwSolid *between(const NwDesign *design, NwVec normal, int low, int high) {
    NwSolid *found = nw_solid_new();
    for (size_t i = 0; i < design->envelope->count; i++) {
        const NwCell *cell = &design->envelope->cells[i];
        int mask = 0;
        for (int bit = 0; bit < NW_PARTS; bit++) {
            int most = reach(normal, (NwPart){nw_cell_at(cell), bit});
            mask |= (int)(most > low && most <= high) << bit;
        }
        nw_solid_add(found, nw_cell_at(cell), mask & cell->mask);
    }
    return found;
}

NwSolid *nw_brush_side(const NwDesign *design, NwPlane plane) {
    return between(design, plane.normal, 3 * (NW_COORD_MIN - 1), plane.limit);
}

NwSolid *nw_brush_layer(const NwDesign *design, NwPlane plane) {
    return between(design, plane.normal, plane.limit - step_of(plane.normal), plane.limit);
}

/* The lump of a solid that holds the part, or NULL if it does not have the part. */
static NwSolid *lump_if_any(const NwSolid *solid, NwPart part) {
    return nw_solid_has(solid, part) ? nw_solid_lump_of(solid, part) : NULL;
}

NwSolid *nw_brush_fill(const NwDesign *design, NwPart part) {
    NwSolid *lump = NULL, *rest = nw_design_rest(design);
    NwBodies bodies;
    nw_bodies_of(design, &bodies);
    for (size_t i = 0; i < bodies.count && !lump; i++)
        lump = lump_if_any(bodies.solids[i], part);
    if (!lump)
        lump = lump_if_any(rest, part);
    nw_bodies_clear(&bodies);
    nw_solid_free(rest);
    return lump ? clipped(design, lump) : nw_solid_new();
}

NwSolid *nw_brush_piece(const NwDesign *design, int piece) {
    NwSolid *all = nw_solid_new();
    NwBodies bodies;
    nw_bodies_of(design, &bodies);
    for (size_t i = 0; i < bodies.count; i++)
        if (bodies.placements[i].piece == piece) {
            NwSolid *more = nw_solid_union(all, bodies.solids[i]);
            nw_solid_free(all);
            all = more;
        }
    nw_bodies_clear(&bodies);
    return clipped(design, all);
}

NwSolid *nw_brush_inside(const NwDesign *design) {
    const NwSolid *envelope = design->envelope;
    NwSolid *inside = nw_solid_copy(envelope);
    for (size_t i = 0; i < envelope->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwPart part = {nw_cell_at(&envelope->cells[i]), bit};
            for (int face = 0; face < 4; face++)
                if (!nw_solid_has(envelope, nw_part_across(part, face)))
                    nw_solid_remove(inside, part.cell, 1 << bit);
        }
    return inside;
}

/* The image of the selection, cell by cell where the whole goes off the lattice. */
static NwSolid *image_of(const NwSolid *selection, NwMotion motion) {
    NwSolid *whole = nw_solid_new(), *image;
    for (size_t i = 0; i < selection->count; i++)
        if (selection->cells[i].mask == NW_WHOLE || !nw_vec_parity(motion.shift))
            nw_solid_add(whole, nw_cell_at(&selection->cells[i]), selection->cells[i].mask);
    if (nw_solid_moved(whole, motion, &image) != NW_OK)
        image = nw_solid_new();
    nw_solid_free(whole);
    return image;
}

NwSolid *nw_brush_symmetric(const NwDesign *design, const NwSolid *selection,
                            const NwMotion *motions, int count) {
    NwSolid *all = nw_solid_copy(selection);
    for (int i = 0; i < count; i++) {
        NwSolid *image = image_of(selection, motions[i]), *more = nw_solid_union(all, image);
        nw_solid_free(image);
        nw_solid_free(all);
        all = more;
    }
    return clipped(design, all);
}
