#include "assembly/found_assembly.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

const char *nw_verdict_name(NwVerdict verdict) {
    static const char *const names[NW_VERDICT_COUNT] = {
        [NW_UNEXAMINED] = "unexamined",
        [NW_OPENS] = "opens",
        [NW_UNREACHABLE] = "unreachable",
        [NW_UNDECIDED] = "undecided",
    };
    return (unsigned)verdict < NW_VERDICT_COUNT ? names[verdict] : "unknown";
}

NwFoundAssembly *nw_found_assembly_new(const NwAssembly *assembly) {
    NwFoundAssembly *finding = nw_alloc(1, sizeof *finding);
    size_t count = (size_t)assembly->count;
    finding->key = assembly->key;
    finding->placement_count = assembly->count;
    finding->placements = nw_alloc(count, sizeof *finding->placements);
    memcpy(finding->placements, assembly->placements, count * sizeof *finding->placements);
    return finding;
}

void nw_found_assembly_free(NwFoundAssembly *finding) {
    if (!finding)
        return;
    free(finding->placements);
    free(finding->slides);
    free(finding);
}

void nw_found_assembly_set_way(NwFoundAssembly *finding, NwVerdict verdict, const NwWayOut *way) {
    finding->verdict = verdict;
    finding->states = way->states;
    finding->stuck = way->stuck;
    finding->level = verdict == NW_OPENS ? way->level : 0;
    finding->total = verdict == NW_OPENS ? way->total : 0;
    finding->slide_count = way->total;
    finding->slides = nw_resize(finding->slides, (size_t)way->total, sizeof *finding->slides);
    if (way->total)
        memcpy(finding->slides, way->slides, (size_t)way->total * sizeof *finding->slides);
}

int nw_found_assembly_copy_of(const NwFoundAssembly *finding, int body) {
    int copy = 0;
    for (int b = body - 1;
         b >= 0 && finding->placements[b].piece == finding->placements[body].piece; b--)
        copy++;
    return copy;
}

void nw_found_assembly_bodies(const NwDesign *design, const NwPlacement *placements, int count,
                              NwBody *bodies) {
    for (int b = 0; b < count; b++)
        bodies[b] = (NwBody){placements[b].piece, design->pieces[placements[b].piece].solid,
                             placements[b].motion};
}
