/* Six-stick puzzles through the real engines: built as designs, fitted, and taken apart.
 *
 * Sources. Where nothing else is said, a number is published; those called our own were recomputed
 * with separate throw-away code, and no published value was seen. With NW_LONG=1 in the
 * environment all solid puzzles are counted, not only the notchable ones. */
#include <check.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/bits.h"
#include "base/memory.h"
#include "design/check_assembly.h"
#include "fit/fit.h"
#include "slide/levels.h"
#include "slide/replay.h"
#include "slide/way_out.h"
#include "sticks.h"
#include "suite.h"

enum { LEVELS = 16 };

/* ---- one set of sticks through the engines ------------------------------------------------ */

typedef struct Census {
    int assemblies; /* up to rotation */
    int apart;      /* come apart completely */
    int removable;  /* some set comes free */
    int locked;
    int level[LEVELS];  /* of the assemblies with a removable set */
    int second[LEVELS]; /* slides from the first to the second set out, of those wholly apart */
} Census;

static void assert_replays(const NwDesign *design, const NwAssembly *assembly,
                           const NwWayOut *way) {
    NwSolid *solids[NW_STICKS];
    NwReplaySlide *slides = nw_alloc((size_t)way->total, sizeof *slides);
    for (int i = 0; i < NW_STICKS; i++)
        nw_solid_moved(design->pieces[assembly->placements[i].piece].solid,
                       assembly->placements[i].motion, &solids[i]);
    for (int i = 0; i < way->total; i++) {
        const NwSlide *slide = &way->slides[i];
        slides[i] = (NwReplaySlide){slide->bodies, nw_direction_step(slide->direction),
                                    slide->cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slide->cells};
    }
    const char *fault =
        nw_replay((const NwSolid *const *)solids, NW_STICKS, slides, (size_t)way->total);
    ck_assert_msg(fault == NULL, "%s: %s", design->name, fault);
    for (int i = 0; i < NW_STICKS; i++)
        nw_solid_free(solids[i]);
    free(slides);
}

static void examine(const NwDesign *design, NwTakeApart *search, const NwAssembly *assembly,
                    bool replay, Census *enumeration) {
    NwBody bodies[NW_STICKS];
    for (int i = 0; i < NW_STICKS; i++) {
        const NwPlacement *placement = &assembly->placements[i];
        bodies[i] =
            (NwBody){placement->piece, design->pieces[placement->piece].solid, placement->motion};
    }
    nw_take_apart_start(search, bodies, NW_STICKS, NW_STATES_DEFAULT);
    NwStatus status = nw_take_apart_step(search, LONG_MAX);
    const NwWayOut *way = nw_take_apart_result(search);
    ck_assert(status == NW_OK || status == NW_NONE);
    ck_assert_int_lt(way->level, LEVELS);
    if (way->level) {
        enumeration->removable++;
        enumeration->level[way->level]++;
    } else {
        enumeration->locked++;
    }
    if (status != NW_OK)
        return;
    enumeration->apart++;
    NwLevels levels = nw_levels_of(way->slides, way->total);
    ck_assert_int_eq(levels.count, NW_STICKS - 1);
    ck_assert_int_eq(levels.slides[0], way->level);
    if (levels.slides[1] < LEVELS)
        enumeration->second[levels.slides[1]]++;
    if (replay) {
        ck_assert_ptr_null(nw_check_assembly(design, assembly->placements, NW_STICKS));
        assert_replays(design, assembly, way);
    }
}

static Census enumerate_all(const int numbers[NW_STICKS], int length, bool replay) {
    Census enumeration = {0};
    NwDesign *design = nw_sticks_design(numbers, length);
    NwFit *fit;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    NwTakeApart *slide = nw_take_apart_new(false);
    NwAssembly assembly;
    while (nw_fit_search_step(search, LONG_MAX, &assembly) == NW_OK) {
        enumeration.assemblies++;
        examine(design, slide, &assembly, replay, &enumeration);
    }
    nw_take_apart_free(slide);
    nw_fit_search_free(search);
    nw_fit_free(fit);
    nw_design_free(design);
    return enumeration;
}

/* ---- sets with known levels ---------------------------------------------------------------- */

