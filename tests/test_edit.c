/* Sketching: what each edit does on small examples, to the part; and that long random sequences of
 * edits keep what must be kept. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "design/bodies.h"
#include "design/brush.h"
#include "design/check_assembly.h"
#include "design/compare.h"
#include "design/edit.h"
#include "design/edit_envelope.h"
#include "design/edit_piece.h"
#include "design/edit_spread.h"
#include "design/fit_into.h"
#include "design/frame.h"
#include "design/piece_name.h"
#include "design/sharp_vertices.h"
#include "design/symmetry_name.h"
#include "design/warnings.h"
#include "lattice/connect.h"
#include "lattice/named.h"
#include "lattice/surface.h"
#include "lattice/symmetry.h"
#include "sketch.h"
#include "suite.h"

static NwSolid *solid_of(const NwCell *cells, size_t count) {
    NwSolid *solid = nw_solid_new();
    for (size_t i = 0; i < count; i++)
        ck_assert_int_eq(nw_solid_add(solid, nw_cell_at(&cells[i]), cells[i].mask), NW_OK);
    return solid;
}

#define SOLID(...)                                                                                 \
    solid_of((const NwCell[]){__VA_ARGS__}, sizeof((const NwCell[]){__VA_ARGS__}) / sizeof(NwCell))

/* Compares with a solid that is then freed. */
#define ASSERT_SOLID(found, ...)                                                                   \
    do {                                                                                           \
        NwSolid *wanted_ = SOLID(__VA_ARGS__);                                                     \
        ck_assert(nw_solid_equal((found), wanted_));                                               \
        nw_solid_free(wanted_);                                                                    \
    } while (0)

static NwSolid *named(const char *name, int a, int b, int c) {
    const int sizes[NW_SIZES_MAX] = {a, b, c};
    NwSolid *solid;
    ck_assert_int_eq(nw_named_solid_build(nw_named_solid_find(name), sizes, &solid), NW_OK);
    return solid;
}

static NwDesign *design_in(NwSolid *envelope) {
    NwDesign *design = nw_design_new("sketch");
    nw_solid_free(design->envelope);
    design->envelope = envelope;
    return design;
}

/* Gives a solid that is then freed. */
static NwStatus give(NwEdit *edit, NwSolid *selection, int piece) {
    NwStatus status = nw_edit_give(edit, selection, piece);
    nw_solid_free(selection);
    return status;
}

static NwStatus take(NwEdit *edit, NwSolid *selection) {
    NwStatus status = nw_edit_take(edit, selection);
    nw_solid_free(selection);
    return status;
}

static NwStatus new_piece(NwEdit *edit, const char *name, NwSolid *selection) {
    NwStatus status = nw_edit_new_piece(edit, name, selection);
    nw_solid_free(selection);
    return status;
}

#define ASSERT_COUNTS(edit, changed_, refused_, created_)                                          \
    do {                                                                                           \
        ck_assert_uint_eq((edit).changed, (changed_));                                             \
        ck_assert_uint_eq((edit).refused, (refused_));                                             \
        ck_assert_uint_eq((edit).created, (created_));                                             \
    } while (0)

/* One even cell: core and two corners; and two copies of a corner, mask 8, which a half turn,
 * new x = 1 - x and new y = 1 - y, carries to mask 16, as it carries mask 2 to 4. */
static NwDesign *cell_design(void) {
    NwDesign *design = design_in(SOLID({0, 0, 0, 31}));
    nw_design_take_piece(design, "middle", SOLID({0, 0, 0, 7}));
    nw_design_take_piece(design, "tip", SOLID({0, 0, 0, 8}));
    design->pieces[1].copies = 2;
    NwTurn half = 0;
    ck_assert_int_eq(nw_turn_parse("-x-y+z", &half), NW_OK);
    const NwPlacement intended[] = {
        {0, {0, {0, 0, 0}}}, {1, {0, {0, 0, 0}}}, {1, {half, {1, 1, 0}}}};
    nw_design_set_intended(design, intended, 3);
    ck_assert(!nw_check_assembly(design, design->intended, 3));
    return design;
}

/* Bodies, piece by piece, as one solid each: where all copies stand. */
static NwSolid *standing(const NwDesign *design, int piece) {
    NwBodies bodies;
    NwSolid *all = nw_solid_new();
    ck_assert_int_eq(nw_bodies_of(design, &bodies), NW_OK);
    for (size_t i = 0; i < bodies.count; i++)
        if (bodies.placements[i].piece == piece) {
            NwSolid *more = nw_solid_union(all, bodies.solids[i]);
            nw_solid_free(all);
            all = more;
        }
    nw_bodies_clear(&bodies);
    return all;
}

START_TEST(settling_moves_no_part) {
    int settled = 0;
    for (uint64_t seed = 0; seed < 400; seed++) {
        NwDesign *design = nw_random_design(seed), *before = nw_design_copy(design);
        const char *was = nw_check_assembly(before, before->intended, before->intended_count);
        ck_assert_int_eq(nw_design_settle(design), NW_OK);
        ck_assert(nw_design_is_settled(design));
        ck_assert_uint_eq(design->intended_count, before->intended_count);
        if (before->intended_count) {
            settled++;
            ck_assert_ptr_null(was);
            ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
        } else {
            ck_assert(sketch_same(design, before));
        }
        for (size_t p = 0; p < design->piece_count; p++) {
            NwSolid *a = standing(before, (int)p), *b = standing(design, (int)p);
            ck_assert(nw_solid_equal(a, b));
            nw_solid_free(a);
            nw_solid_free(b);
        }
        nw_design_free(design);
        nw_design_free(before);
    }
    ck_assert_int_gt(settled, 100);
}
END_TEST

