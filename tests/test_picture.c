/* Pictures drawn without a display. Left out, with a message, where no driver can draw. */
#include <check.h>
#include <glib/gstdio.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

#include "lattice/named.h"
#include "plain/random_design.h"
#include "view/picture.h"

static NwStudio *studio;

static NwScene *tetrahedron(void) {
    NwScene *scene = nw_scene_new();
    NwSolid *solid;
    ck_assert_int_eq(
        nw_named_solid_build(nw_named_solid_find("tetrahedron"), (const int[]){4}, &solid), NW_OK);
    nw_scene_add(scene, solid, (NwColour){0.9f, 0.1f, 0.1f}, 0);
    nw_solid_free(solid);
    return scene;
}

static NwScene *divided_box(void) {
    NwScene *scene = nw_scene_new();
    NwSolid *box = nw_solid_new(), *pieces[5];
    NwRandom random = {3};
    for (int i = 0; i < 8; i++)
        nw_solid_add(box, nw_vec(i & 1, i >> 1 & 1, i >> 2), NW_WHOLE);
    size_t count = nw_random_divide(&random, box, false, pieces, 5);
    for (size_t i = 0; i < count; i++) {
        nw_scene_add(scene, pieces[i], nw_palette_piece((int)i), 0);
        nw_solid_free(pieces[i]);
    }
    nw_solid_free(box);
    return scene;
}

static cairo_surface_t *draw(const NwScene *scene, int width, int height, bool best) {
    NwCamera camera = nw_camera_home();
    NwPaintOptions options = {
        .width = width, .height = height, .samples = NW_PAINTER_SAMPLES, .best = best};
    double(*points)[3];
    size_t count = nw_scene_points(scene, &points);
    nw_camera_fit_tight(&camera, (const double(*)[3])points, count, (double)width / height, 0.1);
    free(points);
    GError *error = NULL;
    cairo_surface_t *picture = nw_studio_draw(studio, scene, &camera, &options, &error);
    ck_assert_msg(picture != NULL, "%s", error ? error->message : "no error");
    return picture;
}

static guint32 pixel(cairo_surface_t *picture, int x, int y) {
    const unsigned char *data = cairo_image_surface_get_data(picture);
    guint32 value;
    memcpy(&value, data + y * cairo_image_surface_get_stride(picture) + 4 * x, sizeof value);
    return value & 0xffffff;
}

static int red(guint32 p) {
    return p >> 16 & 255;
}

static int green(guint32 p) {
    return p >> 8 & 255;
}

static int blue(guint32 p) {
    return p & 255;
}

/* The share of pixels of which some component differs by more than `by`. */
static double difference(cairo_surface_t *a, cairo_surface_t *b, int by) {
    int width = cairo_image_surface_get_width(a), height = cairo_image_surface_get_height(a);
    int other = 0;
    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++) {
            guint32 p = pixel(a, x, y), q = pixel(b, x, y);
            other += abs(red(p) - red(q)) > by || abs(green(p) - green(q)) > by ||
                     abs(blue(p) - blue(q)) > by;
        }
    return (double)other / (width * height);
}

/* The share of pixels that are clearly not of the paper's colour. */
static double covered(cairo_surface_t *picture) {
    int width = cairo_image_surface_get_width(picture);
    int height = cairo_image_surface_get_height(picture), other = 0;
    guint32 paper = pixel(picture, 0, 0);
    for (int y = 0; y < height; y++)
        for (int x = 0; x < width; x++)
            other += abs(red(pixel(picture, x, y)) - red(paper)) > 12 ||
                     abs(blue(pixel(picture, x, y)) - blue(paper)) > 12;
    return (double)other / (width * height);
}

