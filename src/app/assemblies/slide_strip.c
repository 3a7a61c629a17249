#include "app/assemblies/slide_strip.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/assemblies/slide_card.h"
#include "app/assemblies/slide_player.h"
#include "session/apart_worker.h"
#include "text/words.h"

struct _NwSlideStrip {
    GtkWidget parent;
    GtkScrolledWindow *scroller; /* of the template, as the rest */
    GtkBox *cards;
    GtkLabel *step;
    GtkButton *start_button, *back_button, *play_button, *forward_button, *end_button;
    GtkButton *together_button;
    GtkDropDown *speed;
    GtkScale *scrubber;

    NwViewState *view_state;
    NwSlidePlayer *player;
    NwAssemblyItem *item; /* that the cards are made for */
    int current;          /* the card that is lit, from 1; 0: none; -1: to be looked up */
    gboolean updating;
    GtkButton *fewest_button;
    NwApartWorker *seeker; /* of the fewest slides, while they are looked for */
    int at_least;          /* as it has told so far */
    char *trouble;         /* why it found none, or NULL */
};

G_DEFINE_FINAL_TYPE(NwSlideStrip, nw_slide_strip, GTK_TYPE_WIDGET)

static const double speeds[] = {0.25, 0.5, 1, 2, 4};

static const NwDesign *design_of(NwSlideStrip *self) {
    return nw_view_state_get_item_design(self->view_state);
}

/* The slide under way, or the one just done; 0 before the first. */
static int slide_at(double position) {
    return (int)ceil(position - 1e-9);
}

/* ---- words ------------------------------------------------------------------------------- */

static char *dup_begin(const NwFoundAssembly *finding) {
    unsigned long total = (unsigned long)finding->slide_count;
    if (finding->verdict == NW_OPENS) {
        NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
        g_autofree char *list = nw_words_levels(&levels);
        /* Translators: the last is a list such as 1·4·1·5, the slides to each separation. */
        return g_strdup_printf(ngettext("Assembled. %d slide takes it apart: %s.",
                                        "Assembled. %d slides take it apart: %s.", total),
                               finding->total, list);
    }
    if (finding->slide_count)
        return g_strdup_printf(ngettext("Assembled. It comes apart only partly, in %d slide.",
                                        "Assembled. It comes apart only partly, in %d slides.",
                                        total),
                               finding->slide_count);
    return g_strdup(_("Assembled."));
}

/* What is left when the slides are done and the assembly is not apart. */
static char *dup_stuck(const NwDesign *design, const NwFoundAssembly *finding) {
    if (finding->verdict == NW_OPENS || !finding->stuck)
        return NULL;
    char *who = nw_words_bodies(design, finding, finding->stuck);
    char *text = finding->verdict == NW_UNREACHABLE
                     ? g_strdup_printf(_("Nothing comes free of %s: they stay together."), who)
                     : g_strdup_printf(_("Undecided: %s."), who);
    g_free(who);
    return text;
}

/* What is known of the fewest slides: nothing is said where nobody has looked. */
static char *dup_fewest(NwSlideStrip *self, const NwFoundAssembly *finding) {
    if (self->seeker && self->at_least)
        return g_strdup_printf(_("Looking for fewer slides: %d at least."), self->at_least);
    if (self->seeker)
        return g_strdup(_("Looking for fewer slides…"));
    if (self->trouble)
        return g_strdup(self->trouble);
    if (finding->verdict != NW_OPENS || !finding->at_least)
        return NULL;
    if (finding->at_least == finding->total)
        return g_strdup(_("That is proved to be the fewest."));
    return g_strdup_printf(_("That is an upper bound: %d at least."), finding->at_least);
}

static char *dup_step(const NwDesign *design, const NwFoundAssembly *finding, int slide) {
    if (!slide)
        return dup_begin(finding);
    char *what = nw_words_slide_spoken(design, finding, &finding->slides[slide - 1]);
    char *text = g_strdup_printf(_("Slide %d of %d: %s"), slide, finding->slide_count, what);
    g_free(what);
    return text;
}