START_TEST(adopting_an_assembly) {
    int adopted = 0;
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwDesign *design = nw_random_design(seed);
        size_t count = design->intended_count;
        if (count) {
            NwDesign *with = nw_design_copy(design);
            nw_design_set_intended(design, NULL, 0);
            NwDesign *before = nw_design_copy(design);
            ck_assert_int_eq(nw_design_adopt(design, with->intended, count - 1), NW_DOES_NOT_FIT);
            ck_assert(sketch_same(design, before));
            ck_assert_int_eq(nw_design_adopt(design, with->intended, count), NW_OK);
            ck_assert_int_eq(nw_design_settle(with), NW_OK);
            ck_assert(sketch_same(design, with));
            nw_design_free(before);
            nw_design_free(with);
            adopted++;
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(adopted, 50);
}
END_TEST

START_TEST(owners) {
    for (uint64_t seed = 0; seed < 100; seed++) {
        NwDesign *design = nw_random_design(seed);
        nw_design_settle(design);
        NwSolid *rest = nw_design_rest(design);
        for (size_t i = 0; i < design->envelope->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                NwPart part = {nw_cell_at(&design->envelope->cells[i]), bit}, own;
                int owner = nw_design_owner(design, part, &own), wanted = -1;
                for (int p = (int)design->piece_count - 1; p >= 0; p--) {
                    NwSolid *all = standing(design, p);
                    if (nw_solid_has(all, part))
                        wanted = p;
                    nw_solid_free(all);
                }
                ck_assert_int_eq(owner, wanted);
                if (owner >= 0)
                    ck_assert(nw_solid_has(design->pieces[owner].solid, own));
                if (design->envelope->cells[i].mask >> bit & 1)
                    ck_assert_int_eq(nw_solid_has(rest, part), owner < 0);
            }
        nw_solid_free(rest);
        nw_design_free(design);
    }
    NwDesign *design = cell_design();
    NwPart own;
    ck_assert_int_eq(nw_design_owner(design, (NwPart){{0, 0, 0}, 4}, &own), 1);
    ck_assert(nw_vec_equal(own.cell, nw_vec(0, 0, 0)) && own.bit == 3);
    nw_design_free(design);
}
END_TEST

START_TEST(giving_and_taking) {
    NwDesign *design = design_in(SOLID({0, 0, 0, 31}, {1, 0, 0, 31}));
    NwEdit edit = {.design = design};
    ck_assert_int_eq(new_piece(&edit, NULL, SOLID({0, 0, 0, 31})), NW_OK);
    ASSERT_COUNTS(edit, 5, 0, 1);
    ck_assert_int_eq(new_piece(&edit, "b", SOLID({1, 0, 0, 3}, {2, 0, 0, 1})), NW_OK);
    ASSERT_COUNTS(edit, 2, 1, 1); /* the part in the third cell is outside */
    ck_assert_str_eq(design->pieces[0].name, "A");
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 6}, {1, 0, 0, 4}, {0, 5, 0, 31}), 1), NW_OK);
    ASSERT_COUNTS(edit, 5, 5, 0); /* three won, two lost, five outside */
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 25});
    ASSERT_SOLID(design->pieces[1].solid, {0, 0, 0, 6}, {1, 0, 0, 7});
    ck_assert_int_eq(give(&edit, SOLID({1, 0, 0, 7}), 1), NW_OK); /* has them already */
    ASSERT_COUNTS(edit, 0, 0, 0);
    edit.locked = 1;
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 24}, {1, 0, 0, 8}), 1), NW_OK);
    ASSERT_COUNTS(edit, 1, 2, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 25});
    ck_assert_int_eq(give(&edit, SOLID({1, 0, 0, 16}), 0), NW_OK);
    ASSERT_COUNTS(edit, 0, 1, 0);
    ck_assert_int_eq(take(&edit, SOLID({0, 0, 0, 31}, {1, 0, 0, 24})), NW_OK);
    ASSERT_COUNTS(edit, 3, 3, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 25});
    ASSERT_SOLID(design->pieces[1].solid, {1, 0, 0, 7});
    ck_assert_int_eq(new_piece(&edit, NULL, SOLID({0, 0, 0, 1})), NW_EMPTY); /* it is locked */
    ASSERT_COUNTS(edit, 3, 0, 0);
    ck_assert_uint_eq(design->piece_count, 2);
    ck_assert_int_eq(new_piece(&edit, "b", SOLID({1, 0, 0, 1})), NW_OK); /* the name is taken */
    ASSERT_COUNTS(edit, 0, 1, 0);
    nw_design_free(design);
}
END_TEST

START_TEST(copies_are_one_shape) {
    NwDesign *design = cell_design();
    NwEdit edit = {.design = design};
    /* A corner given to the tip is given to both copies, and the middle loses both. */
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 2}), 1), NW_OK);
    ASSERT_COUNTS(edit, 3, 0, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 1});
    ASSERT_SOLID(design->pieces[1].solid, {0, 0, 0, 10});
    /* Both copies would want the core. */
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 1}), 1), NW_OK);
    ASSERT_COUNTS(edit, 0, 1, 0);
    /* What the second copy shows is taken from the piece, and so from the first copy. */
    ck_assert_int_eq(take(&edit, SOLID({0, 0, 0, 4})), NW_OK);
    ASSERT_SOLID(design->pieces[1].solid, {0, 0, 0, 8});
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 16}), 0), NW_OK);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 17});
    ck_assert_uint_eq(design->pieces[1].solid->count, 0);
    nw_design_free(design);
    /* With the middle locked its corners cannot be had. */
    design = cell_design();
    edit = (NwEdit){.design = design, .locked = 1};
    ck_assert_int_eq(give(&edit, SOLID({0, 0, 0, 6}), 1), NW_OK);
    ASSERT_COUNTS(edit, 0, 2, 0);
    nw_design_free(design);
}
END_TEST

START_TEST(odd_copies_change_by_whole_cells) {
    NwDesign *design = design_in(named("box", 4, 1, 1));
    nw_design_take_piece(design, "cell", SOLID({0, 0, 0, 31}));
    nw_design_take_piece(design, "rest", SOLID({2, 0, 0, 31}));
    design->pieces[0].copies = 2;
    const NwPlacement intended[] = {{0, {0, {0, 0, 0}}}, {0, {0, {1, 0, 0}}}, {1, {0, {0, 0, 0}}}};
    nw_design_set_intended(design, intended, 3);
    NwDesign *before = nw_design_copy(design);
    NwEdit edit = {.design = design};
    ck_assert_int_eq(take(&edit, SOLID({0, 0, 0, 1})), NW_OFF_LATTICE);
    ck_assert_int_eq(take(&edit, SOLID({1, 0, 0, 1})), NW_OFF_LATTICE);
    ck_assert_int_eq(give(&edit, SOLID({2, 0, 0, 1}), 0), NW_OFF_LATTICE);
    ck_assert_int_eq(give(&edit, SOLID({1, 0, 0, 2}), 1), NW_OFF_LATTICE);
    ck_assert(sketch_same(design, before));
    ck_assert_int_eq(give(&edit, SOLID({2, 0, 0, 31}), 0), NW_OK); /* it would need cells 2, 3 */
    ASSERT_COUNTS(edit, 10, 0, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 31}, {2, 0, 0, 31});
    ck_assert_int_eq(take(&edit, SOLID({3, 0, 0, 31})), NW_OK);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 31});
    ck_assert_int_eq(give(&edit, SOLID({3, 0, 0, 31}), 0), NW_OK); /* its image is outside */
    ASSERT_COUNTS(edit, 0, 5, 0);
    /* A smaller envelope takes whole cells off such a piece. */
    NwSolid *smaller = SOLID({0, 0, 0, 31}, {1, 0, 0, 30}, {2, 0, 0, 31}), *losses[2];
    size_t total;
    ck_assert_int_eq(nw_design_losses(design, smaller, losses, &total), NW_OK);
    ASSERT_SOLID(losses[0], {0, 0, 0, 31});
    ck_assert_uint_eq(total, 5);
    ck_assert_uint_eq(losses[1]->count, 0);
    for (int i = 0; i < 2; i++)
        nw_solid_free(losses[i]);
    nw_solid_free(smaller);
    nw_design_free(before);
    nw_design_free(design);
}
END_TEST

