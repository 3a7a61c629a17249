#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cli/assembly_arg.h"
#include "cli/run.h"
#include "cli/verb.h"
#include "lattice/number_text.h"
#include "lattice/plane_text.h"
#include "view/picture.h"
#include "view/pose.h"
#include "view/shadow.h"
#include "view/viewpoint.h"

enum { FRAMES_MAX = 9999 };

/* What the command line says. */
typedef struct Wish {
    NwRunRequest request;
    char *assembly, *size, *look, *view, *section, *store;
    double step, explode;
    int frames;
    gboolean parallel, dark, wood, best, rest, path, plain;
} Wish;

/* A drawing in work. */
typedef struct Drawing {
    const Wish *wish;
    const NwDesign *design;
    NwPosedScene *show;
    NwScene *scene;
    NwCamera camera;
    NwPaintOptions options;
} Drawing;

static gboolean read_size(const char *text, NwPaintOptions *options) {
    char *end;
    long width = strtol(text, &end, 10);
    long height = *end == 'x' ? strtol(end + 1, &end, 10) : 0;
    if (*end || width < 1 || height < 1 || width > NW_PICTURE_SIDE_MAX ||
        height > NW_PICTURE_SIDE_MAX) {
        nw_complain(_("invalid size “%s”; use WIDTHxHEIGHT, each from 1 to %d"), text,
                    NW_PICTURE_SIDE_MAX);
        return FALSE;
    }
    options->width = (int)width;
    options->height = (int)height;
    return TRUE;
}

static gboolean read_look(const char *text, NwScene *scene) {
    static const struct {
        const char *name;
        NwLook look;
    } looks[] = {
        {"solid", NW_LOOK_SOLID}, {"see-through", NW_LOOK_CLEAR}, {"lines", NW_LOOK_LINES}};
    for (gsize i = 0; i < G_N_ELEMENTS(looks); i++)
        if (strcmp(text, looks[i].name) == 0) {
            scene->look = looks[i].look;
            return TRUE;
        }
    nw_complain(_("invalid look “%s”; use solid, see-through or lines"), text);
    return FALSE;
}

static gboolean read_section(const char *text, NwScene *scene) {
    NwPlane plane;
    if (!nw_plane_read(text, &plane)) {
        nw_complain(_("invalid plane “%s”; write one such as “x<=2” or “x+y-z<=6”"), text);
        return FALSE;
    }
    char below[NW_NUMBER_TEXT_SIZE], above[NW_NUMBER_TEXT_SIZE];
    switch (nw_plane_check(plane)) {
    case NW_OK:
        nw_scene_set_section(scene, &plane);
        return TRUE;
    case NW_OFF_LATTICE:
        nw_complain(_("plane “%s”: the limit of a plane across all three axes must be even; the "
                      "nearest are %s and %s"),
                    text, nw_number_text(plane.limit - 1, below),
                    nw_number_text(plane.limit + 1, above));
        return FALSE;
    default:
        nw_complain(_("plane “%s”: planes go across one axis or across all three, not two"), text);
        return FALSE;
    }
}

static gboolean read_view(const char *text, NwCamera *camera) {
    if (nw_viewpoint_set(camera, text))
        return TRUE;
    nw_complain(_("invalid view “%s”; use home, edge, a direction such as +x or +x-y+z, or “on” "
                  "and a direction such as\non+x+y"),
                text);
    return FALSE;
}

static gboolean read_wish(Drawing *drawing) {
    const Wish *wish = drawing->wish;
    drawing->options = (NwPaintOptions){
        .width = 1000, .height = 800, .samples = NW_PAINTER_SAMPLES, .best = wish->best};
    drawing->camera = nw_camera_home();
    drawing->camera.parallel = wish->parallel;
    drawing->scene->dark = wish->dark;
    drawing->scene->shadow = !wish->plain;
    if ((wish->size && !read_size(wish->size, &drawing->options)) ||
        (wish->look && !read_look(wish->look, drawing->scene)) ||
        (wish->section && !read_section(wish->section, drawing->scene)) ||
        (wish->view && !read_view(wish->view, &drawing->camera)))
        return FALSE;
    if (wish->frames < 0 || wish->frames > FRAMES_MAX) {
        nw_complain(_("--frames takes a number from 1 to %d"), FRAMES_MAX);
        return FALSE;
    }
    if (!(wish->explode >= 0 && wish->explode <= 10)) {
        nw_complain(_("--explode takes a number from 0 to 10"));
        return FALSE;
    }
    if (!(wish->step >= 0)) {
        nw_complain(_("--step takes a number from 0 on"));
        return FALSE;
    }
    memcpy(drawing->scene->up, drawing->camera.frame[2], sizeof drawing->scene->up);
    return TRUE;
}

