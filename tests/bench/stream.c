/* The list of assemblies under a flood: 100,000 rows at 20,000 a second.
 *
 *   stream [ROWS [ROWS_A_SECOND]]
 *
 * A feeder thread makes rows and lays them in a tray every 60 ms, as the worker of a search does;
 * the main loop takes at most 5,000 a turn and puts them into the list with one splice, as the
 * search does. Meanwhile a probe is due every 10 ms; the longest time between two of its calls is
 * how long the window kept a person waiting. The goal is 100 ms. Each way of looking at the list is
 * measured in a window of its own; in each, a row is chosen early and must still be the chosen one
 * at the end. A first window warms up fonts and style and is not counted.
 * Needs a display: run it by build-aux/bench-window. */
#include <pthread.h>
#include <stdlib.h>
#include <time.h>

#include "app/assemblies/assembly_columns.h"
#include "app/assemblies/assembly_list.h"

enum { PIECES = 6, ROUND_MS = 60, PROBE_MS = 10, ROWS_A_TURN = 5000, GOAL_MS = 100 };

typedef struct Way {
    const char *name;
    int sort;           /* a column to sort by, or -1 */
    guint states;       /* a filter */
    gboolean rearrange; /* sort and filter anew twice a second */
} Way;

static const Way ways[] = {
    {"warming up", -1, 0, FALSE},
    {"usual order", -1, 0, FALSE},
    {"sorted by levels", NW_COLUMN_LEVEL, 0, FALSE},
    {"sorted by first out", NW_COLUMN_FIRST_OUT, 0, FALSE},
    {"sorted by found, falling", NW_COLUMN_NUMBER, 0, FALSE},
    {"only unreachable", -1, 1u << NW_STATE_UNREACHABLE, FALSE},
    {"cooks, sorted by levels", NW_COLUMN_LEVEL, 1u << NW_STATE_COOK, FALSE},
    {"sorted and filtered anew", -1, 0, TRUE},
};

typedef struct Flood {
    const Way *way;
    NwAssemblyList *list;
    GListStore *store;
    GMainLoop *loop;
    guint wanted, per_second;
    NwAssemblyItem *chosen;        /* early, by the program as if by the maker */
    gint64 last_probe, longest_us; /* by the clock of the wall */
    gint64 last_busy, busiest_us;  /* time of the processor that the main thread took meanwhile */
    guint rearranged;

    pthread_mutex_t lock; /* guards the tray */
    GPtrArray *tray;
    guint taken;
    gboolean pending;
} Flood;

/* ---- rows -------------------------------------------------------------------------------- */

static NwDesign *six_pieces(void) {
    NwDesign *design = nw_design_new("flood");
    for (int p = 0; p < PIECES; p++) {
        NwSolid *cube = nw_solid_new();
        const char name[2] = {(char)('A' + p), '\0'};
        nw_solid_add(cube, nw_vec(p, 0, 0), NW_WHOLE);
        nw_design_take_piece(design, name, cube);
    }
    return design;
}

/* Every tenth a cook, every hundredth undecided, the first one intended. */
static NwAssemblyItem *new_row(guint number) {
    NwAssembly assembly = {.key = number, .count = PIECES};
    for (int p = 0; p < PIECES; p++)
        assembly.placements[p] = (NwPlacement){p, {(int)number % 24, {2 * p, 0, 0}}};
    NwFoundAssembly *finding = nw_found_assembly_new(&assembly);
    NwSlide slides[PIECES];
    int level = 1 + (int)(number * 7 % (PIECES - 1));
    for (int i = 0; i < PIECES; i++) {
        guint32 bodies = 1u << ((guint)i + number) % PIECES;
        slides[i] = (NwSlide){bodies, (int)number % 6, i + 1 < level ? 1 : NW_SLIDE_OUT};
    }
    NwWayOut way = {.level = level, .total = PIECES, .slides = slides, .stuck = 7};
    finding->intended = number == 1;
    if (number % 10 == 1)
        nw_found_assembly_set_way(finding, NW_OPENS, &way);
    else
        nw_found_assembly_set_way(finding, number % 100 ? NW_UNREACHABLE : NW_UNDECIDED, &way);
    return nw_assembly_item_new_take(finding, number, finding->intended ? 0 : (int)number % 7, 3);
}

/* ---- the tray, as in session/search_worker.c and session/search_session.c
 * ------------------------------------------ */

static gboolean take(gpointer data);

static void ask_for_wake(Flood *flood) {
    if (!flood->pending)
        g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, take, flood, NULL);
    flood->pending = TRUE;
}

