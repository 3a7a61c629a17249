/* What is wrong with a design: each kind of fault by itself, and none where there is none. */
#include <check.h>
#include <stdlib.h>
#include <string.h>

#include "design/faults.h"
#include "suite.h"

static NwSolid *solid_of(const NwCell *cells, size_t count) {
    NwSolid *solid = nw_solid_new();
    for (size_t i = 0; i < count; i++)
        ck_assert_int_eq(nw_solid_add(solid, nw_cell_at(&cells[i]), cells[i].mask), NW_OK);
    return solid;
}

#define SOLID(...)                                                                                 \
    solid_of((const NwCell[]){__VA_ARGS__}, sizeof((const NwCell[]){__VA_ARGS__}) / sizeof(NwCell))

static NwTurn turn_of(const char *name) {
    NwTurn turn;
    ck_assert_int_eq(nw_turn_parse(name, &turn), NW_OK);
    return turn;
}

static NwPlacement placement(int piece, const char *turn, int x, int y, int z) {
    return (NwPlacement){piece, {turn_of(turn), nw_vec(x, y, z)}};
}

/* One even cell: a piece of its core and two corners (volume 2/3), and two copies of a corner. The
 * corner at vertex 4, mask 8, goes to the one at vertex 7, mask 16, by a half turn about the line
 * x = y = 1/2 : new x = 1 - old x, new y = 1 - old y. */
static NwDesign *cell_design(void) {
    NwDesign *design = nw_design_new("one cell");
    nw_solid_add(design->envelope, nw_vec(0, 0, 0), 31);
    nw_design_take_piece(design, "middle", SOLID({0, 0, 0, 7}));
    nw_design_take_piece(design, "tip", SOLID({0, 0, 0, 8}));
    design->pieces[1].copies = 2;
    const NwPlacement intended[] = {placement(0, "+x+y+z", 0, 0, 0),
                                    placement(1, "+x+y+z", 0, 0, 0),
                                    placement(1, "-x-y+z", 1, 1, 0)};
    nw_design_set_intended(design, intended, 3);
    return design;
}

/* The design's only fault, whose sentence must be this; frees the design. */
static NwFault only_fault(NwDesign *design, NwFaultKind kind, const char *text) {
    NwFault *faults;
    size_t count = nw_design_faults(design, &faults);
    ck_assert_uint_eq(count, 1);
    NwFault fault = faults[0];
    ck_assert_int_eq(fault.kind, kind);
    char *found = nw_fault_text(design, &fault);
    ck_assert_str_eq(found, text);
    free(found);
    free(faults);
    nw_design_free(design);
    return fault;
}

START_TEST(a_good_design_has_none) {
    NwDesign *design = cell_design();
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_design_set_intended(design, NULL, 0);
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_design_free(design);
}
END_TEST

START_TEST(an_empty_envelope) {
    only_fault(nw_design_new("new"), NW_FAULT_EMPTY_ENVELOPE,
               "the envelope has no parts; add the cells that the pieces are to fill");
}
END_TEST

START_TEST(stray_empty_parts) {
    NwDesign *design = cell_design();
    nw_solid_add(design->may_be_empty, nw_vec(0, 0, 1), 3);
    NwFault fault = only_fault(design, NW_FAULT_STRAY_EMPTY,
                               "2 parts that may be empty are not in the envelope, the first in "
                               "cell [0, 0, 1]; mark only parts of the envelope so");
    ck_assert_int_eq(fault.found, 2);
}
END_TEST

START_TEST(an_empty_piece) {
    NwDesign *design = cell_design();
    nw_design_set_intended(design, NULL, 0);
    nw_design_take_piece(design, "void", nw_solid_new());
    NwFault fault = only_fault(design, NW_FAULT_EMPTY_PIECE,
                               "piece “void” has no parts; draw it or take it out");
    ck_assert_int_eq(fault.piece, 2);
}
END_TEST

/* Two corners of a cell meet along an edge at most, so they do not hold. */
START_TEST(a_piece_in_lumps) {
    NwDesign *design = nw_design_new("lumps");
    nw_solid_add(design->envelope, nw_vec(0, 0, 0), 31);
    nw_design_take_piece(design, "core", SOLID({0, 0, 0, 1}));
    nw_design_take_piece(design, "tips", SOLID({0, 0, 0, 30}));
    NwFault fault = only_fault(
        design, NW_FAULT_LUMPS,
        "piece “tips” is in 4 separate bits; join them, or make each a piece of its own");
    ck_assert_int_eq(fault.piece, 1);
    ck_assert_int_eq(fault.found, 4);
}
END_TEST

