/* The interchange file: what is read, what is refused and how, and that writing keeps everything.
 * The argument, if given, is the kept corpus folder: its valid-* and bad-* files are read too. */
#include <check.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#include "format/design_json.h"
#include "lattice/convex.h"
#include "suite.h"

static const char *corpus;

#define HEAD "{\"format\": \"notchwright design\", \"version\": 1, "
#define NAMED HEAD "\"name\": \"n\", "
#define CELL "\"cells\": [[0, 0, 0, 31]]"
#define ENVELOPE "\"envelope\": {" CELL "}, "
#define IN_ENVELOPE(inside) NAMED "\"envelope\": {" inside "}, \"pieces\": []}"
#define IN_CELLS(list) IN_ENVELOPE("\"cells\": [" list "]")
#define IN_PIECES(list) NAMED ENVELOPE "\"pieces\": [" list "]}"
#define IN_PIECE(fields) IN_PIECES("{\"name\": \"A\", " CELL fields "}")
#define WITH(tail) NAMED ENVELOPE "\"pieces\": [{\"name\": \"A\", " CELL "}], " tail "}"
#define IN_PLACEMENT(fields) WITH("\"intended\": [{" fields "}]")
#define LEAST NAMED ENVELOPE "\"pieces\": []}"

typedef struct Bad {
    const char *text;
    int code;                 /* an NwJsonError */
    const char *fragments[2]; /* the message must hold both */
} Bad;

enum {
    SYNTAX = NW_JSON_ERROR_SYNTAX,
    FORMAT = NW_JSON_ERROR_FORMAT,
    FIELD = NW_JSON_ERROR_FIELD,
    VALUE = NW_JSON_ERROR_VALUE,
};

