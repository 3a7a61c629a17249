#include "format/json_strict.h"

#include <stdarg.h>
#include <string.h>

G_DEFINE_QUARK(nw_json_error, nw_json_error)

typedef struct Scan {
    const char *text, *at, *end;
    const char *source;
    GError **error;
} Scan;

static gboolean scan_value(Scan *scan, int depth);

/* Reports a fault at `where`; always FALSE, so that callers can return it. */
static gboolean fail(const Scan *scan, const char *where, NwJsonError code, const char *format, ...)
    G_GNUC_PRINTF(4, 5);

static gboolean fail(const Scan *scan, const char *where, NwJsonError code, const char *format,
                     ...) {
    int line = 1;
    const char *start = scan->text;
    for (const char *p = scan->text; p < where; p++)
        if (*p == '\n') {
            line++;
            start = p + 1;
        }
    long column = 1;
    for (const char *p = start; p < where; p++)
        column += ((unsigned char)*p & 0xc0) != 0x80;
    va_list arguments;
    va_start(arguments, format);
    g_autofree char *what = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    g_set_error(scan->error, NW_JSON_ERROR, (int)code, "%s%sline %d, column %ld: %s",
                scan->source ? scan->source : "", scan->source ? ": " : "", line, column, what);
    return FALSE;
}

/* Says what was expected at the current place and what stands there instead. */
static gboolean fail_expected(const Scan *scan, const char *expected) {
    if (scan->at >= scan->end)
        return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                    "the text ends here, where %s should follow; it may have been cut short",
                    expected);
    gunichar found = g_utf8_get_char(scan->at);
    if (found == '/' || found == '#')
        return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                    "%s should follow here; JSON has no comments, so take them out", expected);
    if (!g_unichar_isgraph(found))
        return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                    "%s should follow here, not the character U+%04X", expected, found);
    int bytes = (int)(g_utf8_next_char(scan->at) - scan->at);
    return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX, "%s should follow here, not '%.*s'", expected,
                bytes, scan->at);
}

static void skip_space(Scan *scan) {
    while (scan->at < scan->end && strchr(" \t\r\n", *scan->at))
        scan->at++;
}

static gboolean next_is(const Scan *scan, char wanted) {
    return scan->at < scan->end && *scan->at == wanted;
}

static gboolean take(Scan *scan, char wanted) {
    if (!next_is(scan, wanted))
        return FALSE;
    scan->at++;
    return TRUE;
}

static gboolean next_is_digit(const Scan *scan) {
    return scan->at < scan->end && g_ascii_isdigit(*scan->at);
}

/* Four hexadecimal digits after "\u"; -1 if they are not there. */
static int take_hex4(Scan *scan) {
    int code = 0;
    for (int k = 0; k < 4; k++, scan->at++) {
        if (scan->at >= scan->end || !g_ascii_isxdigit(*scan->at))
            return -1;
        code = 16 * code + g_ascii_xdigit_value(*scan->at);
    }
    return code;
}

/* The character of a "\u" escape, `scan->at` behind the u; surrogates must come in pairs. */
static gboolean scan_unicode(Scan *scan, GString *decoded) {
    const char *escape = scan->at - 2;
    int code = take_hex4(scan);
    if (code < 0)
        return fail(scan, escape, NW_JSON_ERROR_SYNTAX,
                    "\\u needs four hexadecimal digits behind it");
    if (code == 0)
        return fail(scan, escape, NW_JSON_ERROR_SYNTAX, "a text may not hold \\u0000; take it out");
    if (code >= 0xd800 && code < 0xdc00) {
        int low = take(scan, '\\') && take(scan, 'u') ? take_hex4(scan) : -1;
        if (low < 0xdc00 || low > 0xdfff)
            return fail(scan, escape, NW_JSON_ERROR_SYNTAX,
                        "this is the first half of a character; its second half must follow");
        code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
    } else if (code >= 0xdc00 && code <= 0xdfff) {
        return fail(scan, escape, NW_JSON_ERROR_SYNTAX,
                    "this is the second half of a character, and the first is missing before it");
    }
    g_string_append_unichar(decoded, (gunichar)code);
    return TRUE;
}

static gboolean scan_escape(Scan *scan, GString *decoded) {
    static const char letters[] = "\"\\/bfnrt", meanings[] = "\"\\/\b\f\n\r\t";
    const char *escape = scan->at - 1;
    if (take(scan, 'u'))
        return scan_unicode(scan, decoded);
    const char *letter = scan->at < scan->end ? strchr(letters, *scan->at) : NULL;
    if (!letter)
        return fail(scan, escape, NW_JSON_ERROR_SYNTAX,
                    "no such escape; write \\\\ where a backslash is meant");
    scan->at++;
    g_string_append_c(decoded, meanings[letter - letters]);
    return TRUE;
}

