/* The baseline: what is known of the design before anything is changed.
 *
 * It keeps the design *settled* (design/frame.h): every piece drawn where the intended assembly has
 * it, so that a change of one part is a change of one part of a piece. All assemblies are known,
 * each with its key in the design as the caller gave it and with its places in the settled one.
 *
 * Two facts are prepared for the cheap filters. The symmetries of each piece: a piece that is its
 * own image stands in one place in several ways, and after a change these are different places.
 * And the *turns*: the motions by which two assemblies of a changed design are certainly the same.
 * They permute the parts of the envelope. A change of parts leaves the envelope and what may be
 * empty as they are, so these stay what they were, but for two things:
 *   - a design of whole cells that gets a cut cell loses its odd motions, so that one assembly and
 *     its odd image, the same before, may come to differ: both are then looked at;
 *   - where mirror images count as one (`mirrors`), a change may make a piece differ from its
 *     mirror image, or cease to. Nothing is inferred then; the full search decides.
 *
 * Ownership: it owns all that it points to. Thread: each belongs to one. */
#ifndef NW_COOK_BASELINE_H
#define NW_COOK_BASELINE_H

#include "cook/enumeration.h"
#include "cook/weak_spots.h"

/* One assembly of the unchanged design, its placements in the settled frames. */
typedef struct NwKnown {
    uint64_t key; /* as in a search of the design as it was given */
    NwStatus opens;
    int level, total;
    bool intended;
    int *places; /* of `fit`, the canonical set */
    int *stand;  /* of `fit`, body for body where the placements are */
    NwPlacement *placements;
    NwSlide *slides; /* `total` of them, or NULL if no way out is known */
} NwKnown;

typedef struct NwShapes NwShapes;

typedef struct NwBaseline {
    NwDesign *design;               /* settled, its intended placements sorted by piece */
    NwFit *fit;                     /* of it */
    NwFit *given;                   /* of the design as it was given */
    NwMotion redraw[NW_PIECES_MAX]; /* carries a piece as given to the piece as settled */
    int bodies;
    NwKnown *known; /* by `places`, once the enumeration is complete */
    size_t known_count;
    size_t intended; /* which of them */
    size_t cooks;    /* how many open and are not intended */
    size_t doubtful; /* how many are undecided */
    bool complete;
    bool whole;   /* the design is of whole cells */
    bool mirrors; /* mirror images count as one, and the envelope has some */
    NwMotion *symmetries[NW_PIECES_MAX];
    int symmetry_count[NW_PIECES_MAX];
    int turn_count;
    int *turns;    /* turn_count * parts: where each part goes */
    int odd_image; /* a motion of fit->group with an odd shift, or 0 */
    NwTakeApart *slides;
    bool diagonals;
    uint32_t max_states;
    NwShapes *shapes; /* numbers for shapes (shape.h) */
    int kinds[NW_PIECES_MAX];
    NwWeakSpots looks[NW_PIECES_MAX];
    NwEnumeration *enumeration; /* until it is complete */
} NwBaseline;

typedef struct NwBaselineOptions {
    bool diagonals;
    uint32_t max_states; /* for each group of each assembly; 0: NW_STATES_DEFAULT */
} NwBaselineOptions;

/* All at once; cook/baseline_setup.h does it step by step. NW_NONE: no assembly is intended;
 * NW_DOES_NOT_FIT: that one does not fit; NW_TOO_MANY: more bodies than slides are searched for; or
 * what nw_fit_new says. *baseline is then NULL. */
NwStatus nw_baseline_new(const NwDesign *design, NwBaselineOptions options, NwBaseline **baseline);
void nw_baseline_free(NwBaseline *baseline); /* NULL is allowed */

/* Searches the unchanged design. NW_NONE: all is known; NW_STOPPED: *effort is used up. */
NwStatus nw_baseline_step(NwBaseline *baseline, long *effort);

/* Takes what an earlier, complete search of the same design has found in place of searching: keys,
 * placements, verdicts, levels and totals, and the slides where there are any. NW_DOES_NOT_FIT if
 * they are no assemblies of it or the intended one is not among them: then search. */
NwStatus nw_baseline_learn(NwBaseline *baseline, const NwFound *founds, size_t count);

/* As if it were new: nothing is known, and the search is at its beginning. */
void nw_baseline_forget(NwBaseline *baseline);

/* What is known, or where its search stands. What is read must have been written for a baseline of
 * the same digest; if it is not well, the reader is bad and the baseline has forgotten all. */
void nw_baseline_write(const NwBaseline *baseline, NwWriter *writer);
void nw_baseline_read(NwBaseline *baseline, NwReader *reader);

/* A number for the design and the options: equal for equal ones, whatever the names. */
uint64_t nw_baseline_digest(const NwBaseline *baseline);

/* The known assembly with this canonical set of places of `fit`, or -1. */
long nw_baseline_find(const NwBaseline *baseline, const int *places);

/* The known assembly with this key, or -1. */
long nw_baseline_find_key(const NwBaseline *baseline, uint64_t key);

static inline bool nw_baseline_is_cook(const NwBaseline *baseline, size_t known) {
    return baseline->known[known].opens == NW_OK && !baseline->known[known].intended;
}

#endif