static const Bad bad[] = {
    /* not JSON */
    {"", SYNTAX, {"line 1, column 1: the text ends here", "cut short"}},
    {"  \n ", SYNTAX, {"line 2, column 2: the text ends here", "a value"}},
    {HEAD, SYNTAX, {"the text ends here", "a field name"}},
    {HEAD "\"name\": \"abc", SYNTAX, {"never closed", "column 56"}},
    {LEAST "x", SYNTAX, {"the end of the file should follow here, not 'x'", "line 1"}},
    {LEAST " {}", SYNTAX, {"the end of the file should follow here, not '{'", "line 1"}},
    {"{\n  \"a\": 1,\n}", SYNTAX, {"line 3, column 1", "take that comma out"}},
    {"[1, 2,]", SYNTAX, {"column 7", "take that comma out"}},
    {"[1 2]", SYNTAX, {"column 4", "a comma or ] should follow here, not '2'"}},
    {"[1,,2]", SYNTAX, {"column 4", "a value should follow here, not ','"}},
    {"{\"a\" 1}", SYNTAX, {"column 6", "a colon"}},
    {"{\"a\": 1 \"b\": 2}", SYNTAX, {"column 9", "a comma or }"}},
    {"{a: 1}", SYNTAX, {"column 2", "a field name in double quotes"}},
    {"{'a': 1}", SYNTAX, {"column 2", "a field name in double quotes"}},
    {"['x']", SYNTAX, {"column 2", "a value should follow here, not '''"}},
    {"// c\n[]", SYNTAX, {"column 1", "JSON has no comments"}},
    {"[/* c */1]", SYNTAX, {"column 2", "JSON has no comments"}},
    {"[1] # c", SYNTAX, {"column 5", "JSON has no comments"}},
    {"var x = [1];", SYNTAX, {"column 1", "a value"}},
    {"[NaN]", SYNTAX, {"column 2", "a value"}},
    {"[TRUE]", SYNTAX, {"column 2", "a value"}},
    {"[tru", SYNTAX, {"column 2", "a value"}},
    {"[truex]", SYNTAX, {"column 6", "a comma or ]"}},
    {"[01]", SYNTAX, {"column 2", "leading zeros"}},
    {"[-00]", SYNTAX, {"column 3", "leading zeros"}},
    {"[0x10]", SYNTAX, {"column 3", "a comma or ]"}},
    {"[- 5]", SYNTAX, {"column 3", "a digit should follow here, not the character U+0020"}},
    {"[+1]", SYNTAX, {"column 2", "a value"}},
    {"[.5]", SYNTAX, {"column 2", "a value"}},
    {"[1.]", SYNTAX, {"column 4", "a digit"}},
    {"[1e+]", SYNTAX, {"column 5", "a digit"}},
    {"[\"\\q\"]", SYNTAX, {"column 3", "no such escape"}},
    {"[\"\\u12g4\"]", SYNTAX, {"column 3", "four hexadecimal digits"}},
    {"[\"\\u12", SYNTAX, {"column 3", "four hexadecimal digits"}},
    {"[\"\\u0000\"]", SYNTAX, {"column 3", "\\u0000"}},
    {"[\"\\ud83ex\"]", SYNTAX, {"column 3", "second half must follow"}},
    {"[\"\\ud83e\\u0041\"]", SYNTAX, {"column 3", "second half must follow"}},
    {"[\"\\udde9\"]", SYNTAX, {"column 3", "the first is missing"}},
    {"[\"a\nb\"]", SYNTAX, {"column 4", "over the end of its line"}},
    {"[\"a\tb\"]", SYNTAX, {"column 4", "control characters"}},
    {"[\n\"\xc3\xa9\", \"\xff\"]", SYNTAX, {"line 2, column 7", "0xff"}},
    {"[\"\xc3", SYNTAX, {"line 1, column 3", "0xc3"}},
    {"[\"\xed\xa0\x80\"]", SYNTAX, {"column 3", "save the file as UTF-8"}},
    {"\xef\xbb\xbf" LEAST, SYNTAX, {"byte order mark", "save it"}},
    {"[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]", SYNTAX, {"column 17", "nested more than 16 deep"}},
    {"[18446744073709551617]", VALUE, {"column 2", "far larger"}},
    {"[-9223372036854775809]", VALUE, {"column 3", "far larger"}},
    /* another format */
    {"[]", FORMAT, {"the document: ", "no design"}},
    {"null", FORMAT, {"the document: ", "no design"}},
    {"31", FORMAT, {"the document: ", "no design"}},
    {"{}", FIELD, {"\"format\" is missing", "notchwright design"}},
    {"{\"format\": \"other\", \"version\": 1}", FORMAT, {"format: \"other\"", "no format known"}},
    {"{\"format\": 1}", VALUE, {"format: a text", "not a whole number"}},
    {"{\"format\": \"notchwright design\"}", FIELD, {"\"version\" is missing", "\"version\": 1"}},
    {"{\"format\": \"notchwright design\", \"version\": 2, \"news\": 1}",
     FORMAT,
     {"version: the file is of version 2", "too old"}},
    {"{\"format\": \"notchwright design\", \"version\": 0}", VALUE, {"version: 0 is", "range"}},
    {"{\"format\": \"notchwright design\", \"version\": \"1\"}", VALUE, {"version:", "not a text"}},
    {"{\"format\": \"notchwright design\", \"version\": 1.0}", VALUE, {"version:", "point"}},
    /* fields */
    {HEAD ENVELOPE "\"pieces\": []}", FIELD, {"the document: ", "\"name\" is missing"}},
    {NAMED "\"pieces\": []}", FIELD, {"the document: ", "\"envelope\" is missing"}},
    {NAMED ENVELOPE "\"mirrors\": \"apart\"}", FIELD, {"the document: ", "\"pieces\" is missing"}},
    {IN_ENVELOPE(""), FIELD, {"envelope: ", "\"cells\" is missing"}},
    {IN_PIECES("{" CELL "}"), FIELD, {"pieces[0]: ", "\"name\" is missing"}},
    {IN_PIECES("{\"name\": \"A\"}"), FIELD, {"pieces[0]: ", "\"cells\" is missing"}},
    {IN_PLACEMENT("\"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]"),
     FIELD,
     {"intended[0]: ", "\"piece\" is missing"}},
    {IN_PLACEMENT("\"piece\": 0, \"shift\": [0, 0, 0]"),
     FIELD,
     {"intended[0]: ", "\"turn\" is missing"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\""),
     FIELD,
     {"intended[0]: ", "\"shift\" is missing"}},
    {WITH("\"author\": \"me\""),
     FIELD,
     {"the document: there is no field \"author\"",
      "format, version, name, envelope, pieces, intended, mirrors"}},
    {IN_ENVELOPE(CELL ", \"empty\": []"),
     FIELD,
     {"envelope: there is no field \"empty\"", "cells, may_be_empty"}},
    {IN_PIECE(", \"color\": \"#ffffff\""),
     FIELD,
     {"pieces[0]: there is no field \"color\"", "name, colour, copies, cells"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0], \"Turn\": 1"),
     FIELD,
     {"intended[0]: there is no field \"Turn\"", "piece, copy, turn, shift"}},
    {IN_PLACEMENT("\"piece\": 0, \"copy\": 1, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].copy: 1 is out of range", "0 to 0"}},
    {IN_PLACEMENT("\"piece\": 0, \"copy\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]}, {"
                  "\"piece\": 0, \"copy\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 2]"),
     VALUE,
     {"intended[1].copy: intended[0] places copy 0", "leave \"copy\" out"}},
    {NAMED "\"name\": \"m\", " ENVELOPE "\"pieces\": []}",
     FIELD,
     {"line 1, column 61: ", "\"name\" is given twice"}},
    {NAMED "\"n\\u0061me\": \"m\"}", FIELD, {"line 1", "\"name\" is given twice"}},
    {IN_ENVELOPE(CELL ", " CELL), FIELD, {"line 1", "\"cells\" is given twice"}},
    /* wrong types */
    {HEAD "\"name\": null, " ENVELOPE "\"pieces\": []}", VALUE, {"name: a text", "not null"}},
    {NAMED "\"envelope\": [], \"pieces\": []}", VALUE, {"envelope: an object", "not a list"}},
    {NAMED ENVELOPE "\"pieces\": {}}", VALUE, {"pieces: a list", "not an object"}},
    {IN_PIECES("1"), VALUE, {"pieces[0]: an object", "not a whole number"}},
    {IN_ENVELOPE("\"cells\": true"), VALUE, {"envelope.cells: a list", "not true or false"}},
    {IN_CELLS("31"), VALUE, {"envelope.cells[0]: a list", "not a whole number"}},
    {WITH("\"intended\": \"none\""), VALUE, {"intended: a list", "not a text"}},
    {WITH("\"intended\": null"), VALUE, {"intended: a list", "not null"}},
    {WITH("\"mirrors\": true"), VALUE, {"mirrors: a text", "not true or false"}},
    {IN_PIECE(", \"copies\": \"2\""), VALUE, {"pieces[0].copies: a whole number", "not a text"}},
    {IN_PIECE(", \"colour\": 5"), VALUE, {"pieces[0].colour: a text", "not a whole number"}},
    /* cells */
    {IN_CELLS("[0, 0, 31]"), VALUE, {"envelope.cells[0]: 4 whole numbers", "not 3"}},
    {IN_CELLS("[0, 0, 0, 31, 1]"), VALUE, {"envelope.cells[0]: 4 whole numbers", "not 5"}},
    {IN_CELLS("[0.5, 0, 0, 31]"), VALUE, {"envelope.cells[0][0]: a whole number", "a point"}},
    {IN_CELLS("[1.0, 0, 0, 31]"), VALUE, {"envelope.cells[0][0]: a whole number", "a point"}},
    {IN_CELLS("[0, 0, 0, 3e1]"), VALUE, {"envelope.cells[0][3]: a whole number", "exponent"}},
    {IN_CELLS("[0, 1e400, 0, 1]"), VALUE, {"envelope.cells[0][1]: a whole number", "exponent"}},
    {IN_CELLS("[0, \"0\", 0, 1]"), VALUE, {"envelope.cells[0][1]: a whole number", "a text"}},
    {IN_CELLS("[0, 0, 0, 31], [1, 0, 0, 0]"), VALUE, {"envelope.cells[1][3]: 0 is", "1 to 31"}},
    {IN_CELLS("[0, 0, 0, 32]"), VALUE, {"envelope.cells[0][3]: 32 is", "1 to 31"}},
    {IN_CELLS("[0, 0, 0, -1]"), VALUE, {"envelope.cells[0][3]: -1 is", "1 to 31"}},
    {IN_CELLS("[-1001, 0, 0, 31]"), VALUE, {"cells[0][0]: -1001 is", "-1000 to 999"}},
    {IN_CELLS("[0, 0, 1000, 31]"), VALUE, {"cells[0][2]: 1000 is", "-1000 to 999"}},
    {IN_CELLS("[0, 4294967296, 0, 31]"), VALUE, {"cells[0][1]: 4294967296 is", "-1000 to 999"}},
    {IN_CELLS("[0, 0, 0, 3], [1, 0, 0, 31], [0, 0, 0, 6]"),
     VALUE,
     {"envelope.cells[2]: cell [0, 0, 0]", "before, at index 0"}},
    {IN_CELLS("[0, 0, 0, 3], [0, 0, 0, 4]"), VALUE, {"envelope.cells[1]: cell", "one mask"}},
    {IN_PIECES("{\"name\": \"A\", \"cells\": [[5, 5, 5, 1], [5, 5, 5, 1]]}"),
     VALUE,
     {"pieces[0].cells[1]: cell [5, 5, 5]", "index 0"}},
    {IN_CELLS(""), VALUE, {"envelope.cells: the envelope has no parts", "at least one"}},
    {IN_CELLS("[0, 0, 0, 31], [0, 64, 0, 1]"),
     VALUE,
     {"envelope.cells: ", "over 65 cells along y"}},
    {IN_PIECES("{\"name\": \"A\", \"cells\": [[-999, 0, 0, 31], [999, 0, 0, 31]]}"),
     VALUE,
     {"pieces[0].cells: ", "over 1999 cells along x"}},
    {IN_ENVELOPE("\"cells\": [[0, 0, 0, 3]], \"may_be_empty\": [[0, 0, 0, 4]]"),
     VALUE,
     {"envelope.may_be_empty: cell [0, 0, 0]", "that the envelope lacks"}},
    {IN_ENVELOPE(CELL ", \"may_be_empty\": [[1, 0, 0, 1]]"),
     VALUE,
     {"envelope.may_be_empty: cell [1, 0, 0]", "that the envelope lacks"}},
    {IN_ENVELOPE(CELL ", \"may_be_empty\": [[0, 0, 0, 1], [0, 0, 0, 2]]"),
     VALUE,
     {"envelope.may_be_empty[1]: cell [0, 0, 0]", "before"}},
    /* pieces */
    {IN_PIECES("{\"name\": \"A\", \"cells\": []}"),
     VALUE,
     {"pieces[0].cells: the piece has no parts", "list at least one"}},
    {HEAD "\"name\": \"\", " ENVELOPE "\"pieces\": []}", VALUE, {"name: the name is empty", "n: "}},
    {IN_PIECES("{\"name\": \"\", " CELL "}"), VALUE, {"pieces[0].name: ", "is empty"}},
    {IN_PIECES("{\"name\": \"a\\nb\", " CELL "}"), VALUE, {"pieces[0].name: ", "U+000A"}},
    {IN_PIECES("{\"name\": \"a\\u0085\", " CELL "}"), VALUE, {"pieces[0].name: ", "U+0085"}},
    {IN_PIECES("{\"name\": \"A\", " CELL "}, {\"name\": \"\\u0041\", " CELL "}"),
     VALUE,
     {"pieces[1].name: pieces[0] is named \"A\" too", "another name"}},
    {IN_PIECE(", \"copies\": 0"), VALUE, {"pieces[0].copies: 0 is", "1 to 256"}},
    {IN_PIECE(", \"copies\": -1"), VALUE, {"pieces[0].copies: -1 is", "1 to 256"}},
    {IN_PIECE(", \"copies\": 257"), VALUE, {"pieces[0].copies: 257 is", "1 to 256"}},
    {IN_PIECE(", \"copies\": 2.5"), VALUE, {"pieces[0].copies: a whole number", "a point"}},
    {IN_PIECES("{\"name\": \"A\", \"copies\": 200, " CELL
               "}, {\"name\": \"B\", \"copies\": 57, " CELL "}"),
     VALUE,
     {"pieces[1].copies: ", "257 copies together"}},
    {IN_PIECES("{\"name\": \"A\", \"copies\": 256, " CELL "}, {\"name\": \"B\", " CELL "}"),
     VALUE,
     {"pieces[1]: ", "more than 256 copies"}},
    {IN_PIECE(", \"colour\": \"red\""), VALUE, {"pieces[0].colour: \"red\"", "#rrggbb"}},
    {IN_PIECE(", \"colour\": \"\""), VALUE, {"pieces[0].colour: \"\"", "#rrggbb"}},
    {IN_PIECE(", \"colour\": \"#fff\""), VALUE, {"pieces[0].colour: \"#fff\"", "#rrggbb"}},
    {IN_PIECE(", \"colour\": \"#ggffff\""), VALUE, {"pieces[0].colour: ", "#rrggbb"}},
    {IN_PIECE(", \"colour\": \"#c8553d00\""), VALUE, {"pieces[0].colour: ", "#rrggbb"}},
    {IN_PIECE(", \"colour\": \"xc8553d\""), VALUE, {"pieces[0].colour: ", "#rrggbb"}},
    /* intended and mirrors */
    {WITH("\"mirrors\": \"both\""), VALUE, {"mirrors: \"both\"", "\"apart\" or \"together\""}},
    {IN_PLACEMENT("\"piece\": 1, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].piece: 1 is", "0 to 0"}},
    {IN_PLACEMENT("\"piece\": -1, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].piece: -1 is", "0 to 0"}},
    {NAMED ENVELOPE
     "\"pieces\": [], \"intended\": [{\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": "
     "[0, 0, 0]}]}",
     VALUE,
     {"intended[0].piece: ", "no pieces to place"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].turn: \"+x+y\" is no turn", "+y-x+z"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+x+z\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].turn: \"+x+x+z\" is no turn", "signs"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"-x+y+z\", \"shift\": [0, 0, 0]"),
     VALUE,
     {"intended[0].turn: \"-x+y+z\" is a reflection", "change one"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0]"),
     VALUE,
     {"intended[0].shift: 3 whole numbers", "not 2"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 2000]"),
     VALUE,
     {"intended[0].shift[2]: 2000 is", "-1999 to 1999"}},
    {IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [0.5, 0, 0]"),
     VALUE,
     {"intended[0].shift[0]: a whole number", "a point"}},
};