static gboolean take(gpointer data) {
    Flood *flood = data;
    GPtrArray *rows = g_ptr_array_new_with_free_func(g_object_unref);
    pthread_mutex_lock(&flood->lock);
    flood->pending = FALSE;
    while (flood->taken < flood->tray->len && rows->len < ROWS_A_TURN) {
        g_ptr_array_add(rows, flood->tray->pdata[flood->taken]);
        flood->tray->pdata[flood->taken++] = NULL;
    }
    if (flood->taken < flood->tray->len) {
        ask_for_wake(flood);
    } else {
        g_ptr_array_set_size(flood->tray, 0);
        flood->taken = 0;
    }
    pthread_mutex_unlock(&flood->lock);
    guint length = g_list_model_get_n_items(G_LIST_MODEL(flood->store));
    if (rows->len)
        g_list_store_splice(flood->store, length, 0, rows->pdata, rows->len);
    g_ptr_array_unref(rows);
    return G_SOURCE_REMOVE;
}

static void *feed(void *data) {
    Flood *flood = data;
    gint64 start = g_get_monotonic_time();
    for (guint made = 0; made < flood->wanted;) {
        g_usleep(ROUND_MS * 1000);
        gint64 us = g_get_monotonic_time() - start;
        guint due = MIN((guint)((double)us * flood->per_second / 1e6), flood->wanted);
        GPtrArray *rows = g_ptr_array_new();
        while (made < due)
            g_ptr_array_add(rows, new_row(++made));
        pthread_mutex_lock(&flood->lock);
        g_ptr_array_extend_and_steal(flood->tray, rows);
        ask_for_wake(flood);
        pthread_mutex_unlock(&flood->lock);
    }
    return NULL;
}

/* ---- the main loop ----------------------------------------------------------------------- */

static void choose_early(Flood *flood) {
    guint count = g_list_model_get_n_items(G_LIST_MODEL(flood->store));
    for (guint i = 0; i < count && !flood->chosen; i++) {
        NwAssemblyItem *item = g_list_model_get_item(G_LIST_MODEL(flood->store), i);
        NwAssemblyState state = nw_assembly_item_get_state(item);
        if (i > 5 && (!flood->way->states || flood->way->states >> state & 1)) {
            nw_assembly_list_choose(flood->list, item);
            flood->chosen = g_object_ref(item);
        }
        g_object_unref(item);
    }
}

static void rearrange(Flood *flood) {
    flood->rearranged++;
    int column = (int)(flood->rearranged % NW_COLUMN_COUNT);
    nw_assembly_list_sort(flood->list, column,
                          flood->rearranged % 2 ? GTK_SORT_ASCENDING : GTK_SORT_DESCENDING);
    nw_assembly_list_narrow(flood->list, flood->rearranged % 3 ? 0 : 1u << NW_STATE_UNREACHABLE,
                            -1);
}

static gint64 busy_us(void) {
    struct timespec t;
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return (gint64)t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

/* Two quiet seconds after the last row: an incremental sort ends later than the rows. */
static gboolean on_probe(gpointer data) {
    Flood *flood = data;
    static guint quiet;
    gint64 now = g_get_monotonic_time(), busy = busy_us();
    if (flood->last_probe) {
        flood->longest_us = MAX(flood->longest_us, now - flood->last_probe);
        flood->busiest_us = MAX(flood->busiest_us, busy - flood->last_busy);
    }
    flood->last_probe = now;
    flood->last_busy = busy;
    if (!flood->chosen)
        choose_early(flood);
    gboolean all = g_list_model_get_n_items(G_LIST_MODEL(flood->store)) == flood->wanted;
    static guint calls;
    if (flood->way->rearrange && ++calls % 50 == 0 && !all)
        rearrange(flood);
    quiet = all ? quiet + 1 : 0;
    if (quiet < 2000 / PROBE_MS)
        return G_SOURCE_CONTINUE;
    quiet = 0;
    g_main_loop_quit(flood->loop);
    return G_SOURCE_REMOVE;
}

/* The states that the list is narrowed to at the end. */
static guint states_at_end(const Flood *flood) {
    gboolean narrowed = flood->rearranged && flood->rearranged % 3 == 0;
    return narrowed ? 1u << NW_STATE_UNREACHABLE : flood->way->states;
}

static guint shown_wanted(const Flood *flood) {
    guint states = states_at_end(flood), count = 0;
    for (int s = 0; s < NW_STATE_COUNT; s++)
        if (!states || states >> s & 1)
            count += nw_assembly_list_get_count(flood->list, (NwAssemblyState)s);
    return count;
}

static GtkSelectionModel *model_of(GtkWidget *widget) {
    if (GTK_IS_COLUMN_VIEW(widget))
        return gtk_column_view_get_model(GTK_COLUMN_VIEW(widget));
    GtkSelectionModel *model = NULL;
    for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !model;
         child = gtk_widget_get_next_sibling(child))
        model = model_of(child);
    return model;
}

