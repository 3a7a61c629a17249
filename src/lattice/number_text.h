/* Whole numbers and coordinates as a person reads them: in UTF-8, with a real minus sign. What is
 * read back by a program, or quoted from a file, has the hyphen and is not written by these.
 * Thread: any; nothing to own. */
#ifndef NW_LATTICE_NUMBER_TEXT_H
#define NW_LATTICE_NUMBER_TEXT_H

#include "lattice/vec.h"

enum {
    NW_NUMBER_TEXT_SIZE = 14, /* a minus sign of three bytes, ten digits and a final zero */
    NW_VEC_TEXT_SIZE = 3 * NW_NUMBER_TEXT_SIZE,
};

/* "−12". Returns `text`, as all of these do. */
const char *nw_number_text(int number, char text[NW_NUMBER_TEXT_SIZE]);

/* The three coordinates with a sign between them: "−1,0,2". */
const char *nw_vec_text(NwVec vec, char between, char text[NW_VEC_TEXT_SIZE]);

#endif
