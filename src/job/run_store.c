#include "job/run_store.h"

#include <string.h>

#include "base/memory.h"
#include "design/frame.h"
#include "job/search_seed.h"
#include "slide/fewest.h"
#include "store/designs.h"

#define WAY_TYPE "(ua(uii))"

enum { PAGE = 1000 };

struct NwRunStore {
    NwLibrary *library;
    gint64 version;
    char *options;
    NwRun *run;
    NwDesign *redrawn; /* the version as drawn, if it is settled now and was not when it was kept */
    guint64 after;     /* the key of the last assembly that was read, if any was */
    gboolean reading, read_all;
    gboolean was_older;      /* the position was saved by an earlier version of this program */
    NwSearchProgress counts; /* of what was read */
    GArray *known;           /* guint64: keys of what was read; rising once all were */
    GHashTable *seen;        /* the same of a version that is redrawn */
    GPtrArray *unsaved;      /* NwStoredAssembly: of saves that have failed so far */
};

/* The options that bear on the result. Limits of number and time do not: they only stop a run. */
static char *options_text(const NwSearchOptions *options) {
    guint32 states = options->max_states ? options->max_states : NW_STATES_DEFAULT;
    if (options->fit_only)
        return g_strdup("fit-only");
    int directions = options->diagonals ? NW_DIRECTIONS : NW_CUBE_DIRECTIONS;
    guint64 tries = options->max_tries ? options->max_tries : NW_FEWEST_TRIES_DEFAULT;
    if (options->fewest)
        return g_strdup_printf("directions=%d states=%u fewest=%" G_GUINT64_FORMAT, directions,
                               states, tries);
    return g_strdup_printf("directions=%d states=%u", directions, states);
}

static gboolean find_or_begin(NwRunStore *record, GError **error) {
    GError *failure = NULL;
    record->run = nw_library_find_run(record->library, record->version, record->options, &failure);
    if (record->run || failure || nw_library_is_read_only(record->library)) {
        if (failure)
            g_propagate_error(error, failure);
        return record->run != NULL;
    }
    gint64 id;
    if (!nw_library_begin_run(record->library, record->version, record->options, &id, error))
        return FALSE;
    record->run = nw_library_find_run(record->library, record->version, record->options, error);
    return record->run != NULL;
}

/* An older store may have the version, and what was found of it, in the frames of its file. */
static gboolean look_at_frames(NwRunStore *record, GError **error) {
    NwDesign *drawn = nw_library_load_as_drawn(record->library, record->version, error);
    if (!drawn)
        return FALSE;
    NwDesign *settled = nw_design_copy(drawn);
    if (!nw_design_is_settled(drawn) && nw_design_settle(settled) == NW_OK)
        record->redrawn = g_steal_pointer(&drawn);
    nw_design_free(settled);
    nw_design_free(drawn);
    return TRUE;
}

static NwRunStore *record_new(NwLibrary *library, gint64 version, const NwSearchOptions *options) {
    NwRunStore *record = nw_alloc(1, sizeof *record);
    record->library = library;
    record->version = version;
    record->options = options_text(options);
    record->known = g_array_new(FALSE, FALSE, sizeof(guint64));
    record->seen = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    record->unsaved = g_ptr_array_new_with_free_func((GDestroyNotify)nw_stored_assembly_free);
    return record;
}

NwRunStore *nw_run_store_open(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                              GError **error) {
    NwRunStore *record = record_new(library, version, options);
    if (find_or_begin(record, error) && look_at_frames(record, error))
        return record;
    nw_run_store_free(record);
    return NULL;
}

NwRunStore *nw_run_store_find(NwLibrary *library, gint64 version, const NwSearchOptions *options,
                              GError **error) {
    NwRunStore *record = record_new(library, version, options);
    record->run = nw_library_find_run(library, version, record->options, error);
    if (record->run && look_at_frames(record, error))
        return record;
    nw_run_store_free(record);
    return NULL;
}

void nw_run_store_free(NwRunStore *record) {
    if (!record)
        return;
    if (record->run)
        nw_run_free(record->run);
    g_free(record->options);
    nw_design_free(record->redrawn);
    g_array_unref(record->known);
    g_hash_table_unref(record->seen);
    g_ptr_array_unref(record->unsaved);
    free(record);
}