/* A text, with its escapes undone in `decoded`. */
static gboolean scan_text(Scan *scan, GString *decoded) {
    const char *open = scan->at++;
    while (scan->at < scan->end) {
        char c = *scan->at;
        if ((unsigned char)c < ' ')
            return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                        "a text may not run over the end of its line or hold control characters; "
                        "close it with \" or write them as escapes");
        scan->at++;
        if (c == '"')
            return TRUE;
        if (c != '\\')
            g_string_append_c(decoded, c);
        else if (!scan_escape(scan, decoded))
            return FALSE;
    }
    return fail(scan, open, NW_JSON_ERROR_SYNTAX,
                "the text that starts here is never closed; the file may have been cut short");
}

static gboolean scan_number(Scan *scan) {
    take(scan, '-');
    const char *digits = scan->at;
    if (!next_is_digit(scan))
        return fail_expected(scan, "a digit");
    while (next_is_digit(scan))
        scan->at++;
    if (*digits == '0' && scan->at - digits > 1)
        return fail(scan, digits, NW_JSON_ERROR_SYNTAX, "take the leading zeros off this number");
    if (scan->at - digits > NW_JSON_DIGITS)
        return fail(scan, digits, NW_JSON_ERROR_VALUE,
                    "this number is far larger than any that a design can hold");
    if (take(scan, '.')) {
        if (!next_is_digit(scan))
            return fail_expected(scan, "a digit");
        while (next_is_digit(scan))
            scan->at++;
    }
    if (!next_is(scan, 'e') && !next_is(scan, 'E'))
        return TRUE;
    scan->at++;
    if (!take(scan, '-'))
        take(scan, '+');
    if (!next_is_digit(scan))
        return fail_expected(scan, "a digit");
    while (next_is_digit(scan))
        scan->at++;
    return TRUE;
}

/* One "name": value; the names of the object so far are in `names`. */
static gboolean scan_field(Scan *scan, GHashTable *names, int depth) {
    if (!next_is(scan, '"'))
        return fail_expected(scan, "a field name in double quotes");
    const char *start = scan->at;
    g_autoptr(GString) name = g_string_new(NULL);
    if (!scan_text(scan, name))
        return FALSE;
    if (!g_hash_table_add(names, g_strdup(name->str)))
        return fail(scan, start, NW_JSON_ERROR_FIELD,
                    "the field \"%s\" is given twice in one object; keep one of the two",
                    name->str);
    skip_space(scan);
    if (!take(scan, ':'))
        return fail_expected(scan, "a colon");
    return scan_value(scan, depth);
}

/* The inside of a list or an object, up to its closing bracket. `names` is NULL for a list. */
static gboolean scan_items(Scan *scan, char close, GHashTable *names, int depth) {
    skip_space(scan);
    if (take(scan, close))
        return TRUE;
    for (;;) {
        skip_space(scan);
        if (next_is(scan, close))
            return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                        "nothing follows the last comma; take that comma out");
        if (!(names ? scan_field(scan, names, depth) : scan_value(scan, depth)))
            return FALSE;
        if (take(scan, close))
            return TRUE;
        if (!take(scan, ','))
            return fail_expected(scan, close == ']' ? "a comma or ]" : "a comma or }");
    }
}

static gboolean scan_word(Scan *scan) {
    static const char *const words[] = {"true", "false", "null"};
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++) {
        gsize length = strlen(words[i]);
        if ((gsize)(scan->end - scan->at) >= length && !memcmp(scan->at, words[i], length)) {
            scan->at += length;
            return TRUE;
        }
    }
    return fail_expected(scan, "a value");
}

/* A value of any kind, with the space before and after it. */
static gboolean scan_value(Scan *scan, int depth) {
    skip_space(scan);
    gboolean fine;
    if (next_is(scan, '[') || next_is(scan, '{')) {
        if (depth >= NW_JSON_DEPTH)
            return fail(scan, scan->at, NW_JSON_ERROR_SYNTAX,
                        "lists and objects are nested more than %d deep, and a design needs 5",
                        NW_JSON_DEPTH);
        gboolean list = *scan->at++ == '[';
        g_autoptr(GHashTable) names =
            list ? NULL : g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
        fine = scan_items(scan, list ? ']' : '}', names, depth + 1);
    } else if (next_is(scan, '"')) {
        g_autoptr(GString) ignored = g_string_new(NULL);
        fine = scan_text(scan, ignored);
    } else if (next_is(scan, '-') || next_is_digit(scan)) {
        fine = scan_number(scan);
    } else {
        fine = scan_word(scan);
    }
    if (fine)
        skip_space(scan);
    return fine;
}

gboolean nw_json_check(const char *text, gsize length, const char *source_name, GError **error) {
    Scan scan = {text, text, text + length, source_name, error};
    const char *bad;
    if (!g_utf8_validate_len(text, length, &bad))
        return fail(&scan, bad, NW_JSON_ERROR_SYNTAX,
                    "this byte (0x%02x) is not UTF-8 text; save the file as UTF-8",
                    (unsigned)(unsigned char)*bad);
    if (length >= 3 && !memcmp(text, "\xef\xbb\xbf", 3))
        return fail(&scan, text, NW_JSON_ERROR_SYNTAX,
                    "the file starts with a byte order mark; save it as UTF-8 without one");
    if (!scan_value(&scan, 0))
        return FALSE;
    if (scan.at < scan.end)
        return fail_expected(&scan, "the end of the file");
    return TRUE;
}