static const struct {
    int numbers[NW_STICKS], length;
    int holes, assemblies, apart, level, second; /* of the one assembly that comes apart; 0: many */
    const char *source;
} known[] = {
    {{88, 512, 768, 922, 1008, 1008},
     6,
     7,
     10,
     1,
     9,
     3,
     "Piston, P. Marineau: unique level 9 (W. H. Cutler, addendum of 1988); 9.3 (collector "
     "pages); 10 assemblies and 7 holes are our own"},
    {{120, 160, 256, 512, 880, 960},
     6,
     6,
     2,
     1,
     6,
     4,
     "P. Dubois: level 6.4 (puzzleworld.org); 2 assemblies and 6 holes are our own"},
    {{624, 702, 768, 883, 1015, 1024},
     8,
     7,
     7,
     1,
     10,
     0,
     "Computer's Choice Unique-10, W. H. Cutler: unique, level 10, length 8 (puzzlemad 2011); 7 "
     "assemblies and 7 holes are our own"},
    {{624, 702, 768, 883, 1015, 1024}, 6, 7, 7, 1, 5, 0, "the same at length 6: all our own"},
    {{412, 480, 512, 704, 704, 960},
     6,
     8,
     144,
     1,
     5,
     4,
     "level 5.4 by its name; 144 assemblies and 8 holes are our own"},
    {{52, 792, 824, 911, 975, 1024}, 6, 0, 8, 6, 0, 0, "all our own: an assembly may be locked"},
    {{1, 256, 256, 256, 928, 928}, 6, 0, 1, 1, 1, 0, "all our own"},
    {{52, 615, 792, 960, 975, 992}, 8, 0, 1, 1, 1, 0, "all our own"},
    {{463, 564, 760, 909, 927, 1016}, 6, 0, 1, 1, 1, 0, "all our own"},
    {{1, 154, 256, 256, 1024, 1024}, 8, 0, 1, 1, 1, 0, "all our own"},
    {{1, 188, 256, 960, 975, 1024}, 6, 0, 2, 2, 0, 0, "pieces: Hoffmann 1893; counts our own"},
    {{1, 256, 824, 975, 928, 1024}, 6, 0, 2, 2, 0, 0, "all our own"},
    {{1, 188, 824, 975, 1024, 1024}, 6, 0, 2, 2, 0, 0, "all our own"},
};
enum { KNOWN = sizeof known / sizeof known[0] };

START_TEST(known_sets_have_their_levels) {
    NwDesign *design = nw_sticks_design(known[_i].numbers, known[_i].length);
    ck_assert_int_eq((int)nw_sticks_holes(design), known[_i].holes);
    nw_design_free(design);
    Census enumeration = enumerate_all(known[_i].numbers, known[_i].length, true);
    ck_assert_msg(enumeration.assemblies == known[_i].assemblies, "%s: %d assemblies",
                  known[_i].source, enumeration.assemblies);
    ck_assert_msg(enumeration.apart == known[_i].apart, "%s: %d come apart", known[_i].source,
                  enumeration.apart);
    ck_assert_msg(!known[_i].level || enumeration.level[known[_i].level] == 1, "%s: level",
                  known[_i].source);
    ck_assert_msg(!known[_i].second || enumeration.second[known[_i].second] == 1,
                  "%s: second level", known[_i].source);
}
END_TEST

/* Love's Dozen, B. Love: level 12, not unique (W. H. Cutler, addendum of 1988; J. Storer's page:
 * the highest of all, and none of level 11). The other numbers are our own. */
START_TEST(loves_dozen_reaches_level_twelve) {
    static const int wanted[LEVELS] = {[1] = 66, [2] = 12, [3] = 6, [4] = 7, [6] = 1, [12] = 1};
    Census enumeration = enumerate_all((const int[]){88, 512, 704, 960, 992, 1008}, 6, true);
    ck_assert_int_eq(enumeration.assemblies, 154);
    ck_assert_int_eq(enumeration.removable, 93);
    for (int level = 0; level < LEVELS; level++)
        ck_assert_msg(enumeration.level[level] == wanted[level], "%d at level %d",
                      enumeration.level[level], level);
}
END_TEST

/* Length matters (our own): what a set does at one length it may not do at a greater one. */
START_TEST(longer_sticks_lock) {
    static const struct {
        int numbers[NW_STICKS], length;
    } rows[] = {{{88, 512, 768, 922, 1008, 1008}, 8},
                {{120, 160, 256, 512, 880, 960}, 8},
                {{412, 480, 512, 704, 704, 960}, 8},
                {{624, 702, 768, 883, 1015, 1024}, 10}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        Census enumeration = enumerate_all(rows[i].numbers, rows[i].length, true);
        ck_assert_int_gt(enumeration.assemblies, 0);
        ck_assert_int_eq(enumeration.apart, 0);
    }
    Census dozen = enumerate_all((const int[]){88, 512, 704, 960, 992, 1008}, 8, true);
    ck_assert_int_eq(dozen.level[4] + dozen.level[6] + dozen.level[12], 0);
}
END_TEST