START_TEST(a_tetrahedron_is_red_on_paper) {
    NwScene *scene = tetrahedron();
    for (int dark = 0; dark < 2; dark++) {
        scene->dark = dark;
        cairo_surface_t *picture = draw(scene, 300, 240, false);
        NwColour paper = nw_palette_paper(dark)->ground;
        for (int corner = 0; corner < 4; corner++) {
            guint32 p = pixel(picture, corner & 1 ? 299 : 0, corner & 2 ? 239 : 0);
            ck_assert_int_le(abs(red(p) - (int)(paper.r * 255 + 0.5f)), 1);
            ck_assert_int_le(abs(green(p) - (int)(paper.g * 255 + 0.5f)), 1);
            ck_assert_int_le(abs(blue(p) - (int)(paper.b * 255 + 0.5f)), 1);
        }
        int reds = 0;
        for (int y = 0; y < 240; y++)
            for (int x = 0; x < 300; x++) {
                guint32 p = pixel(picture, x, y);
                reds += red(p) > 90 && red(p) > 2 * green(p) && red(p) > 2 * blue(p);
            }
        ck_assert_int_gt(reds, 300 * 240 / 10);
        guint32 middle = pixel(picture, 135, 110);
        ck_assert_int_gt(red(middle), 2 * green(middle));
        ck_assert_int_gt(red(middle), 2 * blue(middle));
        cairo_surface_destroy(picture);
    }
    nw_scene_free(scene);
}
END_TEST

START_TEST(the_same_scene_gives_the_same_picture) {
    NwScene *scene = divided_box();
    for (int look = 0; look < 3; look++) {
        scene->look = (NwLook)look;
        cairo_surface_t *first = draw(scene, 200, 160, false);
        NwScene *again = divided_box();
        again->look = (NwLook)look;
        cairo_surface_t *second = draw(again, 200, 160, false);
        ck_assert_double_eq(difference(first, second, 0), 0);
        ck_assert_double_gt(covered(first), 0.01);
        cairo_surface_destroy(first);
        cairo_surface_destroy(second);
        nw_scene_free(again);
    }
    nw_scene_free(scene);
}
END_TEST

/* Two ways that share nothing but the triangles: by sorted groups, and by layers pixel by pixel.
 * They differ in edges, since one has samples and the other twice the size. */
/* A scene that is made where another one was, with as many changes behind it, is another one. */
START_TEST(a_scene_is_not_taken_for_an_earlier_one) {
    static const char *const names[] = {"tetrahedron", "octahedron"};
    cairo_surface_t *alone[2], *after[2];
    for (int again = 0; again < 2; again++)
        for (int i = 0; i < 2; i++) {
            NwScene *scene = nw_scene_new();
            NwSolid *solid;
            ck_assert_int_eq(
                nw_named_solid_build(nw_named_solid_find(names[i]), (const int[]){4}, &solid),
                NW_OK);
            nw_scene_add(scene, solid, (NwColour){0.9f, 0.1f, 0.1f}, 0);
            nw_solid_free(solid);
            if (again) {
                alone[i] = draw(scene, 200, 160, false);
                scene->serial = 0; /* unlike any */
                after[i] = draw(scene, 200, 160, false);
            } else {
                cairo_surface_destroy(draw(scene, 200, 160, false));
            }
            nw_scene_free(scene);
        }
    ck_assert_double_gt(difference(alone[0], alone[1], 30), 0.05);
    for (int i = 0; i < 2; i++) {
        ck_assert_double_eq(difference(alone[i], after[i], 0), 0);
        cairo_surface_destroy(alone[i]);
        cairo_surface_destroy(after[i]);
    }
}
END_TEST

static void *draw_elsewhere(void *unused) {
    GError *error = NULL;
    (void)unused;
    NwStudio *other = nw_studio_new(&error);
    ck_assert_msg(other != NULL, "%s", error ? error->message : "no error");
    nw_studio_free(other);
    return NULL;
}

