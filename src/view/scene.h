/* What a picture shows: bodies with their colours and places, and what is drawn about them.
 *
 * A body is a solid as it stands in the assembly, displaced by an offset that may be a fraction.
 * A section hides the parts beyond a plane of the lattice, in bodies as they stand before they are
 * displaced; planes of the lattice cut no part, so the cut faces of what is left are whole faces.
 * Marks bring out parts, and points bring out vertices; both are drawn over everything that hides
 * them, but fainter there.
 *
 * Coordinates: cells. Ownership: the scene copies what it is given. Its serial number, which no
 * other scene of the process has had, and three stamps tell a painter what to renew: `built` counts
 * changes of triangles, `moved` those of offsets, colours, flags, points and paths, and `marked`
 * those of marks, which cost little. Thread: one. */
#ifndef NW_VIEW_SCENE_H
#define NW_VIEW_SCENE_H

#include "lattice/convex.h"
#include "view/mesh.h"
#include "view/palette.h"
#include "view/pick.h"

enum { NW_SCENE_BODIES_MAX = 320 };

typedef enum NwLook {
    NW_LOOK_SOLID, /* opaque */
    NW_LOOK_CLEAR, /* see-through */
    NW_LOOK_LINES, /* edges only, hidden ones faint */
} NwLook;

enum {
    NW_BODY_GHOST = 1,  /* faint, casts no shadow, is not picked */
    NW_BODY_LIT = 2,    /* brought out */
    NW_BODY_HIDDEN = 4, /* not drawn, not picked */
    NW_BODY_RIM = 8,    /* edges in its own colour, and but a breath of it between them */
};

typedef struct NwSceneBody {
    NwSolid *solid; /* all of it */
    NwSolid *shown; /* what the section leaves */
    NwMesh *mesh;   /* of `shown` */
    float offset[3];
    NwColour colour;
    unsigned flags;
} NwSceneBody;

typedef enum NwMarkLook {
    NW_MARK_FULL, /* painted over */
    NW_MARK_RIM,  /* an outline and a breath of colour, through which the piece can be seen */
} NwMarkLook;

/* Parts that are brought out; they go with a body, or stand still if `body` is no index. */
typedef struct NwSceneMark {
    NwSolid *solid;
    size_t body;
    NwColour colour;
    NwMarkLook look;
} NwSceneMark;

/* A small star at a vertex of a body. */
typedef struct NwScenePoint {
    NwVec vertex;
    size_t body;
    NwColour colour;
    bool thin; /* a thin cross instead */
} NwScenePoint;

typedef struct NwScenePath {
    float (*points)[3];
    size_t count;
    NwColour colour;
} NwScenePath;

typedef struct NwScene {
    NwSceneBody *bodies;
    size_t body_count, body_capacity;
    NwSceneMark *marks;
    size_t mark_count, mark_capacity;
    NwScenePoint *points;
    size_t point_count, point_capacity;
    NwScenePath *paths;
    size_t path_count, path_capacity;
    NwMesh *wire; /* only its edges are drawn; NULL: none */
    NwLook look;
    bool dark;
    bool shadow;
    double up[3]; /* where the ground is not; any length */
    bool has_floor;
    double floor; /* the ground's height along `up`, in cells; else it lies under what is lowest */
    bool has_section;
    NwPlane section;
    unsigned long serial, built, moved, marked;
} NwScene;

typedef struct NwScenePick {
    NwPick pick;
    size_t body;
} NwScenePick;

NwScene *nw_scene_new(void);
void nw_scene_free(NwScene *scene); /* NULL is allowed */

/* Takes away bodies, marks, points, paths and wire; the looks and the section stay. */
void nw_scene_clear(NwScene *scene);

/* Adds a body and returns its index, or NW_SCENE_BODIES_MAX if that many are there. */
size_t nw_scene_add(NwScene *scene, const NwSolid *solid, NwColour colour, unsigned flags);
void nw_scene_move(NwScene *scene, size_t body, const double offset[3]);
void nw_scene_paint(NwScene *scene, size_t body, NwColour colour, unsigned flags);

/* Keeps the parts within the plane; NULL shows all. */
void nw_scene_set_section(NwScene *scene, const NwPlane *plane);

void nw_scene_add_mark(NwScene *scene, const NwSolid *solid, size_t body, NwColour colour,
                       NwMarkLook look);
void nw_scene_add_point(NwScene *scene, NwScenePoint point);
void nw_scene_clear_marks(NwScene *scene);
void nw_scene_clear_points(NwScene *scene);
void nw_scene_add_path(NwScene *scene, const double (*points)[3], size_t count, NwColour colour);
void nw_scene_clear_paths(NwScene *scene);
void nw_scene_set_wire(NwScene *scene, const NwSolid *solid); /* NULL: none */

/* The corners of all that is shown, for nw_camera_fit; the caller frees *points with free(). */
size_t nw_scene_points(const NwScene *scene, double (**points)[3]);

/* The middle of the box of what is shown of a body. */
void nw_scene_middle(const NwScene *scene, size_t body, double middle[3]);

/* A ball that holds everything shown. */
void nw_scene_ball(const NwScene *scene, double middle[3], double *radius);

/* The nearest part of a body under the ray. */
bool nw_scene_pick(const NwScene *scene, const NwRay *ray, NwScenePick *pick);

#endif