/* ---- a small solver of its own, to name the sets that fit without holes --------------------- */

enum { SHARED_MAX = 64, CUTS = 12, PATTERNS = 4096, RANK_BITS = 10, RANKS_MAX = 1 << RANK_BITS };

/* The shared cells of the frame by number, and of each slot its twelve, by cell of the stick. */
typedef struct Frame {
    NwVec shared[SHARED_MAX];
    int shared_count;
    int number[NW_STICKS][CUTS];
} Frame;

/* The cell of slot 0 that bit k of a number takes away (sticks.h). */
static NwVec cut_cell(int k) {
    NwSolid *full = nw_stick(1, 6), *less = nw_stick(1 + (1 << k), 6);
    NwSolid *cell = nw_solid_difference(full, less);
    ck_assert_int_eq((int)cell->count, 1);
    NwVec at = nw_cell_at(&cell->cells[0]);
    nw_solid_free(full);
    nw_solid_free(less);
    nw_solid_free(cell);
    return at;
}

/* Slots: sides 0 and 1 of the sticks along x, then along y, then along z. The other side of a pair
 * is a half turn about the pair's middle line, so that the stick's inner face is inside again. */
static NwVec to_slot(NwVec cell, int slot) {
    if (slot % 2)
        cell = nw_vec(cell.x, -1 - cell.y, -1 - cell.z); /* about the line y = z = 0 */
    for (int axis = 0; axis < slot / 2; axis++)
        cell = nw_vec(cell.z, cell.x, cell.y);
    return cell;
}

static Frame build_frame(void) {
    Frame frame = {.shared_count = 0};
    for (int slot = 0; slot < NW_STICKS; slot++)
        for (int k = 0; k < CUTS; k++) {
            NwVec cell = to_slot(cut_cell(k), slot);
            int at = 0;
            while (at < frame.shared_count && !nw_vec_equal(frame.shared[at], cell))
                at++;
            if (at == frame.shared_count)
                frame.shared[frame.shared_count++] = cell;
            frame.number[slot][k] = at;
        }
    return frame;
}

/* The names of sticks that hold together, in rising order; a set is packed as six ranks in it. */
static int names[RANKS_MAX], name_count;

static void list_names(void) {
    name_count = 0;
    for (int number = 1; number <= NW_STICK_NUMBERS; number++)
        if (nw_stick_name(number) == number && nw_stick_is_connected(number)) {
            ck_assert_int_lt(name_count, RANKS_MAX);
            names[name_count++] = number;
        }
}

/* 0 for a stick that does not hold together, which is never used. */
static int rank_of(int name) {
    int rank = 0;
    while (rank < name_count && names[rank] != name)
        rank++;
    return rank < name_count ? rank : 0;
}

typedef struct Sets {
    uint64_t *list;
    size_t count, capacity;
} Sets;

struct Steps;

typedef struct Filler {
    Frame frame;
    const struct Steps *steps; /* NULL: all fillings; else those in which `moving` can move on x */
    int moving;                /* slots, bit by bit */
    int kept[NW_STICKS];
    bool usable[PATTERNS];     /* by the cells that a stick keeps */
    uint16_t rank[PATTERNS];   /* of its name among all names */
    uint32_t later[NW_STICKS]; /* shared cells that a later slot can fill */
    uint16_t ranks[NW_STICKS];
    Sets sets; /* one entry for each filling: the six ranks, packed in rising order */
} Filler;

static int local(const Filler *filler, int slot, uint32_t cells) {
    int bits = 0;
    for (int k = 0; k < CUTS; k++)
        bits |= (int)(cells >> filler->frame.number[slot][k] & 1) << k;
    return bits;
}

static uint32_t global(const Filler *filler, int slot, int bits) {
    uint32_t cells = 0;
    for (; bits; bits &= bits - 1)
        cells |= UINT32_C(1) << filler->frame.number[slot][nw_lowest((uint64_t)bits)];
    return cells;
}

