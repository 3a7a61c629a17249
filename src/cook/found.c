#include "cook/found.h"

#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "slide/direction.h"
#include "slide/replay.h"

enum { SHIFT_MAX = 4 * NW_COORD_MAX, SLIDES_MAX = 1000000 };

void nw_founds_clear(NwFounds *founds) {
    for (size_t i = 0; i < founds->count; i++) {
        free(founds->list[i].placements);
        free(founds->list[i].slides);
    }
    free(founds->list);
    *founds = (NwFounds){0};
}

NwFound *nw_founds_add(NwFounds *founds, const NwPlacement *placements, size_t count) {
    founds->list = nw_grow(founds->list, founds->count, &founds->capacity, sizeof *founds->list);
    NwFound *found = &founds->list[founds->count++];
    *found = (NwFound){.placements = nw_alloc(count, sizeof *placements)};
    memcpy(found->placements, placements, count * sizeof *placements);
    return found;
}

NwFounds nw_founds_copy(const NwFounds *founds, size_t bodies) {
    NwFounds copy = {0};
    for (size_t i = 0; i < founds->count; i++) {
        const NwFound *from = &founds->list[i];
        NwFound *found = nw_founds_add(&copy, from->placements, bodies);
        found->key = from->key;
        found->opens = from->opens;
        found->level = from->level;
        found->total = from->total;
    }
    return copy;
}

void nw_slides_write(NwWriter *writer, const NwSlide *slides, int count) {
    nw_write_number(writer, (uint64_t)count);
    for (int i = 0; i < count; i++) {
        nw_write_number(writer, slides[i].bodies);
        nw_write_byte(writer, (uint8_t)slides[i].direction);
        nw_write_number(writer, (uint64_t)slides[i].cells);
    }
}

NwSlide *nw_slides_read(NwReader *reader, int bodies, int *count) {
    size_t length = nw_read_count(reader);
    uint32_t all = (uint32_t)((UINT64_C(1) << bodies) - 1);
    NwSlide *slides = nw_alloc(length, sizeof *slides);
    for (size_t i = 0; i < length; i++) {
        slides[i].bodies = (uint32_t)nw_read_number(reader, all);
        slides[i].direction = nw_read_byte(reader, NW_DIRECTIONS - 1);
        slides[i].cells = (int)nw_read_number(reader, NW_COORD_MAX);
        reader->bad = reader->bad || !slides[i].bodies;
    }
    *count = (int)length;
    return slides;
}

bool nw_slides_open(const NwDesign *design, const NwPlacement *placements, int bodies,
                    const NwSlide *slides, int count) {
    NwSolid *solids[NW_REPLAY_SOLIDS_MAX];
    if (bodies > NW_REPLAY_SOLIDS_MAX)
        return false;
    NwReplaySlide *moves = nw_alloc((size_t)count, sizeof *moves);
    for (int b = 0; b < bodies; b++)
        nw_solid_moved(design->pieces[placements[b].piece].solid, placements[b].motion, &solids[b]);
    for (int i = 0; i < count; i++) {
        int cells = slides[i].cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slides[i].cells;
        moves[i] = (NwReplaySlide){slides[i].bodies, nw_direction_step(slides[i].direction), cells};
    }
    bool open = !nw_replay((const NwSolid *const *)solids, (size_t)bodies, moves, (size_t)count);
    for (int b = 0; b < bodies; b++)
        nw_solid_free(solids[b]);
    free(moves);
    return open;
}

void nw_opens_write(NwWriter *writer, NwStatus opens) {
    nw_write_byte(writer, (uint8_t)opens);
}

NwStatus nw_opens_read(NwReader *reader) {
    NwStatus opens = (NwStatus)nw_read_byte(reader, NW_LIMIT);
    reader->bad = reader->bad || opens == NW_STOPPED;
    return opens;
}

void nw_found_write(NwWriter *writer, const NwFound *found, int bodies) {
    for (int b = 0; b < bodies; b++) {
        const NwPlacement *placement = &found->placements[b];
        nw_write_number(writer, (uint64_t)placement->piece);
        nw_write_byte(writer, (uint8_t)placement->motion.turn);
        for (int axis = 0; axis < 3; axis++)
            nw_write_signed(writer, nw_vec_get(placement->motion.shift, axis));
    }
    nw_opens_write(writer, found->opens);
    if (found->opens != NW_OK)
        return;
    nw_write_number(writer, (uint64_t)found->level);
    nw_write_number(writer, (uint64_t)found->total);
    nw_write_byte(writer, found->slides != NULL);
    if (found->slides)
        nw_slides_write(writer, found->slides, found->total);
}

static void read_placements(NwReader *reader, int bodies, int pieces, NwPlacement *placements) {
    for (int b = 0; b < bodies; b++) {
        NwPlacement *placement = &placements[b];
        placement->piece = (int)nw_read_number(reader, (uint64_t)pieces - 1);
        placement->motion.turn = nw_read_byte(reader, NW_ROTATIONS - 1);
        placement->motion.shift.x = nw_read_signed(reader, -SHIFT_MAX, SHIFT_MAX);
        placement->motion.shift.y = nw_read_signed(reader, -SHIFT_MAX, SHIFT_MAX);
        placement->motion.shift.z = nw_read_signed(reader, -SHIFT_MAX, SHIFT_MAX);
    }
}

static void clear(NwFound *found) {
    free(found->placements);
    free(found->slides);
    *found = (NwFound){0};
}

void nw_found_read(NwReader *reader, int bodies, int pieces, NwFound *found) {
    *found = (NwFound){.placements = nw_alloc((size_t)bodies, sizeof *found->placements)};
    read_placements(reader, bodies, pieces, found->placements);
    found->opens = nw_opens_read(reader);
    if (found->opens == NW_OK) {
        found->level = (int)nw_read_number(reader, SLIDES_MAX);
        found->total = (int)nw_read_number(reader, SLIDES_MAX);
        int count = found->total;
        if (nw_read_byte(reader, 1))
            found->slides = nw_slides_read(reader, bodies, &count);
        reader->bad = reader->bad || count != found->total || found->level > found->total;
    }
    if (reader->bad)
        clear(found);
}

void nw_found_read_of(NwReader *reader, const NwFit *fit, NwFound *found) {
    NwAssembly assembly;
    nw_found_read(reader, fit->count, (int)fit->design->piece_count, found);
    if (reader->bad)
        return;
    reader->bad =
        nw_fit_canonical(fit, found->placements, (size_t)fit->count, &assembly) != NW_OK ||
        (found->slides &&
         !nw_slides_open(fit->design, found->placements, fit->count, found->slides, found->total));
    if (reader->bad)
        clear(found);
    else
        found->key = assembly.key;
}
