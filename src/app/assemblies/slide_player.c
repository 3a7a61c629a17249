#include "app/assemblies/slide_player.h"

static const double seconds_a_slide = 1.2;

struct NwSlidePlayer {
    GtkWidget *widget;
    NwViewState *view_state;
    NwSlidePlayerCall *call;
    gpointer data;
    int way;
    double speed;
    guint tick;
    gint64 last_us;       /* time of the last frame, 0 before the first */
    double set;           /* the position that it set last */
    NwAssemblyItem *item; /* what it plays; only compared */
};

static gboolean on_frame(GtkWidget *widget, GdkFrameClock *clock, gpointer data) {
    (void)widget;
    NwSlidePlayer *player = data;
    gint64 now = gdk_frame_clock_get_frame_time(clock);
    if (nw_view_state_get_item(player->view_state) != player->item ||
        nw_view_state_get_position(player->view_state) != player->set) {
        nw_slide_player_stop(player);
        return G_SOURCE_CONTINUE;
    }
    double seconds = player->last_us ? (double)(now - player->last_us) / 1e6 : 0;
    player->last_us = now;
    double end = player->way > 0 ? nw_view_state_get_slides(player->view_state) : 0;
    double next = player->set + player->way * player->speed * seconds / seconds_a_slide;
    player->set = player->way > 0 ? MIN(next, end) : MAX(next, end);
    nw_view_state_set_position(player->view_state, player->set);
    if (player->set == end)
        nw_slide_player_stop(player);
    return G_SOURCE_CONTINUE;
}

NwSlidePlayer *nw_slide_player_new(GtkWidget *widget, NwViewState *view_state,
                                   NwSlidePlayerCall *call, gpointer data) {
    NwSlidePlayer *player = g_new0(NwSlidePlayer, 1);
    player->widget = widget;
    player->view_state = g_object_ref(view_state);
    player->call = call;
    player->data = data;
    player->speed = 1;
    return player;
}

/* Without a word to its owner. */
static void halt(NwSlidePlayer *player) {
    if (player->tick)
        gtk_widget_remove_tick_callback(player->widget, player->tick);
    player->tick = 0;
    player->way = 0;
}

void nw_slide_player_free(NwSlidePlayer *player) {
    if (!player)
        return;
    halt(player);
    g_object_unref(player->view_state);
    g_free(player);
}

void nw_slide_player_stop(NwSlidePlayer *player) {
    if (!player->way)
        return;
    halt(player);
    player->call(player->data);
}

void nw_slide_player_play(NwSlidePlayer *player, int way) {
    int slides = nw_view_state_get_slides(player->view_state);
    if (!slides)
        return;
    double begin = way > 0 ? 0 : slides, end = way > 0 ? slides : 0;
    halt(player);
    if (nw_view_state_get_position(player->view_state) == end)
        nw_view_state_set_position(player->view_state, begin);
    player->item = nw_view_state_get_item(player->view_state);
    player->set = nw_view_state_get_position(player->view_state);
    player->way = way;
    player->last_us = 0;
    player->tick = gtk_widget_add_tick_callback(player->widget, on_frame, player, NULL);
    player->call(player->data);
}

int nw_slide_player_get_way(NwSlidePlayer *player) {
    return player->way;
}

void nw_slide_player_set_speed(NwSlidePlayer *player, double speed) {
    player->speed = speed;
}
