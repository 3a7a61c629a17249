#include "pdf_fixture.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

gboolean pdf_can_be_read(void) {
    g_autofree char *text = g_find_program_in_path("pdftotext");
    g_autofree char *info = g_find_program_in_path("pdfinfo");
    if (!text || !info)
        printf("no pdftotext and pdfinfo: what is on the pages was not looked at\n");
    return text && info;
}

char *pdf_run(const char *command) {
    g_autofree char *err = NULL;
    g_autoptr(GError) error = NULL;
    char *out = NULL;
    int status = 0;
    ck_assert_msg(g_spawn_command_line_sync(command, &out, &err, &status, &error), "%s: %s",
                  command, error ? error->message : "");
    ck_assert_msg(g_spawn_check_wait_status(status, NULL), "%s: %s", command, err);
    return out;
}

char *pdf_text(const char *path) {
    g_autofree char *command = g_strdup_printf("pdftotext -layout '%s' -", path);
    return pdf_run(command);
}

int pdf_pages(const char *path, double *width, double *height) {
    g_autofree char *command = g_strdup_printf("pdfinfo '%s'", path), *info = pdf_run(command);
    const char *pages = strstr(info, "Pages:"), *size = strstr(info, "Page size:");
    ck_assert(pages && size);
    ck_assert_int_eq(sscanf(size, "Page size: %lf x %lf", width, height), 2);
    return atoi(pages + 6);
}

void pdf_assert_inside(const char *path) {
    double width, height;
    int pages = pdf_pages(path, &width, &height), words = 0;
    ck_assert_int_gt(pages, 0);
    g_autofree char *command = g_strdup_printf("pdftotext -bbox '%s' -", path);
    g_autofree char *boxes = pdf_run(command);
    for (const char *at = boxes; (at = strstr(at, "<word ")); at++) {
        double low_x, low_y, high_x, high_y;
        ck_assert_int_eq(sscanf(at, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"",
                                &low_x, &low_y, &high_x, &high_y),
                         4);
        ck_assert_msg(low_x >= 8 && low_y >= 8 && high_x <= width - 8 && high_y <= height - 8,
                      "%.90s", at);
        words++;
    }
    ck_assert_int_gt(words, 10);
}

char *pdf_words(const char *path) {
    g_autofree char *text = pdf_text(path);
    g_auto(GStrv) words = g_strsplit_set(text, " \n\f", -1);
    GString *line = g_string_new(NULL);
    for (char **word = words; *word; word++)
        if (**word)
            g_string_append_printf(line, "%s%s", line->len ? " " : "", *word);
    return g_string_free(line, FALSE);
}
