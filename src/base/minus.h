/* The minus sign. In what a person reads it is U+2212; where one is typed, that and the hyphen of
 * the keyboard mean the same. Files and JSON have the hyphen only. */
#ifndef NW_BASE_MINUS_H
#define NW_BASE_MINUS_H

#include <string.h>

#define NW_MINUS "\xe2\x88\x92"

/* The bytes of a minus sign that the text begins with; 0 if it begins with none. */
static inline int nw_minus_length(const char *text) {
    return *text == '-' ? 1 : strncmp(text, NW_MINUS, 3) == 0 ? 3 : 0;
}

#endif
