#include "cli/interrupt.h"

#include <signal.h>

static volatile sig_atomic_t came;
static struct sigaction before;

static void note(int signal_number) {
    (void)signal_number;
    came = 1;
}

void nw_interrupt_begin(void) {
    const struct sigaction action = {.sa_handler = note, .sa_flags = SA_RESTART};
    came = 0;
    sigaction(SIGINT, &action, &before);
}

void nw_interrupt_end(void) {
    sigaction(SIGINT, &before, NULL);
}

gboolean nw_interrupt_came(void) {
    return came != 0;
}
