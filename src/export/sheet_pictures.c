#include "export/sheet_pictures.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "export/sheet_letters.h"
#include "lattice/symmetry.h"
#include "view/shadow.h"

enum { SOLID_WIDTH = 1600, PIECE_WIDTH = 640, STEP_WIDTH = 900 };

static NwPaintOptions options_for(int width, double aspect) {
    return (NwPaintOptions){.width = width,
                            .height = (int)(width / aspect),
                            .samples = NW_PAINTER_SAMPLES,
                            .pixel_scale = width / 640.0f};
}

/* Makes the colour of the paper white, and everything else as much lighter. */
static void whiten(cairo_surface_t *picture) {
    const NwPaper *paper = nw_palette_paper(false);
    const float ground[3] = {paper->ground.b, paper->ground.g, paper->ground.r};
    unsigned char *bytes = cairo_image_surface_get_data(picture);
    int stride = cairo_image_surface_get_stride(picture);
    for (int y = 0; y < cairo_image_surface_get_height(picture); y++)
        for (int x = 0; x < cairo_image_surface_get_width(picture); x++) {
            guint32 *pixel = (guint32 *)(void *)(bytes + y * stride + 4 * x), lighter = 0;
            for (int k = 0; k < 3; k++) {
                int value = (int)(*pixel >> 8 * k & 255);
                lighter |= (guint32)MIN(255, (int)((value + 2.5f) / ground[k])) << 8 * k;
            }
            *pixel = lighter;
        }
    cairo_surface_mark_dirty(picture);
}

/* Draws a scene, unless it is not wanted any more. */
static gboolean paint(NwSheetPicture *picture, NwAlbum *album, const NwScene *scene,
                      const NwCamera *camera, const NwPaintOptions *options, GError **error) {
    if (!nw_progress_tell(album->progress, (double)album->done / MAX(1, album->wanted)))
        return nw_progress_set_error(error);
    album->done++;
    picture->surface = nw_studio_draw(album->studio, scene, camera, options, error);
    if (picture->surface)
        whiten(picture->surface);
    return picture->surface != NULL;
}

NwAlbum *nw_album_new(guint wanted, NwProgress *progress, GError **error) {
    NwStudio *studio = nw_studio_new(error);
    if (!studio)
        return NULL;
    NwAlbum *album = g_new0(NwAlbum, 1);
    album->studio = studio;
    album->progress = progress;
    album->wanted = wanted;
    return album;
}

void nw_album_free(NwAlbum *album) {
    if (!album)
        return;
    nw_studio_free(album->studio);
    g_free(album);
}

/* An empty scene that stands as the camera at home does. */
static NwScene *new_scene(void) {
    NwScene *scene = nw_scene_new();
    const NwCamera home = nw_camera_home();
    memcpy(scene->up, home.frame[2], sizeof scene->up);
    scene->shadow = false; /* pieces and steps are drawn as large as can be */
    return scene;
}

/* Where the shadow lies, but for its soft rim: the ends of every row of it. */
static size_t shadow_points(const NwScene *scene, double points[][3]) {
    g_autofree NwShadow *shadow = g_new0(NwShadow, 1);
    size_t count = 0;
    if (!scene->shadow || !nw_shadow_cast(scene, shadow))
        return 0;
    for (int row = 0; row < NW_SHADOW_SIDE; row++) {
        int ends[2] = {-1, -1};
        for (int i = 0; i < NW_SHADOW_SIDE; i++)
            if (shadow->grey[row * NW_SHADOW_SIDE + i] > 12)
                ends[ends[0] >= 0] = i;
        for (int e = 0; e < 2; e++)
            for (int k = 0; k < 3 && ends[e] >= 0; k++) {
                points[count][k] = shadow->corner[k] + ((ends[e] + 0.5) * shadow->across[k] +
                                                        (row + 0.5) * shadow->upwards[k]) /
                                                           NW_SHADOW_SIDE;
                count += k == 2;
            }
    }
    return count;
}

static void fit(NwCamera *camera, const NwScene *scene, double aspect) {
    double(*points)[3];
    size_t count = nw_scene_points(scene, &points);
    points = g_realloc_n(points, count + 2 * NW_SHADOW_SIDE, sizeof *points);
    count += shadow_points(scene, points + count);
    nw_camera_fit_tight(camera, (const double(*)[3])points, count, aspect, 0.03);
    free(points);
}

gboolean nw_sheet_draw_solid(NwSheetPicture *picture, NwAlbum *album, const NwPosedScene *show,
                             GError **error) {
    NwSolid *whole = nw_solid_new();
    for (int b = 0; b < show->body_count; b++) {
        NwSolid *more = nw_solid_union(whole, show->solids[b]);
        nw_solid_free(whole);
        whole = more;
    }
    NwScene *scene = new_scene();
    NwCamera camera = nw_camera_home();
    NwPaintOptions options = options_for(SOLID_WIDTH, NW_SHEET_SOLID_ASPECT);
    options.best = TRUE;
    options.pixel_scale = 2;
    nw_scene_add(scene, whole, nw_palette_wood(0), 0);
    scene->shadow = true;
    fit(&camera, scene, NW_SHEET_SOLID_ASPECT);
    gboolean drawn = paint(picture, album, scene, &camera, &options, error);
    nw_scene_free(scene);
    nw_solid_free(whole);
    return drawn;
}

/* ---- the pieces --------------------------------------------------------------------------- */

/* Of its 24 turns the one that is lowest, then widest; of those the first by its cells, so that
 * nothing tells how the piece stands in the answer. */
