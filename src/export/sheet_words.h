/* The sentences of a sheet for the box, in the language of the user. The caller frees them. */
#ifndef NW_EXPORT_SHEET_WORDS_H
#define NW_EXPORT_SHEET_WORDS_H

#include "job/search.h"
#include "slide/grips.h"

/* A slide of the way out, made backwards, over so many cells. */
char *nw_sheet_words_step(const NwDesign *design, const NwFoundAssembly *answer,
                          const NwSlide *slide, int cells, double cell_mm);

/* Which bodies to hold for it. */
char *nw_sheet_words_hold(const NwDesign *design, const NwFoundAssembly *answer,
                          const NwGrips *hold);

/* How it was searched. */
char *nw_sheet_words_search(const NwSearch *search, const NwSearchOptions *options);

/* The number of the version in its store (0: in none), and a fingerprint of the design that is the
 * same wherever it is kept. */
char *nw_sheet_words_version(const NwDesign *design, gint64 version);

/* What to mind when the puzzle is lent: small parts and sharp tips, by the names of the pieces
 * that have them, out of so many pieces. NULL if none has. */
char *nw_sheet_words_caution(const GPtrArray *small, const GPtrArray *sharp, gsize pieces);

#endif
