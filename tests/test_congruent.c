/* Congruent pieces: noticed, and made copies of one.
 *
 * The outside source: the plain solver (plain/plain_fit.h), which shares no code with the search.
 * It counts the assemblies of a design whose congruent pieces are listed one by one; those that
 * differ only by an exchange of congruent pieces fill the same sets of parts, which is how they are
 * counted as one here. So many assemblies must the design have, once the pieces are copies. */
#include <check.h>
#include <glib.h>
#include <stdlib.h>
#include <string.h>

#include "design/bodies.h"
#include "design/check_assembly.h"
#include "design/congruent.h"
#include "design/faults.h"
#include "design/piece_name.h"
#include "fit/fit.h"
#include "plain/plain_fit.h"
#include "plain/random_design.h"
#include "sketch.h"
#include "suite.h"

enum { RAW_LIMIT = 4000, NODES = 1000000 };

static size_t count_assemblies(const NwDesign *design) {
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    NwAssembly *assembly = g_new(NwAssembly, 1);
    size_t count = 0;
    NwStatus status;
    while ((status = nw_fit_search_step(search, NODES, assembly)) != NW_NONE)
        count += status == NW_OK;
    g_free(assembly);
    nw_fit_search_free(search);
    nw_fit_free(fit);
    return count;
}

/* ---- counting with congruent pieces exchanged ------------------------------------------------ */

static char *dup_solid_text(const NwSolid *solid) {
    GString *text = g_string_new(NULL);
    for (size_t i = 0; i < solid->count; i++)
        g_string_append_printf(text, "%d,%d,%d,%d ", solid->cells[i].x, solid->cells[i].y,
                               solid->cells[i].z, solid->cells[i].mask);
    return g_string_free(text, FALSE);
}

