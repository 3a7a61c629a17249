#include "app/application.h"

#include <glib/gi18n.h>

#include "app/common/config.h"
#include "app/common/wrap.h"
#include "app/window.h"
#include "store/library.h"

struct _NwApplication {
    GtkApplication parent;
    NwLibrary *library;
    char *store; /* --store FILE, or NULL */
};

G_DEFINE_FINAL_TYPE(NwApplication, nw_application, GTK_TYPE_APPLICATION)

static const struct {
    const char *action;
    const char *keys[3];
} accels[] = {
    {"app.quit", {"<Ctrl>q"}},
    {"win.new-design", {"<Ctrl>n"}},
    {"win.open-file", {"<Ctrl>o"}},
    {"win.export-file", {"<Ctrl><Shift>s"}},
    {"win.show-start", {"<Alt>Home"}},
    {"win.make", {"<Ctrl>m"}},
    {"win.back", {"<Alt>Left"}},
    {"win.change-envelope", {"<Ctrl>e"}},
    {"win.undo", {"<Ctrl>z"}},
    {"win.redo", {"<Ctrl><Shift>z", "<Ctrl>y"}},
    {"win.look-or-paint", {"<Ctrl>l"}},
    {"win.versions", {"<Ctrl>h"}},
    {"win.difficulty", {"<Ctrl>d"}},
    {"win.search", {"F5", "<Ctrl>Return"}},
    {"win.take-apart", {"<Ctrl>r"}},
    {"win.sketch", {"<Ctrl>period"}},
    {"win.make-intended", {"<Ctrl>i"}},
    {"win.beside", {"<Ctrl>b"}},
    {"win.block", {"<Ctrl>k"}},
    {"win.explain", {"<Ctrl>j"}},
    {"win.copy-picture", {"<Ctrl><Shift>c"}},
    {"win.save-picture", {"<Ctrl>p"}},
    {"win.look('solid')", {"<Alt>1"}},
    {"win.look('see-through')", {"<Alt>2"}},
    {"win.look('lines')", {"<Alt>3"}},
    {"win.reset-view", {"<Ctrl>0"}},
    {"win.parallel", {"<Ctrl><Shift>l"}},
    {"win.one-colour", {"<Ctrl><Shift>m"}},
    {"win.tips", {"<Ctrl>t"}},
    {"win.show-help-overlay", {"<Ctrl>question"}},
    {"win.next-panel", {"F6"}},
    {"win.panel-before", {"<Shift>F6"}},
};

static void quit_now(NwWindow *window, gpointer app) {
    (void)window;
    for (GList *windows; (windows = gtk_application_get_windows(app));)
        gtk_window_destroy(windows->data);
}

static void on_quit(GSimpleAction *action, GVariant *parameter, gpointer data) {
    (void)action;
    (void)parameter;
    GList *windows = gtk_application_get_windows(data);
    while (windows && !NW_IS_WINDOW(windows->data))
        windows = windows->next;
    if (windows)
        nw_window_before_drop(windows->data, quit_now, data, NULL);
    else
        quit_now(NULL, data);
}

static void on_about(GSimpleAction *action, GVariant *parameter, gpointer data) {
    (void)action;
    (void)parameter;
    gtk_show_about_dialog(gtk_application_get_active_window(data), "program-name", "Notchwright",
                          "version", NW_VERSION, "comments",
                          _("Designs interlocking solid puzzles"), "license-type",
                          GTK_LICENSE_GPL_3_0, "logo-icon-name", NW_APP_ID, NULL);
}

