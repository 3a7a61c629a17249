/* What a pointer over the view costs: a solid of 1,000 parts in the window, and real events.
 *
 *   pointer
 *
 * xdotool moves the pointer over the solid in the view, first as it is, then with the button down,
 * which gives parts to a piece and takes them away again. For each event that changes something,
 * from when the window receives it:
 *
 *   handled  time of the processor until all handlers have seen it (main thread)
 *   drawn    the same until the picture is drawn, and of all threads, which draw too
 *   waited   time of the clock until the picture is drawn
 *
 * Needs a display, xdotool and the schema of the settings: run it by build-aux/bench-window. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/application.h"
#include "app/window_private.h"
#include "plain/random_design.h"

enum { ROUNDS = 6, STEP = 15, ROWS = 5, COLUMNS = 17, EVENT_MS = 60, PIECES = 8 };

typedef struct Sum {
    int events;
    double handled, drawn, all, waited; /* milliseconds */
} Sum;

typedef struct Run {
    NwWindow *window;
    int round; /* two of moving, then of giving and taking by turns */
    gboolean waiting, was_hovering;
    NwPart hover;
    double received_thread, received_all, received_clock, handled;
    int parts; /* of the first piece, when the event came */
    Sum moving, touching;
} Run;

static double now(clockid_t clock) {
    struct timespec time;
    clock_gettime(clock, &time);
    return 1000.0 * (double)time.tv_sec + (double)time.tv_nsec / 1e6;
}

static gboolean is_touching(const Run *run) {
    return run->round >= 2;
}

static int parts_given(const Run *run) {
    return (int)nw_solid_parts(nw_document_get_design(run->window->document)->pieces[0].solid);
}

/* ---- measuring --------------------------------------------------------------------------- */

static gboolean on_received(GtkEventControllerLegacy *controller G_GNUC_UNUSED, GdkEvent *event,
                            Run *run) {
    if (gdk_event_get_event_type(event) != GDK_MOTION_NOTIFY || run->waiting)
        return GDK_EVENT_PROPAGATE;
    run->was_hovering = nw_view_state_get_hover(run->window->view_state, &run->hover);
    run->parts = parts_given(run);
    run->waiting = TRUE;
    run->handled = -1;
    run->received_clock = now(CLOCK_MONOTONIC);
    run->received_all = now(CLOCK_PROCESS_CPUTIME_ID);
    run->received_thread = now(CLOCK_THREAD_CPUTIME_ID);
    return GDK_EVENT_PROPAGATE;
}

/* Whatever lies under the pointer, its handlers have run by then. */
static gboolean on_handled(GtkEventControllerLegacy *controller G_GNUC_UNUSED, GdkEvent *event,
                           Run *run) {
    if (gdk_event_get_event_type(event) == GDK_MOTION_NOTIFY && run->waiting && run->handled < 0)
        run->handled = now(CLOCK_THREAD_CPUTIME_ID) - run->received_thread;
    return GDK_EVENT_PROPAGATE;
}

static gboolean has_changed(const Run *run) {
    NwPart part;
    if (is_touching(run))
        return parts_given(run) != run->parts;
    gboolean hovering = nw_view_state_get_hover(run->window->view_state, &part);
    return hovering != run->was_hovering ||
           (hovering && (!nw_vec_equal(part.cell, run->hover.cell) || part.bit != run->hover.bit));
}

static void on_drawn(Run *run) {
    if (!run->waiting)
        return;
    run->waiting = FALSE;
    if (!has_changed(run))
        return;
    Sum *sum = is_touching(run) ? &run->touching : &run->moving;
    sum->drawn += now(CLOCK_THREAD_CPUTIME_ID) - run->received_thread;
    sum->all += now(CLOCK_PROCESS_CPUTIME_ID) - run->received_all;
    sum->waited += now(CLOCK_MONOTONIC) - run->received_clock;
    sum->handled += MAX(run->handled, 0);
    sum->events++;
}

static void print(const char *what, const Sum *sum) {
    if (sum->events)
        printf("  %-9s %4d events: handled %6.2f ms, drawn %6.2f ms (%6.2f of all threads), waited "
               "%6.2f ms\n",
               what, sum->events, sum->handled / sum->events, sum->drawn / sum->events,
               sum->all / sum->events, sum->waited / sum->events);
}

/* ---- the hand ---------------------------------------------------------------------------- */

/* Along rows over the middle of the view, in the window's own pixels: it stands in a corner of a
 * screen without a manager of windows. */