static void expect_refused(const char *text, gssize length, const Bad *expected) {
    GError *error = NULL;
    NwDesign *design = nw_design_from_json(text, length, "in.json", &error);
    ck_assert_msg(!design && error, "not refused: %s", text);
    ck_assert_msg(g_error_matches(error, NW_JSON_ERROR, expected->code), "code %d, not %d: %s",
                  error->code, expected->code, error->message);
    ck_assert_msg(g_str_has_prefix(error->message, "in.json: "), "%s", error->message);
    ck_assert_msg(!strchr(error->message, '\n'), "%s", error->message);
    for (int k = 0; k < 2; k++)
        ck_assert_msg(strstr(error->message, expected->fragments[k]) != NULL,
                      "\"%s\" is not in: %s", expected->fragments[k], error->message);
    g_error_free(error);
}

START_TEST(bad_input_is_refused) {
    expect_refused(bad[_i].text, -1, &bad[_i]);
    GError *error = NULL; /* without a name, the message starts with the place */
    ck_assert_ptr_null(nw_design_from_json(bad[_i].text, -1, NULL, &error));
    ck_assert(!g_str_has_prefix(error->message, "in.json"));
    g_error_free(error);
    ck_assert_ptr_null(nw_design_from_json(bad[_i].text, -1, NULL, NULL));
}
END_TEST

