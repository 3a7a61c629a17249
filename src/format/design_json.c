#include "format/design_json.h"

#include <string.h>

#include "format/json_cells.h"

enum { VERSION = 1, SHIFT_MAX = NW_COORD_MAX - NW_COORD_MIN };

static const NwJsonField design_fields[] = {
    {"format", TRUE}, {"version", TRUE},   {"name", TRUE},     {"envelope", TRUE},
    {"pieces", TRUE}, {"intended", FALSE}, {"mirrors", FALSE}, {NULL},
};
static const NwJsonField envelope_fields[] = {{"cells", TRUE}, {"may_be_empty", FALSE}, {NULL}};
static const NwJsonField piece_fields[] = {
    {"name", TRUE}, {"colour", FALSE}, {"copies", FALSE}, {"cells", TRUE}, {NULL},
};
/* "copy" is what the notch command prints with each placement; it tells nothing new here. */
static const NwJsonField placement_fields[] = {
    {"piece", TRUE}, {"copy", FALSE}, {"turn", TRUE}, {"shift", TRUE}, {NULL},
};

static gboolean read_envelope(const NwJsonAt *at, NwDesign *design) {
    if (!nw_json_is_object(at, envelope_fields))
        return FALSE;
    NwJsonAt cells = nw_json_member(at, "cells");
    if (!nw_json_read_cells(&cells, design->envelope))
        return FALSE;
    if (!design->envelope->count)
        return nw_json_fail(&cells, NW_JSON_ERROR_VALUE,
                            "the envelope has no parts; list at least one cell");
    NwJsonAt empty = nw_json_member(at, "may_be_empty");
    if (!empty.node)
        return TRUE;
    if (!nw_json_read_cells(&empty, design->may_be_empty))
        return FALSE;
    for (guint i = 0; i < design->may_be_empty->count; i++) {
        NwCell cell = design->may_be_empty->cells[i];
        if (cell.mask & ~nw_solid_mask(design->envelope, nw_cell_at(&cell)))
            return nw_json_fail(&empty, NW_JSON_ERROR_VALUE,
                                "cell [%d, %d, %d] has parts here that the envelope lacks; take "
                                "them out here or add them to envelope.cells",
                                cell.x, cell.y, cell.z);
    }
    return TRUE;
}

/* A name: some text on one line. */
static gboolean read_name(const NwJsonAt *at, const char **name) {
    if (!nw_json_text(at, name))
        return FALSE;
    if (!**name)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE, "the name is empty; write at least a letter");
    for (const char *p = *name; *p; p = g_utf8_next_char(p))
        if (g_unichar_iscntrl(g_utf8_get_char(p)))
            return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                                "a name may not have line breaks, tabs or other control "
                                "characters (it has U+%04X); take them out",
                                g_utf8_get_char(p));
    return TRUE;
}

static gboolean read_colour(const NwJsonAt *at, char colour[NW_COLOUR_SIZE]) {
    const char *text;
    if (!nw_json_text(at, &text))
        return FALSE;
    gboolean fine = strlen(text) == NW_COLOUR_SIZE - 1 && text[0] == '#';
    for (int k = 1; k < NW_COLOUR_SIZE - 1 && fine; k++)
        fine = g_ascii_isxdigit(text[k]);
    if (!fine)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "\"%.40s\" is no colour; write one as \"#rrggbb\", such as \"#c8553d\"",
                            text);
    memcpy(colour, text, NW_COLOUR_SIZE);
    return TRUE;
}

/* Reads how many copies the newest piece has; until then it counts with one. */
static gboolean read_copies(const NwJsonAt *at, NwDesign *design) {
    NwPiece *piece = &design->pieces[design->piece_count - 1];
    int copies;
    if (!nw_json_whole(at, 1, NW_COPIES_MAX, &copies))
        return FALSE;
    piece->copies = copies;
    int total = nw_design_copies(design);
    if (total > NW_COPIES_MAX)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "with these, the pieces have %d copies together; make that %d at most",
                            total, NW_COPIES_MAX);
    return TRUE;
}

static gboolean read_piece(const NwJsonAt *at, NwDesign *design) {
    const char *name;
    if (!nw_json_is_object(at, piece_fields))
        return FALSE;
    NwJsonAt name_at = nw_json_member(at, "name");
    if (!read_name(&name_at, &name))
        return FALSE;
    for (size_t i = 0; i < design->piece_count; i++)
        if (g_str_equal(design->pieces[i].name, name))
            return nw_json_fail(&name_at, NW_JSON_ERROR_VALUE,
                                "pieces[%zu] is named \"%s\" too; give one of them another name, "
                                "or make them one piece with more copies",
                                i, name);
    size_t index = nw_design_take_piece(design, name, nw_solid_new());
    NwPiece *piece = &design->pieces[index];
    NwJsonAt colour = nw_json_member(at, "colour"), copies = nw_json_member(at, "copies"),
             cells = nw_json_member(at, "cells");
    if (colour.node && !read_colour(&colour, piece->colour))
        return FALSE;
    if (copies.node) {
        if (!read_copies(&copies, design))
            return FALSE;
    } else if (nw_design_copies(design) > NW_COPIES_MAX) {
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "with this one, the pieces have more than %d copies together; lower "
                            "the copies of another",
                            NW_COPIES_MAX);
    }
    if (!nw_json_read_cells(&cells, piece->solid))
        return FALSE;
    if (!piece->solid->count)
        return nw_json_fail(&cells, NW_JSON_ERROR_VALUE,
                            "the piece has no parts; list at least one cell or take it out");
    return TRUE;
}