/* Another studio comes and goes in a thread of its own. */
START_TEST(studios_do_not_close_one_another) {
    NwScene *scene = tetrahedron();
    cairo_surface_t *before = draw(scene, 200, 160, false);
    pthread_t thread;
    ck_assert_int_eq(pthread_create(&thread, NULL, draw_elsewhere, NULL), 0);
    pthread_join(thread, NULL);
    nw_scene_free(scene);
    scene = divided_box();
    cairo_surface_t *other = draw(scene, 200, 160, false);
    nw_scene_free(scene);
    scene = tetrahedron();
    cairo_surface_t *after = draw(scene, 200, 160, false);
    ck_assert_double_gt(difference(before, other, 30), 0.05);
    ck_assert_double_eq(difference(before, after, 0), 0);
    nw_scene_free(scene);
    cairo_surface_destroy(before);
    cairo_surface_destroy(other);
    cairo_surface_destroy(after);
}
END_TEST

START_TEST(sorting_and_peeling_agree) {
    NwScene *scene = divided_box();
    scene->look = NW_LOOK_CLEAR;
    for (int moved = 0; moved < 2; moved++) {
        for (size_t b = 0; moved && b < scene->body_count; b++)
            nw_scene_move(scene, b, (double[3]){3.5 * (double)(b % 3), 0.4 * (double)b, 0});
        cairo_surface_t *sorted = draw(scene, 400, 320, false);
        cairo_surface_t *peeled = draw(scene, 400, 320, true);
        ck_assert_double_gt(covered(peeled), 0.1);
        ck_assert_double_lt(difference(sorted, peeled, 40), 0.01);
        ck_assert_double_lt(difference(sorted, peeled, 12), 0.06);
        cairo_surface_destroy(sorted);
        cairo_surface_destroy(peeled);
    }
    nw_scene_free(scene);
}
END_TEST

START_TEST(marks_paths_wires_and_flags_show) {
    NwScene *scene = divided_box();
    cairo_surface_t *plain = draw(scene, 300, 240, false);
    for (int what = 0; what < 7; what++) {
        NwScene *other = divided_box();
        NwSolid *box = nw_solid_copy(other->bodies[0].solid);
        if (what == 0)
            nw_scene_add_mark(other, box, 0, (NwColour){1, 0, 0}, NW_MARK_FULL);
        else if (what == 1)
            nw_scene_add_path(other, (const double[2][3]){{0, 0, 0}, {2, 2, 2}}, 2,
                              (NwColour){1, 0, 0});
        else if (what == 2)
            nw_scene_paint(other, 0, other->bodies[0].colour, NW_BODY_HIDDEN);
        else if (what == 3)
            nw_scene_paint(other, 1, other->bodies[1].colour, NW_BODY_LIT);
        else if (what == 4)
            nw_scene_paint(other, 1, other->bodies[1].colour, NW_BODY_GHOST);
        else if (what == 5)
            nw_scene_add_mark(other, box, 0, (NwColour){1, 0, 0}, NW_MARK_RIM);
        else
            nw_scene_add_point(other, (NwScenePoint){.vertex = {2, 2, 2}, .body = SIZE_MAX});
        cairo_surface_t *picture = draw(other, 300, 240, false);
        ck_assert_msg(difference(plain, picture, 8) > 0.002, "%d", what);
        cairo_surface_destroy(picture);
        nw_solid_free(box);
        nw_scene_free(other);
    }
    cairo_surface_destroy(plain);
    nw_scene_free(scene);
}
END_TEST

/* Marks that come, move with their bodies and go, over bodies that the painter has already, look as
 * in a scene that it sees for the first time. */
START_TEST(marks_alone_are_renewed) {
    NwScene *scene = divided_box();
    for (int step = 0; step < 6; step++) {
        static const double aside[3] = {0, 3.5, 0};
        NwScene *fresh = divided_box();
        NwScene *const both[] = {scene, fresh};
        size_t body = (size_t)step % 2;
        NwMarkLook look = step % 3 ? NW_MARK_FULL : NW_MARK_RIM;
        unsigned long built = scene->built, moved = scene->moved;
        nw_scene_clear_marks(scene);
        if (step != 2)
            for (int i = 0; i < 2; i++)
                nw_scene_add_mark(both[i], both[i]->bodies[body].solid, body, (NwColour){1, 0, 0},
                                  look);
        ck_assert(scene->built == built && scene->moved == moved);
        if (step >= 3)
            for (int i = 0; i < 2; i++)
                nw_scene_move(both[i], 1, aside);
        cairo_surface_t *seen = draw(scene, 200, 160, false);
        cairo_surface_t *wanted = draw(fresh, 200, 160, false);
        ck_assert_double_eq(difference(seen, wanted, 0), 0);
        cairo_surface_destroy(seen);
        cairo_surface_destroy(wanted);
        nw_scene_free(fresh);
        /* The painter is to have this one again when only its marks are others. */
        cairo_surface_destroy(draw(scene, 200, 160, false));
    }
    nw_scene_free(scene);
}
END_TEST