static NwDesign *expect_read(const char *text) {
    GError *error = NULL;
    NwDesign *design = nw_design_from_json(text, -1, NULL, &error);
    ck_assert_msg(design && !error, "%s in: %.300s", error ? error->message : "no error", text);
    return design;
}

static void expect_equal(const NwDesign *a, const NwDesign *b) {
    ck_assert_str_eq(a->name, b->name);
    ck_assert(nw_solid_equal(a->envelope, b->envelope));
    ck_assert(nw_solid_equal(a->may_be_empty, b->may_be_empty));
    ck_assert_uint_eq(a->piece_count, b->piece_count);
    for (size_t i = 0; i < a->piece_count; i++) {
        ck_assert_str_eq(a->pieces[i].name, b->pieces[i].name);
        ck_assert_str_eq(a->pieces[i].colour, b->pieces[i].colour);
        ck_assert_int_eq(a->pieces[i].copies, b->pieces[i].copies);
        ck_assert(nw_solid_equal(a->pieces[i].solid, b->pieces[i].solid));
    }
    ck_assert_uint_eq(a->intended_count, b->intended_count);
    for (size_t i = 0; i < a->intended_count; i++) {
        ck_assert_int_eq(a->intended[i].piece, b->intended[i].piece);
        ck_assert(nw_motion_equal(a->intended[i].motion, b->intended[i].motion));
    }
    ck_assert_int_eq(a->mirrors_together, b->mirrors_together);
}