static void record_set(Filler *filler) {
    uint16_t ranks[NW_STICKS];
    memcpy(ranks, filler->ranks, sizeof ranks);
    uint64_t packed = 0;
    for (int i = 0; i < NW_STICKS; i++) {
        int least = i;
        for (int k = i + 1; k < NW_STICKS; k++)
            if (ranks[k] < ranks[least])
                least = k;
        uint16_t swap = ranks[i];
        ranks[i] = ranks[least];
        ranks[least] = swap;
        packed = packed << RANK_BITS | ranks[i];
    }
    filler->sets.list = nw_grow(filler->sets.list, filler->sets.count, &filler->sets.capacity,
                                sizeof *filler->sets.list);
    filler->sets.list[filler->sets.count++] = packed;
}

/* A bitmap of cells near the middle of the frame. */
enum { REACH = 6, WIDTH = 2 * REACH };

typedef struct Cells {
    bool has[WIDTH][WIDTH][WIDTH];
} Cells;

static bool *cell_of(Cells *cells, NwVec at) {
    return &cells->has[at.x + REACH][at.y + REACH][at.z + REACH];
}

/* Puts a stick into its slot, moved by `step`. */
static void put_stick(Cells *cells, int kept, int slot, NwVec step) {
    NwSolid *stick = nw_stick(1 + (~kept & (PATTERNS - 1)), 6);
    *cells = (Cells){0};
    for (size_t i = 0; i < stick->count; i++)
        *cell_of(cells, nw_vec_add(to_slot(nw_cell_at(&stick->cells[i]), slot), step)) = true;
    nw_solid_free(stick);
}

/* Which of the twelve cells a stick in `slot` must not have if it is to keep clear of these; -1 if
 * they are in the way of a cell that every stick has. `own` are the cells of a whole stick in its
 * slot, the twelve first. */
static int forbidden_cells(Cells *cells, const NwVec *own, int count) {
    int forbidden = 0;
    for (int k = 0; k < count; k++)
        if (*cell_of(cells, own[k])) {
            if (k >= CUTS)
                return -1;
            forbidden |= 1 << k;
        }
    return forbidden;
}

/* What a stick in one slot forbids to another, when one of them moves a cell along x past the
 * other: [0] the first moves, [1] the second moves. */
struct Steps {
    int16_t forbidden[2][NW_STICKS][PATTERNS][NW_STICKS];
};

enum { STICK_CELLS = 24 };

static void list_cells(int slot, NwVec own[STICK_CELLS]) {
    NwSolid *least = nw_stick(PATTERNS, 6);
    ck_assert_int_eq((int)least->count, STICK_CELLS - CUTS);
    for (int k = 0; k < STICK_CELLS; k++)
        own[k] = to_slot(k < CUTS ? cut_cell(k) : nw_cell_at(&least->cells[k - CUTS]), slot);
    nw_solid_free(least);
}

static struct Steps *build_steps(void) {
    NwVec own[NW_STICKS][STICK_CELLS];
    for (int slot = 0; slot < NW_STICKS; slot++)
        list_cells(slot, own[slot]);
    struct Steps *steps = nw_alloc(1, sizeof *steps);
    Cells *cells = nw_alloc(1, sizeof *cells);
    for (int second_moves = 0; second_moves < 2; second_moves++)
        for (int slot = 0; slot < NW_STICKS; slot++)
            for (int kept = 0; kept < PATTERNS; kept++) {
                put_stick(cells, kept, slot, nw_vec(second_moves ? -1 : 1, 0, 0));
                for (int other = 0; other < NW_STICKS; other++)
                    steps->forbidden[second_moves][slot][kept][other] =
                        (int16_t)forbidden_cells(cells, own[other], STICK_CELLS);
            }
    free(cells);
    return steps;
}

/* What the sticks before `slot` forbid to it, so that the moving ones keep clear of the others. */
static int forbidden_by_moving(const Filler *filler, int slot) {
    int forbidden = 0;
    for (int i = 0; i < slot && filler->steps; i++) {
        bool moves = filler->moving >> i & 1, other_moves = filler->moving >> slot & 1;
        if (moves == other_moves)
            continue;
        int more = filler->steps->forbidden[other_moves][i][filler->kept[i]][slot];
        if (more < 0)
            return -1;
        forbidden |= more;
    }
    return forbidden;
}

/* Every way to fill all shared cells with sticks that may be used, slot by slot. */
static void fill(Filler *filler, int slot, uint32_t filled) {
    if (slot == NW_STICKS) {
        record_set(filler);
        return;
    }
    int taken = local(filler, slot, filled), forbidden = forbidden_by_moving(filler, slot);
    int needed = local(filler, slot, ~filled & ~filler->later[slot]);
    if (forbidden < 0 || (needed & forbidden))
        return;
    int choice = (PATTERNS - 1) & ~taken & ~needed & ~forbidden;
    for (int more = choice;; more = (more - 1) & choice) {
        int kept = needed | more;
        if (filler->usable[kept]) {
            filler->kept[slot] = kept;
            filler->ranks[slot] = filler->rank[kept];
            fill(filler, slot + 1, filled | global(filler, slot, kept));
        }
        if (!more)
            return;
    }
}