START_TEST(trading) {
    NwDesign *design = design_in(SOLID({0, 0, 0, 31}, {1, 0, 0, 31}));
    nw_design_take_piece(design, "a", SOLID({0, 0, 0, 31}));
    nw_design_take_piece(design, "b", SOLID({1, 0, 0, 15}));
    NwEdit edit = {.design = design};
    NwSolid *selection = SOLID({0, 0, 0, 4}, {1, 0, 0, 18});
    ck_assert_int_eq(nw_edit_trade(&edit, selection, 0, 1), NW_OK);
    ASSERT_COUNTS(edit, 4, 1, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 27}, {1, 0, 0, 2});
    ASSERT_SOLID(design->pieces[1].solid, {0, 0, 0, 4}, {1, 0, 0, 13});
    edit.locked = 2;
    ck_assert_int_eq(nw_edit_trade(&edit, selection, 0, 1), NW_OK);
    ASSERT_COUNTS(edit, 0, 3, 0);
    nw_solid_free(selection);
    nw_design_free(design);
    /* The core has no room in both copies, so nothing is traded. */
    design = cell_design();
    NwDesign *before = nw_design_copy(design);
    edit = (NwEdit){.design = design};
    selection = SOLID({0, 0, 0, 9});
    ck_assert_int_eq(nw_edit_trade(&edit, selection, 0, 1), NW_DOES_NOT_FIT);
    ck_assert(sketch_same(design, before));
    nw_solid_free(selection);
    nw_design_free(before);
    nw_design_free(design);
}
END_TEST

/* Three pieces of one cell each in a bar of five, with an intended assembly. */
static NwDesign *bar_design(void) {
    NwDesign *design = design_in(named("box", 5, 1, 1));
    NwPlacement intended[3];
    for (int i = 0; i < 3; i++) {
        const char name[2] = {(char)('A' + i), '\0'};
        nw_design_take_piece(design, name, SOLID({(int16_t)i, 0, 0, 31}));
        intended[i] = (NwPlacement){i, {0, {0, 0, 0}}};
    }
    nw_design_set_intended(design, intended, 3);
    return design;
}

static void assert_names(const NwDesign *design, const char *names) {
    char found[NW_PIECES_MAX + 1] = "";
    for (size_t i = 0; i < design->piece_count; i++)
        found[i] = design->pieces[i].name[0];
    ck_assert_str_eq(found, names);
}

START_TEST(pieces_come_and_go) {
    NwDesign *design = bar_design();
    NwEdit edit = {.design = design, .locked = 4};
    ck_assert_int_eq(nw_edit_reorder(&edit, 0, 2), NW_OK);
    assert_names(design, "BCA");
    ck_assert_uint_eq(edit.locked, 2);
    static const int moved_to[3] = {2, 0, 1};
    for (size_t i = 0; i < 3; i++) /* the placements go with their pieces */
        ck_assert_int_eq(design->intended[i].piece, moved_to[i]);
    ck_assert_int_eq(nw_edit_reorder(&edit, 2, 0), NW_OK);
    assert_names(design, "ABC");
    ck_assert_uint_eq(edit.locked, 4);
    ck_assert_int_eq(nw_edit_reorder(&edit, 0, 3), NW_OUT_OF_RANGE);
    ck_assert_int_eq(nw_edit_delete(&edit, 2), NW_OK); /* locked */
    ASSERT_COUNTS(edit, 0, 1, 0);
    ck_assert_int_eq(nw_edit_delete(&edit, 0), NW_OK);
    ASSERT_COUNTS(edit, 5, 0, 0);
    assert_names(design, "BC");
    ck_assert_uint_eq(edit.locked, 2);
    ck_assert_uint_eq(design->intended_count, 2);
    ck_assert(design->intended[0].piece == 0 && design->intended[1].piece == 1);

    ck_assert_int_eq(nw_edit_rename(&edit, 0, "C"), NW_OK);
    ASSERT_COUNTS(edit, 0, 1, 0);
    ck_assert_int_eq(nw_edit_rename(&edit, 0, "longer name"), NW_OK);
    ck_assert_str_eq(design->pieces[0].name, "longer name");
    ck_assert_int_eq(nw_edit_recolour(&edit, 0, "#12345g"), NW_OK);
    ASSERT_COUNTS(edit, 0, 1, 0);
    ck_assert_int_eq(nw_edit_recolour(&edit, 0, "#123Abc"), NW_OK);
    ck_assert_str_eq(design->pieces[0].colour, "#123Abc");
    ck_assert_int_eq(nw_edit_recolour(&edit, 1, "#123456"), NW_OK); /* locked */
    ASSERT_COUNTS(edit, 0, 1, 0);
    ck_assert_str_eq(design->pieces[1].colour, "");
    nw_design_free(design);
}
END_TEST

START_TEST(copies_and_duplicates_find_room) {
    NwDesign *design = bar_design(); /* cells 3 and 4 are free */
    NwEdit edit = {.design = design};
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, 4), NW_DOES_NOT_FIT);
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, 3), NW_OK);
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, 2), NW_OK);
    ck_assert_uint_eq(design->intended_count, 4);
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, 0), NW_OUT_OF_RANGE);
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, NW_COPIES_MAX), NW_TOO_MANY);
    ck_assert_int_eq(nw_edit_recolour(&edit, 2, "#abcdef"), NW_OK);
    ck_assert_int_eq(nw_edit_duplicate(&edit, 2), NW_OK);
    ASSERT_COUNTS(edit, 5, 0, 1);
    ck_assert_str_eq(design->pieces[3].name, "C 2");
    ck_assert_str_eq(design->pieces[3].colour, "#abcdef");
    ASSERT_SOLID(design->pieces[3].solid, {4, 0, 0, 31});
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    ck_assert_int_eq(nw_edit_duplicate(&edit, 3), NW_DOES_NOT_FIT);
    nw_design_set_intended(design, NULL, 0); /* then a number is all that it is */
    ck_assert_int_eq(nw_edit_set_copies(&edit, 0, 40), NW_OK);
    char *name = nw_dup_next_name(design, "C 2");
    ck_assert_str_eq(name, "C 3");
    free(name);
    nw_design_free(design);
}
END_TEST

START_TEST(mirror_images) {
    /* A piece that is not its own mirror image, in a box with room for its image across z. */
    NwDesign *design = design_in(named("box", 3, 2, 4));
    nw_design_take_piece(design, "L",
                         SOLID({0, 0, 0, 31}, {1, 0, 0, 31}, {1, 1, 0, 31}, {0, 0, 1, 31}));
    NwEdit edit = {.design = design};
    ck_assert_int_eq(nw_edit_mirror(&edit, 0), NW_OK);
    ck_assert_uint_eq(design->piece_count, 2);
    NwSolid *a = nw_solid_canonical(design->pieces[0].solid, false, NULL);
    NwSolid *b = nw_solid_canonical(design->pieces[1].solid, false, NULL);
    NwSolid *c = nw_solid_canonical(design->pieces[1].solid, true, NULL);
    NwSolid *d = nw_solid_canonical(design->pieces[0].solid, true, NULL);
    ck_assert(!nw_solid_equal(a, b) && nw_solid_equal(c, d));
    ck_assert(sketch_is_disjoint(design));
    NwMotion planes[NW_TURNS], motion;
    bool across = false; /* it is an image across one of the planes of the box */
    int count = nw_design_symmetries(design, true, planes);
    for (int i = 0; i < count; i++)
        if (nw_symmetry_name(planes[i].turn).kind == NW_SYMMETRY_MIRROR) {
            NwSolid *image;
            ck_assert_int_eq(nw_solid_moved(design->pieces[0].solid, planes[i], &image), NW_OK);
            across = across || nw_solid_equal(image, design->pieces[1].solid);
            nw_solid_free(image);
        }
    ck_assert(across);
    /* An envelope without symmetry: mirrored about x into what room there is. */
    NwSolid *odd_one = nw_solid_union(design->envelope, a);
    nw_solid_add(odd_one, nw_vec(9, 0, 0), 31);
    ck_assert_int_eq(nw_edit_set_envelope(&edit, odd_one), NW_OK);
    ck_assert_int_eq(nw_edit_delete(&edit, 1), NW_OK);
    ck_assert_int_eq(nw_design_symmetries(design, true, planes), 1);
    ck_assert_int_eq(nw_edit_mirror(&edit, 0), NW_OK);
    NwSolid *e = nw_solid_canonical(design->pieces[1].solid, false, NULL);
    ck_assert(nw_solid_equal(e, b) && sketch_is_disjoint(design));
    ck_assert_int_eq(nw_fit_into(e, odd_one, &motion), NW_OK);
    nw_solid_free(a);
    nw_solid_free(b);
    nw_solid_free(c);
    nw_solid_free(d);
    nw_solid_free(e);
    nw_solid_free(odd_one);
    nw_design_free(design);
}
END_TEST