static void expect_round_trip(const NwDesign *design) {
    g_autofree char *once = nw_design_to_json(design);
    NwDesign *again = expect_read(once);
    expect_equal(design, again);
    g_autofree char *twice = nw_design_to_json(again);
    ck_assert_str_eq(once, twice);
    nw_design_free(again);
}

/* A design that uses every field; the mask values are worked out by hand. */
static NwDesign *full_design(void) {
    NwDesign *design = nw_design_new("\xf0\x9f\xa7\xa9 \"K\xc3\xb6ln\" \\ /");
    nw_solid_add(design->envelope, nw_vec(0, 0, 0), 31);
    nw_solid_add(design->envelope, nw_vec(1, 0, 0), 31);
    nw_solid_add(design->envelope, nw_vec(-1000, 0, 0), 1);
    nw_solid_remove(design->envelope, nw_vec(-1000, 0, 0), 31);
    nw_solid_add(design->may_be_empty, nw_vec(1, 0, 0), 9);
    NwSolid *a = nw_solid_new(), *b = nw_solid_new();
    nw_solid_add(a, nw_vec(-1000, 999, 0), 7);
    nw_solid_add(b, nw_vec(0, 0, -3), 8);
    nw_design_take_piece(design, "A", a);
    nw_design_take_piece(design, "b", b);
    strcpy(design->pieces[0].colour, "#C8553d");
    design->pieces[1].copies = 255;
    design->mirrors_together = true;
    NwPlacement placements[NW_ROTATIONS];
    for (int t = 0; t < NW_ROTATIONS; t++)
        placements[t] = (NwPlacement){t & 1, {t, nw_vec(t, -t, 1999)}};
    nw_design_set_intended(design, placements, NW_ROTATIONS);
    return design;
}

START_TEST(writing_keeps_everything) {
    NwDesign *design = full_design();
    expect_round_trip(design);
    nw_design_free(design);
}
END_TEST

