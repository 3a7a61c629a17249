/* The interchange file: one design as JSON.
 *
 * The format is version 1 of "notchwright design"; data/notchwright-design.schema.json describes
 * it. Reading is strict: whatever the format does not know, or a design cannot hold, is refused
 * with one sentence that says where (line and column, or a path such as pieces[2].cells[5]) and
 * what to do. Nothing is guessed, rounded or dropped.
 *
 * What a file *means* is not judged here: a piece in two lumps or an intended assembly that does
 * not fit is read as it stands, so that `nw_design_faults` (design/faults.h) can name it.
 *
 * Errors: NW_JSON_ERROR (format/json_strict.h), and G_FILE_ERROR from the two that touch files.
 * Thread: any. Cost: linear in the text, but for a sort of each cell list; reading takes up to
 * some 60 times the size of the text in memory while it lasts. */
#ifndef NW_FORMAT_DESIGN_JSON_H
#define NW_FORMAT_DESIGN_JSON_H

#include <glib.h>

#include "design/design.h"
#include "format/json_strict.h"

/* Longer files are refused. The largest envelope, 64^3 cells, with pieces to fill it takes 10. */
#define NW_DESIGN_BYTES_MAX ((gsize)16 * 1024 * 1024)

/* Reads a design; free it with nw_design_free. `length` -1: up to the final zero. `source_name`
 * (NULL allowed) starts every message: a file name, or what else the user calls the text. */
NwDesign *nw_design_from_json(const char *text, gssize length, const char *source_name,
                              GError **error);

/* Reads a file, or standard input for "-". */
NwDesign *nw_design_load(const char *path_or_dash, GError **error);

/* Makes the assembly that a file lists the intended one of the design, in memory only: the file is
 * a list of placements, or an object that has one as "placements" (a line that the notch command
 * printed) or as "intended" (a design). */
gboolean nw_design_load_placements(NwDesign *design, const char *path_or_dash, GError **error);
gboolean nw_design_placements_from_json(NwDesign *design, const char *text, gssize length,
                                        const char *source_name, GError **error);

/* Writes a design; free it with g_free. Equal designs give equal texts, and reading the text gives
 * an equal design, if it keeps to the format's rules (an unfinished one may not: see below). */
char *nw_design_to_json(const NwDesign *design);

/* Writes the file whole or not at all. A design that could not be read back (no parts in the
 * envelope or in a piece, two pieces of one name) is refused, and an older file is left alone. */
gboolean nw_design_save(const NwDesign *design, const char *path, GError **error);

#endif