static NwDesign *box_design(int a, int b, int c) {
    NwDesign *design = nw_design_new("box");
    for (int i = 0; i < a * b * c; i++)
        nw_solid_add(design->envelope, nw_vec(i % a, i / a % b, i / a / b), NW_WHOLE);
    return design;
}

START_TEST(a_piece_that_is_too_wide) {
    NwDesign *design = box_design(2, 2, 1);
    nw_design_take_piece(design, "bar",
                         SOLID({0, 0, 0, 31}, {0, 0, 1, 31}, {0, 0, 2, 31}, {0, 1, 2, 31}));
    NwFault fault = only_fault(design, NW_FAULT_TOO_WIDE,
                               "piece “bar” (1 × 2 × 3 cells) cannot fit into the envelope (2 × 2 "
                               "× 1); shorten it or enlarge the envelope");
    ck_assert(nw_vec_equal(fault.size, nw_vec(1, 2, 3)));
}
END_TEST

/* 2 x 2 x 1 and 3 x 1 x 1 in turn: each size counts, not the longest alone. */
START_TEST(every_width_counts) {
    NwDesign *design = box_design(1, 4, 1);
    nw_design_take_piece(design, "plate",
                         SOLID({0, 0, 0, 31}, {0, 1, 0, 31}, {1, 0, 0, 31}, {1, 1, 0, 31}));
    only_fault(design, NW_FAULT_TOO_WIDE,
               "piece “plate” (2 × 2 × 1 cells) cannot fit into the envelope (1 × 4 × 1); shorten "
               "it or enlarge the envelope");
    design = box_design(1, 4, 1);
    nw_design_take_piece(design, "bar",
                         SOLID({0, 0, 0, 31}, {0, 0, 1, 31}, {0, 0, 2, 31}, {0, 0, 3, 31}));
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_design_free(design);
}
END_TEST

START_TEST(too_little_volume) {
    NwDesign *design = cell_design();
    nw_design_set_intended(design, NULL, 0);
    design->pieces[1].copies = 1;
    NwFault fault = only_fault(design, NW_FAULT_TOO_LITTLE,
                               "the pieces have a volume of 5/6 of a cell together and at least 1 "
                               "cell must be filled; add parts to pieces, or let more of the "
                               "envelope be empty");
    ck_assert_int_eq(fault.found, 5);
    ck_assert_int_eq(fault.wanted, 6);
    /* where a corner may be empty, it is enough */
    design = cell_design();
    nw_design_set_intended(design, NULL, 0);
    design->pieces[1].copies = 1;
    nw_solid_add(design->may_be_empty, nw_vec(0, 0, 0), 2);
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_design_free(design);
}
END_TEST

START_TEST(too_much_volume) {
    NwDesign *design = cell_design();
    nw_design_set_intended(design, NULL, 0);
    design->pieces[1].copies = 9;
    NwFault fault = only_fault(design, NW_FAULT_TOO_MUCH,
                               "the pieces (2 1/6 cells) are larger than the envelope (1 cell); "
                               "remove parts or enlarge the envelope");
    ck_assert_int_eq(fault.found, 13);
}
END_TEST

START_TEST(a_copy_without_a_place) {
    NwDesign *design = cell_design();
    NwPlacement kept[2] = {design->intended[0], design->intended[1]};
    nw_design_set_intended(design, kept, 2);
    NwFault fault = only_fault(design, NW_FAULT_COPIES,
                               "piece “tip” has 2 copies and 1 place in the intended assembly; "
                               "give each copy one place");
    ck_assert_int_eq(fault.piece, 1);
}
END_TEST

START_TEST(an_odd_shift_of_a_cut_piece) {
    NwDesign *design = cell_design();
    design->intended[2].motion.shift = nw_vec(1, 0, 0);
    NwFault fault =
        only_fault(design, NW_FAULT_ODD_SHIFT,
                   "intended[2]: piece “tip” has cut cells and needs a shift with an even sum");
    ck_assert_int_eq(fault.entry, 2);
    ck_assert_int_eq(fault.piece, 1);
}
END_TEST

