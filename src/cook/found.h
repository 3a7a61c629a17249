/* Assemblies that a search has found, and how they are written down.
 *
 * Written are the placements and what was found out; the key follows from them. What is read back
 * is checked: the slides name its bodies, and where a fit is at hand the placements are an assembly
 * of it, which the slides take apart in a replay (slide/replay.h). Thread: none of its own. */
#ifndef NW_COOK_FOUND_H
#define NW_COOK_FOUND_H

#include "base/bytes.h"
#include "fit/fit.h"
#include "slide/separation.h"

/* One assembly. `opens`: NW_OK it comes apart, NW_NONE it is proved that it does not, NW_LIMIT
 * undecided. Bodies of the slides are numbered as the placements are. */
typedef struct NwFound {
    uint64_t key;
    NwPlacement *placements; /* as many as the fit has */
    NwStatus opens;
    int level, total;
    NwSlide *slides; /* those of the way out, NULL unless it opens */
} NwFound;

typedef struct NwFounds {
    NwFound *list;
    size_t count, capacity;
} NwFounds;

void nw_founds_clear(NwFounds *founds);

/* A copy of `count` placements at the end of the list; the rest of it is to be filled in. Borrowed
 * until the next one is added. */
NwFound *nw_founds_add(NwFounds *founds, const NwPlacement *placements, size_t count);

/* A copy without the ways out; `bodies` is the number of placements of each. */
NwFounds nw_founds_copy(const NwFounds *founds, size_t bodies);

void nw_slides_write(NwWriter *writer, const NwSlide *slides, int count);

/* The slides of that many bodies; the caller frees them. */
NwSlide *nw_slides_read(NwReader *reader, int bodies, int *count);

/* Whether the slides take these placements of the design's pieces apart: replayed, not searched. */
bool nw_slides_open(const NwDesign *design, const NwPlacement *placements, int bodies,
                    const NwSlide *slides, int count);

/* OK, NONE or LIMIT. */
void nw_opens_write(NwWriter *writer, NwStatus opens);
NwStatus nw_opens_read(NwReader *reader);

void nw_found_write(NwWriter *writer, const NwFound *found, int bodies);

/* As it was written, but for its key. Leaves nothing to free if the reader is bad afterwards. */
void nw_found_read(NwReader *reader, int bodies, int pieces, NwFound *found);

/* The same, and it must be an assembly of that fit, which gives the key; a way out must hold. */
void nw_found_read_of(NwReader *reader, const NwFit *fit, NwFound *found);

#endif