START_TEST(fields_are_read_as_meant) {
    NwDesign *design = expect_read(
        NAMED "\"envelope\": {\"may_be_empty\": [[1, 0, 0, 9]], \"cells\": [[1, 0, 0, 31], [0, 0, "
              "0, 31]]}, \"pieces\": [{\"name\": \"A\", \"colour\": \"#c8553d\", \"copies\": 3, "
              "\"cells\": [[0, -1, 2, 5]]}, {\"name\": \"B\", " CELL
              "}], \"intended\": [{\"piece\": "
              "1, \"turn\": \"+y-x+z\", \"shift\": [1, -2, 3]}], \"mirrors\": \"together\"}");
    ck_assert_str_eq(design->name, "n");
    ck_assert_uint_eq(design->envelope->count, 2);
    ck_assert_int_eq(nw_solid_mask(design->envelope, nw_vec(1, 0, 0)), 31);
    ck_assert_int_eq(nw_solid_mask(design->may_be_empty, nw_vec(1, 0, 0)), 9);
    ck_assert_uint_eq(design->piece_count, 2);
    ck_assert_str_eq(design->pieces[0].colour, "#c8553d");
    ck_assert_int_eq(design->pieces[0].copies, 3);
    ck_assert_int_eq(nw_solid_mask(design->pieces[0].solid, nw_vec(0, -1, 2)), 5);
    ck_assert_str_eq(design->pieces[1].name, "B");
    ck_assert_str_eq(design->pieces[1].colour, "");
    ck_assert_int_eq(design->pieces[1].copies, 1);
    ck_assert_uint_eq(design->intended_count, 1);
    ck_assert_int_eq(design->intended[0].piece, 1);
    /* as the format says: new x = old y, new y = -old x, new z = old z */
    NwVec turned = nw_turn_vec(design->intended[0].motion.turn, nw_vec(10, 20, 30));
    ck_assert(nw_vec_equal(turned, nw_vec(20, -10, 30)));
    ck_assert(nw_vec_equal(design->intended[0].motion.shift, nw_vec(1, -2, 3)));
    ck_assert(design->mirrors_together);
    nw_design_free(design);
}
END_TEST

START_TEST(what_may_be_left_out_has_its_default) {
    NwDesign *least = expect_read(LEAST);
    ck_assert_uint_eq(least->may_be_empty->count, 0);
    ck_assert_uint_eq(least->intended_count, 0);
    ck_assert(!least->mirrors_together);
    NwDesign *same =
        expect_read(NAMED "\"envelope\": {" CELL ", \"may_be_empty\": []}, \"pieces\": "
                          "[], \"intended\": [], \"mirrors\": \"apart\"}");
    expect_equal(least, same);
    expect_round_trip(least);
    nw_design_free(same);
    nw_design_free(least);
}
END_TEST

START_TEST(escapes_are_undone) {
    NwDesign *design = expect_read(
        HEAD "\"name\": \"\\ud83e\\uDDE9 \\\"\\/\\\\ \\u00e9\", " ENVELOPE "\"pieces\": []}");
    ck_assert_str_eq(design->name, "\xf0\x9f\xa7\xa9 \"/\\ \xc3\xa9");
    nw_design_free(design);
}
END_TEST

/* Meaning is for nw_design_faults: these are read. */
START_TEST(faults_of_meaning_are_read) {
    static const char *const texts[] = {
        IN_PIECES("{\"name\": \"A\", \"cells\": [[0, 0, 0, 31], [9, 9, 9, 1]]}"),
        IN_PIECES("{\"name\": \"A\", \"copies\": 256, " CELL "}"),
        IN_PLACEMENT("\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [7, 0, 0]"),
        NAMED ENVELOPE "\"pieces\": [{\"name\": \"A\", \"cells\": [[0, 0, 0, 1]]}], \"intended\": "
                       "[{\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [1, 0, 0]}]}",
    };
    NwDesign *design = expect_read(texts[_i]);
    expect_round_trip(design);
    nw_design_free(design);
}
END_TEST

/* Every beginning of a good text is refused as cut short or incomplete, never misread. */
START_TEST(cut_short_is_refused) {
    NwDesign *design = full_design();
    g_autofree char *text = nw_design_to_json(design);
    gsize length = strlen(g_strchomp(text));
    for (gsize cut = 0; cut < length; cut++) {
        GError *error = NULL;
        g_autofree char *part = g_strndup(text, cut); /* so that a sanitizer sees its end */
        ck_assert_ptr_null(nw_design_from_json(part, (gssize)cut, NULL, &error));
        ck_assert(g_error_matches(error, NW_JSON_ERROR, NW_JSON_ERROR_SYNTAX));
        g_error_free(error);
    }
    nw_design_free(design);
}
END_TEST