static NwSolid *dup_flat(const NwSolid *solid) {
    NwSolid *canonical = nw_solid_canonical(solid, false, NULL), *best = NULL;
    NwVec best_size = {0, 0, 0};
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++) {
        NwSolid *turned;
        if (nw_solid_moved(canonical, (NwMotion){turn, {0, 0, 0}}, &turned) != NW_OK)
            continue;
        NwBounds box = nw_solid_bounds(turned);
        NwVec size = nw_vec_sub(box.high, box.low);
        if (!best || size.z < best_size.z || (size.z == best_size.z && size.x > best_size.x)) {
            nw_solid_free(best);
            best = turned;
            best_size = size;
        } else {
            nw_solid_free(turned);
        }
    }
    nw_solid_free(canonical);
    return best;
}

/* Draws every piece with the camera that shows the largest one. */
gboolean nw_sheet_draw_pieces(NwSheet *sheet, NwAlbum *album, const NwDesign *design,
                              GError **error) {
    NwPaintOptions options = options_for(PIECE_WIDTH, NW_SHEET_PIECE_ASPECT);
    NwPosedScene *sketch = nw_posed_scene_sketch(design);
    double distance = 0;
    gboolean drawn = TRUE;
    for (int pass = 0; pass < 2; pass++)
        for (guint i = 0; i < sheet->pieces->len && drawn; i++) {
            NwSheetPiece *piece = &g_array_index(sheet->pieces, NwSheetPiece, i);
            NwSolid *flat = dup_flat(design->pieces[i].solid);
            NwScene *scene = new_scene();
            NwCamera camera = nw_camera_home();
            NwColour colour = nw_palette_piece((int)i);
            for (int b = 0; sketch && b < sketch->body_count; b++)
                if (sketch->pieces[b] == (int)i && !sketch->copies[b])
                    colour = sketch->colours[b];
            camera.parallel = true;
            nw_scene_add(scene, flat, colour, 0);
            fit(&camera, scene, NW_SHEET_PIECE_ASPECT);
            if (pass == 0) {
                distance = MAX(distance, camera.distance);
            } else {
                camera.distance = distance;
                drawn = paint(&piece->picture, album, scene, &camera, &options, error);
            }
            nw_scene_free(scene);
            nw_solid_free(flat);
        }
    nw_posed_scene_free(sketch);
    return drawn;
}

/* ---- steps -------------------------------------------------------------------------------- */

static void middle_of(const NwPosedScene *show, guint32 bodies, int position, double middle[3]) {
    double volume = 0;
    middle[0] = middle[1] = middle[2] = 0;
    for (guint32 rest = bodies; rest; rest &= rest - 1) {
        int b = nw_lowest(rest);
        double offset[3];
        nw_posed_scene_offset(show, b, position, 0, offset);
        for (size_t i = 0; i < show->solids[b]->count; i++) {
            const NwCell *cell = &show->solids[b]->cells[i];
            double weight = nw_mask_volume6(cell->mask);
            for (int k = 0; k < 3; k++)
                middle[k] += weight * (nw_vec_get(nw_cell_at(cell), k) + 0.5 + offset[k]);
            volume += weight;
        }
    }
    for (int k = 0; k < 3; k++)
        middle[k] /= volume;
}

/* Where an arrow between two points is seen. */
static void point(NwSheetPicture *picture, const NwCamera *camera, const NwPaintOptions *options,
                  const double ends[2][3]) {
    picture->has_arrow = TRUE;
    for (int end = 0; end < 2; end++) {
        double pixel[2];
        if (!nw_camera_pixel(camera, ends[end], options->width, options->height, pixel)) {
            picture->has_arrow = FALSE;
            return;
        }
        picture->arrow[end][0] = pixel[0] / options->width;
        picture->arrow[end][1] = pixel[1] / options->height;
    }
}

gboolean nw_sheet_draw_step(NwSheetPicture *picture, NwAlbum *album, const NwPosedScene *show,
                            int slide, guint32 group, const char *const *names, GError **error) {
    NwScene *scene = new_scene();
    NwCamera camera = nw_camera_home();
    NwPaintOptions options = options_for(STEP_WIDTH, NW_SHEET_STEP_ASPECT);
    double ends[2][3];
    nw_posed_scene_fill(show, scene, false);
    nw_posed_scene_place(show, scene, slide + 1, 0);
    for (int b = 0; b < show->body_count; b++)
        if (!(group >> b & 1))
            nw_scene_paint(scene, (size_t)b, show->colours[b], NW_BODY_HIDDEN);
    middle_of(show, show->movers[slide], slide + 1, ends[0]);
    middle_of(show, show->movers[slide], slide, ends[1]);
    fit(&camera, scene, NW_SHEET_STEP_ASPECT);
    gboolean drawn = paint(picture, album, scene, &camera, &options, error);
    if (drawn) {
        point(picture, &camera, &options, (const double(*)[3])ends);
        nw_sheet_letters_place(picture, scene, &camera, &options, group, names);
    }
    nw_scene_free(scene);
    return drawn;
}

int nw_sheet_depth(const NwPosedScene *show, int slide) {
    double from[3], to[3], most = 0;
    int body = nw_lowest(show->movers[slide]);
    nw_posed_scene_offset(show, body, slide, 0, from);
    nw_posed_scene_offset(show, body, slide + 1, 0, to);
    for (int k = 0; k < 3; k++)
        most = fmax(most, fabs(to[k] - from[k]));
    return MAX(1, (int)most - 1); /* a show leaves a margin of one cell */
}
