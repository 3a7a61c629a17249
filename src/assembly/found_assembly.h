/* A finding: one assembly and what the slide search says of it.
 *
 * Bodies are numbered as the placements are: body b of a slide is placements[b]. Ownership: a
 * finding owns its arrays; `free` takes NULL too. Thread: one writer or many readers. */
#ifndef NW_ASSEMBLY_FOUND_ASSEMBLY_H
#define NW_ASSEMBLY_FOUND_ASSEMBLY_H

#include "fit/fit.h"
#include "slide/way_out.h"

typedef enum NwVerdict {
    NW_UNEXAMINED,  /* only its fit is known */
    NW_OPENS,       /* slides take it apart */
    NW_UNREACHABLE, /* proved: no list of slides does */
    NW_UNDECIDED,   /* the slide search reached its limit of states */
    NW_VERDICT_COUNT
} NwVerdict;

typedef struct NwFoundAssembly {
    uint64_t key;
    NwVerdict verdict;
    bool intended; /* it is the design's intended assembly */
    bool drawn;    /* none is intended, and it is the pieces as they are drawn */
    int level;     /* slides until the first set is free; 0 unless it opens */
    int total;     /* slides in all; 0 unless it opens */
    int at_least;  /* proved: no way out has fewer slides than that; 0 if that was not looked for */
    int placement_count;
    NwPlacement *placements;
    int slide_count;
    NwSlide *slides; /* unless it opens: as far as it goes */
    uint32_t stuck;  /* bodies of the group that stays together; 0 if it opens */
    unsigned long long states;
} NwFoundAssembly;

/* "opens", "unreachable", "undecided", "unexamined": the words of the interchange. */
const char *nw_verdict_name(NwVerdict verdict);

NwFoundAssembly *nw_found_assembly_new(const NwAssembly *assembly);
void nw_found_assembly_free(NwFoundAssembly *finding);

/* Takes over a verdict and the slides that led to it. */
void nw_found_assembly_set_way(NwFoundAssembly *finding, NwVerdict verdict, const NwWayOut *way);

/* The copy number, from 0, of a body among the copies of its piece. */
int nw_found_assembly_copy_of(const NwFoundAssembly *finding, int body);

/* The bodies of a finding for a slide search; writes placement_count entries of borrowed solids.
 * The caller sees to it that there is room. */
void nw_found_assembly_bodies(const NwDesign *design, const NwPlacement *placements, int count,
                              NwBody *bodies);

#endif
