#include "store/design_rows.h"

#include <string.h>

#include "store/blob.h"
#include "store/statement.h"

static gboolean colour_fits(const char *colour) {
    if (!colour[0])
        return TRUE;
    if (!memchr(colour, '\0', NW_COLOUR_SIZE) || colour[0] != '#')
        return FALSE;
    for (int i = 1; i < NW_COLOUR_SIZE - 1; i++)
        if (!g_ascii_isxdigit(colour[i]))
            return FALSE;
    return TRUE;
}

static const char *intended_fault(const NwDesign *design) {
    int listed[NW_PIECES_MAX] = {0};
    for (size_t i = 0; i < design->intended_count; i++) {
        const NwPlacement *placement = &design->intended[i];
        if (placement->piece < 0 || (size_t)placement->piece >= design->piece_count)
            return "its intended assembly places a piece that is not there";
        if (!nw_blob_holds(placement) || !nw_turn_is_rotation(placement->motion.turn))
            return "its intended assembly has a turn or a shift that is out of range";
        listed[placement->piece]++;
    }
    for (size_t i = 0; design->intended_count && i < design->piece_count; i++)
        if (listed[i] != design->pieces[i].copies)
            return "its intended assembly does not place every copy of every piece once";
    return NULL;
}

const char *nw_design_rows_fault(const NwDesign *design) {
    if (!g_utf8_validate(design->name, -1, NULL) || !design->name[0])
        return "its name is empty or not UTF-8";
    if (design->piece_count > NW_PIECES_MAX)
        return "it has more than 64 pieces";
    int copies = 0;
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        if (!g_utf8_validate(piece->name, -1, NULL))
            return "the name of a piece is not UTF-8";
        if (!colour_fits(piece->colour))
            return "the colour of a piece is not of the form #rrggbb";
        if (piece->copies < 1 || piece->copies > NW_COPIES_MAX)
            return "a piece has no copies, or more than 256";
        copies += piece->copies;
    }
    if (copies > NW_COPIES_MAX)
        return "it has more than 256 pieces, copies counted";
    return intended_fault(design);
}

/* Each field goes in with its length before it, so that no two designs feed the same bytes. */
static void feed(GChecksum *sum, const void *bytes, gsize size) {
    guint64 length = GUINT64_TO_LE((guint64)size);
    g_checksum_update(sum, (const guchar *)&length, sizeof length);
    if (size)
        g_checksum_update(sum, bytes, (gssize)size);
}

static void feed_text(GChecksum *sum, const char *text) {
    feed(sum, text, strlen(text));
}

static void feed_solid(GChecksum *sum, const NwSolid *solid) {
    g_autoptr(GByteArray) cells = nw_blob_of_solid(solid);
    feed(sum, cells->data, cells->len);
}

GBytes *nw_design_rows_dup_digest(const NwDesign *design) {
    g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
    feed_text(sum, design->name);
    feed_text(sum, design->mirrors_together ? "together" : "apart");
    feed_solid(sum, design->envelope);
    feed_solid(sum, design->may_be_empty);
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        guint64 copies = GUINT64_TO_LE((guint64)piece->copies);
        feed_text(sum, piece->name);
        feed_text(sum, piece->colour);
        feed(sum, &copies, sizeof copies);
        feed_solid(sum, piece->solid);
    }
    g_autoptr(GByteArray) intended =
        nw_blob_of_placements(design->intended, design->intended_count);
    feed(sum, intended->data, intended->len);
    guint8 digest[32];
    gsize size = sizeof digest;
    g_checksum_get_digest(sum, digest, &size);
    return g_bytes_new(digest, size);
}

static gboolean write_pieces(NwLibrary *library, gint64 version_id, const NwDesign *design,
                             GError **error) {
    NwStatement add = nw_statement(library, "INSERT INTO piece (version, ordinal, name, colour, "
                                            "copies, cells) VALUES (?, ?, ?, ?, ?, ?)");
    for (size_t i = 0; i < design->piece_count; i++) {
        const NwPiece *piece = &design->pieces[i];
        g_autoptr(GByteArray) cells = nw_blob_of_solid(piece->solid);
        nw_statement_bind(&add, nw_int(version_id), nw_int((gint64)i), nw_text(piece->name),
                          nw_text(piece->colour), nw_int(piece->copies),
                          nw_blob(cells->data, cells->len));
        nw_statement_run(&add);
    }
    return nw_statement_end(&add, error);
}

static gboolean write_intended(NwLibrary *library, gint64 version_id, const NwDesign *design,
                               GError **error) {
    NwStatement add = nw_statement(library, "INSERT INTO intended (version, ordinal, piece, turn, "
                                            "x, y, z) VALUES (?, ?, ?, ?, ?, ?, ?)");
    for (size_t i = 0; i < design->intended_count; i++) {
        const NwPlacement *placement = &design->intended[i];
        NwVec shift = placement->motion.shift;
        char turn[NW_TURN_NAME_SIZE];
        nw_turn_name(placement->motion.turn, turn);
        nw_statement_bind(&add, nw_int(version_id), nw_int((gint64)i), nw_int(placement->piece),
                          nw_text(turn), nw_int(shift.x), nw_int(shift.y), nw_int(shift.z));
        nw_statement_run(&add);
    }
    return nw_statement_end(&add, error);
}