START_TEST(an_odd_shift_of_a_whole_piece_is_none) {
    NwDesign *design = box_design(2, 1, 1);
    nw_design_take_piece(design, "cube", SOLID({0, 0, 0, 31}));
    design->pieces[0].copies = 2;
    NwPlacement both[] = {placement(0, "+x+y+z", 1, 0, 0), placement(0, "+y+z+x", 0, 0, 0)};
    nw_design_set_intended(design, both, 2);
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_design_free(design);
}
END_TEST

/* Shifted off, the piece also leaves a gap; far off, it leaves the range of coordinates. */
START_TEST(a_placement_outside) {
    static const int far[] = {2, 1998};
    NwDesign *design = cell_design();
    design->intended[0].motion.shift = nw_vec(0, 0, far[_i]);
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 2);
    ck_assert_int_eq(faults[0].kind, NW_FAULT_OUTSIDE);
    ck_assert_int_eq(faults[0].entry, 0);
    ck_assert_int_eq(faults[0].found, 3);
    ck_assert(nw_vec_equal(faults[0].cell, nw_vec(0, 0, far[_i])));
    ck_assert_int_eq(faults[1].kind, NW_FAULT_GAP);
    char *outside = nw_fault_text(design, &faults[0]), *gap = nw_fault_text(design, &faults[1]);
    ck_assert_ptr_nonnull(strstr(outside, "intended[0] puts 3 parts of piece “middle” outside"));
    ck_assert_str_eq(gap, "the intended assembly leaves 3 parts empty that must be filled, the "
                          "first in cell [0, 0, 0]; fill them, or allow them to be empty");
    free(outside);
    free(gap);
    free(faults);
    nw_design_free(design);
}
END_TEST

START_TEST(two_placements_that_overlap) {
    NwDesign *design = cell_design();
    design->intended[2].motion = design->intended[1].motion;
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 2);
    ck_assert_int_eq(faults[0].kind, NW_FAULT_OVERLAP);
    ck_assert_int_eq(faults[0].entry, 1);
    ck_assert_int_eq(faults[0].other_entry, 2);
    ck_assert_int_eq(faults[0].piece, 1);
    ck_assert_int_eq(faults[0].other_piece, 1);
    ck_assert_int_eq(faults[1].kind, NW_FAULT_GAP);
    char *text = nw_fault_text(design, &faults[0]);
    ck_assert_str_eq(text, "intended[1] (piece “tip”) and intended[2] (piece “tip”) share 1 "
                           "part, the first in cell [0, 0, 0]; move one of the two");
    free(text);
    free(faults);
    nw_design_free(design);
}
END_TEST

START_TEST(a_gap_that_may_be_empty_is_none) {
    NwDesign *design = cell_design();
    design->pieces[1].copies = 1;
    nw_design_set_intended(design, design->intended, 2); /* the corner with mask 16 stays empty */
    nw_solid_add(design->may_be_empty, nw_vec(0, 0, 0), 16);
    NwFault *faults;
    ck_assert_uint_eq(nw_design_faults(design, &faults), 0);
    free(faults);
    nw_solid_remove(design->may_be_empty, nw_vec(0, 0, 0), 16);
    nw_solid_add(design->may_be_empty, nw_vec(0, 0, 0), 8); /* another one: now it must be filled */
    NwFault fault = only_fault(design, NW_FAULT_GAP,
                               "the intended assembly leaves 1 part empty that must be filled, the "
                               "first in cell [0, 0, 0]; fill it, or allow it to be empty");
    ck_assert_int_eq(fault.found, 1);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("faults");
    TCase *cases = tcase_create("faults");
    tcase_add_test(cases, a_good_design_has_none);
    tcase_add_test(cases, an_empty_envelope);
    tcase_add_test(cases, stray_empty_parts);
    tcase_add_test(cases, an_empty_piece);
    tcase_add_test(cases, a_piece_in_lumps);
    tcase_add_test(cases, a_piece_that_is_too_wide);
    tcase_add_test(cases, every_width_counts);
    tcase_add_test(cases, too_little_volume);
    tcase_add_test(cases, too_much_volume);
    tcase_add_test(cases, a_copy_without_a_place);
    tcase_add_test(cases, an_odd_shift_of_a_cut_piece);
    tcase_add_test(cases, an_odd_shift_of_a_whole_piece_is_none);
    tcase_add_loop_test(cases, a_placement_outside, 0, 2);
    tcase_add_test(cases, two_placements_that_overlap);
    tcase_add_test(cases, a_gap_that_may_be_empty_is_none);
    suite_add_tcase(suite, cases);
    return run_suite(suite);
}
