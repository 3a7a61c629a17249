/* What an operation of the kernel (base, lattice, design, fit, slide, cook) can say about itself.
 *
 * One enum serves the whole kernel. The first four values are outcomes of a search, not errors:
 * "none found" and "limit reached" are answers. Thread: any. Ownership: the texts are static. */
#ifndef NW_BASE_STATUS_H
#define NW_BASE_STATUS_H

typedef enum NwStatus {
    NW_OK,           /* done; or, from a step, there is a result to read */
    NW_NONE,         /* the search is exhausted: there is no further result, and that is proved */
    NW_STOPPED,      /* the caller's budget ran out; call again to go on */
    NW_LIMIT,        /* a stated limit of states or memory was reached: undecided */
    NW_OUT_OF_RANGE, /* a coordinate lies outside [NW_COORD_MIN, NW_COORD_MAX] */
    NW_OFF_LATTICE,  /* a motion or size would carry parts to where the lattice has none */
    NW_UNKNOWN_NAME, /* a solid, turn or axis of that name does not exist */
    NW_UNBOUNDED,    /* planes that do not close a solid */
    NW_EMPTY,        /* a solid without parts where one is needed */
    NW_TOO_MANY,     /* more pieces, parts or placements than the kernel supports */
    NW_DOES_NOT_FIT, /* a piece lies outside the envelope, or in another piece */
    NW_BAD_RESUME,   /* a saved search position that belongs to another design */
    NW_STATUS_COUNT
} NwStatus;

/* A short English description without a full stop; never NULL. */
const char *nw_status_text(NwStatus status);

#endif