/* Finds the assembly that is asked for. */
static NwExit find_assembly(Drawing *drawing, const NwSource *source) {
    const Wish *wish = drawing->wish;
    NwSearchResults results;
    GError *error = NULL;
    if (nw_source_refuse_faults(source))
        return NW_EXIT_USAGE;
    if (!nw_run(source, &wish->request, &results, &error))
        return nw_give_up(error, NW_EXIT_FAILED);
    NwExit exit = (NwExit)nw_run_exit(&results);
    guint index = 0;
    if (exit == NW_EXIT_LIMIT)
        nw_complain(_("the search was stopped, so the list is not complete: nothing is drawn"));
    if (exit == NW_EXIT_COMPLETE &&
        !nw_assembly_arg(&results, wish->assembly ? wish->assembly : "1", &index))
        exit = NW_EXIT_USAGE;
    if (exit == NW_EXIT_COMPLETE) {
        const NwFoundAssembly *finding = results.findings->pdata[index];
        drawing->show = nw_posed_scene_new(drawing->design, finding);
        if (finding->slide_count < wish->step) {
            nw_complain(ngettext("this way out has %d slide: --step takes 0 to %d",
                                 "this way out has %d slides: --step takes 0 to %d",
                                 (unsigned long)finding->slide_count),
                        finding->slide_count, finding->slide_count);
            exit = NW_EXIT_USAGE;
        } else if (wish->frames && !finding->slide_count) {
            nw_complain(_("this assembly has no way out to be drawn: leave out --frames"));
            exit = NW_EXIT_USAGE;
        }
    }
    nw_search_results_clear(&results);
    return exit;
}

/* Slides begin and end gently. */
static double position_of(const Drawing *drawing, int frame) {
    if (!drawing->wish->frames)
        return drawing->wish->step;
    double even = drawing->wish->frames < 2
                      ? 0
                      : (double)frame * drawing->show->slide_count / (drawing->wish->frames - 1);
    double share = even - floor(even);
    return floor(even) + share * share * (3 - 2 * share);
}

static void place(Drawing *drawing, double position) {
    nw_posed_scene_place(drawing->show, drawing->scene, position, drawing->wish->explode);
}

/* Where the shadow lies, but for its soft rim. Returns the number of points, 0 or 4. */
static size_t shadow_points(const Drawing *drawing, double points[4][3]) {
    NwShadow *shadow = g_new0(NwShadow, 1);
    gboolean cast = drawing->scene->shadow && drawing->scene->look != NW_LOOK_LINES &&
                    drawing->camera.pitch > 0 && nw_shadow_cast(drawing->scene, shadow);
    int low[2] = {NW_SHADOW_SIDE, NW_SHADOW_SIDE}, high[2] = {0, 0};
    for (int i = 0; cast && i < NW_SHADOW_SIDE * NW_SHADOW_SIDE; i++) {
        const int at[2] = {i % NW_SHADOW_SIDE, i / NW_SHADOW_SIDE};
        for (int k = 0; shadow->grey[i] > 64 && k < 2; k++) {
            low[k] = MIN(low[k], at[k]);
            high[k] = MAX(high[k], at[k] + 1);
        }
    }
    for (int v = 0; cast && v < 4; v++)
        for (int k = 0; k < 3; k++)
            points[v][k] = shadow->corner[k] + ((v & 1 ? high[0] : low[0]) * shadow->across[k] +
                                                (v & 2 ? high[1] : low[1]) * shadow->upwards[k]) /
                                                   NW_SHADOW_SIDE;
    g_free(shadow);
    return cast && high[0] ? 4 : 0;
}

