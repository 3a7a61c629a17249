/* Assemblies and slides in words for a person. Strings returned are the caller's (g_free). */
#ifndef NW_TEXT_WORDS_H
#define NW_TEXT_WORDS_H

#include <glib.h>

#include "assembly/found_assembly.h"
#include "fit/setup.h"
#include "slide/levels.h"

/* "C", or "C (2)" for the second copy of a piece that has several. */
char *nw_words_body(const NwDesign *design, const NwFoundAssembly *finding, int body);

/* "A, C and D (2)". */
char *nw_words_bodies(const NwDesign *design, const NwFoundAssembly *finding, guint32 bodies);

/* For a table, which has no room for more: "ACD" where each name is one letter, else
 * "A, Lid, D (2)". */
char *nw_words_bodies_short(const NwDesign *design, const NwFoundAssembly *finding, guint32 bodies);

/* "A and C 2 cells +x", or "B out −z". */
char *nw_words_slide(const NwDesign *design, const NwFoundAssembly *finding, const NwSlide *slide);

/* The same as a sentence to be read out: "A and C slide 2 cells along plus x." */
char *nw_words_slide_spoken(const NwDesign *design, const NwFoundAssembly *finding,
                            const NwSlide *slide);

/* "plus x", "minus y and plus z": a direction to be read out. */
char *nw_words_direction_spoken(int direction);

/* "1·4·1·5": the slides to each separation in order; "0" where there is none. Nothing in it is
 * translated, and it is the same wherever it is shown. */
char *nw_words_levels(const NwLevels *levels);

/* What an assembly is to the designer: "intended", "cook", "opens", "unreachable", ... */
const char *nw_words_role(const NwFoundAssembly *finding, gboolean has_intended);

/* "3 h 10 min", "45 s". */
char *nw_words_seconds(double seconds);

/* "listing places: piece 12 of 40": what is done before the search; NULL once it is. */
char *nw_words_setup(const NwSetupProgress *setup);

/* A sentence for a search whose position an earlier version of this program had saved. */
const char *nw_words_older(void);

/* The order of lists: the intended assembly, or where none is intended, the pieces as drawn; then
 * those that open, then those that may, then the rest; within each by key. For g_ptr_array_sort. */
int nw_words_compare(gconstpointer a, gconstpointer b);

#endif