START_TEST(the_envelope_changes) {
    NwDesign *design = cell_design();
    nw_solid_add(design->may_be_empty, nw_vec(0, 0, 0), 18);
    NwEdit edit = {.design = design};
    NwSolid *less = SOLID({0, 0, 0, 11}, {0, 0, 1, 1}), *losses[2];
    size_t total;
    ck_assert_int_eq(nw_design_losses(design, less, losses, &total), NW_OK);
    ASSERT_SOLID(losses[0], {0, 0, 0, 4});
    ASSERT_SOLID(losses[1], {0, 0, 0, 8}); /* its second copy would stick out */
    ck_assert_uint_eq(total, 2);
    edit.locked = 2;
    ck_assert_int_eq(nw_edit_set_envelope(&edit, less), NW_DOES_NOT_FIT);
    edit.locked = 0;
    ck_assert_int_eq(nw_edit_set_envelope(&edit, less), NW_OK);
    ASSERT_COUNTS(edit, 2, 0, 0);
    ASSERT_SOLID(design->pieces[0].solid, {0, 0, 0, 3});
    ck_assert_uint_eq(design->pieces[1].solid->count, 0);
    ASSERT_SOLID(design->may_be_empty, {0, 0, 0, 2});
    NwSolid *selection = SOLID({0, 0, 0, 12}, {0, 0, 1, 1});
    ck_assert_int_eq(nw_edit_set_may_be_empty(&edit, selection), NW_OK);
    ASSERT_COUNTS(edit, 3, 1, 0);
    ASSERT_SOLID(design->may_be_empty, {0, 0, 0, 8}, {0, 0, 1, 1});
    ck_assert_int_eq(nw_edit_set_may_be_empty(&edit, NULL), NW_OK);
    ck_assert_uint_eq(design->may_be_empty->count, 0);
    for (int i = 0; i < 2; i++)
        nw_solid_free(losses[i]);
    nw_solid_free(selection);
    nw_solid_free(less);
    nw_design_free(design);
}
END_TEST

/* In a cube only corners touch the skin: of an outer cell those at its outer faces. */
START_TEST(inside_the_skin) {
    NwDesign *design = design_in(named("cube", 4, 1, 1));
    NwSolid *inside = nw_brush_inside(design);
    for (size_t i = 0; i < design->envelope->count; i++)
        for (int bit = 0; bit < NW_PARTS; bit++) {
            NwVec cell = nw_cell_at(&design->envelope->cells[i]), at;
            int v = bit ? nw_part_vertex(nw_vec_parity(cell), bit) : 0;
            at = nw_vec_add(cell, nw_vec(v & 1, v >> 1 & 1, v >> 2));
            bool skin = bit && (at.x % 4 == 0 || at.y % 4 == 0 || at.z % 4 == 0);
            ck_assert_int_eq(nw_solid_has(inside, (NwPart){cell, bit}), !skin);
        }
    nw_solid_free(inside);
    nw_design_free(design);
}
END_TEST

START_TEST(brushes) {
    NwDesign *design = design_in(named("octahedron", 2, 1, 1));
    static const NwVec normals[] = {{1, 0, 0}, {0, -1, 0}, {1, 1, 1}, {-1, 1, -1}, {-1, -1, -1}};
    for (int n = 0; n < 5; n++)
        for (int limit = -8; limit <= 8; limit += 2) {
            NwPlane plane = {normals[n], limit};
            NwSolid *side = nw_brush_side(design, plane), *layer = nw_brush_layer(design, plane);
            plane.limit -= n < 2 ? 1 : 2;
            NwSolid *less = nw_brush_side(design, plane), *wanted = nw_solid_difference(side, less);
            ck_assert(nw_solid_equal(layer, wanted));
            for (size_t i = 0; i < design->envelope->count; i++)
                for (int bit = 0; bit < NW_PARTS; bit++) {
                    NwPart part = {nw_cell_at(&design->envelope->cells[i]), bit};
                    NwVec v[4];
                    nw_part_vertices(part, v);
                    bool in = nw_solid_has(design->envelope, part);
                    for (int k = 0; k < 4; k++)
                        in = in && nw_vec_dot(normals[n], v[k]) <= limit;
                    ck_assert_int_eq(nw_solid_has(side, part), in);
                    if (nw_solid_has(layer, part))
                        ck_assert_int_eq(nw_plane_over(normals[n], part).limit, limit);
                }
            nw_solid_free(side);
            nw_solid_free(layer);
            nw_solid_free(less);
            nw_solid_free(wanted);
        }
    nw_design_free(design);

    design = cell_design(); /* the two copies of the tip are two bodies */
    NwSolid *found = nw_brush_piece(design, 1);
    ASSERT_SOLID(found, {0, 0, 0, 24});
    nw_solid_free(found);
    found = nw_brush_fill(design, (NwPart){{0, 0, 0}, 4});
    ASSERT_SOLID(found, {0, 0, 0, 16});
    nw_solid_free(found);
    NwEdit edit = {.design = design};
    ck_assert_int_eq(take(&edit, SOLID({0, 0, 0, 15})), NW_OK);
    found = nw_brush_fill(design, (NwPart){{0, 0, 0}, 4});
    ASSERT_SOLID(found, {0, 0, 0, 31});
    nw_solid_free(found);
    found = nw_brush_fill(design, (NwPart){{5, 0, 0}, 4});
    ck_assert_uint_eq(found->count, 0);
    nw_solid_free(found);
    NwMotion symmetries[NW_TURNS];
    int count = nw_design_symmetries(design, false, symmetries);
    ck_assert_int_eq(count, 24); /* the pieces are empty now, so all is of whole cells */
    NwSolid *one = SOLID({0, 0, 0, 2}, {7, 7, 7, 31});
    found = nw_brush_symmetric(design, one, symmetries, count);
    ASSERT_SOLID(found, {0, 0, 0, 30});
    nw_solid_free(found);
    nw_solid_free(one);
    nw_design_free(design);
}
END_TEST

static NwVec across_axis(NwVec axis, NwVec v) { /* times axis . axis */
    return nw_vec_sub(nw_vec_scale(v, nw_vec_dot(axis, axis)),
                      nw_vec_scale(axis, nw_vec_dot(axis, v)));
}