/* Brings everything into view that any of the pictures shows, over one baseline for all: turning
 * points are enough, since between two of them bodies move straight. */
static void fit_camera(Drawing *drawing) {
    NwScene *scene = drawing->scene;
    double(*all)[3] = NULL;
    size_t count = 0;
    int last = drawing->wish->frames ? drawing->show->slide_count : 0;
    scene->floor = INFINITY;
    for (int pass = 0; pass < 2;
         pass++) /* the second is for shadows, on a baseline that is known */
        for (int s = 0; s <= last; s++) {
            double(*points)[3];
            place(drawing, drawing->wish->frames ? s : drawing->wish->step);
            size_t more = nw_scene_points(scene, &points);
            all = g_realloc_n(all, count + more + 4, sizeof *all);
            for (size_t i = 0; pass == 0 && i < more; i++) {
                memcpy(all[count++], points[i], sizeof *all);
                scene->floor =
                    MIN(scene->floor, points[i][0] * scene->up[0] + points[i][1] * scene->up[1] +
                                          points[i][2] * scene->up[2]);
            }
            scene->has_floor = pass == 1 && count > 0;
            if (pass == 1)
                count += shadow_points(drawing, all + count);
            free(points);
        }
    nw_camera_fit_tight(&drawing->camera, (const double(*)[3])all, count,
                        (double)drawing->options.width / drawing->options.height, 0.08);
    g_free(all);
}

/* OUT.png with the number before the ending: OUT-0001.png. */
static char *dup_frame_path(const char *path, int frame) {
    const char *ending = g_str_has_suffix(path, ".png") ? ".png" : "";
    return g_strdup_printf("%.*s-%04d%s", (int)(strlen(path) - strlen(ending)), path, frame + 1,
                           *ending ? ending : ".png");
}

static gboolean draw_one(Drawing *drawing, NwStudio *studio, const char *path, GError **error) {
    cairo_surface_t *picture =
        nw_studio_draw(studio, drawing->scene, &drawing->camera, &drawing->options, error);
    if (!picture)
        return FALSE;
    gboolean saved = nw_picture_save(picture, path, error);
    cairo_surface_destroy(picture);
    return saved;
}

static gboolean draw_all(Drawing *drawing, const char *path, GError **error) {
    NwStudio *studio = nw_studio_new(error);
    gboolean drawn = studio != NULL;
    int count = MAX(drawing->wish->frames, 1);
    for (int frame = 0; drawn && frame < count; frame++) {
        char *name = drawing->wish->frames ? dup_frame_path(path, frame) : g_strdup(path);
        place(drawing, position_of(drawing, frame));
        drawn = draw_one(drawing, studio, name, error);
        g_free(name);
    }
    nw_studio_free(studio);
    return drawn;
}

/* Whether a picture of an assembly is asked for, not one of the design as it is drawn. */
static gboolean wants_assembly(const Wish *wish) {
    return wish->assembly || wish->step > 0 || wish->frames;
}

static NwExit draw(Drawing *drawing, const NwSource *source, const char *path) {
    NwExit exit = NW_EXIT_COMPLETE;
    if (!read_wish(drawing))
        return NW_EXIT_USAGE;
    if (wants_assembly(drawing->wish))
        exit = find_assembly(drawing, source);
    else
        drawing->show = nw_posed_scene_sketch(drawing->design);
    if (exit != NW_EXIT_COMPLETE)
        return exit;
    if (!drawing->show) {
        nw_complain(_("the intended assembly shifts a cut piece by an odd vector: “notch check” "
                      "tells more"));
        return NW_EXIT_USAGE;
    }
    nw_posed_scene_fill(drawing->show, drawing->scene, drawing->wish->wood);
    if (drawing->wish->rest || !drawing->show->body_count)
        nw_posed_scene_add_rest(drawing->show, drawing->design, drawing->scene);
    if (drawing->wish->path)
        nw_posed_scene_add_path(drawing->show, drawing->scene, (int)drawing->wish->step,
                                drawing->wish->explode);
    fit_camera(drawing);
    GError *error = NULL;
    return draw_all(drawing, path, &error) ? NW_EXIT_COMPLETE : nw_give_up(error, NW_EXIT_FAILED);
}

