/* Small allocations of the kernel.
 *
 * They end the process with a message when memory runs out, as GLib's do, so their callers need no
 * error path. What can grow without bound (visited states of a slide search) does not rely on
 * this: it is held under a stated limit and answers NW_LIMIT. Free with free(). Thread: any. */
#ifndef NW_BASE_MEMORY_H
#define NW_BASE_MEMORY_H

#include <stddef.h>

/* count * size zeroed bytes; never NULL, also for nothing at all. */
void *nw_alloc(size_t count, size_t size);

/* Resizes `block` (or NULL) to count * size bytes; new bytes are not cleared. */
void *nw_resize(void *block, size_t count, size_t size);

/* Makes room for one more in an array with `count` of `*capacity` used, doubling as needed. */
void *nw_grow(void *block, size_t count, size_t *capacity, size_t size);

char *nw_dup_string(const char *text);

#endif