static gboolean read_pieces(const NwJsonAt *at, NwDesign *design) {
    guint count;
    if (!nw_json_is_list(at, -1, &count))
        return FALSE;
    if (count > NW_PIECES_MAX)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "%u pieces are listed; make that %d at most (equal pieces can be one "
                            "with more copies)",
                            count, NW_PIECES_MAX);
    for (guint i = 0; i < count; i++) {
        NwJsonAt piece = nw_json_element(at, i);
        if (!read_piece(&piece, design))
            return FALSE;
    }
    return TRUE;
}

static gboolean read_turn(const NwJsonAt *at, NwTurn *turn) {
    const char *name;
    if (!nw_json_text(at, &name))
        return FALSE;
    if (nw_turn_parse(name, turn) != NW_OK)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "\"%.40s\" is no turn; name the three old axes with their signs, such "
                            "as \"+x+y+z\" or \"+y-x+z\"",
                            name);
    if (!nw_turn_is_rotation(*turn))
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "\"%s\" is a reflection, and a piece can only be turned; change one of "
                            "the signs or swap two axes",
                            name);
    return TRUE;
}

static gboolean read_shift(const NwJsonAt *at, NwVec *shift) {
    guint count;
    if (!nw_json_is_list(at, 3, &count))
        return FALSE;
    for (guint k = 0; k < 3; k++) {
        NwJsonAt number = nw_json_element(at, k);
        int value;
        if (!nw_json_whole(&number, -SHIFT_MAX, SHIFT_MAX, &value))
            return FALSE;
        nw_vec_set(shift, (int)k, value);
    }
    return TRUE;
}

/* Which copy of its piece the placement says it is, from 0; -1 if it says nothing. */
static gboolean read_copy(const NwJsonAt *at, const NwDesign *design, int piece, int *copy) {
    *copy = -1;
    return !at->node || nw_json_whole(at, 0, design->pieces[piece].copies - 1, copy);
}

static gboolean read_placement(const NwJsonAt *at, const NwDesign *design, NwPlacement *placement,
                               int *number) {
    if (!nw_json_is_object(at, placement_fields))
        return FALSE;
    NwJsonAt piece = nw_json_member(at, "piece"), copy = nw_json_member(at, "copy"),
             turn = nw_json_member(at, "turn"), shift = nw_json_member(at, "shift");
    if (!design->piece_count)
        return nw_json_fail(&piece, NW_JSON_ERROR_VALUE,
                            "the design has no pieces to place; take \"intended\" out");
    return nw_json_whole(&piece, 0, (int)design->piece_count - 1, &placement->piece) &&
           read_copy(&copy, design, placement->piece, number) &&
           read_turn(&turn, &placement->motion.turn) &&
           read_shift(&shift, &placement->motion.shift);
}

static gboolean read_intended(const NwJsonAt *at, NwDesign *design) {
    guint count;
    if (!nw_json_is_list(at, -1, &count))
        return FALSE;
    if (count > NW_COPIES_MAX)
        return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                            "%u placements are listed; make that one for each copy of each piece, "
                            "%d at most",
                            count, NW_COPIES_MAX);
    NwPlacement placements[NW_COPIES_MAX];
    int copies[NW_COPIES_MAX];
    for (guint i = 0; i < count; i++) {
        NwJsonAt placement = nw_json_element(at, i);
        if (!read_placement(&placement, design, &placements[i], &copies[i]))
            return FALSE;
        for (guint j = 0; j < i && copies[i] >= 0; j++)
            if (placements[j].piece == placements[i].piece && copies[j] == copies[i]) {
                NwJsonAt copy = nw_json_member(&placement, "copy");
                return nw_json_fail(&copy, NW_JSON_ERROR_VALUE,
                                    "intended[%u] places copy %d of piece %d too; number its "
                                    "copies from 0, or leave \"copy\" out",
                                    j, copies[i], placements[i].piece);
            }
    }
    nw_design_set_intended(design, placements, count);
    return TRUE;
}