START_TEST(symmetries_have_names) {
    int seen[NW_SYMMETRY_TURN_MIRROR + 1][7] = {{0}};
    for (NwTurn turn = 0; turn < NW_TURNS; turn++) {
        NwSymmetryName name = nw_symmetry_name(turn);
        seen[name.kind][name.order]++;
        int order = 1;
        for (NwTurn power = turn; power; power = nw_turn_then(power, turn))
            order++;
        ck_assert_int_eq(name.order, order);
        NwVec image = nw_turn_vec(turn, name.axis);
        int sign = nw_turn_is_rotation(turn) ? 1 : -1;
        ck_assert(nw_vec_equal(image, nw_vec_scale(name.axis, sign)));
        if (name.order > 2) { /* counter-clockwise, by less than half a turn */
            NwVec v = across_axis(name.axis, nw_vec(3, 5, 11));
            NwVec w = nw_turn_vec(turn, v);
            ck_assert_int_gt(nw_vec_dot(name.axis, nw_vec_cross(v, w)), 0);
        }
    }
    ck_assert_int_eq(seen[NW_SYMMETRY_IDENTITY][1], 1);
    ck_assert_int_eq(seen[NW_SYMMETRY_TURN][2], 9);
    ck_assert_int_eq(seen[NW_SYMMETRY_TURN][3], 8);
    ck_assert_int_eq(seen[NW_SYMMETRY_TURN][4], 6);
    ck_assert_int_eq(seen[NW_SYMMETRY_POINT][2], 1);
    ck_assert_int_eq(seen[NW_SYMMETRY_MIRROR][2], 9);
    ck_assert_int_eq(seen[NW_SYMMETRY_TURN_MIRROR][6], 8);
    ck_assert_int_eq(seen[NW_SYMMETRY_TURN_MIRROR][4], 6);
    static const char *const texts[][2] = {
        {"+x+y+z", "no turn"},
        {"+x-y-z", "half turn about x"},
        {"-y+x+z", "quarter turn about z"},
        {"+y-x+z", "quarter turn about -z"},
        {"+y+x-z", "half turn about the edge axis +x+y"},
        {"+z+x+y", "third of a turn about the corner axis +x+y+z"},
        {"-x+y+z", "mirror across x"},
        {"+y+x+z", "mirror across the diagonal +x-y"},
        {"-x-y-z", "reflection through the middle"},
        {"-y+x-z", "quarter turn about z and mirror across it"},
        {"-y-z-x", "sixth of a turn about the corner axis +x+y+z and mirror across it"},
    };
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        NwTurn turn;
        char text[NW_SYMMETRY_TEXT_SIZE];
        ck_assert_int_eq(nw_turn_parse(texts[i][0], &turn), NW_OK);
        nw_symmetry_text(turn, text);
        ck_assert_str_eq(text, texts[i][1]);
    }
}
END_TEST

/* The tetrahedron 4 has an edge along x = y, z = 0. The parts along its middle, in four cells, go
 * round the rotation group to six pieces, one for each edge. */
START_TEST(six_like_pieces_from_one) {
    NwDesign *design = design_in(named("tetrahedron", 4, 1, 1));
    NwEdit edit = {.design = design};
    ck_assert_int_eq(
        new_piece(&edit, "edge", SOLID({1, 1, 0, 31}, {1, 2, 0, 31}, {2, 1, 0, 31}, {2, 2, 0, 31})),
        NW_OK);
    ck_assert_uint_eq(nw_solid_lumps(design->pieces[0].solid), 1);
    NwMotion rotations[NW_TURNS];
    int count = nw_design_symmetries(design, false, rotations);
    ck_assert_int_eq(count, 12);
    ck_assert_int_eq(nw_edit_spread(&edit, 0, rotations, count), NW_OK);
    ASSERT_COUNTS(edit, 5 * nw_solid_parts(design->pieces[0].solid), 0, 5);
    ck_assert_uint_eq(design->piece_count, 1);
    ck_assert_str_eq(design->pieces[0].name, "edge");
    ck_assert_int_eq(design->pieces[0].copies, 6);
    ck_assert_uint_eq(design->intended_count, 6);
    ck_assert(sketch_is_disjoint(design));
    ck_assert_int_eq(nw_edit_spread(&edit, 0, rotations, count), NW_OK); /* all there already */
    ASSERT_COUNTS(edit, 0, 5, 0);
    nw_design_free(design);

    /* A whole slab along the edge meets its images at the tips but for the one opposite. */
    design = design_in(named("tetrahedron", 4, 1, 1));
    edit = (NwEdit){.design = design};
    NwSolid *slab = nw_brush_layer(design, (NwPlane){{0, 0, 1}, 1});
    ck_assert_int_eq(nw_edit_new_piece(&edit, NULL, slab), NW_OK);
    ck_assert_int_eq(nw_edit_spread(&edit, 0, rotations, count), NW_OK);
    ASSERT_COUNTS(edit, nw_solid_parts(slab), 4, 1);
    ck_assert(sketch_is_disjoint(design));
    nw_solid_free(slab);
    nw_design_free(design);
}
END_TEST

START_TEST(a_spread_takes_the_most) {
    /* A plate 3 x 3 x 1 with a bar of two at one side: of its seven images three go round the
     * middle with it. A bar of three meets those at its ends, which leaves the one opposite. */
    NwDesign *design = design_in(named("box", 3, 3, 1));
    nw_design_take_piece(design, "two", SOLID({0, 0, 0, 31}, {1, 0, 0, 31}));
    NwMotion turns[NW_TURNS];
    int count = nw_design_symmetries(design, false, turns);
    ck_assert_int_eq(count, 8);
    NwEdit edit = {.design = design};
    ck_assert_int_eq(nw_edit_spread(&edit, 0, turns, count), NW_OK);
    ck_assert_uint_eq(edit.created, 3);
    ck_assert_uint_eq(edit.refused, 4);
    ck_assert(sketch_is_disjoint(design));
    nw_design_free(design);
    design = design_in(named("box", 3, 3, 1));
    nw_design_take_piece(design, "three", SOLID({0, 0, 0, 31}, {1, 0, 0, 31}, {2, 0, 0, 31}));
    edit = (NwEdit){.design = design};
    ck_assert_int_eq(nw_edit_spread(&edit, 0, turns, count), NW_OK);
    ASSERT_COUNTS(edit, 15, 2, 1);
    nw_design_free(design);
}
END_TEST

