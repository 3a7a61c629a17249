#include "notch_fixture.h"

#include <check.h>

#include "store_fixture.h"

const char *program;

void told_clear(Told *told) {
    g_free(told->out);
    g_free(told->err);
}

GSubprocess *spawn(GSubprocessFlags flags, const char *words) {
    g_autoptr(GError) error = NULL;
    g_autoptr(GSubprocessLauncher) launcher = g_subprocess_launcher_new(flags);
    g_subprocess_launcher_set_cwd(launcher, store_folder);
    g_subprocess_launcher_setenv(launcher, "XDG_DATA_HOME", store_folder, TRUE);
    g_subprocess_launcher_setenv(launcher, "LC_ALL", "C.UTF-8", TRUE);
    g_subprocess_launcher_setenv(launcher, "TERM", "xterm", TRUE);
    g_subprocess_launcher_unsetenv(launcher, "NO_COLOR");
    g_auto(GStrv) argv = NULL;
    g_autofree char *line = g_strconcat("'", program, "' ", words, NULL);
    ck_assert_msg(g_shell_parse_argv(line, NULL, &argv, &error), "%s", line);
    GSubprocess *process =
        g_subprocess_launcher_spawnv(launcher, (const char *const *)argv, &error);
    ck_assert_msg(process != NULL, "%s", error ? error->message : "no error");
    return process;
}

Told wait_for(GSubprocess *process, const char *input) {
    Told told;
    g_autoptr(GError) error = NULL;
    ck_assert(g_subprocess_communicate_utf8(process, input, NULL, &told.out, &told.err, &error));
    told.exit = g_subprocess_get_if_exited(process) ? g_subprocess_get_exit_status(process) : -1;
    g_object_unref(process);
    return told;
}

Told notch_reading(const char *input, const char *words) {
    return wait_for(spawn(G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE |
                              G_SUBPROCESS_FLAGS_STDERR_PIPE,
                          words),
                    input);
}

Told notch(const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *words = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    return notch_reading("", words);
}

void assert_exit(const Told *told, int exit) {
    ck_assert_msg(told->exit == exit, "exit %d, not %d: %s%s", told->exit, exit, told->err,
                  told->out);
}