static gboolean read_mirrors(const NwJsonAt *at, NwDesign *design) {
    const char *text;
    if (!nw_json_text(at, &text))
        return FALSE;
    design->mirrors_together = g_str_equal(text, "together");
    if (design->mirrors_together || g_str_equal(text, "apart"))
        return TRUE;
    return nw_json_fail(at, NW_JSON_ERROR_VALUE,
                        "\"%.40s\" is not known; write \"apart\" or \"together\"", text);
}

/* Format and version come before all else: a newer file may well have fields unknown here. */
static gboolean check_format(const NwJsonAt *root) {
    if (!JSON_NODE_HOLDS_OBJECT(root->node))
        return nw_json_fail(root, NW_JSON_ERROR_FORMAT,
                            "this is JSON but no design; a design is an object in braces");
    NwJsonAt format = nw_json_member(root, "format"), version = nw_json_member(root, "version");
    const char *text;
    int number;
    if (!format.node)
        return nw_json_fail(root, NW_JSON_ERROR_FIELD,
                            "the field \"format\" is missing; a design has \"format\": "
                            "\"notchwright design\"");
    if (!nw_json_text(&format, &text))
        return FALSE;
    if (!g_str_equal(text, "notchwright design"))
        return nw_json_fail(&format, NW_JSON_ERROR_FORMAT,
                            "\"%.40s\" is no format known here; \"notchwright design\" is", text);
    if (!version.node)
        return nw_json_fail(root, NW_JSON_ERROR_FIELD,
                            "the field \"version\" is missing; add \"version\": %d", VERSION);
    if (!nw_json_whole(&version, 1, G_MAXINT, &number))
        return FALSE;
    if (number > VERSION)
        return nw_json_fail(&version, NW_JSON_ERROR_FORMAT,
                            "the file is of version %d and this program knows only %d: it is too "
                            "old; open the file with a newer one",
                            number, VERSION);
    return TRUE;
}

static NwDesign *read_design(const NwJsonAt *root) {
    const char *name;
    if (!check_format(root) || !nw_json_is_object(root, design_fields))
        return NULL;
    NwJsonAt name_at = nw_json_member(root, "name"), envelope = nw_json_member(root, "envelope"),
             pieces = nw_json_member(root, "pieces"), intended = nw_json_member(root, "intended"),
             mirrors = nw_json_member(root, "mirrors");
    if (!read_name(&name_at, &name))
        return NULL;
    NwDesign *design = nw_design_new(name);
    if (read_envelope(&envelope, design) && read_pieces(&pieces, design) &&
        (!intended.node || read_intended(&intended, design)) &&
        (!mirrors.node || read_mirrors(&mirrors, design)))
        return design;
    nw_design_free(design);
    return NULL;
}

/* The text parsed, or NULL with an error. */
static JsonParser *parse(const char *text, gssize length, const char *source_name, GError **error) {
    gsize bytes = length < 0 ? strlen(text) : (gsize)length;
    if (bytes > NW_DESIGN_BYTES_MAX) {
        g_set_error(error, NW_JSON_ERROR, NW_JSON_ERROR_SIZE,
                    "%s%sthe text is longer than %zu MiB, more than any design needs; check that "
                    "it is the right file",
                    source_name ? source_name : "", source_name ? ": " : "",
                    NW_DESIGN_BYTES_MAX >> 20);
        return NULL;
    }
    if (!nw_json_check(text, bytes, source_name, error))
        return NULL;
    g_autoptr(JsonParser) parser = json_parser_new_immutable();
    if (json_parser_load_from_data(parser, text, (gssize)bytes, error))
        return g_steal_pointer(&parser);
    g_prefix_error(error, "%s%s", source_name ? source_name : "", source_name ? ": " : "");
    return NULL;
}

NwDesign *nw_design_from_json(const char *text, gssize length, const char *source_name,
                              GError **error) {
    g_autoptr(JsonParser) parser = parse(text, length, source_name, error);
    if (!parser)
        return NULL;
    NwJsonReport report = {source_name, error};
    NwJsonAt root = nw_json_document(json_parser_get_root(parser), &report);
    return read_design(&root);
}

gboolean nw_design_placements_from_json(NwDesign *design, const char *text, gssize length,
                                        const char *source_name, GError **error) {
    g_autoptr(JsonParser) parser = parse(text, length, source_name, error);
    if (!parser)
        return FALSE;
    NwJsonReport report = {source_name, error};
    NwJsonAt root = nw_json_document(json_parser_get_root(parser), &report);
    if (!JSON_NODE_HOLDS_OBJECT(root.node))
        return read_intended(&root, design);
    NwJsonAt list = nw_json_member(&root, "placements");
    if (!list.node)
        list = nw_json_member(&root, "intended");
    if (list.node)
        return read_intended(&list, design);
    return nw_json_fail(&root, NW_JSON_ERROR_FIELD,
                        "there are no placements here: give a list of them, or an object that has "
                        "one as \"placements\" or \"intended\"");
}
