/* A baseline as bytes. Known assemblies are written as a search of the design as given has them. */
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "cook/baseline.h"

static void add(uint64_t *digest, int64_t number) {
    *digest = nw_mix(*digest + (uint64_t)number + UINT64_C(0x9e3779b97f4a7c15));
}

static void add_vec(uint64_t *digest, NwVec vec) {
    for (int axis = 0; axis < 3; axis++)
        add(digest, nw_vec_get(vec, axis));
}

static void add_solid(uint64_t *digest, const NwSolid *solid) {
    add(digest, (int64_t)solid->count);
    for (size_t i = 0; i < solid->count; i++) {
        add_vec(digest, nw_cell_at(&solid->cells[i]));
        add(digest, solid->cells[i].mask);
    }
}

uint64_t nw_baseline_digest(const NwBaseline *baseline) {
    const NwDesign *design = baseline->given->design;
    uint64_t digest = 0;
    add(&digest, baseline->diagonals);
    add(&digest, baseline->max_states);
    add(&digest, design->mirrors_together);
    add_solid(&digest, design->envelope);
    add_solid(&digest, design->may_be_empty);
    add(&digest, (int64_t)design->piece_count);
    for (size_t p = 0; p < design->piece_count; p++) {
        add(&digest, design->pieces[p].copies);
        add_solid(&digest, design->pieces[p].solid);
    }
    for (size_t i = 0; i < design->intended_count; i++) {
        add(&digest, design->intended[i].piece);
        add(&digest, design->intended[i].motion.turn);
        add_vec(&digest, design->intended[i].motion.shift);
    }
    return digest;
}

static void write_known(const NwBaseline *baseline, const NwKnown *known, NwWriter *writer) {
    NwPlacement placements[NW_BODIES_MAX];
    for (int b = 0; b < baseline->bodies; b++) {
        int piece = known->placements[b].piece;
        placements[b] = (NwPlacement){
            piece, nw_motion_then(baseline->redraw[piece], known->placements[b].motion)};
    }
    NwFound found = {.placements = placements,
                     .opens = known->opens,
                     .level = known->level,
                     .total = known->total,
                     .slides = known->slides};
    nw_found_write(writer, &found, baseline->bodies);
}

void nw_baseline_write(const NwBaseline *baseline, NwWriter *writer) {
    nw_write_byte(writer, baseline->complete);
    if (!baseline->complete) {
        nw_enumeration_write(baseline->enumeration, writer);
        return;
    }
    nw_write_number(writer, baseline->known_count);
    for (size_t i = 0; i < baseline->known_count; i++)
        write_known(baseline, &baseline->known[i], writer);
}

static bool is_listed_twice(const NwBaseline *baseline) {
    size_t bytes = (size_t)baseline->bodies * sizeof *baseline->known->places;
    for (size_t i = 1; i < baseline->known_count; i++)
        if (memcmp(baseline->known[i - 1].places, baseline->known[i].places, bytes) == 0)
            return true;
    return false;
}

static void read_known(NwBaseline *baseline, NwReader *reader) {
    size_t count = nw_read_count(reader);
    NwFounds founds = {.list = nw_alloc(count, sizeof *founds.list)};
    for (size_t i = 0; i < count && !reader->bad; i++) {
        nw_found_read_of(reader, baseline->given, &founds.list[i]);
        founds.count += !reader->bad;
    }
    if (!reader->bad)
        reader->bad = nw_baseline_learn(baseline, founds.list, founds.count) != NW_OK ||
                      is_listed_twice(baseline);
    nw_founds_clear(&founds);
}

void nw_baseline_read(NwBaseline *baseline, NwReader *reader) {
    nw_baseline_forget(baseline);
    if (nw_read_byte(reader, 1))
        read_known(baseline, reader);
    else
        nw_enumeration_read(baseline->enumeration, reader);
    if (reader->bad)
        nw_baseline_forget(baseline);
}
