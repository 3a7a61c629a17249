/* A 3MF file as lib3mf reads it. Where that library is not there when the tests are built, nothing
 * is read and the tests say so. */
#ifndef NW_TESTS_THREEMF_READER_H
#define NW_TESTS_THREEMF_READER_H

#include <stdbool.h>

typedef struct NwThreemfFacts {
    int warnings, unit;
    int objects, items;
    int valid, manifold; /* how many objects are so in its eyes */
    double volume;       /* of all objects */
    char first_name[64];
} NwThreemfFacts;

/* False without lib3mf. Fails the test if the file cannot be read. */
bool nw_threemf_read(const char *path, NwThreemfFacts *facts);

#endif
