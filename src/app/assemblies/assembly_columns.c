#include "app/assemblies/assembly_columns.h"

#include <glib/gi18n.h>

#include "app/assemblies/state_mark.h"
#include "text/words.h"

static const char row_key[] = "nw-row";

const char *nw_assembly_columns_word(NwAssemblyItem *item) {
    gboolean has_intended = nw_assembly_item_get_difference(item, NULL) >= 0;
    return nw_words_role(nw_assembly_item_get(item), has_intended);
}

/* ---- the words of a cell ----------------------------------------------------------------- */

static char *dup_none(void) {
    return g_strdup("–");
}

static char *dup_number(int number) {
    return number < 0 ? dup_none() : g_strdup_printf("%d", number);
}

static char *dup_levels(NwAssemblyItem *item, const NwDesign *design) {
    (void)design;
    const NwFoundAssembly *finding = nw_assembly_item_get(item);
    if (finding->verdict != NW_OPENS)
        return dup_none();
    NwLevels levels = nw_levels_of(finding->slides, finding->slide_count);
    return nw_words_levels(&levels);
}

static char *dup_slides(NwAssemblyItem *item, const NwDesign *design) {
    (void)design;
    const NwFoundAssembly *finding = nw_assembly_item_get(item);
    return dup_number(finding->verdict == NW_OPENS ? finding->total : -1);
}

static char *dup_bodies(NwAssemblyItem *item, const NwDesign *design, guint32 bodies) {
    if (!bodies || !design)
        return dup_none();
    return nw_words_bodies_short(design, nw_assembly_item_get(item), bodies);
}

static char *dup_first_out(NwAssemblyItem *item, const NwDesign *design) {
    return dup_bodies(item, design, nw_assembly_item_get_first_out(item));
}

static char *dup_last_out(NwAssemblyItem *item, const NwDesign *design) {
    return dup_bodies(item, design, nw_assembly_item_get_last_out(item));
}

static char *dup_difference(NwAssemblyItem *item, const NwDesign *design) {
    (void)design;
    return dup_number(nw_assembly_item_get_difference(item, NULL));
}

static char *dup_place(NwAssemblyItem *item, const NwDesign *design) {
    (void)design;
    guint number = nw_assembly_item_get_number(item);
    return number ? g_strdup_printf("%u", number) : dup_none();
}

static const struct {
    const char *head, *tooltip;
    char *(*dup_text)(NwAssemblyItem *item, const NwDesign *design); /* NULL: mark and word */
    GCompareDataFunc compare;
    gboolean numeric;
    guint least, natural; /* characters */
} columns[NW_COLUMN_COUNT] = {
    [NW_COLUMN_STATE] = {N_("State"), N_("Intended, a cook, or unreachable"), NULL,
                         nw_compare_usual, FALSE, 6, 11},
    [NW_COLUMN_LEVEL] = {N_("Levels"),
                         N_("Slides to each separation, in order; the first is the level"),
                         dup_levels, nw_compare_levels, FALSE, 3, 7},
    [NW_COLUMN_SLIDES] = {N_("Slides"), N_("Slides until all pieces are apart"), dup_slides,
                          nw_compare_slides, TRUE, 2, 3},
    [NW_COLUMN_FIRST_OUT] = {N_("First"), N_("What comes out first"), dup_first_out,
                             nw_compare_first_out, FALSE, 2, 3},
    [NW_COLUMN_LAST_OUT] = {N_("Last"), N_("What comes out last"), dup_last_out,
                            nw_compare_last_out, FALSE, 2, 4},
    [NW_COLUMN_DIFFERENCE] = {N_("Moved"), N_("Pieces in another place than intended"),
                              dup_difference, nw_compare_difference, TRUE, 2, 3},
    [NW_COLUMN_NUMBER] =
        {N_("No."), N_("Its number, as in the notch command; known when the search is complete"),
         dup_place, nw_compare_number, TRUE, 2, 4},
};

/* ---- cells ------------------------------------------------------------------------------- */

/* An inscription, unlike a label, lays out its text only when it is drawn: of the 200 rows that the
 * view keeps ready, most never are. */