static void nw_application_startup(GApplication *app) {
    static const GActionEntry actions[] = {{"quit", on_quit, NULL, NULL, NULL, {0}},
                                           {"about", on_about, NULL, NULL, NULL, {0}}};
    G_APPLICATION_CLASS(nw_application_parent_class)->startup(app);
    g_type_ensure(NW_TYPE_WRAP); /* that many templates have */
    g_action_map_add_action_entries(G_ACTION_MAP(app), actions, G_N_ELEMENTS(actions), app);
    for (gsize i = 0; i < G_N_ELEMENTS(accels); i++)
        gtk_application_set_accels_for_action(GTK_APPLICATION(app), accels[i].action,
                                              accels[i].keys);
    GtkCssProvider *css = gtk_css_provider_new();
    gtk_css_provider_load_from_resource(css, NW_RESOURCES "/ui/style.css");
    gtk_style_context_add_provider_for_display(gdk_display_get_default(), GTK_STYLE_PROVIDER(css),
                                               GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
    g_object_unref(css);
    gtk_icon_theme_add_resource_path(gtk_icon_theme_get_for_display(gdk_display_get_default()),
                                     NW_RESOURCES "/icons");
}

/* Opens the store, once. Without one there is nothing to work on: say why, and how to go on. */
static gboolean ensure_library(NwApplication *self) {
    if (self->library)
        return TRUE;
    GError *error = NULL;
    self->library = nw_library_open(self->store, NW_LIBRARY_CREATE, &error);
    if (self->library)
        return TRUE;
    GtkWidget *dialog = gtk_message_dialog_new(NULL, 0, GTK_MESSAGE_ERROR, GTK_BUTTONS_CLOSE, "%s",
                                               _("The library cannot be opened"));
    gtk_message_dialog_format_secondary_text(GTK_MESSAGE_DIALOG(dialog), "%s", error->message);
    gtk_window_set_application(GTK_WINDOW(dialog), GTK_APPLICATION(self));
    g_signal_connect(dialog, "response", G_CALLBACK(gtk_window_destroy), NULL);
    gtk_window_present(GTK_WINDOW(dialog));
    g_error_free(error);
    return FALSE;
}

static NwWindow *ensure_window(NwApplication *self) {
    GtkWindow *window = gtk_application_get_active_window(GTK_APPLICATION(self));
    if (window)
        return NW_IS_WINDOW(window) ? NW_WINDOW(window) : NULL;
    if (!ensure_library(self))
        return NULL;
    return nw_window_new(GTK_APPLICATION(self), self->library);
}

static void nw_application_activate(GApplication *app) {
    gboolean first = !gtk_application_get_active_window(GTK_APPLICATION(app));
    NwWindow *window = ensure_window(NW_APPLICATION(app));
    if (!window)
        return;
    if (first)
        nw_window_open_last(window);
    gtk_window_present(GTK_WINDOW(window));
}

static void open_one(NwWindow *window, GFile *file, const char *path) {
    if (path) {
        nw_window_open_file(window, path);
        return;
    }
    char *uri = g_file_get_uri(file);
    char *sentence =
        g_strdup_printf(_("%s is not a local file; save it on this computer, then open it"), uri);
    nw_window_refuse_file(window, sentence);
    g_free(sentence);
    g_free(uri);
}

/* A .notch file is a store to work in; anything else is a design to be read. */
static void nw_application_open(GApplication *app, GFile **files, int count, const char *hint) {
    (void)hint;
    NwApplication *self = NW_APPLICATION(app);
    for (int i = 0; i < count; i++) {
        char *path = g_file_get_path(files[i]);
        if (path && g_str_has_suffix(path, ".notch") && !self->library) {
            g_free(self->store);
            self->store = path;
            nw_application_activate(app);
            continue;
        }
        NwWindow *window = ensure_window(self);
        if (window) {
            open_one(window, files[i], path);
            gtk_window_present(GTK_WINDOW(window));
        }
        g_free(path);
    }
}

static int nw_application_handle_local_options(GApplication *app, GVariantDict *options) {
    NwApplication *self = NW_APPLICATION(app);
    g_variant_dict_lookup(options, "store", "^ay", &self->store);
    return -1;
}

static void nw_application_finalize(GObject *object) {
    NwApplication *self = NW_APPLICATION(object);
    nw_library_close(self->library);
    g_free(self->store);
    G_OBJECT_CLASS(nw_application_parent_class)->finalize(object);
}

static void nw_application_class_init(NwApplicationClass *class) {
    G_OBJECT_CLASS(class)->finalize = nw_application_finalize;
    GApplicationClass *application = G_APPLICATION_CLASS(class);
    application->startup = nw_application_startup;
    application->activate = nw_application_activate;
    application->open = nw_application_open;
    application->handle_local_options = nw_application_handle_local_options;
}

static void nw_application_init(NwApplication *self) {
    static const GOptionEntry options[] = {
        {"store", 0, 0, G_OPTION_ARG_FILENAME, NULL, N_("Use this library"), N_("FILE")}, {NULL}};
    g_application_add_main_option_entries(G_APPLICATION(self), options);
}

/* A store of one's own is a session of its own: another instance must not swallow it. */
NwApplication *nw_application_new(void) {
    return g_object_new(NW_TYPE_APPLICATION, "application-id", NW_APP_ID, "flags",
                        G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, "resource-base-path",
                        NW_RESOURCES, NULL);
}