START_TEST(splitting_what_is_left) {
    NwDesign *design = bar_design();
    NwEdit edit = {.design = design};
    ck_assert_int_eq(nw_edit_delete(&edit, 1), NW_OK);
    nw_solid_add(design->may_be_empty, nw_vec(4, 0, 0), 31);
    ck_assert_int_eq(nw_edit_split_rest(&edit, false), NW_OK);
    ASSERT_COUNTS(edit, 10, 0, 2);
    assert_names(design, "ACBD");
    ASSERT_SOLID(design->pieces[2].solid, {1, 0, 0, 31});
    ASSERT_SOLID(design->pieces[3].solid, {3, 0, 0, 31});
    ck_assert_int_eq(nw_edit_split_rest(&edit, true), NW_OK);
    ASSERT_COUNTS(edit, 5, 0, 1);
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    nw_design_free(design);
    design = design_in(named("cube", 4, 1, 1)); /* 64 cells without cores: too many corners */
    for (size_t i = 0; i < design->envelope->count; i++)
        design->envelope->cells[i].mask = i % 2 ? 1 : 31;
    NwDesign *before = nw_design_copy(design);
    edit = (NwEdit){.design = design};
    NwSolid *rest = nw_design_rest(design);
    size_t lumps = nw_solid_lumps(rest);
    nw_solid_free(rest);
    NwStatus status = nw_edit_split_rest(&edit, true);
    ck_assert_int_eq(status, lumps > NW_PIECES_MAX ? NW_TOO_MANY : NW_OK);
    ck_assert_uint_eq(design->piece_count, status == NW_OK ? lumps : 0);
    if (status != NW_OK)
        ck_assert(sketch_same(design, before));
    nw_design_free(before);
    nw_design_free(design);
}
END_TEST

/* The lump of `from` when the face between two parts is closed, without any cleverness. */
static size_t reach_without(const NwSolid *solid, NwPart from, NwPart to) {
    NwPart parts[200] = {from};
    size_t count = 1;
    for (size_t i = 0; i < count; i++)
        for (int face = 0; face < 4; face++) {
            NwPart next = nw_part_across(parts[i], face);
            bool closed = i == 0 && nw_vec_equal(next.cell, to.cell) && next.bit == to.bit;
            bool known = !nw_solid_has(solid, next) || closed;
            for (size_t k = 0; k < count && !known; k++)
                known = nw_vec_equal(parts[k].cell, next.cell) && parts[k].bit == next.bit;
            if (known)
                continue;
            ck_assert_uint_lt(count, 200);
            parts[count++] = next;
        }
    /* `to` may have been reached another way; then the face was no bridge. */
    for (size_t k = 0; k < count; k++)
        if (nw_vec_equal(parts[k].cell, to.cell) && parts[k].bit == to.bit)
            return 0;
    return count;
}

START_TEST(bridges_against_brute_force) {
    NwRandom random = {99};
    size_t found_in_all = 0, necks_in_all = 0;
    for (int round = 0; round < 150; round++) {
        NwSolid *solid = nw_random_solid(&random, 2 + nw_random_below(&random, 28), false);
        NwBridge *bridges;
        size_t count = nw_solid_bridges(solid, &bridges), wanted = 0, necks = 0;
        for (size_t i = 0; i < solid->count; i++)
            for (int bit = 0; bit < NW_PARTS; bit++) {
                NwPart part = {nw_cell_at(&solid->cells[i]), bit};
                for (int face = 0; face < 4 && nw_solid_has(solid, part); face++) {
                    NwPart across = nw_part_across(part, face);
                    if (!nw_solid_has(solid, across))
                        continue;
                    size_t side = reach_without(solid, part, across);
                    wanted += side > 0;
                    necks += side > 1 && nw_solid_parts(solid) - side > 1;
                }
            }
        ck_assert_uint_eq(2 * count, wanted); /* each was seen from both sides */
        for (size_t i = 0; i < count; i++) {
            NwPart across = nw_part_across(bridges[i].part, bridges[i].face);
            ck_assert_uint_eq(reach_without(solid, bridges[i].part, across), bridges[i].side);
            ck_assert_uint_le(2 * bridges[i].side, nw_solid_parts(solid));
        }
        NwDesign *design = nw_design_new("marks");
        nw_design_take_piece(design, "p", solid);
        NwPieceWarnings marks = nw_piece_warnings(design, 0);
        ck_assert_int_eq(marks.volume6, nw_solid_volume6(solid));
        ck_assert_uint_eq(marks.lumps, nw_solid_lumps(solid));
        ck_assert_uint_eq(marks.bridges, count);
        ck_assert_uint_eq(2 * marks.necks, necks);
        found_in_all += count;
        necks_in_all += marks.necks;
        free(bridges);
        nw_design_free(design);
    }
    ck_assert_uint_gt(found_in_all, 100);
    ck_assert_uint_gt(necks_in_all, 20);
}
END_TEST

START_TEST(marks_of_known_pieces) {
    NwDesign *design = nw_design_new("marks");
    nw_design_take_piece(design, "cell", SOLID({0, 0, 0, 31}));
    nw_design_take_piece(design, "two", SOLID({0, 0, 0, 31}, {1, 0, 0, 31}));
    nw_design_take_piece(design, "lumps", SOLID({0, 0, 0, 31}, {0, 0, 5, 3}));
    nw_design_take_piece(design, "none", nw_solid_new());
    NwPieceWarnings marks = nw_piece_warnings(design, 0); /* each corner hangs on the core */
    ck_assert(marks.volume6 == 6 && marks.lumps == 1 && marks.bridges == 4 && marks.necks == 0);
    marks =
        nw_piece_warnings(design, 1); /* two corners of either cell make a ring with the cores */
    ck_assert(marks.volume6 == 12 && marks.lumps == 1 && marks.bridges == 4 && marks.necks == 0);
    marks = nw_piece_warnings(design, 2);
    ck_assert(marks.lumps == 2 && marks.bridges == 5 && marks.necks == 0);
    marks = nw_piece_warnings(design, 3);
    ck_assert(marks.volume6 == 0 && marks.lumps == 0 && marks.bridges == 0 && marks.necks == 0);
    nw_design_free(design);
}
END_TEST

static bool is_on_surface(const NwSurface *surface, NwVec vertex) {
    for (size_t i = 0; i < surface->count; i++)
        for (size_t k = 0; k < surface->polygons[i].count; k++)
            for (size_t n = 0; n < surface->polygons[i].loops[k].count; n++)
                if (nw_vec_equal(surface->polygons[i].loops[k].vertices[n], vertex))
                    return true;
    return false;
}

/* How many different vertices the surface has. */
static size_t count_vertices(const NwSurface *surface) {
    NwVec seen[100];
    size_t count = 0;
    for (size_t i = 0; i < surface->count; i++)
        for (size_t n = 0; n < surface->polygons[i].loops[0].count; n++) {
            NwVec at = surface->polygons[i].loops[0].vertices[n];
            bool known = false;
            for (size_t k = 0; k < count; k++)
                known = known || nw_vec_equal(seen[k], at);
            if (!known)
                seen[count++] = at;
        }
    return count;
}

/* Solid angles in closed form: a tip of the regular tetrahedron 3 arccos(1/3) - pi, of the
 * octahedron 4 arcsin(1/3), of the cube pi/2; and by the spherical excess of their dihedral angles,
 * pi - arccos(1/3) twice with a right angle twice for the cuboctahedron, and for the truncated
 * tetrahedron and octahedron as below. (Angles of these solids: from their geometry, by hand.) */