static GtkWidget *new_text(gboolean numeric, guint least, guint natural) {
    GtkWidget *text = gtk_inscription_new(NULL);
    gtk_inscription_set_xalign(GTK_INSCRIPTION(text), numeric ? 1 : 0);
    gtk_inscription_set_text_overflow(GTK_INSCRIPTION(text),
                                      GTK_INSCRIPTION_OVERFLOW_ELLIPSIZE_END);
    gtk_inscription_set_min_chars(GTK_INSCRIPTION(text), least);
    gtk_inscription_set_nat_chars(GTK_INSCRIPTION(text), natural);
    if (numeric)
        gtk_widget_add_css_class(text, "numeric");
    return text;
}

static void set_up_text(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    (void)factory;
    int c = GPOINTER_TO_INT(column);
    GtkWidget *text = new_text(columns[c].numeric, columns[c].least, columns[c].natural);
    g_object_set_data(G_OBJECT(text), row_key, row);
    gtk_list_item_set_child(row, text);
}

static void set_up_state(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    (void)factory;
    (void)column;
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
    GtkWidget *text =
        new_text(FALSE, columns[NW_COLUMN_STATE].least, columns[NW_COLUMN_STATE].natural);
    gtk_widget_set_hexpand(text, TRUE);
    gtk_box_append(GTK_BOX(box), nw_state_mark_new());
    gtk_box_append(GTK_BOX(box), text);
    g_object_set_data(G_OBJECT(box), row_key, row);
    gtk_list_item_set_child(row, box);
}

/* A number is shown whole: of a shortened one nobody could make use. */
static void show_number(NwAssemblyItem *item, GParamSpec *unused, GtkInscription *text) {
    (void)unused;
    char *number = dup_place(item, NULL);
    gtk_inscription_set_text(text, number);
    gtk_inscription_set_min_chars(text, MAX(columns[NW_COLUMN_NUMBER].least, strlen(number)));
    g_free(number);
}

static void bind_number(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    (void)factory;
    (void)column;
    GtkWidget *text = gtk_list_item_get_child(row);
    NwAssemblyItem *item = gtk_list_item_get_item(row);
    show_number(item, NULL, GTK_INSCRIPTION(text));
    g_signal_connect(item, "notify::number", G_CALLBACK(show_number), text);
}

static void unbind_number(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    (void)factory;
    (void)column;
    g_signal_handlers_disconnect_by_data(gtk_list_item_get_item(row), gtk_list_item_get_child(row));
}

/* Where the design comes from that names the pieces. */
typedef struct DesignSource {
    NwColumnsDesign *get;
    gpointer owner;
} DesignSource;

static void bind_text(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    const DesignSource *source = g_object_get_data(G_OBJECT(factory), "nw-design");
    const NwDesign *design = source->get(source->owner);
    NwAssemblyItem *item = gtk_list_item_get_item(row);
    char *text = columns[GPOINTER_TO_INT(column)].dup_text(item, design);
    gtk_inscription_set_text(GTK_INSCRIPTION(gtk_list_item_get_child(row)), text);
    g_free(text);
}

static void bind_state(GtkSignalListItemFactory *factory, GtkListItem *row, gpointer column) {
    (void)factory;
    (void)column;
    static const char *const classes[NW_STATE_COUNT][2] = {
        [NW_STATE_INTENDED] = {"state-intended", NULL},
        [NW_STATE_COOK] = {"state-cook", NULL},
        [NW_STATE_OPENS] = {"state-opens", NULL},
        [NW_STATE_UNDECIDED] = {"state-undecided", NULL},
        [NW_STATE_UNREACHABLE] = {"state-unreachable", NULL},
    };
    NwAssemblyItem *item = gtk_list_item_get_item(row);
    NwAssemblyState state = nw_assembly_item_get_state(item);
    gboolean opens = nw_assembly_item_get(item)->verdict == NW_OPENS;
    GtkWidget *box = gtk_list_item_get_child(row), *mark = gtk_widget_get_first_child(box);
    nw_state_mark_set_state(NW_STATE_MARK(mark), state, opens);
    gtk_widget_set_css_classes(mark, (const char **)classes[state]);
    gtk_inscription_set_text(GTK_INSCRIPTION(gtk_widget_get_last_child(box)),
                             nw_assembly_columns_word(item));
}

