/* Blocking cooks: the advisor against the plain judge (plain/plain_cook.h), its claims against full
 * searches, published baseline, and the bundled pair of designs. The argument is the folder of the
 * bundled designs. */
#include <check.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "bench/instances.h"
#include "cook/advisor.h"
#include "cook/baseline_setup.h"
#include "cook/candidates.h"
#include "cook/conflict.h"
#include "cook/explain.h"
#include "design/check_assembly.h"
#include "design/frame.h"
#include "format/design_json.h"
#include "lattice/connect.h"
#include "plain/plain_cook.h"
#include "plain/random_design.h"
#include "slide/replay.h"
#include "suite.h"

enum {
    RAW_LIMIT = 3000,
    POSITIONS_LIMIT = 3000,
    DESIGNS = 110,
    LANTERNS = 6,
    SMALL = 40,
    EFFORT = 20000
};

static const char *designs_folder;

static NwDesign *bundled(const char *name) {
    GError *error = NULL;
    char *path = g_strdup_printf("%s/%s.json", designs_folder, name);
    NwDesign *design = nw_design_load(path, &error);
    ck_assert_msg(design != NULL, "%s", error ? error->message : "");
    g_free(path);
    return design;
}

/* ---- running the advisor ----------------------------------------------------------------- */

typedef struct Advice {
    NwAdvisor *advisor;
    const NwProposal **list;
    size_t count, capacity;
    NwAdvisorProgress progress;
    NwStatus status;
} Advice;

static Advice ask(const NwDesign *design, NwAdvisorOptions options) {
    Advice advice = {0};
    advice.status = nw_advisor_new(design, options, &advice.advisor);
    if (advice.status != NW_OK)
        return advice;
    for (;;) {
        const NwProposal *proposal;
        advice.status = nw_advisor_step(advice.advisor, EFFORT, &proposal);
        if (advice.status == NW_STOPPED)
            continue;
        if (advice.status != NW_OK)
            break;
        advice.list = nw_grow(advice.list, advice.count, &advice.capacity, sizeof *advice.list);
        advice.list[advice.count++] = proposal;
    }
    nw_advisor_progress(advice.advisor, &advice.progress);
    return advice;
}

static void advice_clear(Advice *advice) {
    nw_advisor_free(advice->advisor);
    free(advice->list);
}

/* The plain class that a known assembly belongs to. */
static size_t class_of(const NwPlainCensus *plain, const NwKnown *known) {
    for (size_t raw = 0; raw < plain->fit->raw; raw++) {
        size_t matched = 0;
        for (size_t b = 0; b < plain->fit->bodies; b++) {
            NwSolid *there;
            int piece = known->placements[b].piece;
            nw_solid_moved(plain->design->pieces[piece].solid, known->placements[b].motion, &there);
            for (size_t k = 0; k < plain->fit->bodies; k++)
                matched += plain->fit->placements[raw * plain->fit->bodies + k].piece == piece &&
                           nw_solid_equal(there, plain->fit->solids[raw * plain->fit->bodies + k]);
            nw_solid_free(there);
        }
        if (matched == plain->fit->bodies)
            return plain->fit->class_of[raw];
    }
    ck_abort_msg("an assembly that the plain solver has not");
}

/* ---- one proposal against the plain judge ------------------------------------------------ */

static void assert_replays(const NwProposal *proposal) {
    const NwDesign *design = proposal->design;
    size_t count = design->intended_count, slides = (size_t)proposal->outcome.total;
    NwSolid *solids[NW_REPLAY_SOLIDS_MAX];
    NwReplaySlide *way = nw_alloc(slides, sizeof *way);
    for (size_t b = 0; b < count; b++)
        nw_solid_moved(design->pieces[design->intended[b].piece].solid, design->intended[b].motion,
                       &solids[b]);
    for (size_t i = 0; i < slides; i++) {
        const NwSlide *slide = &proposal->outcome.slides[i];
        way[i] = (NwReplaySlide){slide->bodies, nw_direction_step(slide->direction),
                                 slide->cells == NW_SLIDE_OUT ? NW_REPLAY_OUT : slide->cells};
    }
    const char *reason = nw_replay((const NwSolid *const *)solids, count, way, slides);
    ck_assert_msg(!reason, "%s", reason);
    for (size_t b = 0; b < count; b++)
        nw_solid_free(solids[b]);
    free(way);
}

/* Everything that the proposal states is so. */
static void assert_stated(const NwBaseline *baseline, const NwPlainCensus *before,
                          const NwProposal *proposal) {
    const NwOutcome *outcome = &proposal->outcome;
    NwPlainCensus after;
    ck_assert(nw_plain_census(proposal->design, 10 * RAW_LIMIT, 10 * POSITIONS_LIMIT, &after));
    ck_assert_uint_lt(after.intended, after.fit->classes);
    ck_assert(after.opens[after.intended]);
    ck_assert_int_eq(after.level[after.intended], outcome->level);
    ck_assert_uint_eq(outcome->assemblies, after.fit->classes);
    ck_assert_uint_eq(outcome->cooks, after.cooks);
    ck_assert_uint_eq(outcome->unreachable, after.unreachable);
    ck_assert_uint_eq(outcome->undecided, 0);
    ck_assert_uint_lt(after.cooks, before->cooks);
    NwPlainVerdict verdict;
    nw_plain_compare(before, &after, &verdict);
    ck_assert_uint_eq(outcome->new_assemblies, verdict.new_assemblies);
    ck_assert_uint_eq(outcome->new_cooks, verdict.new_cooks);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (!baseline->known[i].intended)
            ck_assert_int_eq(outcome->fates[i] == NW_FATE_OPENS,
                             verdict.alive[class_of(before, &baseline->known[i])]);
    nw_plain_verdict_clear(&verdict);
    nw_plain_census_clear(&after);
    for (size_t p = 0; p < proposal->design->piece_count; p++)
        ck_assert_uint_eq(nw_solid_lumps(proposal->design->pieces[p].solid), 1);
    assert_replays(proposal);
}