START_TEST(tips_of_known_solids) {
    const double pi = acos(-1.0), alpha = acos(1.0 / 3.0);
    const struct {
        const char *name;
        int size;
        size_t tips;
        bool sharp;
        double steradians;
    } rows[] = {
        {"tetrahedron", 1, 4, true, 3 * alpha - pi},
        {"tetrahedron", 4, 4, true, 3 * alpha - pi},
        {"cube", 3, 8, false, pi / 2},
        {"octahedron", 2, 6, false, 4 * asin(1.0 / 3.0)},
        {"stella-octangula", 2, 8, true, 3 * alpha - pi},
        {"cuboctahedron", 2, 12, false, 4 * (pi - acos(1 / sqrt(3.0))) - 2 * pi},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        if (!nw_named_solid_find(rows[i].name))
            ck_abort_msg("no solid %s", rows[i].name);
        NwSolid *solid = named(rows[i].name, rows[i].size, 1, 1);
        NwTip *tips;
        size_t count = nw_solid_tips(solid, &tips);
        ck_assert_msg(count == rows[i].tips, "%s: %zu", rows[i].name, count);
        NwSurface *surface = nw_surface_new(solid);
        if (strcmp(rows[i].name, "stella-octangula") != 0)
            ck_assert_uint_eq(count_vertices(surface), count);
        for (size_t k = 0; k < count; k++) {
            ck_assert_int_eq(tips[k].sharp, rows[i].sharp);
            ck_assert_double_eq_tol(nw_tip_steradians(&tips[k]), rows[i].steradians, 1e-12);
            ck_assert(is_on_surface(surface, tips[k].vertex));
        }
        free(tips);
        nw_surface_free(surface);
        nw_solid_free(solid);
    }
    NwSolid *corner = SOLID({0, 0, 0, 2}); /* a right-angled tip at (1,0,0), three thin ones */
    NwTip *tips;
    ck_assert_uint_eq(nw_solid_tips(corner, &tips), 4);
    for (int k = 0; k < 4; k++) {
        bool right = nw_vec_equal(tips[k].vertex, nw_vec(1, 0, 0));
        ck_assert_int_eq(tips[k].sharp, !right);
        ck_assert_int_eq(tips[k].alphas, right ? 0 : -1);
        ck_assert_int_eq(tips[k].quarters, 1);
    }
    free(tips);
    nw_solid_free(corner);
}
END_TEST

/* Of a convex solid every vertex is a tip. */
START_TEST(all_tips_of_convex_solids) {
    NwRandom random = {11};
    int cut = 0;
    for (int round = 0; round < 60; round++) {
        NwDesign *design = design_in(named("cube", 4, 1, 1));
        for (int k = 0; k < 4; k++) {
            int signs = nw_random_below(&random, 8);
            NwVec normal = nw_vec(signs & 1 ? -1 : 1, signs & 2 ? -1 : 1, signs & 4 ? -1 : 1);
            NwVec middle = nw_vec(2, 2, 2);
            NwPlane plane = {normal,
                             nw_vec_dot(normal, middle) + 2 * (1 + nw_random_below(&random, 3))};
            if (nw_vec_parity(nw_vec(plane.limit, 0, 0)))
                plane.limit++;
            NwSolid *side = nw_brush_side(design, plane);
            cut += side->count < design->envelope->count;
            nw_solid_free(design->envelope);
            design->envelope = side;
        }
        NwSurface *surface = nw_surface_new(design->envelope);
        NwTip *tips;
        ck_assert_uint_eq(nw_solid_tips(design->envelope, &tips), count_vertices(surface));
        free(tips);
        nw_surface_free(surface);
        nw_design_free(design);
    }
    ck_assert_int_gt(cut, 60);
}
END_TEST

/* The rule is "at most the solid angle of a core's tip"; the code says "one part at an even
 * vertex". And every tip is a vertex of the surface. */
START_TEST(sharp_by_the_rule) {
    NwRandom random = {5};
    const double limit = 3 * acos(1.0 / 3.0) - acos(-1.0) + 1e-9;
    int sharp = 0, blunt = 0;
    for (int round = 0; round < 300; round++) {
        NwSolid *solid = nw_random_solid(&random, 1 + nw_random_below(&random, 25), false);
        NwSurface *surface = nw_surface_new(solid);
        NwTip *tips;
        size_t count = nw_solid_tips(solid, &tips);
        for (size_t k = 0; k < count; k++) {
            ck_assert_int_eq(tips[k].sharp, nw_tip_steradians(&tips[k]) <= limit);
            ck_assert(is_on_surface(surface, tips[k].vertex));
            *(tips[k].sharp ? &sharp : &blunt) += 1;
        }
        free(tips);
        nw_surface_free(surface);
        nw_solid_free(solid);
    }
    ck_assert_int_gt(sharp, 100);
    ck_assert_int_gt(blunt, 100);
}
END_TEST

START_TEST(tips_inside_are_hidden) {
    NwDesign *design = design_in(named("cube", 4, 1, 1));
    nw_design_take_piece(design, "deep", SOLID({1, 1, 2, 1}));
    nw_design_take_piece(design, "edge", SOLID({0, 0, 0, 1}));
    NwTip *tips;
    ck_assert_uint_eq(nw_piece_tips(design, 0, &tips), 4);
    for (int k = 0; k < 4; k++)
        ck_assert(tips[k].hidden && tips[k].sharp);
    free(tips);
    ck_assert_uint_eq(nw_piece_tips(design, 1, &tips), 4); /* (1,1,0), (1,0,1), (0,1,1) show too */
    for (int k = 0; k < 4; k++)
        ck_assert(!tips[k].hidden);
    free(tips);
    /* A second copy that reaches the surface brings its tips to light. */
    design->pieces[0].copies = 2;
    const NwPlacement intended[] = {
        {0, {0, {0, 0, 0}}}, {0, {0, {-1, -1, -2}}}, {1, {0, {2, 2, 2}}}};
    nw_design_set_intended(design, intended, 3);
    ck_assert_uint_eq(nw_piece_tips(design, 0, &tips), 4);
    for (int k = 0; k < 4; k++)
        ck_assert(!tips[k].hidden);
    free(tips);
    nw_design_free(design);
}
END_TEST