static void say_step(NwSlideStrip *self) {
    const NwFoundAssembly *finding = nw_assembly_item_get(self->item);
    const NwDesign *design = design_of(self);
    char *step = dup_step(design, finding, self->current);
    char *stuck = self->current == finding->slide_count ? dup_stuck(design, finding) : NULL;
    if (!stuck && (self->seeker || self->trouble || !self->current))
        stuck = dup_fewest(self, finding);
    char *text = stuck ? g_strconcat(step, " ", stuck, NULL) : g_strdup(step);
    gtk_label_set_text(self->step, text);
    gtk_button_set_label(self->fewest_button, self->seeker ? _("Stop") : _("Fewest Slides"));
    gtk_widget_set_visible(GTK_WIDGET(self->fewest_button),
                           finding->verdict == NW_OPENS && !finding->at_least);
    g_free(text);
    g_free(stuck);
    g_free(step);
}

/* ---- showing where it stands ------------------------------------------------------------- */

static void bring_into_view(NwSlideStrip *self, GtkWidget *card) {
    graphene_rect_t box;
    GtkAdjustment *along = gtk_scrolled_window_get_hadjustment(self->scroller);
    if (gtk_widget_compute_bounds(card, GTK_WIDGET(self->cards), &box))
        gtk_adjustment_clamp_page(along, (double)box.origin.x - 12,
                                  (double)(box.origin.x + box.size.width) + 12);
}

static void light_card(NwSlideStrip *self) {
    int number = 0;
    for (GtkWidget *card = gtk_widget_get_first_child(GTK_WIDGET(self->cards)); card;
         card = gtk_widget_get_next_sibling(card)) {
        gboolean lit = ++number == self->current;
        gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(card), lit);
        if (lit)
            bring_into_view(self, card);
    }
}

static void show_position(NwSlideStrip *self) {
    if (!self->item)
        return;
    double position = nw_view_state_get_position(self->view_state);
    int slides = nw_view_state_get_slides(self->view_state), current = slide_at(position);
    self->updating = TRUE;
    gtk_range_set_value(GTK_RANGE(self->scrubber), position);
    gtk_widget_set_sensitive(GTK_WIDGET(self->start_button), position > 0);
    gtk_widget_set_sensitive(GTK_WIDGET(self->back_button), position > 0);
    gtk_widget_set_sensitive(GTK_WIDGET(self->forward_button), position < slides);
    gtk_widget_set_sensitive(GTK_WIDGET(self->end_button), position < slides);
    if (current != self->current) {
        self->current = current;
        light_card(self);
        say_step(self);
    }
    self->updating = FALSE;
}

static void on_card(NwSlideStrip *self, GtkWidget *pressed) {
    if (self->updating)
        return;
    int number = 1;
    for (GtkWidget *card = gtk_widget_get_prev_sibling(pressed); card;
         card = gtk_widget_get_prev_sibling(card))
        number++;
    nw_slide_player_stop(self->player);
    nw_view_state_set_position(self->view_state, number);
    self->current = -1; /* the press has switched the card; set all of them right */
    show_position(self);
}

static void make_cards(NwSlideStrip *self) {
    for (GtkWidget *card; (card = gtk_widget_get_first_child(GTK_WIDGET(self->cards)));)
        gtk_box_remove(self->cards, card);
    const NwFoundAssembly *finding = nw_assembly_item_get(self->item);
    for (int i = 0; i < finding->slide_count; i++) {
        GtkWidget *card = nw_slide_card_new(design_of(self), finding, i);
        g_signal_connect_swapped(card, "clicked", G_CALLBACK(on_card), self);
        gtk_box_append(self->cards, card);
    }
    gboolean any = finding->slide_count > 0;
    gtk_widget_set_visible(GTK_WIDGET(self->scroller), any);
    gtk_widget_set_sensitive(GTK_WIDGET(self->play_button), any);
    gtk_widget_set_sensitive(GTK_WIDGET(self->together_button), any);
    gtk_widget_set_sensitive(GTK_WIDGET(self->scrubber), any);
    gtk_range_set_range(GTK_RANGE(self->scrubber), 0, MAX(finding->slide_count, 1));
}

/* ---- the fewest slides in all ------------------------------------------------------------ */

static void stop_seeking(NwSlideStrip *self) {
    g_clear_pointer(&self->seeker, nw_apart_worker_free);
    g_clear_pointer(&self->trouble, g_free);
    self->at_least = 0;
}

