/* What is wrong with a design, beyond what its types rule out.
 *
 * A design may be half done, and then most of this is no news to its designer; a file that is
 * handed to the solver should have none of it. The list is complete in this sense: a design
 * without faults has connected pieces that each go into the envelope's box, a volume that can
 * match, and, if an assembly is intended, one that fits part by part. It may still have no way in.
 *
 * Coordinates: cells of the envelope, but for a piece's own size. Volumes: sixths of a cell.
 * Thread: any. Cost: linear in all cells together, for each placement; lumps as nw_solid_lumps. */
#ifndef NW_DESIGN_FAULTS_H
#define NW_DESIGN_FAULTS_H

#include "design/design.h"

typedef enum NwFaultKind {
    NW_FAULT_EMPTY_ENVELOPE, /* no parts */
    NW_FAULT_STRAY_EMPTY,    /* found parts that may be empty are not in the envelope; cell */
    NW_FAULT_EMPTY_PIECE,    /* piece has no parts */
    NW_FAULT_LUMPS,          /* piece is not face-connected: found lumps */
    NW_FAULT_TOO_WIDE,       /* piece of size `size` goes into no box of size `room` */
    NW_FAULT_TOO_LITTLE, /* all pieces have volume found, under the wanted that must be filled */
    NW_FAULT_TOO_MUCH,   /* all pieces have volume found, over the wanted of the envelope */
    NW_FAULT_COPIES,     /* piece is intended found times and has wanted copies */
    NW_FAULT_ODD_SHIFT,  /* entry shifts piece, which has a cut cell, by an odd vector */
    NW_FAULT_OUTSIDE,    /* entry puts found parts of piece outside the envelope; cell */
    NW_FAULT_OVERLAP,    /* entry and other_entry share found parts; cell */
    NW_FAULT_GAP,        /* the intended assembly leaves found parts empty; cell */
    NW_FAULT_KIND_COUNT
} NwFaultKind;

/* Only what the kind names is set; the rest is -1 or 0. */
typedef struct NwFault {
    NwFaultKind kind;
    int piece, other_piece; /* indices of pieces */
    int entry, other_entry; /* indices in `intended` */
    long found, wanted;
    NwVec cell; /* the first cell concerned */
    NwVec size, room;
} NwFault;

/* All faults, by kind as above and then by index: the caller frees *faults with free(). Returns
 * their number. Every placement's piece must be an index of a piece. */
size_t nw_design_faults(const NwDesign *design, NwFault **faults);

/* Whether it only says that nothing can fit, by size or volume: such a design can be searched, and
 * the search proves that it has no assembly. */
static inline bool nw_fault_is_about_size(const NwFault *fault) {
    return fault->kind == NW_FAULT_TOO_LITTLE || fault->kind == NW_FAULT_TOO_MUCH ||
           fault->kind == NW_FAULT_TOO_WIDE;
}

/* One sentence without a final full stop: what is wrong, where, and what to do. The caller frees it
 * with free(). The fault must be one of this design as it is now. */
char *nw_fault_text(const NwDesign *design, const NwFault *fault);

#endif