START_TEST(a_nul_byte_is_refused) {
    static const char text[] = LEAST "\0 ";
    Bad expected = {text, SYNTAX, {"line 1", "0x00"}};
    expect_refused(text, sizeof text - 1, &expected);
}
END_TEST

START_TEST(deep_nesting_is_refused) {
    enum { DEEP = 1000000 };
    g_autofree char *lists = g_strnfill(DEEP, '[');
    Bad expected = {lists, SYNTAX, {"nested more than 16 deep", "column 17"}};
    expect_refused(lists, -1, &expected);
    g_autoptr(GString) objects = g_string_new(NULL);
    for (int i = 0; i < DEEP; i++)
        g_string_append(objects, "{\"a\":");
    expected = (Bad){objects->str, SYNTAX, {"nested more than 16 deep", "column 81"}};
    expect_refused(objects->str, -1, &expected);
}
END_TEST

START_TEST(long_digits_are_refused) {
    g_autofree char *digits = g_strnfill(100000, '9');
    Bad expected = {digits, VALUE, {"line 1, column 1", "far larger"}};
    expect_refused(digits, -1, &expected);
}
END_TEST

START_TEST(too_long_a_text_is_refused) {
    g_autofree char *blank = g_strnfill(NW_DESIGN_BYTES_MAX + 1, ' ');
    Bad expected = {blank, NW_JSON_ERROR_SIZE, {"longer than 16 MiB", "right file"}};
    expect_refused(blank, -1, &expected);
}
END_TEST

START_TEST(too_many_pieces_are_refused) {
    g_autoptr(GString) text = g_string_new(NAMED ENVELOPE "\"pieces\": [");
    for (int i = 0; i < NW_PIECES_MAX; i++)
        g_string_append_printf(text, "%s{\"name\": \"%d\", " CELL "}", i ? "," : "", i);
    g_autofree char *most = g_strconcat(text->str, "]}", NULL);
    nw_design_free(expect_read(most));
    g_string_append(text, ", {\"name\": \"last\", " CELL "}]}");
    Bad expected = {text->str, VALUE, {"pieces: 65 pieces", "64 at most"}};
    expect_refused(text->str, -1, &expected);
}
END_TEST

START_TEST(too_many_placements_are_refused) {
    g_autoptr(GString) text =
        g_string_new(NAMED ENVELOPE "\"pieces\": [{\"name\": \"A\", " CELL "}], \"intended\": [");
    for (int i = 0; i <= NW_COPIES_MAX; i++)
        g_string_append_printf(text, "%s{\"piece\": 0, \"turn\": \"+x+y+z\", \"shift\": [0, 0, 0]}",
                               i ? "," : "");
    g_string_append(text, "]}");
    Bad expected = {text->str, VALUE, {"intended: 257 placements", "256 at most"}};
    expect_refused(text->str, -1, &expected);
}
END_TEST

START_TEST(the_largest_envelope_goes_through) {
    NwDesign *design = nw_design_new("largest");
    for (int x = 0; x < NW_EXTENT_MAX; x++)
        for (int y = 0; y < NW_EXTENT_MAX; y++)
            for (int z = 0; z < NW_EXTENT_MAX; z++)
                nw_solid_add(design->envelope, nw_vec(x, y, z), NW_WHOLE);
    nw_design_take_piece(design, "A", nw_solid_copy(design->envelope));
    g_autofree char *text = nw_design_to_json(design);
    ck_assert_uint_lt(strlen(text), NW_DESIGN_BYTES_MAX);
    expect_round_trip(design);
    nw_design_free(design);
}
END_TEST

START_TEST(lines_stay_short) {
    NwDesign *design = full_design();
    for (int x = 0; x < 60; x++)
        nw_solid_add(design->envelope, nw_vec(x, -999, 0), NW_WHOLE);
    g_autofree char *text = nw_design_to_json(design);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line; line++)
        ck_assert_uint_le(strlen(*line), 100);
    nw_design_free(design);
}
END_TEST

static char *new_folder(void) {
    char *folder = g_dir_make_tmp("notchwright-json-XXXXXX", NULL);
    ck_assert_ptr_nonnull(folder);
    return folder;
}

START_TEST(files_are_saved_and_loaded) {
    g_autofree char *folder = new_folder();
    g_autofree char *path = g_build_filename(folder, "d.json", NULL);
    NwDesign *design = full_design();
    GError *error = NULL;
    ck_assert(nw_design_save(design, path, &error));
    NwDesign *again = nw_design_load(path, &error);
    ck_assert_ptr_nonnull(again);
    expect_equal(design, again);
    nw_design_free(again);
    nw_design_free(design);
    ck_assert_int_eq(g_unlink(path), 0);
    ck_assert_int_eq(g_rmdir(folder), 0);
}
END_TEST