/* Puts the shorter way out in the place of what is shown, in the list and in the store. */
static void take_fewest(NwSlideStrip *self, NwFoundAssembly *finding) {
    g_autoptr(GError) error = NULL;
    if (nw_view_state_is_lone(self->view_state)) {
        g_autoptr(NwAssemblyItem) better = nw_assembly_item_new_take(finding, 0, -1, 0);
        nw_view_state_set_lone(self->view_state, better, design_of(self));
        return;
    }
    NwAssemblyItem *better = nw_search_session_improve(
        nw_view_state_get_search_session(self->view_state), self->item, finding, &error);
    if (better)
        nw_view_state_set_item(self->view_state, better);
    if (error) {
        self->trouble = g_strdup(error->message);
        say_step(self);
    }
}

static void on_news(NwApartNews *news, gpointer data) {
    NwSlideStrip *self = data;
    self->at_least = news->at_least;
    if (!news->over) {
        say_step(self);
        return;
    }
    NwFoundAssembly *finding = g_steal_pointer(&news->finding);
    char *trouble = g_strdup(news->trouble);
    stop_seeking(self);
    self->trouble = trouble;
    if (finding && finding->verdict == NW_OPENS)
        take_fewest(self, finding);
    else
        nw_found_assembly_free(finding);
    say_step(self);
}

static void on_fewest(NwSlideStrip *self) {
    if (self->seeker) {
        stop_seeking(self);
    } else if (self->item) {
        const NwFoundAssembly *finding = nw_assembly_item_get(self->item);
        NwSearchSession *session = nw_view_state_get_search_session(self->view_state);
        NwApartOptions options = {.diagonals = nw_search_session_get_diagonals(session),
                                  .fewest = TRUE};
        stop_seeking(self);
        self->seeker =
            nw_apart_worker_new_of(design_of(self), finding->placements,
                                   (size_t)finding->placement_count, &options, on_news, self);
    }
    say_step(self);
}

static void on_view_state_changed(NwSlideStrip *self) {
    NwAssemblyItem *item = design_of(self) ? nw_view_state_get_item(self->view_state) : NULL;
    if (item == self->item)
        return;
    nw_slide_player_stop(self->player);
    stop_seeking(self);
    g_set_object(&self->item, item);
    self->updating = TRUE;
    if (item)
        make_cards(self);
    self->updating = FALSE;
    self->current = -1;
    gtk_widget_set_visible(GTK_WIDGET(self), item != NULL);
    show_position(self);
}

/* ---- controls ---------------------------------------------------------------------------- */

static void go_to(NwSlideStrip *self, double position) {
    nw_slide_player_stop(self->player);
    nw_view_state_set_position(self->view_state, position);
}

static void go_to_start(NwSlideStrip *self) {
    go_to(self, 0);
}

static void go_to_end(NwSlideStrip *self) {
    go_to(self, nw_view_state_get_slides(self->view_state));
}

static void go_back(NwSlideStrip *self) {
    go_to(self, ceil(nw_view_state_get_position(self->view_state) - 1e-9) - 1);
}

static void go_forward(NwSlideStrip *self) {
    go_to(self, floor(nw_view_state_get_position(self->view_state) + 1e-9) + 1);
}

static void play_or_pause(NwSlideStrip *self, int way) {
    if (nw_slide_player_get_way(self->player) == way)
        nw_slide_player_stop(self->player);
    else
        nw_slide_player_play(self->player, way);
}

static void on_play(NwSlideStrip *self) {
    play_or_pause(self, 1);
}

static void on_together(NwSlideStrip *self) {
    play_or_pause(self, -1);
}

static void on_scrubbed(NwSlideStrip *self) {
    if (!self->updating && self->item)
        go_to(self, gtk_range_get_value(GTK_RANGE(self->scrubber)));
}

static void on_speed(NwSlideStrip *self) {
    guint choice = gtk_drop_down_get_selected(self->speed);
    if (self->player && choice < G_N_ELEMENTS(speeds))
        nw_slide_player_set_speed(self->player, speeds[choice]);
}

static void show_button(GtkButton *button, gboolean plays, const char *icon, const char *name) {
    const char *says = plays ? _("Pause") : name;
    gtk_button_set_icon_name(button, plays ? "media-playback-pause-symbolic" : icon);
    gtk_widget_set_tooltip_text(GTK_WIDGET(button), says);
    gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, says, -1);
}

static void on_player(gpointer data) {
    NwSlideStrip *self = data;
    int way = nw_slide_player_get_way(self->player);
    show_button(self->play_button, way > 0, "media-playback-start-symbolic", _("Take it apart"));
    show_button(self->together_button, way < 0, "media-seek-backward-symbolic",
                _("Put it together"));
}