static int compare_sets(const void *a, const void *b) {
    uint64_t x = *(const uint64_t *)a, y = *(const uint64_t *)b;
    return (x > y) - (x < y);
}

/* All fillings with notchable sticks; or those with sticks that hold together in which some can
 * move against the others, once for every set of sticks that can. As sorted sets of names. */
static Sets fill_frame(bool notchable) {
    Filler *filler = nw_alloc(1, sizeof *filler);
    list_names();
    struct Steps *steps = notchable ? NULL : build_steps();
    filler->steps = steps;
    filler->frame = build_frame();
    ck_assert_int_eq(filler->frame.shared_count, 32);
    for (int kept = 0; kept < PATTERNS; kept++) {
        int number = 1 + (~kept & (PATTERNS - 1));
        filler->usable[kept] =
            nw_stick_is_connected(number) && (!notchable || nw_stick_is_notchable(number));
        filler->rank[kept] = (uint16_t)rank_of(nw_stick_name(number));
    }
    for (int slot = NW_STICKS - 2; slot >= 0; slot--)
        filler->later[slot] = filler->later[slot + 1] | global(filler, slot + 1, PATTERNS - 1);
    /* Any axis can be turned to x. If nothing can move by a cell, nothing ever comes free. */
    for (filler->moving = 1; filler->moving < (steps ? (1 << NW_STICKS) - 1 : 2); filler->moving++)
        fill(filler, 0, 0);
    Sets sets = filler->sets;
    free(filler);
    free(steps);
    if (sets.count)
        qsort(sets.list, sets.count, sizeof *sets.list, compare_sets);
    return sets;
}

/* ---- solid puzzles -------------------------------------------------------------------------- */

/* Names that come up in sets that come apart; copies[n] is the most that one set needs of n. */
typedef struct Solids {
    long assemblies, apart, removable, sets_apart, raw;
    int copies[NW_STICK_NUMBERS + 1];
} Solids;

static void unpack(uint64_t packed, int numbers[NW_STICKS]) {
    for (int i = NW_STICKS - 1; i >= 0; i--, packed >>= RANK_BITS)
        numbers[i] = names[packed & (RANKS_MAX - 1)];
}

static void note_copies(Solids *solids, const int numbers[NW_STICKS]) {
    for (int i = 0; i < NW_STICKS; i++) {
        int same = 0;
        for (int k = 0; k < NW_STICKS; k++)
            same += numbers[k] == numbers[i];
        if (same > solids->copies[numbers[i]])
            solids->copies[numbers[i]] = same;
    }
}

/* Every set of the list through the real engines. */
static Solids count_solids(const Sets *sets, bool all_fillings) {
    Solids solids = {0};
    for (size_t i = 0; i < sets->count;) {
        size_t raw = 1;
        while (i + raw < sets->count && sets->list[i + raw] == sets->list[i])
            raw++;
        int numbers[NW_STICKS];
        unpack(sets->list[i], numbers);
        i += raw;
        Census enumeration = enumerate_all(numbers, 6, all_fillings);
        ck_assert_int_eq(enumeration.level[1],
                         enumeration.removable); /* solid puzzles are of level 1 */
        /* Twelve rotations: a filling belongs to at most twelve, and none is missed. */
        ck_assert_int_ge(enumeration.assemblies, 1);
        ck_assert(!all_fillings ||
                  (enumeration.assemblies <= (int)raw && 12 * enumeration.assemblies >= (int)raw));
        solids.raw += (long)raw;
        solids.assemblies += enumeration.assemblies;
        solids.apart += enumeration.apart;
        solids.removable += enumeration.removable;
        solids.sets_apart += enumeration.apart > 0;
        if (enumeration.apart)
            note_copies(&solids, numbers);
    }
    return solids;
}

static int shapes_of(const Solids *solids) {
    int shapes = 0;
    for (int n = 1; n <= NW_STICK_NUMBERS; n++)
        shapes += solids->copies[n] > 0;
    return shapes;
}