/* Whether the chosen row and no other is selected; none at all while a filter hides it. */
static gboolean has_stayed(const Flood *flood, gboolean hidden) {
    GtkSelectionModel *model = model_of(GTK_WIDGET(flood->list));
    guint selected = 0, count = g_list_model_get_n_items(G_LIST_MODEL(model));
    for (guint i = 0; i < count; i++) {
        if (!gtk_selection_model_is_selected(model, i))
            continue;
        NwAssemblyItem *item = g_list_model_get_item(G_LIST_MODEL(model), i);
        g_object_unref(item);
        if (item != flood->chosen)
            return FALSE;
        selected++;
    }
    return flood->chosen && selected == (hidden ? 0 : 1);
}

static gboolean run_way(const Way *way, const NwDesign *design, guint rows, guint per_second) {
    Flood flood = {.way = way, .wanted = rows, .per_second = per_second};
    flood.loop = g_main_loop_new(NULL, FALSE);
    flood.tray = g_ptr_array_new();
    flood.store = g_list_store_new(NW_TYPE_ASSEMBLY_ITEM);
    flood.list = g_object_new(NW_TYPE_ASSEMBLY_LIST, NULL);
    pthread_mutex_init(&flood.lock, NULL);
    nw_assembly_list_set_design(flood.list, design);
    nw_assembly_list_set_assemblies(flood.list, G_LIST_MODEL(flood.store));
    nw_assembly_list_sort(flood.list, way->sort,
                          way->sort == NW_COLUMN_NUMBER ? GTK_SORT_DESCENDING : GTK_SORT_ASCENDING);
    nw_assembly_list_narrow(flood.list, way->states, -1);
    GtkWidget *window = gtk_window_new();
    gtk_window_set_default_size(GTK_WINDOW(window), 480, 800);
    gtk_window_set_child(GTK_WINDOW(window), GTK_WIDGET(flood.list));
    gtk_window_present(GTK_WINDOW(window));

    g_timeout_add_full(G_PRIORITY_DEFAULT, PROBE_MS, on_probe, &flood, NULL);
    pthread_t feeder;
    pthread_create(&feeder, NULL, feed, &flood);
    g_main_loop_run(flood.loop);
    pthread_join(feeder, NULL);

    guint shown = nw_assembly_list_get_shown(flood.list), wanted = shown_wanted(&flood);
    guint states = states_at_end(&flood);
    gboolean hidden =
        states && flood.chosen && !(states >> nw_assembly_item_get_state(flood.chosen) & 1);
    gboolean stayed = has_stayed(&flood, hidden);
    gboolean right = shown == wanted && stayed;
    gboolean met = flood.longest_us <= GOAL_MS * 1000;
    g_print("%-26s %8u %12.0f %12.0f %8s%s%s\n", way->name, shown, (double)flood.longest_us / 1000,
            (double)flood.busiest_us / 1000,
            way == ways ? "-"
            : met       ? "met"
                        : "MISSED",
            shown == wanted ? "" : " rows are missing", stayed ? "" : " the chosen row was lost");
    gtk_window_destroy(GTK_WINDOW(window));
    g_clear_object(&flood.chosen);
    g_object_unref(flood.store);
    g_ptr_array_unref(flood.tray);
    g_main_loop_unref(flood.loop);
    pthread_mutex_destroy(&flood.lock);
    return right && (met || way == ways);
}

int main(int argc, char **argv) {
    guint rows = argc > 1 ? (guint)g_ascii_strtoull(argv[1], NULL, 10) : 100000;
    guint per_second = argc > 2 ? (guint)g_ascii_strtoull(argv[2], NULL, 10) : 20000;
    if (!gtk_init_check()) {
        g_printerr("No display: run this by build-aux/bench-window.\n");
        return EXIT_FAILURE;
    }
    NwDesign *design = six_pieces();
    gboolean all_met = TRUE;
    g_print("%u rows at %u a second; longest gap in the main loop, goal %d ms\n", rows, per_second,
            GOAL_MS);
    g_print("%-26s %8s %12s %12s\n", "list", "shown", "longest, ms", "of it busy");
    for (guint i = 0; i < G_N_ELEMENTS(ways); i++)
        all_met &= run_way(&ways[i], design, i ? rows : MIN(rows, 5000), per_second);
    nw_design_free(design);
    return all_met ? EXIT_SUCCESS : EXIT_FAILURE;
}
