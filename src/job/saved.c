/* A saved search: the fingerprint of its matrix, the tasks that are done, the positions in those
 * that are begun, the assemblies that still wait for their verdict, and the counts so far.
 * Written as a GVariant, which checks its own shape when it is read, and a check sum after it. */
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "job/board.h"

#define SAVED_TYPE "(tuaua(uai)a(ta(iiiii))atd)"

enum { COUNTS = 2 + NW_VERDICT_COUNT + 1 };

/* A check sum: a position of which one bit is wrong would lose assemblies without a word. */
static guint64 sum_of(const guint8 *data, gsize size) {
    guint64 sum = size;
    for (gsize i = 0; i < size; i++)
        sum = nw_mix(sum + data[i] + UINT64_C(0x9e3779b97f4a7c15));
    return sum;
}

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
    GByteArray *bytes = g_byte_array_new();
    g_byte_array_append(bytes, g_variant_get_data(saved), (guint)g_variant_get_size(saved));
    guint64 sum = sum_of(bytes->data, bytes->len);
    g_byte_array_append(bytes, (const guint8 *)&sum, sizeof sum);
    g_variant_unref(saved);
    return g_byte_array_free_to_bytes(bytes);
}

/* The saved position without its check sum; NULL if that is wrong. */
static GVariant *open_saved(GBytes *bytes) {
    gsize size;
    const guint8 *data = g_bytes_get_data(bytes, &size);
    guint64 sum;
    if (size < sizeof sum)
        return NULL;
    gsize content = size - sizeof sum;
    memcpy(&sum, data + content, sizeof sum);
    if (sum != sum_of(data, content))
        return NULL;
    GBytes *inner = g_bytes_new_from_bytes(bytes, 0, content);
    GVariant *saved =
        g_variant_ref_sink(g_variant_new_from_bytes(G_VARIANT_TYPE(SAVED_TYPE), inner, FALSE));
    g_bytes_unref(inner);
    return saved;
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

/* Tries a position on a search of its own, so that the workers can trust it, and tells how much of
 * the task is done there. */
static bool is_position(const NwSearch *search, NwTask *task) {
    NwCover *cover = nw_cover_new(search->fit->matrix);
    bool good = nw_cover_confine(cover, &task->path) == NW_OK &&
                nw_cover_restore(cover, &task->position) == NW_OK;
    if (good)
        task->share = nw_cover_share(cover);
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

/* The placements are an assembly of this fit, and the one with that key: those of a design that was
 * drawn in other frames are not. */
static bool is_of_fit(const NwFit *fit, const NwAssembly *read) {
    NwAssembly assembly;
    return nw_fit_canonical(fit, read->placements, (size_t)read->count, &assembly) == NW_OK &&
           assembly.key == read->key;
}

static bool read_waiting(NwSearch *search, GVariantIter *waiting) {
    guint64 key;
    GVariantIter *placements;
    bool good = true;
    while (good && g_variant_iter_next(waiting, "(ta(iiiii))", &key, &placements)) {
        NwAssembly assembly = {.key = key};
        NwPlacement p;
        good = g_variant_iter_n_children(placements) == (gsize)search->fit->count;
        while (good && g_variant_iter_next(placements, "(iiiii)", &p.piece, &p.motion.turn,
                                           &p.motion.shift.x, &p.motion.shift.y, &p.motion.shift.z))
            assembly.placements[assembly.count++] = p;
        good = good && is_of_fit(search->fit, &assembly);
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
    GVariant *saved = open_saved(bytes);
    bool good = saved && g_variant_is_normal_form(saved);
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
    if (saved)
        g_variant_unref(saved);
    if (!good)
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME,
                    "the saved search does not belong to this design: start a new one");
    return good;
}

double nw_search_saved_seconds(GBytes *bytes) {
    GVariant *saved = open_saved(bytes);
    double seconds = 0;
    if (saved && g_variant_is_normal_form(saved))
        g_variant_get_child(saved, g_variant_n_children(saved) - 1, "d", &seconds);
    g_clear_pointer(&saved, g_variant_unref);
    return seconds;
}
