/* The sentences for faults of a design. */
#include <stdarg.h>
#include <stdio.h>

#include "base/memory.h"
#include "design/faults.h"

enum { VOLUME_SIZE = 32 };

__attribute__((format(printf, 1, 2))) static char *dup_text(const char *format, ...) {
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, arguments);
    size_t bytes = length < 0 ? 1 : (size_t)length + 1;
    char *text = nw_alloc(bytes, 1);
    vsnprintf(text, bytes, format, again);
    va_end(again);
    va_end(arguments);
    return text;
}

static const char *plural(long count) {
    return count == 1 ? "" : "s";
}

/* A volume in cells with a fraction in lowest terms: "2 1/3 cells". */
static const char *write_volume(long sixths, char text[VOLUME_SIZE]) {
    static const char *const fractions[6] = {"", "1/6", "1/3", "1/2", "2/3", "5/6"};
    long whole = sixths / 6, rest = sixths % 6;
    if (!rest)
        snprintf(text, VOLUME_SIZE, "%ld cell%s", whole, plural(whole));
    else if (!whole)
        snprintf(text, VOLUME_SIZE, "%s of a cell", fractions[rest]);
    else
        snprintf(text, VOLUME_SIZE, "%ld %s cells", whole, fractions[rest]);
    return text;
}

static const char *name_of(const NwDesign *design, int piece) {
    return design->pieces[piece].name;
}

static char *text_of_overlap(const NwDesign *design, const NwFault *fault) {
    return dup_text("intended[%d] (piece “%s”) and intended[%d] (piece “%s”) share %ld part%s, "
                    "the first in cell [%d, %d, %d]; move one of the two",
                    fault->entry, name_of(design, fault->piece), fault->other_entry,
                    name_of(design, fault->other_piece), fault->found, plural(fault->found),
                    fault->cell.x, fault->cell.y, fault->cell.z);
}

static char *text_of_volume(const NwDesign *design, const NwFault *fault) {
    char found[VOLUME_SIZE], wanted[VOLUME_SIZE];
    write_volume(fault->found, found);
    write_volume(fault->wanted, wanted);
    if (!design->piece_count)
        return dup_text("there are no pieces yet; draw some");
    if (fault->kind == NW_FAULT_TOO_LITTLE)
        return dup_text("the pieces have a volume of %s together and at least %s must be filled; "
                        "add parts to pieces, or let more of the envelope be empty",
                        found, wanted);
    return dup_text(
        "the pieces (%s) are larger than the envelope (%s); remove parts or enlarge the envelope",
        found, wanted);
}

char *nw_fault_text(const NwDesign *design, const NwFault *fault) {
    const char *name = fault->piece >= 0 ? name_of(design, fault->piece) : "";
    NwVec cell = fault->cell, size = fault->size, room = fault->room;
    switch (fault->kind) {
    case NW_FAULT_EMPTY_ENVELOPE:
        return dup_text("the envelope has no parts; add the cells that the pieces are to fill");
    case NW_FAULT_STRAY_EMPTY:
        return dup_text("%ld part%s that may be empty %s not in the envelope, the first in cell "
                        "[%d, %d, %d]; mark only parts of the envelope so",
                        fault->found, plural(fault->found), fault->found == 1 ? "is" : "are",
                        cell.x, cell.y, cell.z);
    case NW_FAULT_EMPTY_PIECE:
        return dup_text("piece “%s” has no parts; draw it or take it out", name);
    case NW_FAULT_LUMPS:
        return dup_text(
            "piece “%s” is in %ld separate bits; join them, or make each a piece of its own", name,
            fault->found);
    case NW_FAULT_TOO_WIDE:
        return dup_text("piece “%s” (%d × %d × %d cells) cannot fit into the envelope (%d × %d × "
                        "%d); shorten it or enlarge the envelope",
                        name, size.x, size.y, size.z, room.x, room.y, room.z);
    case NW_FAULT_TOO_LITTLE:
    case NW_FAULT_TOO_MUCH:
        return text_of_volume(design, fault);
    case NW_FAULT_COPIES:
        return dup_text("piece “%s” has %ld cop%s and %ld place%s in the intended assembly; give "
                        "each copy one place",
                        name, fault->wanted, fault->wanted == 1 ? "y" : "ies", fault->found,
                        plural(fault->found));
    case NW_FAULT_ODD_SHIFT:
        return dup_text("intended[%d]: piece “%s” has cut cells and needs a shift with an even sum",
                        fault->entry, name);
    case NW_FAULT_OUTSIDE:
        return dup_text("intended[%d] puts %ld part%s of piece “%s” outside the envelope, the "
                        "first in cell [%d, %d, %d]; change its turn or shift",
                        fault->entry, fault->found, plural(fault->found), name, cell.x, cell.y,
                        cell.z);
    case NW_FAULT_OVERLAP:
        return text_of_overlap(design, fault);
    case NW_FAULT_GAP:
        return dup_text("the intended assembly leaves %ld part%s empty that must be filled, the "
                        "first in cell [%d, %d, %d]; fill %s, or allow %s to be empty",
                        fault->found, plural(fault->found), cell.x, cell.y, cell.z,
                        fault->found == 1 ? "it" : "them", fault->found == 1 ? "it" : "them");
    case NW_FAULT_KIND_COUNT:
        break;
    }
    return dup_text("this design has a fault of an unknown kind");
}
