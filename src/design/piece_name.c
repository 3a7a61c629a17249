#include "design/piece_name.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"

int nw_piece_named(const NwDesign *design, const char *name) {
    for (size_t i = 0; i < design->piece_count; i++)
        if (strcmp(design->pieces[i].name, name) == 0)
            return (int)i;
    return -1;
}

/* A design has 64 pieces at most, so two letters are enough. */
char *nw_dup_new_name(const NwDesign *design) {
    char name[3] = "";
    for (int i = 0; i < 26 + 26 * 26; i++) {
        int at = 0;
        if (i >= 26)
            name[at++] = (char)('A' + i / 26 - 1);
        name[at++] = (char)('A' + i % 26);
        name[at] = '\0';
        if (nw_piece_named(design, name) < 0)
            break;
    }
    return nw_dup_string(name);
}

/* The length of `name` without a space and a number at its end. */
static size_t stem_of(const char *name) {
    size_t end = strlen(name);
    size_t digits = end;
    while (digits && name[digits - 1] >= '0' && name[digits - 1] <= '9')
        digits--;
    return digits < end && digits > 1 && name[digits - 1] == ' ' ? digits - 1 : end;
}

char *nw_dup_next_name(const NwDesign *design, const char *name) {
    enum { NUMBER_SIZE = 16 };
    size_t stem = stem_of(name), size = stem + NUMBER_SIZE;
    char *next = nw_alloc(size, 1);
    memcpy(next, name, stem);
    int number = 2;
    do
        snprintf(next + stem, NUMBER_SIZE, " %d", number++);
    while (nw_piece_named(design, next) >= 0);
    return next;
}

char *nw_dup_name_stem(const char *name) {
    char *stem = nw_dup_string(name);
    stem[stem_of(name)] = '\0';
    return stem;
}