gboolean nw_run_store_restart(NwRunStore *record, GError **error) {
    gint64 id = record->run->id;
    nw_run_free(record->run);
    record->run = NULL;
    return nw_library_remove_run(record->library, id, error) && find_or_begin(record, error);
}

const NwRun *nw_run_store_run(const NwRunStore *record) {
    return record->run;
}

NwSearch *nw_run_store_begin_search(const NwRunStore *record, const NwDesign *design,
                                    const NwSearchOptions *options, GError **error) {
    GBytes *resume = record->run->state == NW_RUN_COMPLETE ? NULL : record->run->resume;
    return nw_search_begin(design, options, resume, error);
}

NwStatus nw_run_store_set_up(NwRunStore *record, NwSearch *search, GError **error) {
    GError *failure = NULL;
    NwStatus status = nw_search_set_up(search, &failure);
    if (status == NW_BAD_RESUME) {
        record->was_older = g_error_matches(failure, NW_SEARCH_ERROR, NW_SEARCH_ERROR_OLDER);
        g_clear_error(&failure);
        return NW_OK;
    }
    if (failure)
        g_propagate_error(error, failure);
    return status;
}

NwSearch *nw_run_store_new_search(NwRunStore *record, const NwDesign *design,
                                  const NwSearchOptions *options, GError **error) {
    NwSearch *search = nw_run_store_begin_search(record, design, options, error);
    NwStatus status = NW_STOPPED;
    while (search && status == NW_STOPPED)
        status = nw_run_store_set_up(record, search, error);
    if (search && status == NW_OK)
        return search;
    nw_search_free(search);
    return NULL;
}

gboolean nw_run_store_was_older(const NwRunStore *record) {
    return record->was_older;
}

/* ---- findings to and from the store ------------------------------------------------------ */

static const struct {
    NwVerdict verdict;
    NwStoredStatus status;
} pairs[] = {{NW_OPENS, NW_STORED_OPENS},
             {NW_UNREACHABLE, NW_STORED_UNREACHABLE},
             {NW_UNDECIDED, NW_STORED_UNDECIDED},
             {NW_UNEXAMINED, NW_STORED_UNEXAMINED}};

static NwStoredStatus status_of(NwVerdict verdict) {
    for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++)
        if (pairs[i].verdict == verdict)
            return pairs[i].status;
    return NW_STORED_UNEXAMINED;
}

static NwVerdict verdict_of(NwStoredStatus status) {
    for (gsize i = 0; i < G_N_ELEMENTS(pairs); i++)
        if (pairs[i].status == status)
            return pairs[i].verdict;
    return NW_UNEXAMINED;
}

static NwStoredAssembly *to_stored(const NwFoundAssembly *finding) {
    NwStoredAssembly *stored =
        nw_stored_assembly_new(finding->key, finding->placements, (gsize)finding->placement_count);
    stored->status = status_of(finding->verdict);
    stored->level = finding->level;
    stored->total = finding->total;
    stored->at_least = finding->at_least;
    stored->states = (gint64)finding->states;
    stored->verified = finding->verdict != NW_UNEXAMINED;
    GVariantBuilder slides;
    g_variant_builder_init(&slides, G_VARIANT_TYPE("a(uii)"));
    for (int i = 0; i < finding->slide_count; i++)
        g_variant_builder_add(&slides, "(uii)", finding->slides[i].bodies,
                              finding->slides[i].direction, finding->slides[i].cells);
    GVariant *way = g_variant_ref_sink(g_variant_new(WAY_TYPE, finding->stuck, &slides));
    stored->way_out = g_variant_get_data_as_bytes(way);
    g_variant_unref(way);
    return stored;
}

/* Whether a stored assembly is one of this design, as far as numbers go: a store may have been
 * tampered with, and nothing read from it may index out of bounds. */
static gboolean belongs(const NwStoredAssembly *stored, const NwFit *fit) {
    if (stored->placement_count != (gsize)fit->count)
        return FALSE;
    for (gsize i = 0; i < stored->placement_count; i++) {
        const NwPlacement *placement = &stored->placements[i];
        if (placement->piece < 0 || (size_t)placement->piece >= fit->design->piece_count ||
            nw_placement_table_of_motion(fit->places, fit->design, *placement) < 0)
            return FALSE;
    }
    return TRUE;
}

