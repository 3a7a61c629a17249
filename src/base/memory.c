#include "base/memory.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void *or_die(void *block, size_t count, size_t size) {
    if (block)
        return block;
    fprintf(stderr, "notchwright: out of memory (%zu items of %zu bytes)\n", count, size);
    abort();
}

void *nw_alloc(size_t count, size_t size) {
    return or_die(calloc(count ? count : 1, size ? size : 1), count, size);
}

void *nw_resize(void *block, size_t count, size_t size) {
    if (size && count > SIZE_MAX / size)
        return or_die(NULL, count, size);
    size_t bytes = count * size;
    return or_die(realloc(block, bytes ? bytes : 1), count, size);
}

void *nw_grow(void *block, size_t count, size_t *capacity, size_t size) {
    if (count < *capacity)
        return block;
    *capacity = *capacity ? 2 * *capacity : 8;
    return nw_resize(block, *capacity, size);
}

char *nw_dup_string(const char *text) {
    size_t bytes = strlen(text) + 1;
    return memcpy(nw_alloc(bytes, 1), text, bytes);
}
