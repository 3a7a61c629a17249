/* A saved search: the fingerprint of its matrix, the tasks that are done, the positions in those
 * that are begun, the assemblies that still wait for their verdict, and the counts so far.
 * Written as a GVariant, which checks its own shape when it is read. */
#include "base/memory.h"
#include "job/board.h"

#define SAVED_TYPE "(tuaua(uai)a(ta(iiiii))atd)"

enum { COUNTS = 2 + NW_VERDICT_COUNT + 1 };

static void write_tasks(const NwSearch *search, GVariantBuilder *builder) {
    g_variant_builder_open(builder, G_VARIANT_TYPE("au"));
    for (int i = 0; i < search->task_count; i++)
        if (search->tasks[i].done)
            g_variant_builder_add(builder, "u", (guint32)i);
    g_variant_builder_close(builder);
    g_variant_builder_open(builder, G_VARIANT_TYPE("a(uai)"));
    for (int i = 0; i < search->task_count; i++) {
        const NwTask *task = &search->tasks[i];
        if (task->done || !task->begun)
            continue;
        GVariantBuilder path;
        g_variant_builder_init(&path, G_VARIANT_TYPE("ai"));
        for (int d = 0; d < task->position.length; d++)
            g_variant_builder_add(&path, "i", task->position.choice[d]);
        g_variant_builder_add(builder, "(uai)", (guint32)i, &path);
    }
    g_variant_builder_close(builder);
}

static void write_waiting(GVariantBuilder *builder, const NwFinding *finding) {
    GVariantBuilder placements;
    g_variant_builder_init(&placements, G_VARIANT_TYPE("a(iiiii)"));
    for (int i = 0; i < finding->placement_count; i++) {
        const NwPlacement *p = &finding->placements[i];
        g_variant_builder_add(&placements, "(iiiii)", p->piece, p->motion.turn, p->motion.shift.x,
                              p->motion.shift.y, p->motion.shift.z);
    }
    g_variant_builder_add(builder, "(ta(iiiii))", finding->key, &placements);
}

static void write_all_waiting(const NwSearch *search, GVariantBuilder *builder) {
    g_variant_builder_open(builder, G_VARIANT_TYPE("a(ta(iiiii))"));
    for (const GList *link = search->waiting.head; link; link = link->next)
        write_waiting(builder, link->data);
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].examining)
            write_waiting(builder, search->workers[i].examining);
    g_variant_builder_close(builder);
}

static void gather_counts(const NwSearchProgress *progress, guint64 counts[COUNTS]) {
    counts[0] = progress->found;
    counts[1] = progress->cooks;
    for (int v = 0; v < NW_VERDICT_COUNT; v++)
        counts[2 + v] = progress->verdicts[v];
    counts[2 + NW_VERDICT_COUNT] = (guint64)progress->intended_opens;
}

static void scatter_counts(const guint64 counts[COUNTS], NwSearchProgress *progress) {
    progress->found = counts[0];
    progress->cooks = counts[1];
    for (int v = 0; v < NW_VERDICT_COUNT; v++)
        progress->verdicts[v] = counts[2 + v];
    progress->intended_opens = counts[2 + NW_VERDICT_COUNT] != 0;
}

GBytes *nw_board_save(NwSearch *search) {
    GVariantBuilder builder;
    g_variant_builder_init(&builder, G_VARIANT_TYPE(SAVED_TYPE));
    g_variant_builder_add(&builder, "t", nw_matrix_fingerprint(search->fit->matrix));
    g_variant_builder_add(&builder, "u", (guint32)search->task_count);
    write_tasks(search, &builder);
    write_all_waiting(search, &builder);
    guint64 counts[COUNTS];
    gather_counts(&search->progress, counts);
    g_variant_builder_open(&builder, G_VARIANT_TYPE("at"));
    for (int i = 0; i < COUNTS; i++)
        g_variant_builder_add(&builder, "t", counts[i]);
    g_variant_builder_close(&builder);
    double seconds = search->seconds_before;
    if (search->started)
        seconds += (double)(g_get_monotonic_time() - search->started) / 1e6;
    g_variant_builder_add(&builder, "d", seconds);
    GVariant *saved = g_variant_ref_sink(g_variant_builder_end(&builder));
    GBytes *bytes = g_variant_get_data_as_bytes(saved);
    g_variant_unref(saved);
    return bytes;
}

