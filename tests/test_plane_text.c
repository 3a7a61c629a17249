/* Planes in writing (lattice/plane_text.h): what is read, what is refused, and the way back. */
#include <check.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "lattice/number_text.h"
#include "lattice/plane_text.h"
#include "suite.h"

START_TEST(reads_what_is_a_plane) {
    static const struct {
        const char *text;
        NwPlane plane;
    } rows[] = {
        {"x<=4", {{1, 0, 0}, 4}},           {"-z<=0", {{0, 0, -1}, 0}},
        {"x+y-z<=6", {{1, 1, -1}, 6}},      {"+y<=-3", {{0, 1, 0}, -3}},
        {"z-x<=+2", {{-1, 0, 1}, 2}}, /* of no family of the lattice, but a plane */
        {"x<=100000", {{1, 0, 0}, 100000}}, {"<=1", {{0, 0, 0}, 1}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        NwPlane plane;
        ck_assert_msg(nw_plane_read(rows[i].text, &plane), "%s", rows[i].text);
        ck_assert(nw_vec_equal(plane.normal, rows[i].plane.normal));
        ck_assert_int_eq(plane.limit, rows[i].plane.limit);
    }
}
END_TEST

START_TEST(refuses_what_is_none) {
    static const char *const rows[] = {
        "",     "x",        "x<4",     "x<=",     "x<=4.5",         "x<=4 ",     "x<= 4", "x+x<=2",
        "w<=1", "2x<=4",    "x+<=2",   "x--y<=2", "x<=99999999999", "x<=100001", "x<",    "x=<=3",
        "X<=3", "x<=0x10b", "x<=3<=4", "x≤3",     "-<=1",
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        NwPlane plane;
        ck_assert_msg(!nw_plane_read(rows[i], &plane), "%s", rows[i]);
    }
}
END_TEST

START_TEST(reads_lists) {
    NwPlane planes[NW_PLANES_MAX];
    size_t count;
    ck_assert_int_eq(nw_planes_read("", planes, &count, NULL), NW_OK);
    ck_assert_uint_eq(count, 0);
    ck_assert_int_eq(nw_planes_read(" x<=2, -x<=0;y<=3\n\t-y<=0 ", planes, &count, NULL), NW_OK);
    ck_assert_uint_eq(count, 4);
    ck_assert_int_eq(planes[2].limit, 3);
    ck_assert_int_eq(planes[3].normal.y, -1);
    /* A minus sign as it is printed is read as one that is typed; alone it is no number. */
    ck_assert_int_eq(nw_planes_read("x−y<=−12", planes, &count, NULL), NW_OK);
    ck_assert_int_eq(planes[0].normal.y, -1);
    ck_assert_int_eq(planes[0].limit, -12);
    ck_assert_int_eq(nw_planes_read("x<=−", planes, &count, NULL), NW_UNKNOWN_NAME);
    ck_assert_int_eq(nw_planes_read("x<=-−1", planes, &count, NULL), NW_UNKNOWN_NAME);
    ck_assert_int_eq(nw_planes_read("−<=1", planes, &count, NULL), NW_UNKNOWN_NAME);
}
END_TEST

START_TEST(says_which_word_of_a_list_is_none) {
    NwPlane planes[NW_PLANES_MAX];
    size_t count;
    NwWord word;
    ck_assert_int_eq(nw_planes_read("x<=2 y=3 z<=1", planes, &count, &word), NW_UNKNOWN_NAME);
    ck_assert_uint_eq(count, 1);
    ck_assert_uint_eq(word.length, 3);
    ck_assert_int_eq(strncmp(word.start, "y=3", 3), 0);
}
END_TEST

START_TEST(a_list_has_its_limit) {
    char text[NW_PLANES_MAX * 5 + 6 + 1] = "";
    NwPlane planes[NW_PLANES_MAX];
    size_t count;
    NwWord word;
    for (int i = 0; i < NW_PLANES_MAX; i++)
        strcat(text, "x<=1 ");
    ck_assert_int_eq(nw_planes_read(text, planes, &count, &word), NW_OK);
    ck_assert_uint_eq(count, NW_PLANES_MAX);
    strcat(text, "y<=20");
    ck_assert_int_eq(nw_planes_read(text, planes, &count, &word), NW_TOO_MANY);
    ck_assert_uint_eq(count, NW_PLANES_MAX);
    ck_assert_int_eq(strncmp(word.start, "y<=20", word.length), 0);
}
END_TEST

START_TEST(what_is_written_is_read_again) {
    static const int limits[] = {-NW_PLANE_LIMIT_MAX, -1, 0, 7, NW_PLANE_LIMIT_MAX};
    for (int n = 0; n < 27; n++)
        for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
            NwPlane plane = {{n % 3 - 1, n / 3 % 3 - 1, n / 9 - 1}, limits[i]}, again;
            char text[NW_PLANE_TEXT_SIZE];
            nw_plane_write(plane, text);
            ck_assert_msg(nw_plane_read(text, &again), "%s", text);
            ck_assert(nw_vec_equal(plane.normal, again.normal));
            ck_assert_int_eq(plane.limit, again.limit);
        }
}
END_TEST

/* The list says the same as the planes it is made of: the cube of edge 2. */
START_TEST(a_list_builds_a_solid) {
    NwPlane planes[NW_PLANES_MAX];
    size_t count;
    NwSolid *solid;
    ck_assert_int_eq(nw_planes_read("x<=2 y<=2 z<=2 -x<=0 -y<=0 -z<=0", planes, &count, NULL),
                     NW_OK);
    ck_assert_int_eq(nw_solid_from_planes(planes, count, &solid, NULL), NW_OK);
    ck_assert_int_eq(nw_solid_volume6(solid), 6 * 8);
    ck_assert_uint_eq(nw_solid_parts(solid), 5 * 8);
    nw_solid_free(solid);
}
END_TEST

START_TEST(numbers_have_a_minus_sign) {
    char number[NW_NUMBER_TEXT_SIZE], vec[NW_VEC_TEXT_SIZE];
    ck_assert_str_eq(nw_number_text(0, number), "0");
    ck_assert_str_eq(nw_number_text(12, number), "12");
    ck_assert_str_eq(nw_number_text(INT_MIN, number), "−2147483648");
    ck_assert_str_eq(nw_vec_text(nw_vec(-1, 0, 2), ',', vec), "−1,0,2");
    ck_assert_str_eq(nw_vec_text(nw_vec(INT_MIN, INT_MIN, INT_MIN), ' ', vec),
                     "−2147483648 −2147483648 −2147483648");
}
END_TEST

int main(void) {
    Suite *suite = suite_create("plane_text");
    TCase *group = tcase_create("text");
    tcase_add_test(group, reads_what_is_a_plane);
    tcase_add_test(group, numbers_have_a_minus_sign);
    tcase_add_test(group, refuses_what_is_none);
    tcase_add_test(group, reads_lists);
    tcase_add_test(group, says_which_word_of_a_list_is_none);
    tcase_add_test(group, a_list_has_its_limit);
    tcase_add_test(group, what_is_written_is_read_again);
    tcase_add_test(group, a_list_builds_a_solid);
    suite_add_tcase(suite, group);
    return run_suite(suite);
}