typedef void Step(NwSlideStrip *self);

static const struct {
    guint key;
    Step *step;
} keys[] = {{GDK_KEY_Left, go_back},        {GDK_KEY_Right, go_forward}, {GDK_KEY_KP_Left, go_back},
            {GDK_KEY_KP_Right, go_forward}, {GDK_KEY_Home, go_to_start}, {GDK_KEY_End, go_to_end},
            {GDK_KEY_KP_Home, go_to_start}, {GDK_KEY_KP_End, go_to_end}};

/* Ahead of the scrubber, which would take the arrows for itself. */
static gboolean on_key(NwSlideStrip *self, guint key, guint code, GdkModifierType state) {
    (void)code;
    if (!self->item || state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK))
        return FALSE;
    for (gsize i = 0; i < G_N_ELEMENTS(keys); i++)
        if (keys[i].key == key) {
            keys[i].step(self);
            return TRUE;
        }
    return FALSE;
}

static gboolean on_space(GtkWidget *widget, GVariant *unused, gpointer data) {
    (void)unused;
    (void)data;
    NwSlideStrip *self = NW_SLIDE_STRIP(widget);
    if (!self->player)
        return FALSE;
    if (nw_slide_player_get_way(self->player))
        nw_slide_player_stop(self->player);
    else
        nw_slide_player_play(self->player, 1);
    return TRUE;
}

/* ---- the widget -------------------------------------------------------------------------- */

void nw_slide_strip_set_view_state(NwSlideStrip *self, NwViewState *view_state) {
    g_return_if_fail(!self->view_state);
    self->view_state = g_object_ref(view_state);
    self->player = nw_slide_player_new(GTK_WIDGET(self), view_state, on_player, self);
    g_signal_connect_swapped(view_state, "notify::item", G_CALLBACK(on_view_state_changed), self);
    g_signal_connect_swapped(view_state, "notify::position", G_CALLBACK(show_position), self);
    on_speed(self);
    on_player(self);
    on_view_state_changed(self);
}

static void nw_slide_strip_dispose(GObject *object) {
    NwSlideStrip *self = NW_SLIDE_STRIP(object);
    g_clear_pointer(&self->player, nw_slide_player_free);
    stop_seeking(self);
    if (self->view_state)
        g_signal_handlers_disconnect_by_data(self->view_state, self);
    g_clear_object(&self->view_state);
    g_clear_object(&self->item);
    GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
    g_clear_pointer(&child, gtk_widget_unparent);
    G_OBJECT_CLASS(nw_slide_strip_parent_class)->dispose(object);
}

static void nw_slide_strip_class_init(NwSlideStripClass *class) {
    GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
    G_OBJECT_CLASS(class)->dispose = nw_slide_strip_dispose;
    gtk_widget_class_set_layout_manager_type(widget_class, GTK_TYPE_BIN_LAYOUT);
    gtk_widget_class_set_css_name(widget_class, "slidestrip");
    gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
    gtk_widget_class_set_template_from_resource(widget_class,
                                                "/net/notchwright/Notchwright/ui/slide_strip.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget_class, NwSlideStrip, name)
    CHILD(scroller);
    CHILD(cards);
    CHILD(step);
    CHILD(start_button);
    CHILD(back_button);
    CHILD(play_button);
    CHILD(forward_button);
    CHILD(end_button);
    CHILD(together_button);
    CHILD(speed);
    CHILD(scrubber);
    CHILD(fewest_button);
#undef CHILD
#define CALLBACK(name) gtk_widget_class_bind_template_callback(widget_class, name)
    CALLBACK(go_to_start);
    CALLBACK(go_back);
    CALLBACK(on_play);
    CALLBACK(go_forward);
    CALLBACK(go_to_end);
    CALLBACK(on_together);
    CALLBACK(on_speed);
    CALLBACK(on_scrubbed);
    CALLBACK(on_fewest);
    CALLBACK(on_key);
#undef CALLBACK
    gtk_widget_class_add_binding(widget_class, GDK_KEY_space, 0, on_space, NULL);
    gtk_widget_class_add_binding(widget_class, GDK_KEY_KP_Space, 0, on_space, NULL);
}

static void nw_slide_strip_init(NwSlideStrip *self) {
    self->current = -1;
    gtk_widget_init_template(GTK_WIDGET(self));
    gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
    gtk_drop_down_set_selected(self->speed, 2);
}
