#include "lattice/named.h"

#include <string.h>

#include "lattice/convex.h"

static NwStatus from_planes(const NwPlane *planes, size_t count, NwSolid **solid) {
    return nw_solid_from_planes(planes, count, solid, NULL);
}

static void set_slab(NwPlane planes[2], int axis, int low, int high) {
    planes[0] = planes[1] = (NwPlane){{0, 0, 0}, high};
    nw_vec_set(&planes[0].normal, axis, 1);
    nw_vec_set(&planes[1].normal, axis, -1);
    planes[1].limit = -low;
}

/* The eight planes at distance `radius` (x+y+z reckoning) from a centre, in each octant. */
static void set_octants(NwPlane planes[8], NwVec centre, int radius) {
    for (int octant = 0; octant < 8; octant++) {
        NwVec n = nw_vec(octant & 1 ? -1 : 1, octant & 2 ? -1 : 1, octant & 4 ? -1 : 1);
        planes[octant] = (NwPlane){n, radius + nw_vec_dot(n, centre)};
    }
}

static NwStatus build_box(const int *sizes, NwSolid **solid) {
    NwPlane planes[6];
    for (int axis = 0; axis < 3; axis++)
        set_slab(&planes[2 * axis], axis, 0, sizes[axis]);
    return from_planes(planes, 6, solid);
}

static NwStatus build_cube(const int *sizes, NwSolid **solid) {
    return build_box((const int[3]){sizes[0], sizes[0], sizes[0]}, solid);
}

/* The four faces of the tetrahedron on (0,0,0), (n,n,0), (n,0,n) and (0,n,n). */
static void set_tetrahedron(NwPlane planes[4], int n) {
    planes[0] = (NwPlane){{1, 1, 1}, 2 * n};
    planes[1] = (NwPlane){{1, -1, -1}, 0};
    planes[2] = (NwPlane){{-1, 1, -1}, 0};
    planes[3] = (NwPlane){{-1, -1, 1}, 0};
}

static NwStatus build_tetrahedron(const int *sizes, NwSolid **solid) {
    NwPlane planes[4];
    set_tetrahedron(planes, sizes[0]);
    return from_planes(planes, 4, solid);
}

/* The other inscribed tetrahedron, on (n,n,n), (n,0,0), (0,n,0) and (0,0,n): its mirror image. */
static NwStatus build_stella(const int *sizes, NwSolid **solid) {
    int n = sizes[0];
    NwPlane mirrored[4] = {{{-1, -1, -1}, -n}, {{1, 1, -1}, n}, {{1, -1, 1}, n}, {{-1, 1, 1}, n}};
    NwSolid *a = NULL, *b = NULL;
    NwStatus status = build_tetrahedron(sizes, &a);
    if (status == NW_OK)
        status = from_planes(mirrored, 4, &b);
    if (status == NW_OK)
        *solid = nw_solid_union(a, b);
    nw_solid_free(a);
    nw_solid_free(b);
    return status;
}

/* An octahedron has its centre on a vertex of the parity of its size, so that its planes are even.
 * Standing at (n,n,n) it also has whole, not negative coordinates. */
static NwStatus build_octahedron(const int *sizes, NwSolid **solid) {
    int n = sizes[0];
    NwPlane planes[8];
    set_octants(planes, nw_vec(n, n, n), n);
    return from_planes(planes, 8, solid);
}

static NwStatus build_cuboctahedron(const int *sizes, NwSolid **solid) {
    int n = sizes[0];
    NwPlane planes[14];
    set_octants(planes, nw_vec(n, n, n + (n & 1)), 2 * n);
    for (int axis = 0; axis < 3; axis++) {
        int lift = axis == 2 ? n & 1 : 0; /* keeps the centre on an even vertex */
        set_slab(&planes[8 + 2 * axis], axis, lift, 2 * n + lift);
    }
    return from_planes(planes, 14, solid);
}

/* The tetrahedron of edge 3n with a third of each edge cut off at its corners. */
static NwStatus build_truncated_tetrahedron(const int *sizes, NwSolid **solid) {
    int n = sizes[0];
    NwPlane planes[8];
    set_tetrahedron(planes, 3 * n);
    planes[4] = (NwPlane){{-1, -1, -1}, -2 * n};
    planes[5] = (NwPlane){{1, 1, -1}, 4 * n};
    planes[6] = (NwPlane){{1, -1, 1}, 4 * n};
    planes[7] = (NwPlane){{-1, 1, 1}, 4 * n};
    return from_planes(planes, 8, solid);
}

/* The octahedron of size 3n with its six tips cut off at distance 2n from the centre. */
static NwStatus build_truncated_octahedron(const int *sizes, NwSolid **solid) {
    int n = sizes[0];
    NwVec centre = nw_vec(2 * n, 2 * n, 2 * n + (n & 1));
    NwPlane planes[14];
    set_octants(planes, centre, 3 * n);
    for (int axis = 0; axis < 3; axis++) {
        int at = nw_vec_get(centre, axis);
        set_slab(&planes[8 + 2 * axis], axis, at - 2 * n, at + 2 * n);
    }
    return from_planes(planes, 14, solid);
}

static const NwNamedSolid table[] = {
    {"tetrahedron", 1, "edge of the surrounding cube", 1, 64, build_tetrahedron},
    {"octahedron", 1, "from its centre to a tip", 1, 32, build_octahedron},
    {"cube", 1, "edge", 1, 64, build_cube},
    {"box", 3, "length, width and height", 1, 64, build_box},
    {"cuboctahedron", 1, "half the edge of the surrounding cube", 1, 32, build_cuboctahedron},
    {"stella-octangula", 1, "edge of the surrounding cube", 2, 64, build_stella},
    {"truncated-tetrahedron", 1, "a third of the edge of the surrounding cube, before truncation",
     1, 21, build_truncated_tetrahedron},
    {"truncated-octahedron", 1, "half the distance from its centre to a square face", 1, 16,
     build_truncated_octahedron},
};

const NwNamedSolid *nw_named_solid(size_t index) {
    return index < sizeof table / sizeof table[0] ? &table[index] : NULL;
}

const NwNamedSolid *nw_named_solid_find(const char *name) {
    const NwNamedSolid *named;
    for (size_t i = 0; (named = nw_named_solid(i)); i++)
        if (strcmp(named->name, name) == 0)
            return named;
    return NULL;
}

void nw_named_solid_nearest(const NwNamedSolid *named, int wanted, int *below, int *above) {
    if (wanted > named->largest)
        wanted = named->largest;
    if (wanted < 1)
        wanted = 1;
    *below = wanted - wanted % named->step;
    *above = wanted % named->step ? *below + named->step : *below;
}

NwStatus nw_named_solid_build(const NwNamedSolid *named, const int *sizes, NwSolid **solid) {
    *solid = NULL;
    for (int i = 0; i < named->sizes; i++) {
        if (sizes[i] < 1 || sizes[i] > named->largest)
            return NW_OUT_OF_RANGE;
        if (sizes[i] % named->step)
            return NW_OFF_LATTICE;
    }
    return named->build(sizes, solid);
}