static bool read_done(NwSearch *search, GVariantIter *done) {
    guint32 number;
    while (g_variant_iter_next(done, "u", &number)) {
        if (number >= (guint32)search->task_count || search->tasks[number].done)
            return false;
        search->tasks[number].done = true;
        search->tasks[number].share = 1;
        search->tasks_done++;
    }
    return true;
}

/* Tries every position on a search of its own, so that the workers can trust it. */
static bool is_position(const NwSearch *search, const NwTask *task) {
    NwCover *cover = nw_cover_new(search->fit->matrix);
    bool good = nw_cover_confine(cover, &task->path) == NW_OK &&
                nw_cover_restore(cover, &task->position) == NW_OK;
    nw_cover_free(cover);
    return good;
}

static bool read_begun(NwSearch *search, GVariantIter *begun) {
    guint32 number;
    GVariantIter *path;
    bool good = true;
    while (good && g_variant_iter_next(begun, "(uai)", &number, &path)) {
        gsize length = g_variant_iter_n_children(path);
        good = number < (guint32)search->task_count && length <= NW_COPIES_MAX;
        if (good) {
            NwTask *task = &search->tasks[number];
            task->begun = true;
            task->position.length = (int)length;
            for (int d = 0; d < (int)length; d++)
                g_variant_iter_next(path, "i", &task->position.choice[d]);
            good = is_position(search, task);
        }
        g_variant_iter_free(path);
    }
    return good;
}

static bool read_waiting(NwSearch *search, GVariantIter *waiting) {
    guint64 key;
    GVariantIter *placements;
    bool good = true;
    while (good && g_variant_iter_next(waiting, "(ta(iiiii))", &key, &placements)) {
        NwAssembly assembly = {.key = key};
        NwPlacement p;
        good = g_variant_iter_n_children(placements) == (gsize)search->fit->count;
        while (good &&
               g_variant_iter_next(placements, "(iiiii)", &p.piece, &p.motion.turn,
                                   &p.motion.shift.x, &p.motion.shift.y, &p.motion.shift.z)) {
            good = p.piece >= 0 && (size_t)p.piece < search->fit->design->piece_count &&
                   p.motion.turn >= 0 && p.motion.turn < NW_ROTATIONS &&
                   nw_places_of_motion(search->fit->places, search->fit->design, p) >= 0;
            assembly.placements[assembly.count++] = p;
        }
        if (good) {
            NwFinding *finding = nw_finding_new(&assembly);
            finding->intended = nw_search_is_intended(search, key);
            g_queue_push_tail(&search->waiting, finding);
        }
        g_variant_iter_free(placements);
    }
    return good;
}

static bool read_counts(NwSearch *search, GVariantIter *read) {
    guint64 counts[COUNTS];
    if (g_variant_iter_n_children(read) != COUNTS)
        return false;
    for (int i = 0; i < COUNTS; i++)
        g_variant_iter_next(read, "t", &counts[i]);
    scatter_counts(counts, &search->progress);
    return true;
}

bool nw_board_restore(NwSearch *search, GBytes *bytes, GError **error) {
    GVariant *saved =
        g_variant_ref_sink(g_variant_new_from_bytes(G_VARIANT_TYPE(SAVED_TYPE), bytes, FALSE));
    bool good = g_variant_is_normal_form(saved);
    if (good) {
        guint64 fingerprint;
        guint32 tasks;
        GVariantIter *done, *begun, *waiting, *counts;
        g_variant_get(saved, SAVED_TYPE, &fingerprint, &tasks, &done, &begun, &waiting, &counts,
                      &search->seconds_before);
        good = fingerprint == nw_matrix_fingerprint(search->fit->matrix) &&
               tasks == (guint32)search->task_count && read_done(search, done) &&
               read_begun(search, begun) && read_waiting(search, waiting) &&
               read_counts(search, counts);
        g_variant_iter_free(done);
        g_variant_iter_free(begun);
        g_variant_iter_free(waiting);
        g_variant_iter_free(counts);
    }
    g_variant_unref(saved);
    if (!good)
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME,
                    "the saved search does not belong to this design: start a new one");
    return good;
}
