/* What is in a PDF, read back by pdftotext and pdfinfo of Poppler. Texts are the caller's (g_free).
 */
#ifndef PDF_FIXTURE_H
#define PDF_FIXTURE_H

#include <glib.h>

/* Whether the programs are installed; says so where they are not. */
gboolean pdf_can_be_read(void);

/* What a command prints; the test fails if it does. */
char *pdf_run(const char *command);

char *pdf_text(const char *path);  /* as it is laid out */
char *pdf_words(const char *path); /* as one line with single spaces */

/* How many pages, and the size of the first in points. */
int pdf_pages(const char *path, double *width, double *height);

/* Fails the test unless every word lies on its page. */
void pdf_assert_inside(const char *path);

#endif
