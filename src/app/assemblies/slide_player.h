/* Plays a way out on the view state: forwards to take the assembly apart, backwards to put it
 * together. It stops at either end, when the position is set by anyone else, and when the assembly
 * shown is another. It follows the frame clock of a widget, which it borrows. Thread: the main one.
 */
#ifndef NW_APP_ASSEMBLIES_SLIDE_PLAYER_H
#define NW_APP_ASSEMBLIES_SLIDE_PLAYER_H

#include <gtk/gtk.h>

#include "session/view_state.h"

typedef struct NwSlidePlayer NwSlidePlayer;

typedef void NwSlidePlayerCall(gpointer data);

/* `call` is called whenever it has begun or stopped to play. */
NwSlidePlayer *nw_slide_player_new(GtkWidget *widget, NwViewState *view_state,
                                   NwSlidePlayerCall *call, gpointer data);
void nw_slide_player_free(NwSlidePlayer *player); /* NULL is allowed */

/* Way 1: forwards, from the start if it is at the end; -1: backwards, likewise. */
void nw_slide_player_play(NwSlidePlayer *player, int way);
void nw_slide_player_stop(NwSlidePlayer *player);
int nw_slide_player_get_way(NwSlidePlayer *player); /* 0: it does not play */

/* Times the usual speed, which is a slide in 1.2 seconds. */
void nw_slide_player_set_speed(NwSlidePlayer *player, double speed);

#endif
