/* Planes in writing: "x<=4", "-z<=0", "x+y-z<=6".
 *
 * A plane is written as signed axes, each at most once, then "<=" and the limit, with no space
 * inside. A list of planes is words with white space, commas or semicolons between them. Reading
 * does not ask whether the lattice holds the plane: nw_plane_check and nw_solid_from_planes do.
 * Thread: any; nothing to own. */
#ifndef NW_LATTICE_PLANE_TEXT_H
#define NW_LATTICE_PLANE_TEXT_H

#include "lattice/convex.h"

enum {
    NW_PLANES_MAX = 64,             /* planes in one list */
    NW_PLANE_LIMIT_MAX = 100000,    /* a limit further out than this is no limit */
    NW_PLANE_TEXT_SIZE = 7 + 2 + 8, /* "-x-y-z", "<=", a limit, and a final zero, with room */
};

/* A stretch of the text read; not ended by a zero. */
typedef struct NwWord {
    const char *start;
    size_t length;
} NwWord;

/* Reads one plane that fills the whole text. */
bool nw_plane_read(const char *text, NwPlane *plane);

/* Reads a list of planes, perhaps empty. NW_UNKNOWN_NAME: `word` (NULL allowed) is the first that
 * is no plane; NW_TOO_MANY: it is the first past NW_PLANES_MAX. *count is what was read before. */
NwStatus nw_planes_read(const char *text, NwPlane planes[NW_PLANES_MAX], size_t *count,
                        NwWord *word);

/* Writes a plane so that nw_plane_read reads it. The limit must be within NW_PLANE_LIMIT_MAX. */
void nw_plane_write(NwPlane plane, char text[NW_PLANE_TEXT_SIZE]);

#endif
