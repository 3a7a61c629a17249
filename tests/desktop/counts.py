#!/usr/bin/python3
"""Sentences in the sources count as people do.

    counts.py SOURCE_ROOT

A number before a noun in the plural, "%d parts", stands in an ngettext, so that one is "1 part".
Coordinates are written by lattice/number_text.h, which knows the minus sign, and not as "%d,%d,%d";
what is quoted from a file, "[%d, %d, %d]", keeps its hyphen.
"""
import glob
import os
import re
import sys

NUMBER = r'%(?:\d+\$)?[-+ 0#]*\d*(?:hh|h|ll|l|z)?[udi]'
NOT_PLURAL = r'(?!(?:this|its|less|across|always|does|was|plus|minus|unless)\b)'
PLURAL = re.compile(NUMBER + r'(?: (?!of\b|in\b|is\b|has\b|have\b)[\w%]+){0,2}? ' + NOT_PLURAL +
                    r'[a-z]{2,}s\b(?!=)')
COORDINATES = re.compile(r'(?:^|%)[xyzc] = ' + NUMBER + r'|' + NUMBER + r'(?:,' + NUMBER + r'| ' + NUMBER +
                         r' ' + NUMBER + r')')
CODE = re.compile(r'/\*.*?\*/|\'(?:[^\'\\\n]|\\.)+\'|((?:"(?:[^"\\\n]|\\.)*"\s*)+)', re.S)
PIECE = re.compile(r'"((?:[^"\\\n]|\\.)*)"')
FORMAT = re.compile(r'" *(?:PRI([udi])\d+|G_G?(U?)INT(?:64|32)_FORMAT) *"?')

# Sentences that are right without: the number is a limit, never 1, or the second of two.
EXCEPTIONS = {
    # limits, all well above 1
    'A design has at most %d pieces and %d copies. Delete some, then try again.',
    'A solid takes at most %d planes: leave out those that cut nothing.',
    'The solid is too large: keep it within %d cells along each axis.',
    'the solid is too large: keep it within %d cells along each axis',
    'more than %d pieces',
    'no way out of the intended assembly was found within %d positions',
    '--prove works with 1 to %d pieces; this design has %d',
    # counts that are above such a limit
    '%zu pieces are more than can be taken apart: %d, copies counted, is the most',
    'these cells reach over %d cells along %c; make that %d at most',
    'with these, the pieces have %d copies together; make that %d at most',
    'with this one, the pieces have more than %d copies together; lower the copies of another',
    '%u pieces are listed; make that %d at most (equal pieces can be one with more copies)',
    '%u placements are listed; make that one for each copy of each piece, %d at most',
    # 3 or 4, at least 2, a whole and a fraction, and a number that is the same every time
    '%d whole numbers belong here, not %u',
    'piece “%s” is in %ld separate bits; join them, or make each a piece of its own',
    '%ld %s cells',
    'Measured of the intended assembly, with %d random samples and seed %d.',
    'No assembly is intended: these are measures of the first that comes apart, with %d random '
    'samples and seed %d.',
    # sizes
    'Size: %d × %d × %d cells',
    'piece “%s” (%d × %d × %d cells) cannot fit into the envelope (%d × %d × %d); shorten it or '
    'enlarge the envelope',
    'the graphics driver cannot make a picture of %d × %d pixels: make it smaller',
    'there is no memory for a picture of %d × %d pixels: make it smaller',
    'a picture of %d × %d pixels cannot be made: keep each side from 1 to %d',
    'a picture of %d × %d pixels cannot be made here: keep each side from 1 to %d',
    # for who mends the program
    'notchwright: out of memory (%zu items of %zu bytes)\\n',
    # rows of numbers for programs
    '%d,%d,',
    'f %zu %zu %zu\\n',
    '%ld,%ld,%ld,%ld>%ld,%ld,%ld,%ld:%d/%d%s;',
}


def texts(source):
    """The string literals, joined where the compiler does so: where each begins, and whether it is
    an argument of ngettext."""
    source = FORMAT.sub(lambda m: 'd' if m.group().endswith('"') else 'd"', source)
    code = ''
    at = 0
    for match in CODE.finditer(source):
        code += source[at:match.start()]
        at = match.end()
        if match.group(1):
            text = ''.join(PIECE.findall(match.group(1)))
            statement = code[max(code.rfind(sign) for sign in ';{}') + 1:]
            yield source.count('\n', 0, match.start()) + 1, text, inside(statement, 'ngettext')
            code += '""'


def inside(statement, name):
    """Whether the end of the statement is within the brackets of a call of that name."""
    for match in re.finditer(name + r'\(', statement):
        depth = 1
        for sign in statement[match.end():]:
            depth += {'(': 1, ')': -1}.get(sign, 0)
            if not depth:
                break
        if depth:
            return True
    return False


def wrong(text, counted):
    if not counted and PLURAL.search(text):
        return 'let ngettext choose between one and many'
    if COORDINATES.search(text):
        return 'write coordinates with lattice/number_text.h'
    return None


def main():
    root = sys.argv[1]
    unused = set(EXCEPTIONS)
    seen = faults = 0
    for path in sorted(glob.glob(os.path.join(root, 'src', '**', '*.[ch]'), recursive=True)):
        with open(path, encoding='utf-8') as file:
            for line, text, counted in texts(file.read()):
                seen += counted
                why = wrong(text, counted)
                if why and text in EXCEPTIONS:
                    unused.discard(text)
                elif why:
                    print(f'FAILED: {os.path.relpath(path, root)}:{line}: “{text}”: {why}')
                    faults += 1
    for text in sorted(unused):
        print(f'FAILED: “{text}” is excepted here and is nowhere in the sources')
    if seen < 100:
        print(f'FAILED: only {seen} texts with ngettext were found: this test no longer reads them')
    return 1 if faults or unused or seen < 100 else 0


sys.exit(main())