static gboolean is_slide(const NwFoundAssembly *finding, const NwSlide *slide) {
    guint64 bodies = (G_GUINT64_CONSTANT(1) << MIN(finding->placement_count, NW_BODIES_MAX)) - 1;
    return slide->bodies && !(slide->bodies & ~bodies) && slide->direction >= 0 &&
           slide->direction < NW_DIRECTIONS && slide->cells >= 0;
}

static void read_way(NwFoundAssembly *finding, GBytes *bytes) {
    GVariant *way =
        g_variant_ref_sink(g_variant_new_from_bytes(G_VARIANT_TYPE(WAY_TYPE), bytes, FALSE));
    GVariantIter *slides;
    g_variant_get(way, WAY_TYPE, &finding->stuck, &slides);
    gsize count = g_variant_iter_n_children(slides);
    finding->slides = nw_alloc(count, sizeof *finding->slides);
    NwSlide slide;
    while (g_variant_iter_next(slides, "(uii)", &slide.bodies, &slide.direction, &slide.cells))
        if (is_slide(finding, &slide))
            finding->slides[finding->slide_count++] = slide;
    g_variant_iter_free(slides);
    g_variant_unref(way);
}

/* Whether it is an assembly of this design; its placements and key are brought into the frames of
 * the design as it is settled, if they are not. */
static gboolean settle(const NwRunStore *record, NwStoredAssembly *stored, const NwFit *fit) {
    if (!record->redrawn)
        return belongs(stored, fit);
    NwAssembly assembly;
    gsize count = stored->placement_count;
    if (nw_fit_canonical(fit, stored->placements, count, &assembly) == NW_OK &&
        assembly.key == stored->key)
        return TRUE;
    for (gsize i = 0; i < count; i++)
        if (stored->placements[i].piece < 0 ||
            (size_t)stored->placements[i].piece >= record->redrawn->piece_count)
            return FALSE;
    nw_placements_redraw(stored->placements, count, record->redrawn);
    if (nw_fit_canonical(fit, stored->placements, count, &assembly) != NW_OK)
        return FALSE;
    stored->key = assembly.key;
    return TRUE;
}

static NwFoundAssembly *from_stored(const NwStoredAssembly *stored, const NwSearch *search) {
    NwAssembly assembly = {.key = stored->key, .count = (int)stored->placement_count};
    memcpy(assembly.placements, stored->placements,
           stored->placement_count * sizeof *stored->placements);
    NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
    finding->verdict = verdict_of(stored->status);
    finding->level = stored->level;
    finding->total = stored->total;
    finding->at_least = stored->at_least;
    finding->states = (unsigned long long)stored->states;
    finding->intended = nw_search_is_intended(search, stored->key);
    finding->drawn = nw_search_is_drawn(search, stored->key);
    if (stored->way_out)
        read_way(finding, stored->way_out);
    return finding;
}

static int compare_keys(gconstpointer a, gconstpointer b) {
    guint64 p = *(const guint64 *)a, q = *(const guint64 *)b;
    return (p > q) - (p < q);
}

/* What was kept in two frames is one assembly. */
static gboolean is_news(const NwRunStore *record, guint64 key) {
    return !record->redrawn || g_hash_table_add(record->seen, g_memdup2(&key, sizeof key));
}

static void read_one(NwRunStore *record, NwStoredAssembly *stored, const NwSearch *search,
                     GPtrArray *findings) {
    record->after = stored->key;
    record->reading = TRUE;
    if (!settle(record, stored, nw_search_fit(search)))
        return;
    if (!is_news(record, stored->key)) {
        record->run->found--;
        return;
    }
    NwFoundAssembly *finding = from_stored(stored, search);
    g_array_append_val(record->known, finding->key);
    nw_search_count(search, finding, &record->counts);
    g_ptr_array_add(findings, finding);
}