START_TEST(what_could_not_be_read_is_not_saved) {
    g_autofree char *folder = new_folder();
    g_autofree char *path = g_build_filename(folder, "d.json", NULL);
    g_autofree char *left = NULL;
    GError *error = NULL;
    NwDesign *design = nw_design_new("nothing yet");
    ck_assert(g_file_set_contents(path, "older", -1, NULL));
    ck_assert(!nw_design_save(design, path, &error));
    ck_assert(g_error_matches(error, NW_JSON_ERROR, NW_JSON_ERROR_VALUE));
    ck_assert_msg(g_str_has_prefix(error->message, path), "%s", error->message);
    ck_assert_msg(strstr(error->message, "the envelope has no parts") != NULL, "%s",
                  error->message);
    g_error_free(error);
    ck_assert(g_file_get_contents(path, &left, NULL, NULL));
    ck_assert_str_eq(left, "older");
    nw_design_free(design);
    ck_assert_int_eq(g_unlink(path), 0);
    ck_assert_int_eq(g_rmdir(folder), 0);
}
END_TEST

START_TEST(file_errors_name_the_file) {
    g_autofree char *folder = new_folder();
    g_autofree char *missing = g_build_filename(folder, "none", "d.json", NULL);
    GError *error = NULL;
    ck_assert_ptr_null(nw_design_load(missing, &error));
    ck_assert(g_error_matches(error, G_FILE_ERROR, G_FILE_ERROR_NOENT));
    ck_assert_msg(g_str_has_prefix(error->message, missing), "%s", error->message);
    g_clear_error(&error);
    ck_assert_ptr_null(nw_design_load(folder, &error));
    ck_assert(g_error_matches(error, G_FILE_ERROR, G_FILE_ERROR_ISDIR));
    g_clear_error(&error);
    NwDesign *design = full_design();
    ck_assert(!nw_design_save(design, missing, &error));
    ck_assert(g_error_matches(error, G_FILE_ERROR, G_FILE_ERROR_NOENT));
    g_clear_error(&error);
    nw_design_free(design);
    ck_assert_int_eq(g_rmdir(folder), 0);
}
END_TEST

START_TEST(the_corpus_keeps_its_word) {
    GDir *folder = g_dir_open(corpus, 0, NULL);
    ck_assert_msg(folder != NULL, "no folder %s", corpus);
    int valid = 0, refused = 0;
    for (const char *name; (name = g_dir_read_name(folder));) {
        g_autofree char *path = g_build_filename(corpus, name, NULL);
        NwDesign *design = nw_design_load(path, NULL);
        ck_assert_msg(!design == !g_str_has_prefix(name, "valid-"), "%s", name);
        if (design)
            expect_round_trip(design);
        *(design ? &valid : &refused) += 1;
        nw_design_free(design);
    }
    ck_assert_int_ge(valid, 7);
    ck_assert_int_ge(refused, 11);
    g_dir_close(folder);
}
END_TEST

int main(int argc, char **argv) {
    corpus = argc > 1 ? argv[1] : NULL;
    Suite *suite = suite_create("design_json");
    TCase *reading = tcase_create("reading");
    tcase_add_loop_test(reading, bad_input_is_refused, 0, (int)G_N_ELEMENTS(bad));
    tcase_add_test(reading, fields_are_read_as_meant);
    tcase_add_test(reading, what_may_be_left_out_has_its_default);
    tcase_add_test(reading, escapes_are_undone);
    tcase_add_loop_test(reading, faults_of_meaning_are_read, 0, 4);
    suite_add_tcase(suite, reading);
    TCase *limits = tcase_create("limits");
    tcase_set_timeout(limits, 60);
    tcase_add_test(limits, cut_short_is_refused);
    tcase_add_test(limits, a_nul_byte_is_refused);
    tcase_add_test(limits, deep_nesting_is_refused);
    tcase_add_test(limits, long_digits_are_refused);
    tcase_add_test(limits, too_long_a_text_is_refused);
    tcase_add_test(limits, too_many_pieces_are_refused);
    tcase_add_test(limits, too_many_placements_are_refused);
    tcase_add_test(limits, the_largest_envelope_goes_through);
    suite_add_tcase(suite, limits);
    TCase *writing = tcase_create("writing");
    tcase_add_test(writing, writing_keeps_everything);
    tcase_add_test(writing, lines_stay_short);
    tcase_add_test(writing, files_are_saved_and_loaded);
    tcase_add_test(writing, what_could_not_be_read_is_not_saved);
    tcase_add_test(writing, file_errors_name_the_file);
    if (corpus)
        tcase_add_test(writing, the_corpus_keeps_its_word);
    suite_add_tcase(suite, writing);
    return run_suite(suite);
}
