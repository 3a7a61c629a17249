#include "job/search_seed.h"

#include <string.h>

#include "design/bodies.h"
#include "job/first_look.h"

static NwVerdict verdict_of(NwStatus opens) {
    return opens == NW_OK ? NW_OPENS : opens == NW_NONE ? NW_UNREACHABLE : NW_UNDECIDED;
}

static int compare_keys(gconstpointer a, gconstpointer b) {
    const NwFoundAssembly *p = *(NwFoundAssembly *const *)a, *q = *(NwFoundAssembly *const *)b;
    return (p->key > q->key) - (p->key < q->key);
}

/* The founds as findings, by key; NULL if one is no assembly. */
static GPtrArray *list(const NwSearch *search, const NwFounds *founds) {
    const NwFit *fit = search->fit;
    GPtrArray *findings = nw_findings_new();
    NwAssembly assembly;
    for (size_t i = 0; i < founds->count; i++) {
        const NwFound *found = &founds->list[i];
        if (nw_fit_canonical(fit, found->placements, (size_t)fit->count, &assembly) != NW_OK) {
            g_ptr_array_unref(findings);
            return NULL;
        }
        NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
        finding->verdict = verdict_of(found->opens);
        finding->intended = nw_search_is_intended(search, assembly.key);
        finding->drawn = nw_search_is_drawn(search, assembly.key);
        finding->level = found->opens == NW_OK ? found->level : 0;
        finding->total = found->opens == NW_OK ? found->total : 0;
        g_ptr_array_add(findings, finding);
    }
    g_ptr_array_sort(findings, compare_keys);
    return findings;
}

/* Each once, and the intended one among them if there is one. */
static bool is_list(const NwSearch *search, const GPtrArray *findings) {
    bool intended = !search->has_intended;
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *finding = findings->pdata[i];
        intended = intended || finding->intended;
        if (i && ((NwFoundAssembly *)findings->pdata[i - 1])->key == finding->key)
            return false;
    }
    return intended;
}

void nw_search_count(const NwSearch *search, const NwFoundAssembly *finding,
                     NwSearchProgress *progress) {
    bool opens = finding->verdict == NW_OPENS;
    progress->found++;
    progress->verdicts[finding->verdict]++;
    progress->cooks += opens && search->has_intended && !finding->intended;
    progress->intended_opens = progress->intended_opens || (opens && finding->intended);
}

/* The search as it stands when all of the tree is through and nothing is examined. */
static void put_on_board(NwSearch *search, const GPtrArray *findings) {
    nw_search_close_posts(search);
    nw_first_look_drop(search);
    search->progress.found = findings->len;
    for (guint i = 0; i < findings->len; i++) {
        const NwFoundAssembly *told = findings->pdata[i];
        NwAssembly assembly = {.key = told->key, .count = told->placement_count};
        memcpy(assembly.placements, told->placements,
               (size_t)told->placement_count * sizeof *told->placements);
        NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
        finding->intended = told->intended;
        finding->drawn = told->drawn;
        g_queue_push_tail(&search->waiting, finding);
    }
}

GPtrArray *nw_search_adopt(NwSearch *search, const NwFounds *founds, NwSearchProgress *progress) {
    GPtrArray *findings = list(search, founds);
    if (findings && !is_list(search, findings))
        g_clear_pointer(&findings, g_ptr_array_unref);
    if (!findings)
        return NULL;
    *progress = (NwSearchProgress){.state = NW_SEARCH_COMPLETE, .share = 1, .seconds_left = -1};
    for (guint i = 0; i < findings->len; i++)
        nw_search_count(search, findings->pdata[i], progress);
    pthread_mutex_lock(&search->lock);
    put_on_board(search, findings);
    pthread_mutex_unlock(&search->lock);
    return findings;
}

void nw_search_recall(NwSearch *search, const NwSearchProgress *counts, double seconds) {
    pthread_mutex_lock(&search->lock);
    nw_search_close_posts(search);
    nw_first_look_drop(search);
    search->progress = *counts;
    search->seconds_before = seconds;
    search->state = NW_SEARCH_COMPLETE;
    pthread_mutex_unlock(&search->lock);
}

void nw_placements_redraw(NwPlacement *placements, size_t count, const NwDesign *redrawn) {
    for (size_t b = 0; b < count; b++) {
        NwMotion back = nw_motion_inverse(nw_design_motion(redrawn, placements[b].piece));
        placements[b].motion = nw_motion_then(back, placements[b].motion);
    }
}

void nw_founds_redraw(NwFounds *founds, const NwDesign *redrawn) {
    size_t bodies = (size_t)nw_design_copies(redrawn);
    for (size_t i = 0; i < founds->count; i++)
        nw_placements_redraw(founds->list[i].placements, bodies, redrawn);
}