GPtrArray *nw_run_store_read(NwRunStore *record, const NwSearch *search, GError **error) {
    GPtrArray *findings = nw_findings_new();
    while (!record->read_all && !findings->len) {
        GPtrArray *page = nw_library_load_assemblies(
            record->library, record->run->id, record->reading ? &record->after : NULL, PAGE, error);
        if (!page) {
            g_ptr_array_unref(findings);
            return NULL;
        }
        for (guint i = 0; i < page->len; i++)
            read_one(record, page->pdata[i], search, findings);
        record->read_all = page->len < PAGE;
        g_ptr_array_unref(page);
    }
    if (record->read_all)
        g_array_sort(record->known, compare_keys);
    return findings;
}

static int compare_findings(gconstpointer a, gconstpointer b) {
    return compare_keys(&(*(NwFoundAssembly *const *)a)->key, &(*(NwFoundAssembly *const *)b)->key);
}

GPtrArray *nw_run_store_load(NwRunStore *record, const NwSearch *search, GError **error) {
    GPtrArray *findings = nw_findings_new();
    record->reading = record->read_all = FALSE;
    record->counts = (NwSearchProgress){0};
    g_array_set_size(record->known, 0);
    g_hash_table_remove_all(record->seen);
    while (!record->read_all) {
        GPtrArray *page = nw_run_store_read(record, search, error);
        if (!page) {
            g_ptr_array_unref(findings);
            return NULL;
        }
        g_ptr_array_extend_and_steal(findings, page);
    }
    g_ptr_array_sort(findings, compare_findings);
    return findings;
}

gboolean nw_run_store_recall(NwRunStore *record, NwSearch *search) {
    const NwRun *run = record->run;
    if (run->state != NW_RUN_COMPLETE || !record->read_all ||
        run->found != (gint64)record->counts.found)
        return FALSE;
    nw_search_recall(search, &record->counts,
                     run->resume ? nw_search_saved_seconds(run->resume) : 0);
    return TRUE;
}

/* What was read is found again where another search of the same run has saved it, and this one
 * goes on from before. */
static GPtrArray *take_unknown(const NwRunStore *record, NwSearch *search) {
    GPtrArray *batch = nw_search_take(search, 0);
    if (!record->known->len)
        return batch;
    GPtrArray *unknown = nw_findings_new();
    for (guint i = 0; i < batch->len; i++) {
        const NwFoundAssembly *finding = batch->pdata[i];
        if (g_array_binary_search(record->known, &finding->key, compare_keys, NULL))
            continue;
        g_ptr_array_add(unknown, batch->pdata[i]);
        batch->pdata[i] = NULL;
    }
    g_ptr_array_unref(batch);
    return unknown;
}

/* What a save could not write goes with the next one: the position is then behind it. */
static gboolean write_down(NwRunStore *record, const NwSearchProgress *progress, GBytes *resume,
                           const GPtrArray *batch, GError **error) {
    for (guint i = 0; i < batch->len; i++)
        g_ptr_array_add(record->unsaved, to_stored(batch->pdata[i]));
    gboolean complete = progress->state == NW_SEARCH_COMPLETE;
    NwRunSave save = {.state = complete ? NW_RUN_COMPLETE : NW_RUN_OPEN,
                      .share = progress->share,
                      .resume = resume,
                      .assemblies = record->unsaved};
    if (!nw_library_save_run(record->library, record->run->id, &save, error))
        return FALSE;
    g_ptr_array_set_size(record->unsaved, 0);
    return TRUE;
}

gboolean nw_run_store_save(NwRunStore *record, NwSearch *search, GPtrArray **batch,
                           GError **error) {
    NwSearchProgress progress;
    nw_search_progress(search, &progress);
    GBytes *resume = nw_search_save(search);
    *batch = take_unknown(record, search);
    gboolean saved = nw_library_is_read_only(record->library) ||
                     write_down(record, &progress, resume, *batch, error);
    g_bytes_unref(resume);
    return saved;
}

gboolean nw_run_store_improve(NwRunStore *record, const NwFoundAssembly *finding, GError **error) {
    NwStoredAssembly *stored = to_stored(finding);
    gboolean kept = nw_library_improve_assembly(record->library, record->run->id, stored, error);
    nw_stored_assembly_free(stored);
    return kept;
}
