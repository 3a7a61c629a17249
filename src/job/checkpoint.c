/* A saved search: a word that tells the format, the fingerprint of its matrix, the parts of the
 * tree that are left, the assemblies that still wait for their verdict, the counts so far and the
 * time. Written as a GVariant, which checks its own shape when it is read, and a check sum after
 * it. */
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "job/search_private.h"

#define SAVED_TYPE "(sta(aiai)a(ta(iiiii))atd)"
#define FORMAT "search 2"

/* The first format, whose tree was cut up beforehand: only the time is read of it. */
#define FIRST_TYPE "(tuaua(uai)a(ta(iiiii))atd)"

enum { COUNTS = 2 + NW_VERDICT_COUNT + 2 };

/* A check sum: a position of which one bit is wrong would lose assemblies without a word. */
static guint64 sum_of(const guint8 *data, gsize size) {
    guint64 sum = size;
    for (gsize i = 0; i < size; i++)
        sum = nw_mix(sum + data[i] + UINT64_C(0x9e3779b97f4a7c15));
    return sum;
}

static void write_numbers(GVariantBuilder *builder, const int *numbers, int count) {
    g_variant_builder_open(builder, G_VARIANT_TYPE("ai"));
    for (int i = 0; i < count; i++)
        g_variant_builder_add(builder, "i", numbers[i]);
    g_variant_builder_close(builder);
}

static void write_part(GVariantBuilder *builder, const NwOpen *open) {
    g_variant_builder_open(builder, G_VARIANT_TYPE("(aiai)"));
    write_numbers(builder, open->position.choice, open->position.length);
    write_numbers(builder, open->position.last, open->position.length);
    g_variant_builder_close(builder);
}

static void write_tree(const NwSearch *search, GVariantBuilder *builder) {
    g_variant_builder_open(builder, G_VARIANT_TYPE("a(aiai)"));
    for (const GList *link = search->open.head; link; link = link->next)
        write_part(builder, link->data);
    for (int i = 0; i < search->thread_count; i++)
        if (search->workers[i].open)
            write_part(builder, search->workers[i].open);
    g_variant_builder_close(builder);
}

static void write_waiting(GVariantBuilder *builder, const NwFoundAssembly *finding) {
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
    if (search->first)
        write_waiting(builder, search->first);
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

GBytes *nw_search_save_progress(NwSearch *search) {
    if (search->saved)
        return g_bytes_ref(search->saved);
    GVariantBuilder builder;
    g_variant_builder_init(&builder, G_VARIANT_TYPE(SAVED_TYPE));
    g_variant_builder_add(&builder, "s", FORMAT);
    g_variant_builder_add(&builder, "t", search->fingerprint);
    write_tree(search, &builder);
    write_all_waiting(search, &builder);
    guint64 counts[COUNTS];
    gather_counts(&search->progress, counts);
    counts[COUNTS - 1] = search->first_counted;
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

/* The saved position without its check sum; NULL if that is wrong, or it is of another format. */
static GVariant *open_saved(GBytes *bytes, const char *type) {
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
        g_variant_ref_sink(g_variant_new_from_bytes(G_VARIANT_TYPE(type), inner, FALSE));
    g_bytes_unref(inner);
    if (!g_variant_is_normal_form(saved))
        g_clear_pointer(&saved, g_variant_unref);
    return saved;
}

/* The choices of one part; false if they are not as many as last ones, or too many. */
static bool read_position(GVariantIter *choices, GVariantIter *lasts, NwPosition *position) {
    gsize length = g_variant_iter_n_children(choices);
    if (length > NW_COPIES_MAX || length != g_variant_iter_n_children(lasts))
        return false;
    position->length = (int)length;
    for (gsize d = 0; d < length; d++) {
        g_variant_iter_next(choices, "i", &position->choice[d]);
        g_variant_iter_next(lasts, "i", &position->last[d]);
    }
    return true;
}

/* Each position is tried on a search, so that the workers can trust it; that tells too how much of
 * the tree is left there. */
static bool read_tree(NwSearch *search, GVariantIter *tree) {
    NwCover *cover = nw_cover_new(search->fit->matrix);
    GVariantIter *choices, *lasts;
    bool good = true;
    while (good && g_variant_iter_next(tree, "(aiai)", &choices, &lasts)) {
        NwOpen *open = nw_alloc(1, sizeof *open);
        g_queue_push_tail(&search->open, open);
        good = read_position(choices, lasts, &open->position) &&
               nw_cover_restore(cover, &open->position) == NW_OK;
        open->left = good ? nw_cover_left(cover) : 0;
        g_variant_iter_free(choices);
        g_variant_iter_free(lasts);
    }
    nw_cover_free(cover);
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
            NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
            finding->intended = nw_search_is_intended(search, key);
            finding->drawn = nw_search_is_drawn(search, key);
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
    search->first_counted = counts[COUNTS - 1] != 0;
    return true;
}

/* Takes back what was read before something turned out to be wrong. */
static void forget(NwSearch *search) {
    nw_search_close_posts(search);
    g_queue_clear_full(&search->waiting, (GDestroyNotify)nw_found_assembly_free);
    search->progress = (NwSearchProgress){0};
    search->first_counted = false;
    search->seconds_before = 0;
}

static bool read_all(NwSearch *search, GVariant *saved) {
    const char *format;
    guint64 fingerprint;
    GVariantIter *tree, *waiting, *counts;
    g_variant_get(saved, "(&sta(aiai)a(ta(iiiii))atd)", &format, &fingerprint, &tree, &waiting,
                  &counts, &search->seconds_before);
    bool good = strcmp(format, FORMAT) == 0 && fingerprint == search->fingerprint &&
                read_tree(search, tree) && read_waiting(search, waiting) &&
                read_counts(search, counts);
    g_variant_iter_free(tree);
    g_variant_iter_free(waiting);
    g_variant_iter_free(counts);
    return good;
}

static bool is_older(GBytes *bytes) {
    GVariant *saved = open_saved(bytes, FIRST_TYPE);
    bool older = saved != NULL;
    g_clear_pointer(&saved, g_variant_unref);
    return older;
}

bool nw_search_restore_progress(NwSearch *search, GBytes *bytes, GError **error) {
    GVariant *saved = open_saved(bytes, SAVED_TYPE);
    bool good = saved && read_all(search, saved);
    if (!good)
        forget(search);
    if (!saved && is_older(bytes))
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_OLDER,
                    "an earlier version of this program saved where the search was: start a new "
                    "one");
    else if (!good)
        g_set_error(error, NW_SEARCH_ERROR, NW_SEARCH_ERROR_RESUME,
                    "the saved search does not belong to this design: start a new one");
    g_clear_pointer(&saved, g_variant_unref);
    return good;
}

double nw_search_saved_seconds(GBytes *bytes) {
    GVariant *saved = open_saved(bytes, SAVED_TYPE);
    double seconds = 0;
    if (!saved)
        saved = open_saved(bytes, FIRST_TYPE);
    if (saved)
        g_variant_get_child(saved, g_variant_n_children(saved) - 1, "d", &seconds);
    g_clear_pointer(&saved, g_variant_unref);
    return seconds;
}