/* Whether the plain judge calls a changed design good. */
static bool is_good(const NwPlainCensus *before, const NwDesign *changed,
                    const NwBaseline *baseline, uint64_t cook) {
    for (size_t p = 0; p < changed->piece_count; p++)
        if (nw_solid_lumps(changed->pieces[p].solid) != 1)
            return false;
    NwPlainCensus after;
    ck_assert(nw_plain_census(changed, 10 * RAW_LIMIT, 10 * POSITIONS_LIMIT, &after));
    bool good = after.opens[after.intended] && after.cooks < before->cooks, removed = false;
    if (good) {
        NwPlainVerdict verdict;
        nw_plain_compare(before, &after, &verdict);
        for (size_t i = 0; i < baseline->known_count; i++)
            if (nw_baseline_is_cook(baseline, i) && (!cook || baseline->known[i].key == cook))
                removed = removed || !verdict.alive[class_of(before, &baseline->known[i])];
        nw_plain_verdict_clear(&verdict);
    }
    nw_plain_census_clear(&after);
    return good && removed;
}

/* The reason given for a near miss is so. */
static NwMissReason assert_missed(const NwBaseline *baseline, const NwPlainCensus *before,
                                  const NwMiss *miss) {
    NwDesign *changed = nw_design_copy(baseline->design);
    ck_assert(nw_changes_apply(changed, miss->changes, miss->count));
    NwPlainCensus after;
    switch (miss->reason) {
    case NW_MISS_LUMPS:
        ck_assert_uint_ne(nw_solid_lumps(changed->pieces[miss->piece].solid), 1);
        break;
    case NW_MISS_STUCK:
    case NW_MISS_NEW_COOK:
        ck_assert(nw_plain_census(changed, 10 * RAW_LIMIT, 10 * POSITIONS_LIMIT, &after));
        ck_assert_int_eq(after.opens[after.intended], miss->reason == NW_MISS_NEW_COOK);
        if (miss->reason == NW_MISS_NEW_COOK)
            ck_assert_uint_ge(after.cooks, before->cooks);
        nw_plain_census_clear(&after);
        break;
    default:
        ck_abort_msg("not to be kept as a near miss: %d", miss->reason);
    }
    nw_design_free(changed);
    return miss->reason;
}

static size_t count_of(const Advice *advice, const NwDesign *design) {
    size_t count = 0;
    for (size_t i = 0; i < advice->count; i++)
        count += nw_plain_same_pieces(advice->list[i]->design, design);
    return count;
}

/* Level and total before. */
static void assert_ranked(const Advice *advice) {
    int level, total;
    nw_advisor_before(advice->advisor, &level, &total);
    for (size_t i = 0; i < advice->count; i++) {
        const NwRank *rank = &advice->list[i]->rank;
        const NwOutcome *outcome = &advice->list[i]->outcome;
        if (i)
            ck_assert_int_lt(nw_rank_compare(&advice->list[i - 1]->rank, rank), 0);
        ck_assert_uint_eq(rank->cooks_left, outcome->cooks);
        ck_assert_uint_eq(rank->new_cooks, outcome->new_cooks);
        ck_assert_int_eq(rank->level_lost, outcome->level < level ? level - outcome->level : 0);
        ck_assert_int_eq(rank->total_lost, outcome->total < total ? total - outcome->total : 0);
        ck_assert(advice->list[i]->proved);
    }
}

/* A small random design with a cook, or NULL. */
static NwDesign *with_cook(uint64_t seed, size_t parts, NwPlainCensus *plain,
                           NwBaseline **baseline) {
    NwDesign *design = nw_random_design(seed);
    NwStatus status = NW_NONE;
    *baseline = NULL;
    if (design->intended_count && nw_solid_parts(design->envelope) <= parts)
        status = nw_baseline_new(design, (NwBaselineOptions){0}, baseline);
    long effort = LONG_MAX;
    if (status == NW_OK && nw_baseline_step(*baseline, &effort) == NW_NONE && (*baseline)->cooks &&
        nw_plain_census((*baseline)->design, RAW_LIMIT, POSITIONS_LIMIT, plain)) {
        ck_assert_uint_eq(plain->cooks, (*baseline)->cooks);
        ck_assert_uint_eq(plain->fit->classes, (*baseline)->known_count);
        if (plain->fit->classes <= 12)
            return design;
        nw_plain_census_clear(plain);
    }
    nw_baseline_free(*baseline);
    nw_design_free(design);
    return NULL;
}

/* A random cook's key, or 0 for all. */
static uint64_t pick_cook(const NwBaseline *baseline, uint64_t seed) {
    size_t at = seed % (baseline->cooks + 1);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (nw_baseline_is_cook(baseline, i) && !at--)
            return baseline->known[i].key;
    return 0;
}

/* How often what came up. */
typedef struct Tally {
    size_t designs, changes, good, targets, copies, whole, mirrors;
    size_t fates[NW_FATE_OPENS + 1];
    size_t missed[NW_MISS_COUNT];
} Tally;

/* Every single change of a design with a cook; `baseline` is of it. */
static void compare_singles(const NwDesign *design, const NwBaseline *baseline,
                            const NwPlainCensus *before, uint64_t cook, Tally *tally) {
    Advice advice = ask(design, (NwAdvisorOptions){.cook = cook, .singles = true});
    ck_assert_int_eq(advice.status, NW_NONE);
    assert_ranked(&advice);
    NwDesign **changed;
    size_t count = nw_plain_changes(baseline->design, &changed), expected = 0, miss_count;
    for (size_t i = 0; i < count; i++) {
        bool wanted = is_good(before, changed[i], baseline, cook);
        ck_assert_msg(count_of(&advice, changed[i]) == wanted,
                      "design %zu, change %zu of %zu: plain trying says %s", tally->designs, i,
                      count, wanted ? "good" : "bad");
        expected += wanted;
        nw_design_free(changed[i]);
    }
    free(changed);
    ck_assert_uint_eq(advice.count, expected);
    for (size_t i = 0; i < advice.count; i++) {
        assert_stated(baseline, before, advice.list[i]);
        for (size_t k = 0; k < baseline->known_count; k++)
            tally->fates[advice.list[i]->outcome.fates[k]] += nw_baseline_is_cook(baseline, k);
    }
    const NwMiss *misses = nw_advisor_misses(advice.advisor, &miss_count);
    for (size_t i = 0; i < miss_count; i++)
        tally->missed[assert_missed(baseline, before, &misses[i])]++;
    tally->designs++;
    tally->changes += count;
    tally->good += expected;
    tally->targets += cook != 0;
    tally->copies += baseline->bodies > (int)baseline->design->piece_count;
    tally->whole += baseline->whole;
    tally->mirrors += baseline->mirrors;
    advice_clear(&advice);
}

