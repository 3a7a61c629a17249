/* Unfolding a piece to flat nets.
 *
 * A net is a tree of faces: each but the first hangs on one before it by an edge, the fold. A face
 * is let in if it overlaps no face of its net. That is decided exactly (exact_plane.h: signs of
 * numbers p + q * sqrt(3)), and again, with the tolerance of region.h, on the faces as the card's
 * thickness leaves them (inset.h). A net may not outgrow the page: it must fit it in one of the 24
 * positions 15 degrees apart, which are those in which some side of it is level or upright.
 *
 * To find as few nets as possible is hard in general (it is not even known whether every convex
 * solid has a net: G. C. Shephard, "Convex polytopes with convex nets", 1975). So: a net grows from
 * a first face, always by the fold that promises most, until no face can be let in; what is left
 * starts the next net. Faces that were left out weigh more in the following attempts, so they are
 * let in early, while there is room. The attempt with the fewest nets counts; of equals, the one
 * that costs least: by a judge that the caller may give (net.h counts the edges without a tab),
 * then by the paper it takes. A net for each closed surface is the best there can be; after the
 * first few attempts the search ends with it, and otherwise when its effort, counted in tests of
 * two tiles, is spent. Chance comes from a fixed seed: the same piece gives the same nets.
 *
 * Thread: any. Ownership: the caller frees the nets and keeps the faces while they are in use. */
#ifndef NW_MAKE_CARD_UNFOLD_H
#define NW_MAKE_CARD_UNFOLD_H

#include "make/inset.h"
#include "make/progress.h"

#define NW_NO_EDGE ((size_t)-1)

typedef struct NwNets {
    size_t count; /* of nets */
    /* For each face: */
    size_t *net;
    size_t *parent;  /* the face it hangs on */
    size_t *hinge;   /* by this edge; NW_NO_EDGE for the first face of a net */
    NwPose *pose;    /* from its own frame to that of the net, exactly */
    NwPoint *drift;  /* and how far the thickness moves it from there, in millimetres */
    size_t *order;   /* the faces in the order in which they were let in */
    NwInset *insets; /* in their own frames */
} NwNets;

typedef struct NwUnfoldOptions {
    double cell_mm;
    double inset_mm;             /* 0: faces at full size */
    double room_x_mm, room_y_mm; /* the page's, for the net; 0: no end to it */
    unsigned long long effort;   /* 0: a sensible one */
    /* What an attempt costs beside its paper; NULL: nothing. */
    double (*cost)(const NwPieceFaces *faces, const NwNets *nets, const void *data);
    const void *cost_data;
    NwProgress *progress; /* told how much of the effort is spent; or NULL */
} NwUnfoldOptions;

/* NULL if a face is too small for the inset or too large for the page: *culprit names it, and
 * *too_large tells which; or if it was stopped. */
NwNets *nw_unfold(const NwPieceFaces *faces, const NwUnfoldOptions *options, size_t *culprit,
                  bool *too_large);
void nw_nets_free(NwNets *nets, const NwPieceFaces *faces); /* NULL is allowed */

/* A point of a face's own frame, in the frame of its net. */
NwPoint nw_nets_point(const NwNets *nets, size_t face, double cell_mm, NwPoint own);

#endif