START_TEST(an_empty_scene_is_paper) {
    NwScene *scene = nw_scene_new();
    for (int look = 0; look < 3; look++) {
        scene->look = (NwLook)look;
        cairo_surface_t *picture = draw(scene, 64, 48, look == 1);
        ck_assert_double_eq(covered(picture), 0);
        cairo_surface_destroy(picture);
    }
    nw_scene_free(scene);
}
END_TEST

START_TEST(impossible_sizes_are_refused) {
    static const int sizes[][2] = {{0, 10}, {10, -1}, {NW_PICTURE_SIDE_MAX + 1, 10}};
    NwScene *scene = tetrahedron();
    NwCamera camera = nw_camera_home();
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        GError *error = NULL;
        NwPaintOptions options = {.width = sizes[i][0], .height = sizes[i][1]};
        ck_assert_ptr_null(nw_studio_draw(studio, scene, &camera, &options, &error));
        ck_assert(g_error_matches(error, NW_VIEW_ERROR, NW_VIEW_ERROR_SIZE));
        g_error_free(error);
    }
    nw_scene_free(scene);
}
END_TEST

START_TEST(a_file_is_written_whole_or_not_at_all) {
    NwScene *scene = tetrahedron();
    cairo_surface_t *picture = draw(scene, 60, 40, false);
    char *folder = g_dir_make_tmp("picture-XXXXXX", NULL);
    char *path = g_build_filename(folder, "a.png", NULL);
    char *nowhere = g_build_filename(folder, "no", "a.png", NULL);
    GError *error = NULL;
    ck_assert(nw_picture_save(picture, path, NULL));
    cairo_surface_t *read = cairo_image_surface_create_from_png(path);
    ck_assert_int_eq(cairo_image_surface_get_width(read), 60);
    ck_assert_double_eq(difference(picture, read, 0), 0);
    ck_assert(!nw_picture_save(picture, nowhere, &error));
    ck_assert_ptr_nonnull(error);
    g_error_free(error);
    cairo_surface_destroy(read);
    cairo_surface_destroy(picture);
    g_remove(path);
    g_rmdir(folder);
    g_free(path);
    g_free(nowhere);
    g_free(folder);
    nw_scene_free(scene);
}
END_TEST

int main(void) {
    GError *error = NULL;
    studio = nw_studio_new(&error);
    if (!studio) {
        g_print("left out: %s\n", error->message);
        g_error_free(error);
        return 77;
    }
    Suite *suite = suite_create("picture");
    TCase *all = tcase_create("picture");
    tcase_set_timeout(all, 120);
    tcase_add_test(all, a_tetrahedron_is_red_on_paper);
    tcase_add_test(all, the_same_scene_gives_the_same_picture);
    tcase_add_test(all, a_scene_is_not_taken_for_an_earlier_one);
    tcase_add_test(all, studios_do_not_close_one_another);
    tcase_add_test(all, sorting_and_peeling_agree);
    tcase_add_test(all, marks_paths_wires_and_flags_show);
    tcase_add_test(all, marks_alone_are_renewed);
    tcase_add_test(all, an_empty_scene_is_paper);
    tcase_add_test(all, impossible_sizes_are_refused);
    tcase_add_test(all, a_file_is_written_whole_or_not_at_all);
    suite_add_tcase(suite, all);
    SRunner *runner = srunner_create(suite);
    srunner_set_fork_status(runner, CK_NOFORK); /* a driver does not live through a fork */
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    nw_studio_free(studio);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