static void clear_wish(Wish *wish) {
    g_free(wish->assembly);
    g_free(wish->size);
    g_free(wish->look);
    g_free(wish->view);
    g_free(wish->section);
    g_free(wish->store);
}

NwExit nw_verb_draw(int argc, char **argv) {
    Wish wish = {0};
    const GOptionEntry options[] = {
        {"assembly", 'a', 0, G_OPTION_ARG_STRING, &wish.assembly,
         N_("Draw assembly N: a number in the list of “notch fit”, or a key"), N_("N")},
        {"step", 's', 0, G_OPTION_ARG_DOUBLE, &wish.step,
         N_("Draw it after S slides (2.5: halfway through the third)"), N_("S")},
        {"frames", 0, 0, G_OPTION_ARG_INT, &wish.frames,
         N_("Draw the whole way out as N pictures: OUT-0001.png, …"), N_("N")},
        {"path", 0, 0, G_OPTION_ARG_NONE, &wish.path, N_("Draw an arrow along the next slide"),
         NULL},
        {"size", 0, 0, G_OPTION_ARG_STRING, &wish.size, N_("Size in pixels (default: 1000x800)"),
         N_("WxH")},
        {"look", 0, 0, G_OPTION_ARG_STRING, &wish.look, N_("solid, see-through or lines"),
         N_("LOOK")},
        {"view", 0, 0, G_OPTION_ARG_STRING, &wish.view,
         N_("Viewpoint: home, edge, a direction to look from (+x, +x-y+z) or one to turn up "
            "(on+x+y)"),
         N_("NAME")},
        {"parallel", 0, 0, G_OPTION_ARG_NONE, &wish.parallel, N_("Use parallel projection"), NULL},
        {"explode", 0, 0, G_OPTION_ARG_DOUBLE, &wish.explode,
         N_("Spread the pieces to F times their distance from the middle"), N_("F")},
        {"section", 0, 0, G_OPTION_ARG_STRING, &wish.section,
         N_("Draw only what lies within a plane, such as “x<=2”"), N_("PLANE")},
        {"rest", 0, 0, G_OPTION_ARG_NONE, &wish.rest,
         N_("Draw unfilled parts of the envelope faintly"), NULL},
        {"dark", 0, 0, G_OPTION_ARG_NONE, &wish.dark, N_("Use a dark background"), NULL},
        {"wood", 0, 0, G_OPTION_ARG_NONE, &wish.wood, N_("All pieces in one colour, like wood"),
         NULL},
        {"no-shadow", 0, 0, G_OPTION_ARG_NONE, &wish.plain, N_("Leave out the shadow"), NULL},
        {"best", 0, 0, G_OPTION_ARG_NONE, &wish.best, N_("Draw in better quality, more slowly"),
         NULL},
        {"diagonal", 0, 0, G_OPTION_ARG_NONE, &wish.request.options.diagonals,
         N_("Also allow slides along face diagonals"), NULL},
        {"store", 0, 0, G_OPTION_ARG_FILENAME, &wish.store, N_("Use this store"), N_("FILE")},
        {NULL}};
    NwExit exit = NW_EXIT_USAGE;
    if (nw_verb_parse(&argc, &argv, options, _("DESIGN OUT.png"),
                      _("Draws a design as a PNG picture: its intended assembly or, if there is "
                        "none, its pieces as drawn;\nor any assembly at any point of its way out."),
                      2, 2)) {
        NwSource source;
        GError *error = NULL;
        if (nw_source_open(&source, argv[1], wish.store, FALSE, &error)) {
            Drawing drawing = {.wish = &wish, .design = source.design, .scene = nw_scene_new()};
            exit = draw(&drawing, &source, argv[2]);
            nw_posed_scene_free(drawing.show);
            nw_scene_free(drawing.scene);
            nw_source_close(&source);
        } else {
            nw_give_up(error, exit);
        }
    }
    clear_wish(&wish);
    return exit;
}