static GtkListItemFactory *new_factory(DesignSource source, int column) {
    GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
    gboolean is_state = column == NW_COLUMN_STATE;
    g_object_set_data_full(G_OBJECT(factory), "nw-design", g_memdup2(&source, sizeof source),
                           g_free);
    g_signal_connect(factory, "setup", G_CALLBACK(is_state ? set_up_state : set_up_text),
                     GINT_TO_POINTER(column));
    if (column == NW_COLUMN_NUMBER) {
        g_signal_connect(factory, "bind", G_CALLBACK(bind_number), NULL);
        g_signal_connect(factory, "unbind", G_CALLBACK(unbind_number), NULL);
    } else {
        g_signal_connect(factory, "bind", G_CALLBACK(is_state ? bind_state : bind_text),
                         GINT_TO_POINTER(column));
    }
    return factory;
}

void nw_assembly_columns_add(GtkColumnView *view, NwColumnsDesign *get_design, gpointer owner) {
    for (int i = 0; i < NW_COLUMN_COUNT; i++) {
        GtkColumnViewColumn *column = gtk_column_view_column_new(
            _(columns[i].head), new_factory((DesignSource){get_design, owner}, i));
        GtkCustomSorter *sorter = gtk_custom_sorter_new(columns[i].compare, NULL, NULL);
        gtk_column_view_column_set_sorter(column, GTK_SORTER(sorter));
        gtk_column_view_column_set_resizable(column, TRUE);
        gtk_column_view_column_set_expand(column, i == NW_COLUMN_FIRST_OUT);
        gtk_column_view_append_column(view, column);
        g_object_unref(sorter);
        g_object_unref(column);
    }
    /* A column has no tooltip, but the titles stand in the header in their order. */
    GtkWidget *title = gtk_widget_get_first_child(gtk_widget_get_first_child(GTK_WIDGET(view)));
    for (int i = 0; title && i < NW_COLUMN_COUNT; i++, title = gtk_widget_get_next_sibling(title))
        gtk_widget_set_tooltip_text(title, _(columns[i].tooltip));
}

void nw_assembly_columns_renumber(GtkColumnView *view) {
    GtkColumnViewColumn *column =
        g_list_model_get_item(gtk_column_view_get_columns(view), NW_COLUMN_NUMBER);
    gtk_sorter_changed(gtk_column_view_column_get_sorter(column), GTK_SORTER_CHANGE_DIFFERENT);
    g_object_unref(column);
}

void nw_assembly_columns_spare(GtkColumnView *view, guint count) {
    gboolean first_is_left = TRUE;
    static const NwAssemblyColumn spare[NW_COLUMNS_TO_SPARE] = {
        NW_COLUMN_LAST_OUT, NW_COLUMN_DIFFERENCE, NW_COLUMN_FIRST_OUT, NW_COLUMN_SLIDES};
    for (guint i = 0; i < NW_COLUMNS_TO_SPARE; i++) {
        GtkColumnViewColumn *column =
            g_list_model_get_item(gtk_column_view_get_columns(view), spare[i]);
        gtk_column_view_column_set_visible(column, i >= count);
        if (spare[i] == NW_COLUMN_FIRST_OUT)
            first_is_left = i >= count;
        g_object_unref(column);
    }
    /* One takes the room that is left. */
    GtkColumnViewColumn *state =
        g_list_model_get_item(gtk_column_view_get_columns(view), NW_COLUMN_STATE);
    gtk_column_view_column_set_expand(state, !first_is_left);
    g_object_unref(state);
}

GtkListItem *nw_assembly_columns_row_of(GtkWidget *picked) {
    for (GtkWidget *w = picked; w && !GTK_IS_COLUMN_VIEW(w); w = gtk_widget_get_parent(w)) {
        GtkListItem *row = g_object_get_data(G_OBJECT(w), row_key);
        GtkWidget *child = gtk_widget_get_first_child(w);
        if (!row && child)
            row = g_object_get_data(G_OBJECT(child), row_key);
        /* A row of the view holds cells, and those the widgets that know it. */
        if (!row && child && gtk_widget_get_first_child(child))
            row = g_object_get_data(G_OBJECT(gtk_widget_get_first_child(child)), row_key);
        if (row)
            return row;
    }
    return NULL;
}