static char **hand_new(const Run *run) {
    GtkWidget *view = GTK_WIDGET(run->window->viewport);
    graphene_point_t middle = GRAPHENE_POINT_INIT((float)gtk_widget_get_width(view) / 2,
                                                  (float)gtk_widget_get_height(view) / 2);
    double left, top;
    if (!gtk_widget_compute_point(view, GTK_WIDGET(run->window), &middle, &middle))
        return NULL;
    gtk_native_get_surface_transform(GTK_NATIVE(run->window), &left, &top);
    GString *words = g_string_new("xdotool");
    for (int i = 0; i < ROWS * COLUMNS; i++) {
        int row = i / COLUMNS, column = row % 2 ? COLUMNS - 1 - i % COLUMNS : i % COLUMNS;
        g_string_append_printf(words, " mousemove %.0f %.0f",
                               left + (double)middle.x + STEP * (column - COLUMNS / 2),
                               top + (double)middle.y + 2 * STEP * (row - ROWS / 2));
        if (i == 0 && is_touching(run))
            g_string_append(words, " mousedown 1");
        g_string_append_printf(words, " sleep 0.0%d", EVENT_MS);
    }
    g_string_append(words, is_touching(run) ? " mouseup 1 sleep 0.5" : " sleep 0.5");
    char **split = g_strsplit(words->str, " ", -1);
    g_string_free(words, TRUE);
    return split;
}

static gboolean begin_round(gpointer data);

static void on_hand_done(GPid child, int status, gpointer data) {
    Run *run = data;
    g_spawn_close_pid(child);
    run->round++;
    if (!g_spawn_check_wait_status(status, NULL) || run->round == ROUNDS)
        gtk_window_destroy(GTK_WINDOW(run->window));
    else
        begin_round(run);
}

static gboolean begin_round(gpointer data) {
    Run *run = data;
    g_auto(GStrv) hand = hand_new(run);
    GPid child;
    GError *error = NULL;
    if (is_touching(run))
        nw_document_set_touch(run->window->document,
                              run->round % 2 ? NW_TOUCH_TAKE : NW_TOUCH_GIVE);
    if (!hand ||
        !g_spawn_async(NULL, hand, NULL,
                       G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDOUT_TO_DEV_NULL,
                       NULL, NULL, &child, &error)) {
        fprintf(stderr, "%s\n", error ? error->message : "The view is not there.");
        g_clear_error(&error);
        gtk_window_destroy(GTK_WINDOW(run->window));
        return G_SOURCE_REMOVE;
    }
    g_child_watch_add(child, on_hand_done, run);
    return G_SOURCE_REMOVE;
}

/* ---- the window -------------------------------------------------------------------------- */

static NwDesign *thousand_parts(void) {
    NwSolid *box = nw_solid_new();
    for (int i = 0; i < 200; i++)
        nw_solid_add(box, nw_vec(i % 10, i / 10 % 5, i / 50), NW_WHOLE);
    NwDesign *design = nw_random_dissection(7, box, false, PIECES);
    nw_solid_free(box);
    free(design->name);
    design->name = strdup("A Thousand Parts");
    return design;
}

static void add_watch(Run *run, GtkPropagationPhase phase, GCallback callback) {
    GtkEventController *controller = gtk_event_controller_legacy_new();
    gtk_event_controller_set_propagation_phase(controller, phase);
    g_signal_connect(controller, "event", callback, run);
    gtk_widget_add_controller(GTK_WIDGET(run->window), controller);
}

static gboolean on_up(gpointer data) {
    Run *run = data;
    GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(run->window));
    g_signal_connect_swapped(clock, "after-paint", G_CALLBACK(on_drawn), run);
    begin_round(run);
    return G_SOURCE_REMOVE;
}

static void on_activate(GtkApplication *app, Run *run) {
    enum { SETTLED_MS = 2500 }; /* what is looked for at first is found */
    run->window = NW_WINDOW(gtk_application_get_active_window(app));
    NwDesign *design = thousand_parts();
    gtk_window_set_default_size(GTK_WINDOW(run->window), 1280, 1000);
    nw_window_add_design(run->window, design);
    nw_design_free(design);
    nw_document_set_piece(run->window->document, 0);
    add_watch(run, GTK_PHASE_CAPTURE, G_CALLBACK(on_received));
    add_watch(run, GTK_PHASE_BUBBLE, G_CALLBACK(on_handled));
    g_timeout_add(SETTLED_MS, on_up, run);
}

int main(void) {
    Run run = {0};
    g_autofree char *folder = g_dir_make_tmp("nw-pointer-XXXXXX", NULL);
    g_autofree char *store = g_build_filename(folder, "bench.notch", NULL);
    char *words[] = {(char *)"pointer", (char *)"--store", store, NULL};
    setlocale(LC_ALL, "");
    NwApplication *app = nw_application_new();
    g_signal_connect_after(app, "activate", G_CALLBACK(on_activate), &run);
    g_application_run(G_APPLICATION(app), G_N_ELEMENTS(words) - 1, words);
    g_object_unref(app);
    printf("A pointer over a solid of 1,000 parts, for each event that changes something:\n");
    print("moving", &run.moving);
    print("touching", &run.touching);
    g_autofree char *clear = g_strdup_printf("rm -r %s", folder);
    return g_spawn_command_line_sync(clear, NULL, NULL, NULL, NULL) ? 0 : 1;
}