static int compare_texts(const void *a, const void *b) {
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* The sets of parts that the bodies fill, whichever body it is. */
static char *dup_bodies_text(const NwSolid *const *solids, size_t count) {
    g_auto(GStrv) texts = g_new0(char *, count + 1);
    for (size_t b = 0; b < count; b++)
        texts[b] = dup_solid_text(solids[b]);
    qsort(texts, count, sizeof *texts, compare_texts);
    return g_strjoinv("|", texts);
}

static size_t root_of(const size_t *up, size_t at) {
    while (up[at] != at)
        at = up[at];
    return at;
}

/* Classes of the plain solver, joined where two assemblies fill the same sets. */
static size_t count_exchanged(const NwPlainFit *fit) {
    g_autofree size_t *up = g_new(size_t, fit->classes + 1);
    g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    size_t count = 0;
    for (size_t c = 0; c < fit->classes; c++)
        up[c] = c;
    for (size_t i = 0; i < fit->raw; i++) {
        char *text = dup_bodies_text(fit->solids + i * fit->bodies, fit->bodies);
        gpointer other;
        if (g_hash_table_lookup_extended(seen, text, NULL, &other)) {
            up[root_of(up, fit->class_of[i])] = root_of(up, GPOINTER_TO_SIZE(other));
            g_free(text);
        } else {
            g_hash_table_insert(seen, text, GSIZE_TO_POINTER(fit->class_of[i]));
        }
    }
    for (size_t c = 0; c < fit->classes; c++)
        count += up[c] == c;
    return count;
}

/* ---- random designs ---------------------------------------------------------------------------
 */

/* A rotation and a shift that carry the piece to where parts are. */
static NwMotion random_motion(NwRandom *random, bool whole) {
    NwTurn rotations[NW_TURNS];
    int count = 0;
    for (int t = 0; t < NW_TURNS; t++)
        if (nw_turn_is_rotation((NwTurn)t))
            rotations[count++] = (NwTurn)t;
    NwVec shift;
    do
        shift = nw_vec(nw_random_below(random, 5) - 2, nw_random_below(random, 5) - 2,
                       nw_random_below(random, 5) - 2);
    while (!whole && nw_vec_parity(shift));
    return (NwMotion){rotations[nw_random_below(random, count)], shift};
}

/* The same design with every copy a piece of its own, in a frame of its own. */
static NwDesign *one_by_one(const NwDesign *design, NwRandom *random) {
    NwDesign *listed = nw_design_copy(design);
    while (listed->piece_count)
        nw_solid_free(listed->pieces[--listed->piece_count].solid),
            free(listed->pieces[listed->piece_count].name);
    g_autofree NwPlacement *placements = g_new0(NwPlacement, NW_COPIES_MAX);
    g_autofree bool *used = g_new0(bool, NW_COPIES_MAX);
    size_t count = 0;
    for (size_t p = 0; p < design->piece_count; p++)
        for (int copy = 0; copy < design->pieces[p].copies; copy++) {
            const NwSolid *solid = design->pieces[p].solid;
            NwMotion motion = random_motion(random, nw_solid_is_whole(solid));
            NwSolid *there;
            ck_assert_int_eq(nw_solid_moved(solid, motion, &there), NW_OK);
            char *name = nw_dup_new_name(listed);
            int at = (int)nw_design_take_piece(listed, name, there);
            free(name);
            for (size_t i = 0; i < design->intended_count; i++) {
                if (used[i] || design->intended[i].piece != (int)p)
                    continue;
                used[i] = true;
                placements[count++] = (NwPlacement){
                    at, nw_motion_then(nw_motion_inverse(motion), design->intended[i].motion)};
                break;
            }
        }
    nw_design_set_intended(listed, placements, count);
    return listed;
}

static char *dup_standing(const NwDesign *design) {
    NwBodies bodies;
    ck_assert_int_eq(nw_bodies_of(design, &bodies), NW_OK);
    char *text = dup_bodies_text((const NwSolid *const *)bodies.solids, bodies.count);
    nw_bodies_clear(&bodies);
    return text;
}

START_TEST(merged_designs_have_the_assemblies_of_the_plain_solver) {
    int compared = 0, fewer = 0, mirrored = 0;
    for (uint64_t seed = 0; seed < 220; seed++) {
        NwRandom random = {seed};
        NwDesign *grown = nw_random_design(seed), *design = one_by_one(grown, &random);
        bool has_intended = design->intended_count > 0;
        if (has_intended)
            ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
        g_autofree char *before = dup_standing(design);
        g_autofree int *first = g_new(int, design->piece_count);
        size_t others = nw_design_congruent(design, first);
        size_t pieces = design->piece_count;
        NwPlainFit *plain = nw_plain_fit(design, NW_PLAIN_BY_PART, RAW_LIMIT);
        int copies = nw_design_copies(design);
        NwEdit edit = {.design = design};
        ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
        ck_assert_uint_eq(edit.changed, others);
        ck_assert_uint_eq(design->piece_count, pieces - others);
        ck_assert_int_eq(nw_design_copies(design), copies);
        ck_assert_uint_le(design->piece_count, grown->piece_count);
        if (has_intended) {
            g_autofree char *after = dup_standing(design);
            ck_assert_str_eq(before, after);
            ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
        }
        if (plain->status == NW_OK) {
            size_t exchanged = count_exchanged(plain);
            ck_assert_msg(count_assemblies(design) == exchanged, "seed %d: %zu, not %zu", (int)seed,
                          count_assemblies(design), exchanged);
            compared += exchanged > 0;
            fewer += exchanged < plain->classes;
            mirrored += exchanged < plain->classes && design->mirrors_together;
        }
        nw_plain_fit_free(plain);
        nw_design_free(design);
        nw_design_free(grown);
    }
    ck_assert_int_gt(compared, 80);
    ck_assert_int_gt(fewer, 15);
    ck_assert_int_gt(mirrored, 2);
}
END_TEST

/* ---- known designs ----------------------------------------------------------------------------
 */

static NwSolid *bar(int x, int y, int length, bool along_y) {
    NwSolid *solid = nw_solid_new();
    for (int i = 0; i < length; i++)
        nw_solid_add(solid, nw_vec(x + (along_y ? 0 : i), y + (along_y ? i : 0), 0), NW_WHOLE);
    return solid;
}

static NwDesign *plate(int size) {
    NwDesign *design = nw_design_new("plate");
    for (int x = 0; x < size; x++)
        for (int y = 0; y < size; y++)
            nw_solid_add(design->envelope, nw_vec(x, y, 0), NW_WHOLE);
    return design;
}

/* A plate of 3 x 3 cells: two bars of three, and a row of a cell and a bar of two. By hand: that
 * row lies at an edge or in the middle; at an edge either bar is in the middle. */
START_TEST(the_first_stays_with_copies) {
    NwDesign *design = plate(3);
    nw_design_take_piece(design, "bar 1", bar(0, 0, 3, false));
    nw_design_take_piece(design, "cell", bar(0, 1, 1, false));
    nw_design_take_piece(design, "bar 2", bar(0, 2, 3, false));
    nw_design_take_piece(design, "rest", bar(1, 1, 2, false));
    strcpy(design->pieces[0].colour, "#102030");
    strcpy(design->pieces[2].colour, "#405060");
    int first[4];
    ck_assert_uint_eq(nw_design_congruent(design, first), 1);
    ck_assert(first[0] == 0 && first[1] == 1 && first[2] == 0 && first[3] == 3);
    ck_assert_uint_eq(count_assemblies(design), 3);
    NwEdit edit = {.design = design, .locked = 1 << 3};
    ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
    ck_assert_uint_eq(edit.changed, 1);
    ck_assert_uint_eq(edit.refused, 0);
    ck_assert_uint_eq(edit.locked, 1 << 2);
    ck_assert_uint_eq(design->piece_count, 3);
    ck_assert_str_eq(design->pieces[0].name, "bar");
    ck_assert_str_eq(design->pieces[0].colour, "#102030");
    ck_assert_int_eq(design->pieces[0].copies, 2);
    ck_assert_str_eq(design->pieces[2].name, "rest");
    /* As drawn they fill the plate, and so they stand where they stood. */
    ck_assert_uint_eq(design->intended_count, 4);
    ck_assert_ptr_null(nw_check_assembly(design, design->intended, design->intended_count));
    ck_assert_uint_eq(count_assemblies(design), 2);
    ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
    ck_assert_uint_eq(edit.changed, 0);
    nw_design_free(design);
}
END_TEST

START_TEST(locked_pieces_are_left_alone) {
    NwDesign *design = plate(3);
    for (int y = 0; y < 3; y++)
        nw_design_take_piece(design, (const char *[]){"A", "B", "C"}[y], bar(0, y, 3, false));
    NwEdit edit = {.design = design, .locked = 1};
    ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
    ck_assert_uint_eq(edit.changed, 1);
    ck_assert_uint_eq(edit.refused, 1);
    ck_assert_uint_eq(design->piece_count, 2);
    ck_assert_str_eq(design->pieces[1].name, "B");
    ck_assert_int_eq(design->pieces[1].copies, 2);
    ck_assert_uint_eq(edit.locked, 1);
    ck_assert(sketch_is_disjoint(design));
    edit.locked = 3;
    ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
    ck_assert_uint_eq(edit.changed, 0);
    ck_assert_uint_eq(edit.refused, 2);
    nw_design_free(design);
}
END_TEST

/* A file may draw all pieces at the origin: nothing is intended then. */
START_TEST(pieces_in_frames_of_their_own_intend_nothing) {
    NwDesign *design = plate(3);
    nw_design_take_piece(design, "A", bar(0, 0, 3, false));
    nw_design_take_piece(design, "B", bar(0, 0, 3, true));
    nw_design_take_piece(design, "C", bar(0, 0, 3, false));
    NwEdit edit = {.design = design};
    ck_assert_int_eq(nw_edit_merge_congruent(&edit), NW_OK);
    ck_assert_int_eq(design->pieces[0].copies, 3);
    ck_assert_str_eq(design->pieces[0].name, "A");
    ck_assert_uint_eq(design->intended_count, 0);
    ck_assert_uint_eq(count_assemblies(design), 1);
    nw_design_free(design);
}
END_TEST

/* Mirror images that no turn carries to each other are not congruent, nor are two parities of one
 * cut shape that no even shift can bring together. */
START_TEST(what_no_turn_carries_is_not_congruent) {
    NwDesign *design = plate(3);
    const NwVec screw[] = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {1, 1, 1}};
    NwSolid *left = nw_solid_new(), *right = nw_solid_new(), *core = nw_solid_new();
    for (int i = 0; i < 4; i++) {
        nw_solid_add(left, screw[i], NW_WHOLE);
        nw_solid_add(right, nw_vec(-1 - screw[i].x, screw[i].y, screw[i].z), NW_WHOLE);
    }
    nw_solid_add(core, nw_vec(0, 0, 0), NW_CORE);
    NwSolid *other = nw_solid_new();
    nw_solid_add(other, nw_vec(1, 0, 0), NW_CORE);
    nw_design_take_piece(design, "left", left);
    nw_design_take_piece(design, "right", right);
    nw_design_take_piece(design, "core", core);
    nw_design_take_piece(design, "other", other);
    nw_design_take_piece(design, "none", nw_solid_new());
    nw_design_take_piece(design, "neither", nw_solid_new());
    int first[6];
    nw_design_congruent(design, first);
    ck_assert_int_eq(first[1], 1);
    ck_assert_int_eq(first[5], 5);
    /* A quarter turn carries the core of one parity to the other: brute force says whether. */
    bool carried = false;
    for (int t = 0; t < NW_TURNS; t++)
        for (int x = -3; x <= 3 && nw_turn_is_rotation((NwTurn)t); x++)
            for (int y = -3; y <= 3; y++)
                for (int z = -3; z <= 3; z++) {
                    NwSolid *moved;
                    if (((x + y + z) & 1) ||
                        nw_solid_moved(core, (NwMotion){(NwTurn)t, {x, y, z}}, &moved) != NW_OK)
                        continue;
                    carried = carried || nw_solid_equal(moved, other);
                    nw_solid_free(moved);
                }
    ck_assert_int_eq(first[3], carried ? 2 : 3);
    nw_design_free(design);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("congruent");
    TCase *group = tcase_create("congruent");
    tcase_set_timeout(group, 300);
    tcase_add_test(group, merged_designs_have_the_assemblies_of_the_plain_solver);
    tcase_add_test(group, the_first_stays_with_copies);
    tcase_add_test(group, locked_pieces_are_left_alone);
    tcase_add_test(group, pieces_in_frames_of_their_own_intend_nothing);
    tcase_add_test(group, what_no_turn_carries_is_not_congruent);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
