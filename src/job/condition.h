/* Conditions of pthread whose deadlines are told by the monotonic clock, so that nobody who sets
 * the clock of the wall makes a thread wait. */
#ifndef NW_JOB_CONDITION_H
#define NW_JOB_CONDITION_H

#include <pthread.h>
#include <time.h>

void nw_condition_init(pthread_cond_t *condition);

/* For pthread_cond_timedwait with a condition of the above. */
struct timespec nw_condition_deadline(int milliseconds);

#endif
