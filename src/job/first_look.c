#include "job/first_look.h"

#include <stdlib.h>

#include "design/shown.h"

enum { HEAD_START = 10 }; /* slices */

void nw_first_look_find(NwSearch *search) {
    NwPlacement *placements;
    size_t count;
    NwAssembly assembly;
    NwShown shown = nw_design_shown(search->fit->design, &placements, &count);
    if (shown != NW_SHOWS_NONE &&
        nw_fit_canonical(search->fit, placements, count, &assembly) == NW_OK) {
        search->first = nw_found_assembly_new(&assembly);
        search->first->intended = shown == NW_SHOWS_INTENDED;
        search->first->drawn = shown == NW_SHOWS_DRAWN;
        search->first_key = assembly.key;
        search->first_is_drawn = shown == NW_SHOWS_DRAWN;
        search->has_first = true;
    }
    free(placements);
}

/* Takes the assembly out of those that wait; false if it does not. */
static bool take_out(NwSearch *search) {
    for (GList *link = search->waiting.head; link; link = link->next) {
        NwFoundAssembly *finding = link->data;
        if (finding->key != search->first_key)
            continue;
        g_queue_delete_link(&search->waiting, link);
        nw_found_assembly_free(finding);
        return true;
    }
    return false;
}

void nw_first_look_begin(NwSearch *search) {
    bool restored = search->first_counted;
    if (!search->first || (restored && take_out(search)))
        return;
    if (restored) {
        nw_first_look_drop(search);
        return;
    }
    search->first_counted = true;
    search->progress.found++;
    if (search->options.fit_only) {
        nw_search_post(search, search->first);
        search->first = NULL;
        search->wake_pending = false; /* nobody runs who could call */
    }
}

void nw_first_look_drop(NwSearch *search) {
    nw_found_assembly_free(search->first);
    search->first = NULL;
}

bool nw_first_look_is_with(const NwSearch *search, const NwWorker *worker) {
    return search->first && search->looker == worker;
}

NwFirstLookTurn nw_first_look_turn(NwSearch *search, const NwWorker *worker) {
    if (!search->first)
        return NW_FIRST_LOOK_NONE;
    if (!search->looker)
        search->looker = worker;
    bool head_start = search->first_slices < HEAD_START;
    if (search->looker != worker)
        return head_start ? NW_FIRST_LOOK_AWAIT : NW_FIRST_LOOK_NONE;
    search->first_turn = head_start || !search->first_turn;
    return search->first_turn ? NW_FIRST_LOOK_LOOK : NW_FIRST_LOOK_NONE;
}

void nw_first_look_note_slice(NwSearch *search) {
    if (++search->first_slices == HEAD_START)
        pthread_cond_broadcast(&search->changed);
}

bool nw_first_look_has(const NwSearch *search, uint64_t key) {
    return search->first_counted && search->has_first && key == search->first_key;
}