/* W. H. Cutler, J. Recreational Math. 10(4) 1977-78, quoted at puzzleworld.org: 314 puzzles, mirror
 * images apart, from 25 shapes. 221 sets and 42 physical sticks: "Burr puzzle", a Wikipedia
 * mirror. The list of the 25 is our own. */
START_TEST(there_are_314_notchable_solid_puzzles) {
    static const int shapes[25] = {1,   18,  35,  52,  86,  103, 120, 154, 188, 256, 359,  615, 792,
                                   824, 856, 871, 888, 911, 928, 943, 960, 975, 992, 1007, 1024};
    Sets sets = fill_frame(true);
    Solids solids = count_solids(&sets, true);
    ck_assert_int_eq(solids.apart, 314);
    ck_assert_int_eq(solids.sets_apart, 221);
    ck_assert_int_eq(shapes_of(&solids), 25);
    int copies = 0;
    for (int i = 0; i < 25; i++) {
        ck_assert_msg(solids.copies[shapes[i]] > 0, "no %d", shapes[i]);
        copies += solids.copies[shapes[i]];
    }
    ck_assert_int_eq(copies, 42);
    free(sets.list);
}
END_TEST

/* Sets of the 25 shapes with just enough volume that the small solver leaves out: the fit engine
 * must find nothing in them. One in so many is tried; with NW_LONG all of them. */
START_TEST(no_other_set_of_the_25_fits) {
    static const int shapes[25] = {1,   18,  35,  52,  86,  103, 120, 154, 188, 256, 359,  615, 792,
                                   824, 856, 871, 888, 911, 928, 943, 960, 975, 992, 1007, 1024};
    int kept[25], tried = 0, skipped = 0;
    for (int i = 0; i < 25; i++)
        kept[i] = CUTS - nw_count_bits((uint64_t)shapes[i] - 1);
    Sets sets = fill_frame(true);
    int every = getenv("NW_LONG") ? 1 : 97, at[NW_STICKS] = {0};
    for (;;) {
        int cells = 0, numbers[NW_STICKS];
        uint64_t packed = 0;
        for (int i = 0; i < NW_STICKS; i++) {
            cells += kept[at[i]];
            numbers[i] = shapes[at[i]];
            packed = packed << RANK_BITS | (uint64_t)rank_of(numbers[i]);
        }
        if (cells == 32 && !bsearch(&packed, sets.list, sets.count, sizeof packed, compare_sets) &&
            skipped++ % every == 0) {
            NwDesign *design = nw_sticks_design(numbers, 6);
            ck_assert_int_eq((int)nw_sticks_holes(design), 0);
            nw_design_free(design);
            Census enumeration = enumerate_all(numbers, 6, false);
            ck_assert_msg(enumeration.assemblies == 0, "%d %d %d %d %d %d fits", numbers[0],
                          numbers[1], numbers[2], numbers[3], numbers[4], numbers[5]);
            tried++;
        }
        int last = NW_STICKS - 1;
        while (last >= 0 && at[last] == 24)
            last--;
        if (last < 0)
            break;
        at[last]++;
        for (int i = last + 1; i < NW_STICKS; i++)
            at[i] = at[last];
    }
    ck_assert_int_gt(tried, 200);
    free(sets.list);
}
END_TEST

/* puzzleworld.org: "369 general pieces usable to make solid burrs ... 119,979 ways", mirror images
 * apart, completely taken apart. */
START_TEST(there_are_119979_solid_puzzles) {
    if (!getenv("NW_LONG"))
        return;
    Sets sets = fill_frame(false);
    Solids solids = count_solids(&sets, false);
    ck_assert_int_eq(solids.apart, 119979);
    ck_assert_int_eq(shapes_of(&solids), 369);
    free(sets.list);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("sticks");
    TCase *levels = tcase_create("levels"), *solid = tcase_create("solid"),
          *all = tcase_create("all");
    tcase_set_timeout(levels, 300);
    tcase_set_timeout(solid, 3000);
    tcase_set_timeout(all, 30000);
    tcase_add_loop_test(levels, known_sets_have_their_levels, 0, KNOWN);
    tcase_add_test(levels, loves_dozen_reaches_level_twelve);
    tcase_add_test(levels, longer_sticks_lock);
    tcase_add_test(solid, there_are_314_notchable_solid_puzzles);
    tcase_add_test(solid, no_other_set_of_the_25_fits);
    tcase_add_test(all, there_are_119979_solid_puzzles);
    suite_add_tcase(suite, levels);
    suite_add_tcase(suite, solid);
    suite_add_tcase(suite, all);
    return run_suite(suite);
}
