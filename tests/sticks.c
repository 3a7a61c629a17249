#include "sticks.h"

#include <stdio.h>

#include "lattice/connect.h"

enum { CUT_CELLS = 12, SHORTEST = 6 };

static const NwVec cut_cells[CUT_CELLS] = {
    {-2, 0, -1}, {-1, 0, -1}, {0, 0, -1},  {1, 0, -1}, {-2, 0, 0}, {-1, 0, 0},
    {0, 0, 0},   {1, 0, 0},   {-1, 1, -1}, {0, 1, -1}, {-1, 1, 0}, {0, 1, 0},
};

static bool is_cut(int number, int k) {
    return (number - 1) >> k & 1;
}

NwSolid *nw_stick(int number, int length) {
    NwSolid *stick = nw_solid_new();
    for (int x = -length / 2; x < length / 2; x++)
        for (int y = 0; y < 2; y++)
            for (int z = -1; z < 1; z++)
                nw_solid_add(stick, nw_vec(x, y, z), NW_WHOLE);
    for (int k = 0; k < CUT_CELLS; k++)
        if (is_cut(number, k))
            nw_solid_remove(stick, cut_cells[k], NW_WHOLE);
    return stick;
}

/* The stick turned about its own axis, the line y = 1, z = 0, and its middle, x = 0. */
static NwVec turn_about_stick(NwTurn turn, NwVec cell) {
    NwVec centre = nw_vec(0, 1, 0);
    return nw_vec_add(nw_turn_cell(turn, nw_vec_sub(cell, centre)), centre);
}

static bool turns_the_stick(NwTurn turn) {
    return nw_turn_map(turn).axis[0] == 0;
}

/* The number of the turned stick; 0 if its cut leaves the twelve cells. */
static int turned_number(int number, NwTurn turn) {
    int turned = 1;
    for (int k = 0; k < CUT_CELLS; k++) {
        if (!is_cut(number, k))
            continue;
        NwVec to = turn_about_stick(turn, cut_cells[k]);
        int at = 0;
        while (at < CUT_CELLS && !nw_vec_equal(cut_cells[at], to))
            at++;
        if (at == CUT_CELLS)
            return 0;
        turned += 1 << at;
    }
    return turned;
}

int nw_stick_name(int number) {
    int least = number;
    for (NwTurn turn = 0; turn < NW_ROTATIONS; turn++) {
        int turned = turns_the_stick(turn) ? turned_number(number, turn) : 0;
        if (turned && turned < least)
            least = turned;
    }
    return least;
}

bool nw_stick_is_connected(int number) {
    NwSolid *stick = nw_stick(number, SHORTEST);
    bool connected = nw_solid_lumps(stick) == 1;
    nw_solid_free(stick);
    return connected;
}

bool nw_stick_is_notchable(int number) {
    NwSolid *stick = nw_stick(number, SHORTEST);
    bool notchable = true;
    for (int x = -2; x < 2; x++)
        for (int y = 0; y < 2; y++)
            for (int z = -1; z < 1; z++) {
                if (nw_solid_mask(stick, nw_vec(x, y, z)))
                    continue;
                bool beside = !nw_solid_mask(stick, nw_vec(x, 1 - y, z));
                bool across = !nw_solid_mask(stick, nw_vec(x, y, -1 - z));
                notchable = notchable && (beside || across);
            }
    nw_solid_free(stick);
    return notchable;
}

/* Cyclic permutation of the axes: a cell along x goes to one along y, then to one along z. */
static NwVec cycled(NwVec cell, int times) {
    for (; times > 0; times--)
        cell = nw_vec(cell.z, cell.x, cell.y);
    return cell;
}

static void add_to_frame(NwDesign *design, NwVec cell) {
    if (nw_solid_mask(design->envelope, cell))
        nw_solid_add(design->may_be_empty, cell, NW_WHOLE);
    nw_solid_add(design->envelope, cell, NW_WHOLE);
}

static void build_frame(NwDesign *design, int length) {
    NwSolid *full = nw_stick(1, length);
    for (int axis = 0; axis < 3; axis++)
        for (int side = 0; side < 2; side++)
            for (size_t i = 0; i < full->count; i++) {
                NwVec cell = nw_cell_at(&full->cells[i]);
                cell.y -= 2 * side;
                add_to_frame(design, cycled(cell, axis));
            }
    nw_solid_free(full);
}

NwDesign *nw_sticks_design(const int numbers[NW_STICKS], int length) {
    char name[80];
    snprintf(name, sizeof name, "sticks %d %d %d %d %d %d, length %d", numbers[0], numbers[1],
             numbers[2], numbers[3], numbers[4], numbers[5], length);
    NwDesign *design = nw_design_new(name);
    build_frame(design, length);
    for (int i = 0; i < NW_STICKS; i++) {
        snprintf(name, sizeof name, "%d", numbers[i]);
        int same = 0;
        while (same < i && numbers[same] != numbers[i])
            same++;
        if (same == i) {
            nw_design_take_piece(design, name, nw_stick(numbers[i], length));
            continue;
        }
        for (size_t p = 0; p < design->piece_count; p++) {
            int known;
            if (sscanf(design->pieces[p].name, "%d", &known) == 1 && known == numbers[i])
                design->pieces[p].copies++;
        }
    }
    return design;
}

long nw_sticks_holes(const NwDesign *design) {
    long holes = (long)design->envelope->count;
    for (size_t p = 0; p < design->piece_count; p++)
        holes -= design->pieces[p].copies * (long)design->pieces[p].solid->count;
    return holes;
}