/* The chipped lantern after a few more random changes, one part each, that leave it a cook; NULL if
 * they do not. Unlike what is divided at random, these need slides to be told apart. */
static NwDesign *lantern_variant(uint64_t seed) {
    NwDesign *design = bundled("ember-lantern-chipped");
    ck_assert_int_eq(nw_design_settle(design), NW_OK);
    NwRandom random = {seed};
    for (uint64_t i = 0; i < seed % 4; i++) {
        NwDesign **changed;
        size_t count = nw_plain_changes(design, &changed);
        size_t at = (size_t)nw_random_below(&random, (int)count);
        nw_design_free(design);
        for (size_t k = 0; k < count; k++)
            if (k == at)
                design = changed[k];
            else
                nw_design_free(changed[k]);
        free(changed);
    }
    return design;
}

static void compare_lanterns(Tally *tally) {
    size_t lanterns = 0;
    for (uint64_t seed = 0; lanterns < LANTERNS; seed++) {
        NwDesign *design = lantern_variant(seed);
        NwBaseline *baseline;
        NwPlainCensus before;
        long effort = LONG_MAX;
        ck_assert_int_eq(nw_baseline_new(design, (NwBaselineOptions){0}, &baseline), NW_OK);
        ck_assert_int_eq(nw_baseline_step(baseline, &effort), NW_NONE);
        bool holds = baseline->cooks > 0;
        for (size_t p = 0; p < design->piece_count; p++)
            holds = holds && nw_solid_lumps(design->pieces[p].solid) == 1;
        if (holds) {
            ck_assert(nw_plain_census(baseline->design, RAW_LIMIT, 10 * POSITIONS_LIMIT, &before));
            compare_singles(design, baseline, &before, 0, tally);
            nw_plain_census_clear(&before);
            lanterns++;
        }
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
}

START_TEST(singles_are_those_that_plain_trying_finds) {
    Tally tally = {0};
    for (uint64_t seed = 0; tally.designs < DESIGNS; seed++) {
        NwPlainCensus before;
        NwBaseline *baseline;
        NwDesign *design = with_cook(seed, SMALL, &before, &baseline);
        if (!design)
            continue;
        compare_singles(design, baseline, &before, pick_cook(baseline, seed), &tally);
        nw_plain_census_clear(&before);
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    compare_lanterns(&tally);
    printf("  %zu designs (%zu whole, %zu with copies, %zu with mirrors): %zu changes, %zu good\n"
           "  cooks: %zu no longer fit, %zu merged, %zu blocked, %zu left\n"
           "  near misses: %zu lumps, %zu stuck, %zu new cooks\n",
           tally.designs, tally.whole, tally.copies, tally.mirrors, tally.changes, tally.good,
           tally.fates[NW_FATE_NO_FIT], tally.fates[NW_FATE_MERGED], tally.fates[NW_FATE_BLOCKED],
           tally.fates[NW_FATE_OPENS], tally.missed[NW_MISS_LUMPS], tally.missed[NW_MISS_STUCK],
           tally.missed[NW_MISS_NEW_COOK]);
    fflush(stdout);
    ck_assert(tally.good > DESIGNS && tally.targets > 20 && tally.whole > 20);
    ck_assert(tally.copies > 20 && tally.mirrors > 20);
    for (int fate = NW_FATE_NO_FIT; fate <= NW_FATE_OPENS; fate++)
        ck_assert(tally.fates[fate] || fate == NW_FATE_UNDECIDED);
    ck_assert(tally.missed[NW_MISS_LUMPS] && tally.missed[NW_MISS_STUCK]);
    ck_assert(tally.missed[NW_MISS_NEW_COOK]);
}
END_TEST

/* ---- pairs ------------------------------------------------------------------------------- */

enum { PAIR_DESIGNS = 12, PAIR_PARTS = 20 };

/* Adds a design unless one with the same pieces is there; frees it then. */
static void add_new(NwDesign ***list, size_t *count, size_t *capacity, NwDesign *design) {
    for (size_t i = 0; i < *count; i++)
        if (nw_plain_same_pieces((*list)[i], design)) {
            nw_design_free(design);
            return;
        }
    *list = nw_grow(*list, *count, capacity, sizeof **list);
    (*list)[(*count)++] = design;
}

/* What two changes make and one does not, the unchanged design aside. */
static size_t plain_pairs(const NwDesign *design, NwDesign ***pairs) {
    NwDesign **first, **all = NULL;
    size_t first_count = nw_plain_changes(design, &first), count = 0, capacity = 0;
    add_new(&all, &count, &capacity, nw_design_copy(design));
    for (size_t i = 0; i < first_count; i++)
        add_new(&all, &count, &capacity, nw_design_copy(first[i]));
    size_t before = count;
    for (size_t i = 0; i < first_count; i++) {
        NwDesign **second;
        size_t second_count = nw_plain_changes(first[i], &second);
        for (size_t k = 0; k < second_count; k++)
            add_new(&all, &count, &capacity, second[k]);
        free(second);
        nw_design_free(first[i]);
    }
    free(first);
    for (size_t i = 0; i < before; i++)
        nw_design_free(all[i]);
    for (size_t i = before; i < count; i++)
        all[i - before] = all[i];
    *pairs = all;
    return count - before;
}

/* Where no single change does it, the advisor goes on to pairs by itself. */
START_TEST(pairs_are_those_that_plain_trying_finds) {
    size_t designs = 0, good = 0, swaps = 0, none = 0;
    for (uint64_t seed = 0; designs < PAIR_DESIGNS; seed++) {
        NwPlainCensus before;
        NwBaseline *baseline;
        NwDesign *design = with_cook(seed, PAIR_PARTS, &before, &baseline);
        if (!design)
            continue;
        uint64_t cook = baseline->known[0].key;
        for (size_t i = 0; i < baseline->known_count; i++)
            if (nw_baseline_is_cook(baseline, i))
                cook = baseline->known[i].key;
        Advice advice = ask(design, (NwAdvisorOptions){.cook = cook});
        if (advice.progress.changes == 2) {
            designs++;
            assert_ranked(&advice);
            NwDesign **pairs;
            size_t count = plain_pairs(baseline->design, &pairs), expected = 0;
            for (size_t i = 0; i < count; i++) {
                bool wanted = is_good(&before, pairs[i], baseline, cook);
                ck_assert_msg((count_of(&advice, pairs[i]) > 0) == wanted,
                              "seed %d, pair %d: plain trying says %s", (int)seed, (int)i,
                              wanted ? "good" : "bad");
                expected += wanted;
                nw_design_free(pairs[i]);
            }
            for (size_t i = 0; i < advice.count; i++) {
                ck_assert_int_eq(advice.list[i]->count, 2);
                assert_stated(baseline, &before, advice.list[i]);
                swaps += nw_changes_swap(&advice.list[i]->changes[0], &advice.list[i]->changes[1]);
            }
            ck_assert_uint_ge(advice.count, expected);
            good += expected;
            none += expected == 0;
            free(pairs);
        }
        advice_clear(&advice);
        nw_plain_census_clear(&before);
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    printf("  %zu designs, %zu good pairs, %zu of them swaps, %zu without any\n", designs, good,
           swaps, none);
    ck_assert(good && none && none < designs);
}
END_TEST

/* ---- the claim about adding -------------------------------------------------------------- */

/* Searches the altered design from nothing. */
static NwOutcome search_anew(NwBaseline *baseline, const NwVariant *variant) {
    NwFit *fit;
    long effort = LONG_MAX;
    ck_assert_int_eq(nw_fit_new(variant->design, (NwFitOptions){0}, &fit), NW_OK);
    NwProof *proof = nw_proof_new(baseline, variant, fit, 0);
    ck_assert_int_eq(nw_proof_step(proof, &effort), NW_NONE);
    NwOutcome outcome = nw_proof_take(proof);
    nw_proof_free(proof);
    return outcome;
}

START_TEST(adding_creates_no_assembly_where_it_is_claimed) {
    size_t claimed = 0, not_claimed = 0, needed = 0;
    for (uint64_t seed = 0; seed < 1500; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwBaseline *baseline = NULL;
        long effort = LONG_MAX;
        if (design->may_be_empty->count && design->intended_count &&
            nw_baseline_new(design, (NwBaselineOptions){0}, &baseline) == NW_OK) {
            ck_assert_int_eq(nw_baseline_step(baseline, &effort), NW_NONE);
            NwCandidates choices;
            nw_candidates_list(baseline, baseline->design, &choices);
            for (size_t i = 0; i < choices.count && baseline->known_count < 50; i++) {
                NwVariant variant;
                if (nw_change_kind(&choices.list[i]) != NW_CHANGE_GIVE ||
                    !nw_variant_make(baseline, &choices.list[i], 1, &variant))
                    continue;
                nw_variant_settle(baseline, &choices.list[i], 1, &variant);
                NwOutcome outcome = search_anew(baseline, &variant);
                if (variant.known_only)
                    ck_assert_uint_eq(outcome.new_assemblies, 0);
                claimed += variant.known_only;
                not_claimed += !variant.known_only;
                needed += outcome.new_assemblies > 0;
                nw_outcome_clear(&outcome);
                nw_variant_clear(&variant);
            }
            nw_candidates_clear(&choices);
        }
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    printf("  claimed of %zu gives; not of %zu, of which %zu did create one\n", claimed,
           not_claimed, needed);
    fflush(stdout);
    ck_assert(claimed > 40 && needed > 40);
}
END_TEST

/* What the cheap filter says is left of the known assemblies is what a full search traces back to
 * them, one for one. */
START_TEST(remnants_are_the_assemblies_that_are_not_new) {
    size_t odd = 0, several = 0, changes = 0;
    for (uint64_t seed = 0; seed < 400; seed++) {
        NwDesign *design = nw_random_design(seed);
        NwBaseline *baseline = NULL;
        long effort = LONG_MAX;
        NwCandidates choices = {0};
        if (design->intended_count &&
            nw_baseline_new(design, (NwBaselineOptions){0}, &baseline) == NW_OK) {
            ck_assert_int_eq(nw_baseline_step(baseline, &effort), NW_NONE);
            nw_candidates_list(baseline, baseline->design, &choices);
        }
        for (size_t i = 0; i < choices.count && baseline->known_count < 20; i += 3) {
            NwVariant variant;
            if (!nw_variant_make(baseline, &choices.list[i], 1, &variant))
                continue;
            if (variant.sameness && nw_variant_holds(&variant, NULL)) {
                NwOutcome outcome = search_anew(baseline, &variant);
                NwSurvivors survivors = {0};
                uint64_t *intended = nw_survivor_intended(baseline, &variant);
                for (size_t k = 0; k < baseline->known_count; k++) {
                    bool merged;
                    several +=
                        nw_survivors_add(&survivors, baseline, &variant, k, intended, &merged) > 1;
                }
                for (size_t k = 0; k < survivors.count; k++)
                    odd += !survivors.list[k].direct;
                ck_assert_msg(outcome.assemblies - outcome.new_assemblies == 1 + survivors.count,
                              "seed %d, change %zu: %zu assemblies, %zu new, %zu remnants",
                              (int)seed, i, outcome.assemblies, outcome.new_assemblies,
                              survivors.count);
                changes++;
                free(intended);
                nw_survivors_clear(&survivors);
                nw_outcome_clear(&outcome);
            }
            nw_variant_clear(&variant);
        }
        nw_candidates_clear(&choices);
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    printf("  remnants after %zu changes: %zu of odd images, %zu times several\n", changes, odd,
           several);
    fflush(stdout);
    ck_assert(odd && several);
}
END_TEST

/* ---- how it is run ----------------------------------------------------------------------- */

static void assert_same_advice(const Advice *a, const Advice *b) {
    ck_assert_uint_eq(a->count, b->count);
    for (size_t i = 0; i < a->count; i++) {
        ck_assert_int_eq(nw_rank_compare(&a->list[i]->rank, &b->list[i]->rank), 0);
        ck_assert(nw_plain_same_pieces(a->list[i]->design, b->list[i]->design));
        ck_assert_uint_eq(a->list[i]->outcome.assemblies, b->list[i]->outcome.assemblies);
        ck_assert_int_eq(a->list[i]->outcome.total, b->list[i]->outcome.total);
    }
}

START_TEST(stopping_often_and_knowing_beforehand_change_nothing) {
    NwDesign *design = bundled("ember-lantern-chipped");
    NwAdvisorOptions options = {.singles = true};
    Advice plain = ask(design, options), often = {0}, learnt = {0};
    ck_assert_uint_gt(plain.count, 1);

    ck_assert_int_eq(nw_advisor_new(design, options, &often.advisor), NW_OK);
    const NwProposal *proposal;
    size_t stops = 0;
    double share = 0;
    for (NwStatus status; (status = nw_advisor_step(often.advisor, 3, &proposal)) != NW_NONE;) {
        nw_advisor_progress(often.advisor, &often.progress);
        ck_assert(often.progress.share >= 0 && often.progress.share <= 1);
        if (often.progress.changes == 1) {
            ck_assert(often.progress.share >= share);
            share = often.progress.share;
        }
        stops += status == NW_STOPPED;
        if (status == NW_STOPPED)
            continue;
        ck_assert_int_eq(status, NW_OK);
        often.list = nw_grow(often.list, often.count, &often.capacity, sizeof *often.list);
        often.list[often.count++] = proposal;
    }
    nw_advisor_progress(often.advisor, &often.progress);
    ck_assert_uint_gt(stops, 500);
    ck_assert(often.progress.share >= 1 && often.progress.changes == 1);
    assert_same_advice(&plain, &often);

    NwFit *fit;
    NwTakeApart *slides = nw_take_apart_new(false);
    const int kinds[NW_PIECES_MAX] = {0, 1, 2, 3, 4, 5};
    long effort = LONG_MAX;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwEnumeration *enumeration = nw_enumeration_new(fit, slides, kinds, NW_STATES_DEFAULT);
    while (nw_enumeration_step(enumeration, &effort) == NW_OK)
        continue;
    const NwFounds *founds = nw_enumeration_get(enumeration);
    ck_assert_int_eq(nw_advisor_new(design, options, &learnt.advisor), NW_OK);
    ck_assert_int_eq(nw_advisor_learn(learnt.advisor, founds->list, founds->count), NW_OK);
    while (nw_advisor_step(learnt.advisor, LONG_MAX, &proposal) == NW_OK) {
        learnt.list = nw_grow(learnt.list, learnt.count, &learnt.capacity, sizeof *learnt.list);
        learnt.list[learnt.count++] = proposal;
    }
    assert_same_advice(&plain, &learnt);
    nw_enumeration_free(enumeration);
    nw_take_apart_free(slides);
    nw_fit_free(fit);
    advice_clear(&plain);
    advice_clear(&often);
    advice_clear(&learnt);
    nw_design_free(design);
}
END_TEST

/* Whether the assembly can be read back as it is written. */
static bool is_read_back(const NwFit *fit, const NwFound *found) {
    NwWriter writer = {0};
    NwFound read;
    nw_found_write(&writer, found, fit->count);
    NwReader reader = {.at = writer.bytes, .end = writer.bytes + writer.size};
    nw_found_read_of(&reader, fit, &read);
    bool good = !reader.bad;
    if (good) {
        free(read.placements);
        free(read.slides);
    }
    free(writer.bytes);
    return good;
}

/* A way out is replayed: with its last slide lost, or one that goes elsewhere, it is refused. */
START_TEST(false_ways_out_are_refused) {
    NwDesign *design = bundled("ember-lantern-chipped");
    NwFit *fit;
    NwTakeApart *slides = nw_take_apart_new(false);
    const int kinds[NW_PIECES_MAX] = {0, 1, 2, 3, 4, 5};
    long effort = LONG_MAX;
    int ways = 0;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwEnumeration *enumeration = nw_enumeration_new(fit, slides, kinds, NW_STATES_DEFAULT);
    while (nw_enumeration_step(enumeration, &effort) == NW_OK)
        continue;
    const NwFounds *founds = nw_enumeration_get(enumeration);
    for (size_t i = 0; i < founds->count; i++) {
        NwFound found = founds->list[i];
        ck_assert(is_read_back(fit, &found));
        if (!found.slides)
            continue;
        ways++;
        found.total--;
        ck_assert(!is_read_back(fit, &found));
        found.total++;
        found.slides[0].direction ^= 1;
        ck_assert(!is_read_back(fit, &found));
        found.slides[0].direction ^= 1;
    }
    ck_assert_int_ge(ways, 2);
    nw_enumeration_free(enumeration);
    nw_take_apart_free(slides);
    nw_fit_free(fit);
    nw_design_free(design);
}
END_TEST

START_TEST(questions_without_an_answer_are_refused) {
    NwAdvisor *advisor;
    const NwProposal *proposal;
    NwDesign *design = bundled("ember-lantern");
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_OK);
    ck_assert_int_eq(nw_advisor_step(advisor, LONG_MAX, &proposal), NW_EMPTY); /* no cook */
    nw_advisor_free(advisor);
    design->intended[0].motion.shift.x += 2;
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_DOES_NOT_FIT);
    nw_design_set_intended(design, NULL, 0);
    ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_NONE);
    ck_assert_ptr_null(advisor);
    nw_design_free(design);
    design = bundled("ember-lantern-chipped");
    NwAdvisorOptions wrong = {.cook = 1};
    ck_assert_int_eq(nw_advisor_new(design, wrong, &advisor), NW_OK);
    ck_assert_int_eq(nw_advisor_step(advisor, LONG_MAX, &proposal), NW_EMPTY); /* no such cook */
    nw_advisor_free(advisor);
    nw_design_free(design);
}
END_TEST

/* ---- published baseline -------------------------------------------------------------------- */

/* Every published assembly of these boxes comes apart, so with one of them intended the others are
 * the cooks. The count is by the instance's own rule. */
static const struct {
    const char *instance;
    bool blocks; /* and a first proposal is asked for */
} published[] = {
    {"slothouber-graatsma", false},
    {"pentominoes-3x20", true},
    {"soma", true},
    {"pentominoes-2x3x10", false},
};

START_TEST(published_counts_less_one_are_the_cooks) {
    const NwInstance *instance = nw_instance_find(published[_i].instance);
    NwDesign *design = nw_instance_build(instance);
    NwFit *fit;
    NwAssembly any;
    ck_assert_int_eq(nw_fit_new(design, (NwFitOptions){0}, &fit), NW_OK);
    NwFitSearch *search = nw_fit_search_new(fit);
    ck_assert_int_eq(nw_fit_search_step(search, LONG_MAX, &any), NW_OK);
    nw_design_set_intended(design, any.placements, (size_t)any.count);
    nw_fit_search_free(search);
    nw_fit_free(fit);
    NwBaseline *baseline;
    long effort = LONG_MAX;
    ck_assert_int_eq(nw_baseline_new(design, (NwBaselineOptions){0}, &baseline), NW_OK);
    ck_assert_int_eq(nw_baseline_step(baseline, &effort), NW_NONE);
    ck_assert_int_eq((long)baseline->cooks, nw_instance_classes(instance) - 1);
    ck_assert_int_eq((long)baseline->known_count, nw_instance_classes(instance));
    nw_baseline_free(baseline);
    if (published[_i].blocks) {
        NwAdvisor *advisor;
        const NwProposal *proposal;
        NwPlainCensus after;
        ck_assert_int_eq(nw_advisor_new(design, (NwAdvisorOptions){0}, &advisor), NW_OK);
        ck_assert_int_eq(nw_advisor_step(advisor, LONG_MAX, &proposal), NW_OK);
        ck_assert(nw_plain_census(proposal->design, 100000, 3000, &after));
        ck_assert(after.opens[after.intended]);
        ck_assert_uint_eq(after.cooks, proposal->outcome.cooks);
        ck_assert_uint_eq(after.fit->classes, proposal->outcome.assemblies);
        ck_assert_int_lt((long)after.cooks, nw_instance_classes(instance) - 1);
        nw_plain_census_clear(&after);
        nw_advisor_free(advisor);
    }
    nw_design_free(design);
}
END_TEST

/* ---- the bundled pair -------------------------------------------------------------------- */

static bool is_cure(const NwProposal *proposal) {
    const NwChange *change = &proposal->changes[0];
    return proposal->count == 1 && change->from < 0 && change->to == 3 && change->part.bit == 3 &&
           nw_vec_equal(change->part.cell, nw_vec(1, 3, 1));
}

START_TEST(the_chipped_lantern_is_cured) {
    NwDesign *chipped = bundled("ember-lantern-chipped"), *whole = bundled("ember-lantern");
    Advice advice = ask(chipped, (NwAdvisorOptions){.singles = true});
    const NwProposal *cure = NULL;
    for (size_t i = 0; i < advice.count; i++)
        if (is_cure(advice.list[i]))
            cure = advice.list[i];
    ck_assert_ptr_nonnull(cure);
    ck_assert_int_le(nw_rank_compare(&advice.list[0]->rank, &cure->rank), 0);
    /* The cure gives Ember Lantern exactly, up to the frames of its pieces and what may be empty.
     */
    ck_assert_int_eq(nw_design_settle(whole), NW_OK);
    ck_assert(nw_plain_same_pieces(cure->design, whole));
    ck_assert_uint_eq(cure->outcome.assemblies, 4);
    ck_assert_uint_eq(cure->outcome.cooks, 0);
    ck_assert_uint_eq(cure->outcome.unreachable, 3);
    ck_assert_int_eq(cure->outcome.level, 4);
    ck_assert_int_eq(cure->outcome.total, 10);
    const NwBaseline *baseline = nw_advisor_ground(advice.advisor);
    for (size_t i = 0; i < baseline->known_count; i++)
        if (nw_baseline_is_cook(baseline, i)) {
            ck_assert_int_eq(cure->outcome.fates[i], NW_FATE_BLOCKED);
            NwConflict conflict = nw_conflict_find(baseline, cure->design, cure->changes, 1, i);
            ck_assert_int_eq(conflict.kind, NW_CONFLICT_NONE);
        }
    /* The best one, by the plain solver. */
    NwPlainCensus after;
    ck_assert(nw_plain_census(advice.list[0]->design, 1000, 100000, &after));
    ck_assert(after.opens[after.intended]);
    ck_assert_int_eq(after.level[after.intended], advice.list[0]->outcome.level);
    ck_assert_uint_eq(after.cooks, 0);
    nw_plain_census_clear(&after);
    advice_clear(&advice);
    nw_design_free(chipped);
    nw_design_free(whole);
}
END_TEST

START_TEST(whatever_no_longer_fits_clashes_somewhere) {
    size_t kinds[NW_CONFLICT_ODD + 1] = {0};
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwPlainCensus before;
        NwBaseline *baseline;
        NwDesign *design = with_cook(seed, SMALL, &before, &baseline);
        if (!design)
            continue;
        Advice advice = ask(design, (NwAdvisorOptions){.singles = true});
        for (size_t i = 0; i < advice.count; i++)
            for (size_t k = 0; k < baseline->known_count; k++) {
                const NwProposal *proposal = advice.list[i];
                if (proposal->outcome.fates[k] != NW_FATE_NO_FIT || baseline->known[k].intended)
                    continue;
                NwConflict conflict = nw_conflict_find(baseline, proposal->design,
                                                       proposal->changes, proposal->count, k);
                ck_assert_int_ne(conflict.kind, NW_CONFLICT_NONE);
                kinds[conflict.kind]++;
                bool inside = nw_solid_has(design->envelope, conflict.part);
                if (conflict.kind != NW_CONFLICT_ODD)
                    ck_assert_int_eq(inside, conflict.kind != NW_CONFLICT_OUTSIDE);
            }
        advice_clear(&advice);
        nw_plain_census_clear(&before);
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    ck_assert(kinds[NW_CONFLICT_OUTSIDE] && kinds[NW_CONFLICT_OVERLAP] && kinds[NW_CONFLICT_ODD]);
}
END_TEST

/* ---- step by step ------------------------------------------------------------------------ */

/* Made in the smallest steps it is the same as at once, and says the same when it is not to be. */
START_TEST(a_ground_is_made_in_steps) {
    int made = 0, refused = 0;
    for (uint64_t seed = 0; seed < 200; seed++) {
        NwDesign *design = seed ? nw_random_design(seed) : bundled("tide-chest");
        NwBaseline *whole, *parts = NULL;
        NwBaselineSetup *setup;
        NwStatus status = nw_baseline_new(design, (NwBaselineOptions){0}, &whole);
        NwStatus same = nw_baseline_setup_new(design, (NwBaselineOptions){0}, &setup);
        int steps = 0;
        while (setup && (same = nw_baseline_setup_step(setup, 1, &parts)) == NW_STOPPED)
            steps++;
        nw_baseline_setup_free(setup);
        ck_assert_int_eq(same, status);
        ck_assert((parts != NULL) == (whole != NULL));
        if (whole) {
            long all = LONG_MAX, other = LONG_MAX;
            ck_assert_uint_eq(nw_baseline_digest(parts), nw_baseline_digest(whole));
            ck_assert_int_eq(nw_baseline_step(parts, &other), nw_baseline_step(whole, &all));
            ck_assert_int_eq(other, all);
            ck_assert_uint_eq(parts->known_count, whole->known_count);
            for (size_t i = 0; i < whole->known_count; i++)
                ck_assert_uint_eq(parts->known[i].key, whole->known[i].key);
            ck_assert_int_gt(steps, seed ? 8 : 100);
        }
        made += whole != NULL;
        refused += whole == NULL;
        nw_baseline_free(whole);
        nw_baseline_free(parts);
        nw_design_free(design);
    }
    ck_assert_int_gt(made, 50);
    ck_assert_int_gt(refused, 0);
}
END_TEST

/* Whoever leaves in the middle finds nothing left behind. */
START_TEST(a_ground_is_given_up_at_any_step) {
    NwDesign *design = bundled("ember-lantern");
    for (int last = 0; last < 400; last += 7) {
        NwBaselineSetup *setup;
        NwBaseline *baseline = NULL;
        ck_assert_int_eq(nw_baseline_setup_new(design, (NwBaselineOptions){0}, &setup), NW_OK);
        for (int i = 0; i < last && !baseline; i++)
            ck_assert(nw_baseline_setup_step(setup, 20, &baseline) ==
                      (baseline ? NW_OK : NW_STOPPED));
        nw_baseline_setup_free(setup);
        nw_baseline_free(baseline);
    }
    nw_design_free(design);
}
END_TEST

/* ---- what a part does -------------------------------------------------------------------- */

static const NwExplanation *explain(NwBaseline *baseline, NwPart part, NwExplain **explain) {
    if (nw_explain_new(baseline, part, explain) != NW_OK)
        return NULL;
    while (nw_explain_step(*explain, 50) == NW_STOPPED)
        continue;
    return nw_explain_get(*explain);
}

START_TEST(the_lantern_s_corner_holds_off_the_cook) {
    NwDesign *design = bundled("ember-lantern");
    NwBaseline *baseline;
    long effort = LONG_MAX;
    ck_assert_int_eq(nw_baseline_new(design, (NwBaselineOptions){0}, &baseline), NW_OK);
    ck_assert_int_eq(nw_baseline_step(baseline, &effort), NW_NONE);
    NwExplain *explained;
    const NwExplanation *told = explain(baseline, (NwPart){{1, 3, 1}, 3}, &explained);
    ck_assert_int_eq(told->piece, 3);
    ck_assert(told->holds && !told->may_be_empty && !told->idle);
    ck_assert_uint_eq(told->revived, 1);
    ck_assert_uint_eq(told->outcome.cooks, 1);
    ck_assert_uint_eq(told->outcome.new_cooks, 0);
    ck_assert_int_eq(told->outcome.level, 4);
    ck_assert_int_eq(told->outcome.total, 10);
    ck_assert_uint_eq(nw_explain_founds(explained)->count, 4);
    nw_explain_free(explained);
    ck_assert_int_eq(nw_explain_new(baseline, (NwPart){{9, 9, 9}, 0}, &explained), NW_EMPTY);
    nw_baseline_free(baseline);
    nw_design_free(design);
}
END_TEST

/* The design without one part, which may stay empty; NULL if no piece has it or a copy is odd. */
static NwDesign *without(const NwDesign *design, const NwSolid *part) {
    for (size_t i = 0; i < design->intended_count; i++) {
        const NwPlacement *owner = &design->intended[i];
        NwSolid *own;
        nw_solid_moved(part, nw_motion_inverse(owner->motion), &own);
        if (!own || !nw_solid_contains(design->pieces[owner->piece].solid, own)) {
            nw_solid_free(own);
            continue;
        }
        NwDesign *less = nw_design_copy(design);
        nw_solid_remove(less->pieces[owner->piece].solid, nw_cell_at(own->cells),
                        own->cells[0].mask);
        for (size_t k = 0; k < design->intended_count; k++) {
            NwSolid *image = NULL;
            if (design->intended[k].piece == owner->piece)
                nw_solid_moved(own, design->intended[k].motion, &image);
            if (image)
                nw_solid_add(less->may_be_empty, nw_cell_at(image->cells), image->cells[0].mask);
            nw_solid_free(image);
        }
        nw_solid_free(own);
        if (!nw_check_assembly(less, less->intended, less->intended_count))
            return less;
        nw_design_free(less);
        return NULL;
    }
    return NULL;
}

static void assert_explained(NwBaseline *baseline, const NwPlainCensus *before, NwPart part,
                             size_t counts[3]) {
    NwSolid *solid = nw_solid_new();
    nw_solid_add(solid, part.cell, 1 << part.bit);
    NwDesign *less = without(baseline->design, solid);
    nw_solid_free(solid);
    NwExplain *explained;
    const NwExplanation *told = explain(baseline, part, &explained);
    ck_assert_int_eq(less != NULL, told != NULL);
    if (!told)
        return;
    bool holds = nw_solid_lumps(less->pieces[told->piece].solid) == 1;
    ck_assert_int_eq(holds, told->holds);
    if (holds) {
        NwPlainCensus after;
        NwPlainVerdict verdict;
        ck_assert(nw_plain_census(less, 10 * RAW_LIMIT, 10 * POSITIONS_LIMIT, &after));
        nw_plain_compare(before, &after, &verdict);
        ck_assert_uint_eq(told->outcome.cooks, after.cooks);
        ck_assert_uint_eq(told->outcome.new_cooks, verdict.new_cooks);
        ck_assert_uint_eq(told->outcome.assemblies, after.fit->classes);
        ck_assert_int_eq(told->outcome.opens == NW_OK, after.opens[after.intended]);
        if (told->outcome.opens == NW_OK)
            ck_assert_int_eq(told->outcome.level, after.level[after.intended]);
        size_t revived = 0;
        for (size_t i = 0; i < baseline->known_count; i++) {
            size_t class = class_of(before, &baseline->known[i]);
            if (baseline->known[i].intended)
                continue;
            bool now = verdict.alive[class] && !before->opens[class];
            ck_assert_int_eq(nw_explain_revives(baseline, told, i), now);
            revived += now;
        }
        counts[0] += revived;
        counts[1] += told->outcome.new_cooks;
        counts[2] += told->idle;
        nw_plain_verdict_clear(&verdict);
        nw_plain_census_clear(&after);
    }
    nw_explain_free(explained);
    nw_design_free(less);
}

static void explain_all(NwBaseline *baseline, size_t counts[3]) {
    NwPlainCensus before;
    ck_assert(nw_plain_census(baseline->design, RAW_LIMIT, 10 * POSITIONS_LIMIT, &before));
    const NwPlacementTable *places = baseline->fit->places;
    for (int i = 0; i < places->part_count; i++)
        assert_explained(baseline, &before, places->parts[i], counts);
    nw_plain_census_clear(&before);
}

START_TEST(explanations_are_those_of_plain_trying) {
    size_t counts[3] = {0}, designs = 0;
    for (uint64_t seed = 0; designs < 60; seed++) {
        NwDesign *design = seed ? nw_random_design(seed) : bundled("ember-lantern");
        NwBaseline *baseline = NULL;
        long effort = LONG_MAX;
        if (design->intended_count && (!seed || nw_solid_parts(design->envelope) <= SMALL) &&
            nw_baseline_new(design, (NwBaselineOptions){0}, &baseline) == NW_OK &&
            nw_baseline_step(baseline, &effort) == NW_NONE && baseline->known_count <= 8) {
            explain_all(baseline, counts);
            designs++;
        }
        nw_baseline_free(baseline);
        nw_design_free(design);
    }
    printf("  %zu revived, %zu new cooks, %zu idle parts\n", counts[0], counts[1], counts[2]);
    fflush(stdout);
    ck_assert(counts[0] && counts[1] && counts[2]);
}
END_TEST

int main(int argc, char **argv) {
    if (argc < 2) {
        fprintf(stderr, "usage: test_cook FOLDER\n");
        return EXIT_FAILURE;
    }
    designs_folder = argv[1];
    Suite *suite = suite_create("cook");
    TCase *random = tcase_create("random");
    tcase_set_timeout(random, 900);
    tcase_add_test(random, singles_are_those_that_plain_trying_finds);
    tcase_add_test(random, pairs_are_those_that_plain_trying_finds);
    tcase_add_test(random, adding_creates_no_assembly_where_it_is_claimed);
    tcase_add_test(random, remnants_are_the_assemblies_that_are_not_new);
    tcase_add_test(random, whatever_no_longer_fits_clashes_somewhere);
    tcase_add_test(random, explanations_are_those_of_plain_trying);
    TCase *known = tcase_create("known");
    tcase_set_timeout(known, 900);
    tcase_add_test(known, stopping_often_and_knowing_beforehand_change_nothing);
    tcase_add_test(known, questions_without_an_answer_are_refused);
    tcase_add_test(known, false_ways_out_are_refused);
    tcase_add_loop_test(known, published_counts_less_one_are_the_cooks, 0,
                        (int)(sizeof published / sizeof published[0]));
    tcase_add_test(known, the_chipped_lantern_is_cured);
    tcase_add_test(known, the_lantern_s_corner_holds_off_the_cook);
    tcase_add_test(known, a_ground_is_made_in_steps);
    tcase_add_test(known, a_ground_is_given_up_at_any_step);
    suite_add_tcase(suite, random);
    suite_add_tcase(suite, known);
    return run_suite(suite);
}
