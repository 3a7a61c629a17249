#include "job/condition.h"

void nw_condition_init(pthread_cond_t *condition) {
    pthread_condattr_t attributes;
    pthread_condattr_init(&attributes);
    pthread_condattr_setclock(&attributes, CLOCK_MONOTONIC);
    pthread_cond_init(condition, &attributes);
    pthread_condattr_destroy(&attributes);
}

struct timespec nw_condition_deadline(int milliseconds) {
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    at.tv_nsec += milliseconds % 1000 * 1000000L;
    at.tv_sec += milliseconds / 1000 + at.tv_nsec / 1000000000L;
    at.tv_nsec %= 1000000000L;
    return at;
}
