/* A change: one part comes to a piece, leaves it, or goes from one piece to another.
 *
 *     give    from nobody to a piece: the part was empty in the intended assembly
 *     hand    from one piece to another
 *     take    from a piece to nobody: only where the part may be empty
 *
 * A change is told where it is seen, `part` in the intended assembly, and kept as what it does to
 * the pieces: `from` loses `lost`, `to` wins `won`, each in the frame of its piece as the baseline
 * (baseline.h) has it. A piece with several copies changes in all of them; whether the intended
 * assembly still fits then is for a recount to say. Thread: any; nothing to own. */
#ifndef NW_COOK_CHANGE_H
#define NW_COOK_CHANGE_H

#include "design/design.h"

enum { NW_CHANGES_MAX = 2 };

typedef enum NwChangeKind { NW_CHANGE_GIVE, NW_CHANGE_TAKE, NW_CHANGE_HAND } NwChangeKind;

typedef struct NwChange {
    NwPart part;      /* in the frame of the envelope */
    int from, to;     /* pieces; -1 for nobody */
    NwPart lost, won; /* in the frames of the pieces */
} NwChange;

static inline NwChangeKind nw_change_kind(const NwChange *change) {
    return change->from < 0 ? NW_CHANGE_GIVE : change->to < 0 ? NW_CHANGE_TAKE : NW_CHANGE_HAND;
}

bool nw_part_equal(NwPart a, NwPart b);

/* A part carried by a motion with an even shift. */
NwPart nw_part_moved(NwPart part, NwMotion motion);

bool nw_change_equal(const NwChange *a, const NwChange *b);

/* Whether the two do anything that one change, or none, would not do too: one moves what the other
 * has just moved. */
bool nw_changes_collapse(const NwChange *a, const NwChange *b);

/* Two hand-overs between the same two pieces, to and fro, of parts of equal volume. */
bool nw_changes_swap(const NwChange *a, const NwChange *b);

/* Carries out `count` changes on a design whose pieces have the frames of the baseline. False if a
 * part to be lost is not there or one to be won is; the design may then be half changed. */
bool nw_changes_apply(NwDesign *design, const NwChange *changes, int count);

#endif