gboolean nw_design_rows_write(NwLibrary *library, gint64 version_id, const NwDesign *design,
                              GError **error) {
    return write_pieces(library, version_id, design, error) &&
           write_intended(library, version_id, design, error);
}

static NwSolid *column_solid(const NwStatement *row, int column) {
    gsize size;
    const guint8 *bytes = nw_column_blob(row, column, &size);
    return nw_blob_read_solid(bytes, size);
}

static void replace_solid(NwStatement *row, int column, NwSolid **solid) {
    NwSolid *read = column_solid(row, column);
    if (!read) {
        row->code = SQLITE_CORRUPT;
        return;
    }
    nw_solid_free(*solid);
    *solid = read;
}

static NwDesign *read_head(NwLibrary *library, gint64 version_id, GError **error) {
    NwStatement row = nw_statement(library, "SELECT name, mirrors_together, envelope, may_be_empty "
                                            "FROM version WHERE id = ?");
    nw_statement_bind(&row, nw_int(version_id));
    NwDesign *design = NULL;
    if (nw_statement_row(&row)) {
        g_autofree char *name = nw_column_dup_text(&row, 0);
        design = nw_design_new(name);
        design->mirrors_together = nw_column_int(&row, 1) != 0;
        replace_solid(&row, 2, &design->envelope);
        replace_solid(&row, 3, &design->may_be_empty);
    }
    if (!nw_statement_end(&row, error)) {
        g_clear_pointer(&design, nw_design_free);
        return NULL;
    }
    if (!design)
        g_set_error(error, NW_LIBRARY_ERROR, NW_LIBRARY_ERROR_GONE,
                    "the store has no version %" G_GINT64_FORMAT " any more; list its designs",
                    version_id);
    return design;
}

static void read_piece(NwStatement *row, NwDesign *design) {
    NwSolid *solid = column_solid(row, 4);
    g_autofree char *name = nw_column_dup_text(row, 1);
    g_autofree char *colour = nw_column_dup_text(row, 2);
    gint64 copies = nw_column_int(row, 3);
    if (!solid || nw_column_int(row, 0) != (gint64)design->piece_count ||
        design->piece_count == NW_PIECES_MAX || copies < 1 || copies > NW_COPIES_MAX ||
        strlen(colour) >= NW_COLOUR_SIZE) {
        nw_solid_free(solid);
        row->code = SQLITE_CORRUPT;
        return;
    }
    size_t at = nw_design_take_piece(design, name, solid);
    design->pieces[at].copies = (int)copies;
    g_strlcpy(design->pieces[at].colour, colour, NW_COLOUR_SIZE);
}

static gboolean read_pieces(NwLibrary *library, gint64 version_id, NwDesign *design,
                            GError **error) {
    NwStatement row =
        nw_statement(library, "SELECT ordinal, name, colour, copies, cells FROM piece "
                              "WHERE version = ? ORDER BY ordinal");
    nw_statement_bind(&row, nw_int(version_id));
    while (nw_statement_row(&row))
        read_piece(&row, design);
    return nw_statement_end(&row, error);
}

static gboolean read_placement(const NwStatement *row, NwPlacement *placement) {
    g_autofree char *turn = nw_column_dup_text(row, 1);
    gint64 numbers[4] = {nw_column_int(row, 0), nw_column_int(row, 2), nw_column_int(row, 3),
                         nw_column_int(row, 4)};
    for (int i = 0; i < 4; i++)
        if (numbers[i] < G_MININT16 || numbers[i] > G_MAXINT16)
            return FALSE;
    placement->piece = (int)numbers[0];
    placement->motion.shift = nw_vec((int)numbers[1], (int)numbers[2], (int)numbers[3]);
    return nw_turn_parse(turn, &placement->motion.turn) == NW_OK;
}

static gboolean read_intended(NwLibrary *library, gint64 version_id, NwDesign *design,
                              GError **error) {
    NwPlacement placements[NW_COPIES_MAX];
    size_t count = 0;
    NwStatement row = nw_statement(library, "SELECT piece, turn, x, y, z FROM intended "
                                            "WHERE version = ? ORDER BY ordinal");
    nw_statement_bind(&row, nw_int(version_id));
    while (nw_statement_row(&row))
        if (count == NW_COPIES_MAX || !read_placement(&row, &placements[count++]))
            row.code = SQLITE_CORRUPT;
    if (!nw_statement_end(&row, error))
        return FALSE;
    nw_design_set_intended(design, placements, count);
    return TRUE;
}

NwDesign *nw_design_rows_read(NwLibrary *library, gint64 version_id, GError **error) {
    NwDesign *design = read_head(library, version_id, error);
    if (!design)
        return NULL;
    gboolean well = read_pieces(library, version_id, design, error) &&
                    read_intended(library, version_id, design, error);
    if (well && nw_design_rows_fault(design))
        well = nw_library_fail(library->path, SQLITE_CORRUPT, error);
    if (!well)
        g_clear_pointer(&design, nw_design_free);
    return design;
}
