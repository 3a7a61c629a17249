#include "store/blob.h"

#include <string.h>

enum { CELL_SIZE = 7, PLACEMENT_SIZE = 14, TURN_LETTERS = NW_TURN_NAME_SIZE - 1 };

static void put_16(GByteArray *bytes, int value) {
    guint8 pair[2] = {(guint8)(value & 0xff), (guint8)((value >> 8) & 0xff)};
    g_byte_array_append(bytes, pair, sizeof pair);
}

static int get_u16(const guint8 *bytes) {
    return bytes[0] | bytes[1] << 8;
}

static int get_16(const guint8 *bytes) {
    return (gint16)get_u16(bytes);
}

static NwVec get_vec(const guint8 *bytes) {
    return nw_vec(get_16(bytes), get_16(bytes + 2), get_16(bytes + 4));
}

GByteArray *nw_blob_of_solid(const NwSolid *solid) {
    GByteArray *bytes = g_byte_array_sized_new((guint)(solid->count * CELL_SIZE));
    for (size_t i = 0; i < solid->count; i++) {
        const NwCell *cell = &solid->cells[i];
        guint8 mask = (guint8)cell->mask;
        put_16(bytes, cell->x);
        put_16(bytes, cell->y);
        put_16(bytes, cell->z);
        g_byte_array_append(bytes, &mask, 1);
    }
    return bytes;
}

static gboolean rises(NwVec a, NwVec b) {
    return a.x != b.x ? a.x < b.x : a.y != b.y ? a.y < b.y : a.z < b.z;
}

NwSolid *nw_blob_read_solid(const guint8 *bytes, gsize size) {
    if (size % CELL_SIZE)
        return NULL;
    NwSolid *solid = nw_solid_new();
    NwVec last = {0};
    for (gsize at = 0; at < size; at += CELL_SIZE) {
        NwVec cell = get_vec(bytes + at);
        int mask = bytes[at + 6];
        if (mask < 1 || mask > NW_WHOLE || (at && !rises(last, cell)) ||
            nw_solid_add(solid, cell, mask) != NW_OK) {
            nw_solid_free(solid);
            return NULL;
        }
        last = cell;
    }
    return solid;
}

static gboolean fits_16(int value) {
    return value >= G_MININT16 && value <= G_MAXINT16;
}

gboolean nw_blob_holds(const NwPlacement *placement) {
    NwVec shift = placement->motion.shift;
    return placement->piece >= 0 && placement->piece <= G_MAXUINT16 &&
           placement->motion.turn >= 0 && placement->motion.turn < NW_TURNS && fits_16(shift.x) &&
           fits_16(shift.y) && fits_16(shift.z);
}

GByteArray *nw_blob_of_placements(const NwPlacement *placements, gsize count) {
    GByteArray *bytes = g_byte_array_sized_new((guint)(count * PLACEMENT_SIZE));
    for (gsize i = 0; i < count; i++) {
        char name[NW_TURN_NAME_SIZE];
        nw_turn_name(placements[i].motion.turn, name);
        put_16(bytes, placements[i].piece);
        g_byte_array_append(bytes, (const guint8 *)name, TURN_LETTERS);
        put_16(bytes, placements[i].motion.shift.x);
        put_16(bytes, placements[i].motion.shift.y);
        put_16(bytes, placements[i].motion.shift.z);
    }
    return bytes;
}

NwPlacement *nw_blob_read_placements(const guint8 *bytes, gsize size, gsize *count) {
    if (size % PLACEMENT_SIZE)
        return NULL;
    *count = size / PLACEMENT_SIZE;
    NwPlacement *placements = g_new0(NwPlacement, *count + 1);
    for (gsize i = 0; i < *count; i++) {
        const guint8 *at = bytes + i * PLACEMENT_SIZE;
        char name[NW_TURN_NAME_SIZE] = {0};
        memcpy(name, at + 2, TURN_LETTERS);
        placements[i].piece = get_u16(at);
        placements[i].motion.shift = get_vec(at + 2 + TURN_LETTERS);
        if (nw_turn_parse(name, &placements[i].motion.turn) != NW_OK) {
            g_free(placements);
            return NULL;
        }
    }
    return placements;
}

void nw_blob_of_key(guint64 key, guint8 bytes[NW_KEY_SIZE]) {
    guint64 big = GUINT64_TO_BE(key);
    memcpy(bytes, &big, sizeof big);
}

guint64 nw_blob_read_key(const guint8 bytes[NW_KEY_SIZE]) {
    guint64 big;
    memcpy(&big, bytes, sizeof big);
    return GUINT64_FROM_BE(big);
}