START_TEST(comparing_versions) {
    NwDesign *before = bar_design(), *after = nw_design_copy(before);
    NwComparison *found;
    ck_assert_int_eq(nw_compare(before, after, &found), NW_OK);
    ck_assert(found->same && found->piece_count == 3 && found->moved_count == 0);
    nw_comparison_free(found);

    NwEdit edit = {.design = after};
    ck_assert_int_eq(give(&edit, SOLID({1, 0, 0, 6}), 0), NW_OK);
    ck_assert_int_eq(give(&edit, SOLID({3, 0, 0, 1}), 1), NW_OK);
    ck_assert_int_eq(nw_edit_rename(&edit, 1, "Q"), NW_OK);
    ck_assert_int_eq(nw_edit_delete(&edit, 2), NW_OK);
    ck_assert_int_eq(new_piece(&edit, "N", SOLID({4, 0, 0, 31})), NW_OK);
    ck_assert_int_eq(nw_edit_reorder(&edit, 2, 0), NW_OK);
    NwSolid *shorter = nw_solid_copy(after->envelope);
    nw_solid_remove(shorter, nw_vec(3, 0, 0), 16);
    ck_assert_int_eq(nw_edit_set_envelope(&edit, shorter), NW_OK);
    nw_solid_free(shorter);
    ck_assert_int_eq(nw_compare(before, after, &found), NW_OK);
    ck_assert(!found->same && !found->renamed && !found->mirrors_changed);
    ck_assert_uint_eq(found->piece_count, 4); /* N, A, Q; and C, which is gone */
    const int wanted[4][2] = {{-1, 0}, {0, 1}, {1, 2}, {2, -1}};
    for (int i = 0; i < 4; i++) {
        ck_assert_int_eq(found->pieces[i].before, wanted[i][0]);
        ck_assert_int_eq(found->pieces[i].after, wanted[i][1]);
        ck_assert(nw_piece_is_changed(&found->pieces[i]) && !found->pieces[i].reordered);
        ck_assert_int_eq(found->pieces[i].renamed, i == 2);
    }
    ASSERT_SOLID(found->pieces[1].won, {1, 0, 0, 6});
    ASSERT_SOLID(found->pieces[2].lost, {1, 0, 0, 6});
    ASSERT_SOLID(found->pieces[2].won, {3, 0, 0, 1});
    ASSERT_SOLID(found->pieces[3].lost, {2, 0, 0, 31});
    ck_assert_uint_eq(found->moved_count, 1);
    ck_assert(found->moved[0].before == 1 && found->moved[0].after == 1);
    ASSERT_SOLID(found->moved[0].parts, {1, 0, 0, 6});
    ASSERT_SOLID(found->envelope_lost, {3, 0, 0, 16});
    ck_assert_uint_eq(found->envelope_won->count, 0);
    nw_comparison_free(found);
    nw_design_free(before);
    nw_design_free(after);
    /* Settling is no change, and swapping two pieces is. */
    for (uint64_t seed = 0; seed < 50; seed++) {
        before = nw_random_design(seed);
        after = nw_design_copy(before);
        ck_assert_int_eq(nw_design_settle(after), NW_OK);
        ck_assert_int_eq(nw_compare(before, after, &found), NW_OK);
        ck_assert(found->same);
        nw_comparison_free(found);
        edit = (NwEdit){.design = after};
        ck_assert_int_eq(nw_edit_reorder(&edit, 0, (int)after->piece_count - 1), NW_OK);
        ck_assert_int_eq(nw_compare(before, after, &found), NW_OK);
        ck_assert_int_eq(found->same, after->piece_count == 1);
        nw_comparison_free(found);
        nw_design_free(before);
        nw_design_free(after);
    }
}
END_TEST

/* Locked pieces are told by name, for others may be moved past them. */
static void assert_locked_kept(const NwDesign *before, uint64_t locked_before, const NwEdit *edit) {
    for (size_t p = 0; p < before->piece_count; p++) {
        if (!(locked_before >> p & 1))
            continue;
        int now = nw_piece_named(edit->design, before->pieces[p].name);
        ck_assert_int_ge(now, 0);
        ck_assert(nw_edit_is_locked(edit, now));
        NwSolid *a = standing(before, (int)p), *b = standing(edit->design, now);
        ck_assert(nw_solid_equal(a, b));
        ck_assert(nw_solid_equal(before->pieces[p].solid, edit->design->pieces[now].solid));
        ck_assert_int_eq(before->pieces[p].copies, edit->design->pieces[now].copies);
        ck_assert_str_eq(before->pieces[p].colour, edit->design->pieces[now].colour);
        nw_solid_free(a);
        nw_solid_free(b);
    }
    ck_assert_int_eq(__builtin_popcountll(edit->locked), __builtin_popcountll(locked_before));
}

static void assert_consistent(const NwDesign *design) {
    int copies[NW_PIECES_MAX] = {0};
    for (size_t i = 0; i < design->intended_count; i++)
        copies[design->intended[i].piece]++;
    for (size_t p = 0; p < design->piece_count; p++) {
        if (design->intended_count)
            ck_assert_int_eq(copies[p], design->pieces[p].copies);
        ck_assert_int_eq(nw_piece_named(design, design->pieces[p].name), (int)p);
    }
    ck_assert(nw_solid_contains(design->envelope, design->may_be_empty));
    ck_assert(nw_design_is_settled(design));
    ck_assert(sketch_is_disjoint(design));
}

START_TEST(random_sequences_keep_what_must_be_kept) {
    int outcomes[NW_STATUS_COUNT] = {0}, changed = 0;
    for (uint64_t seed = 0; seed < 150; seed++) {
        NwRandom random = {seed};
        NwDesign *design = nw_random_design(seed);
        NwSolid *rest = nw_solid_difference(design->may_be_empty, design->envelope);
        ck_assert_uint_eq(rest->count, 0);
        nw_solid_free(rest);
        ck_assert_int_eq(nw_design_settle(design), NW_OK);
        if (!design->intended_count) /* pieces in frames of their own are no sketch */
            while (design->piece_count)
                ck_assert_int_eq(nw_edit_delete(&(NwEdit){.design = design}, 0), NW_OK);
        NwEdit edit = {.design = design, .locked = seed % 3 ? 0 : 1};
        if (!design->piece_count)
            edit.locked = 0;
        for (int step = 0; step < 40; step++) {
            NwDesign *before = nw_design_copy(design);
            uint64_t locked = edit.locked;
            NwStatus status = sketch_random_edit(&edit, &random);
            outcomes[status]++;
            if (status != NW_OK)
                ck_assert(sketch_same(design, before) && edit.locked == locked &&
                          edit.refused == 0);
            changed += !sketch_same(design, before);
            assert_consistent(design);
            assert_locked_kept(before, locked, &edit);
            nw_design_free(before);
        }
        nw_design_free(design);
    }
    ck_assert_int_gt(changed, 1000);
    ck_assert_int_gt(outcomes[NW_DOES_NOT_FIT], 20);
    ck_assert_int_gt(outcomes[NW_OFF_LATTICE], 5);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("edit");
    TCase *frame = tcase_create("frame"), *edits = tcase_create("edits"),
          *looks = tcase_create("looks");
    tcase_set_timeout(frame, 60);
    tcase_set_timeout(edits, 120);
    tcase_set_timeout(looks, 60);
    tcase_add_test(frame, settling_moves_no_part);
    tcase_add_test(frame, adopting_an_assembly);
    tcase_add_test(frame, owners);
    tcase_add_test(edits, giving_and_taking);
    tcase_add_test(edits, copies_are_one_shape);
    tcase_add_test(edits, odd_copies_change_by_whole_cells);
    tcase_add_test(edits, trading);
    tcase_add_test(edits, pieces_come_and_go);
    tcase_add_test(edits, copies_and_duplicates_find_room);
    tcase_add_test(edits, mirror_images);
    tcase_add_test(edits, the_envelope_changes);
    tcase_add_test(edits, six_like_pieces_from_one);
    tcase_add_test(edits, a_spread_takes_the_most);
    tcase_add_test(edits, splitting_what_is_left);
    tcase_add_test(edits, random_sequences_keep_what_must_be_kept);
    tcase_add_test(looks, inside_the_skin);
    tcase_add_test(looks, brushes);
    tcase_add_test(looks, symmetries_have_names);
    tcase_add_test(looks, bridges_against_brute_force);
    tcase_add_test(looks, marks_of_known_pieces);
    tcase_add_test(looks, tips_of_known_solids);
    tcase_add_test(looks, all_tips_of_convex_solids);
    tcase_add_test(looks, sharp_by_the_rule);
    tcase_add_test(looks, tips_inside_are_hidden);
    tcase_add_test(looks, comparing_versions);
    suite_add_tcase(suite, frame);
    suite_add_tcase(suite, edits);
    suite_add_tcase(suite, looks);
    return run_suite(suite);
}
