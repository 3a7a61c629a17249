/* Numbers and words as files want them: a decimal point in every locale. Thread: any. */
#ifndef NW_MAKE_TEXT_H
#define NW_MAKE_TEXT_H

#include <glib.h>

/* An angle with one decimal where it needs one: "90°", "70.5°". The caller frees it. */
char *nw_dup_degrees(double degrees);

/* Adds `before` and the number with so many decimals. */
void nw_append_number(GString *out, const char *before, double value, int decimals);

/* Adds a field of a CSV file (RFC 4180), in quotes where it needs them. One that a table program
 * would take for a formula (it begins with = + - @) gets a leading apostrophe. */
void nw_append_csv(GString *out, const char *field);

#endif
