/* An advisor that is saved and restored often comes to what one that runs in one go comes to, and
 * searches nothing twice; and bytes that are damaged, or belong elsewhere, do no harm. */
#include <check.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/bytes.h"
#include "base/memory.h"
#include "cook/advisor.h"
#include "plain/random_design.h"
#include "suite.h"

enum { DESIGNS = 40, EFFORT = 20000, EFFORT_IN_ALL = 3000000, FORGERIES = 60, SUM_BYTES = 8 };

/* ---- running ----------------------------------------------------------------------------- */

static NwAdvisor *new_advisor(const NwDesign *design, NwAdvisorOptions options) {
    NwAdvisor *advisor;
    ck_assert_int_eq(nw_advisor_new(design, options, &advisor), NW_OK);
    return advisor;
}

/* To the end, or as far as that effort goes. */
static NwStatus run_on(NwAdvisor *advisor, long effort) {
    NwStatus status = NW_STOPPED;
    for (; effort > 0 && (status == NW_STOPPED || status == NW_OK); effort -= EFFORT) {
        const NwProposal *proposal;
        status = nw_advisor_step(advisor, effort < EFFORT ? effort : EFFORT, &proposal);
    }
    return status;
}

/* The next random design that has a cook and whose advice comes to an end soon, with the advisor
 * that has run to it. */
static NwDesign *next_with_a_cook(uint64_t *seed, NwAdvisorOptions options, NwAdvisor **ended) {
    for (;;) {
        NwDesign *design = nw_random_design((*seed)++);
        if (nw_advisor_new(design, options, ended) == NW_OK) {
            if (run_on(*ended, EFFORT_IN_ALL) == NW_NONE)
                return design;
            nw_advisor_free(*ended);
        }
        nw_design_free(design);
    }
}

/* Singles only, or pairs if needed; now and then with slides along diagonals. */
static NwAdvisorOptions question(int number) {
    return (NwAdvisorOptions){.singles = number % 3 == 0,
                              .baseline = {.diagonals = number % 5 == 4}};
}

/* ---- comparing --------------------------------------------------------------------------- */

static void assert_same_outcome(const NwOutcome *a, const NwOutcome *b, size_t known) {
    ck_assert_mem_eq(a->fates, b->fates, known * sizeof *a->fates);
    ck_assert_int_eq(a->opens, b->opens);
    ck_assert_int_eq(a->level, b->level);
    ck_assert_int_eq(a->total, b->total);
    ck_assert_uint_eq(a->assemblies, b->assemblies);
    ck_assert_uint_eq(a->cooks, b->cooks);
    ck_assert_uint_eq(a->unreachable, b->unreachable);
    ck_assert_uint_eq(a->undecided, b->undecided);
    ck_assert_uint_eq(a->new_assemblies, b->new_assemblies);
    ck_assert_uint_eq(a->new_cooks, b->new_cooks);
    ck_assert_uint_eq(a->searched, b->searched);
    for (int i = 0; i < a->total; i++) {
        ck_assert_uint_eq(a->slides[i].bodies, b->slides[i].bodies);
        ck_assert_int_eq(a->slides[i].direction, b->slides[i].direction);
        ck_assert_int_eq(a->slides[i].cells, b->slides[i].cells);
    }
}

static void assert_same_founds(const NwFounds *a, const NwFounds *b, int bodies) {
    ck_assert_uint_eq(a->count, b->count);
    for (size_t i = 0; i < a->count; i++) {
        const NwFound *one = &a->list[i], *other = &b->list[i];
        ck_assert_uint_eq(one->key, other->key);
        ck_assert_int_eq(one->opens, other->opens);
        ck_assert_int_eq(one->level, other->level);
        ck_assert_int_eq(one->total, other->total);
        ck_assert_mem_eq(one->placements, other->placements,
                         (size_t)bodies * sizeof *one->placements);
    }
}

static void assert_same_changes(const NwChange *a, const NwChange *b, int count) {
    for (int i = 0; i < count; i++) {
        ck_assert(nw_change_equal(&a[i], &b[i]));
        ck_assert(nw_part_equal(a[i].part, b[i].part));
    }
}

static void assert_same_proposals(NwAdvisor *a, NwAdvisor *b) {
    size_t count, other;
    const NwProposal *const *list = nw_advisor_proposals(a, &count);
    const NwProposal *const *others = nw_advisor_proposals(b, &other);
    size_t known = nw_advisor_ground(a)->known_count;
    ck_assert_uint_eq(known, nw_advisor_ground(b)->known_count);
    ck_assert_uint_eq(count, other);
    for (size_t i = 0; i < count; i++) {
        ck_assert_int_eq(list[i]->count, others[i]->count);
        assert_same_changes(list[i]->changes, others[i]->changes, list[i]->count);
        ck_assert_int_eq(nw_rank_compare(&list[i]->rank, &others[i]->rank), 0);
        ck_assert_int_eq(list[i]->proved, others[i]->proved);
        assert_same_outcome(&list[i]->outcome, &others[i]->outcome, known);
        assert_same_founds(&list[i]->founds, &others[i]->founds, nw_advisor_ground(a)->bodies);
        for (size_t p = 0; p < list[i]->design->piece_count; p++)
            ck_assert(nw_solid_equal(list[i]->design->pieces[p].solid,
                                     others[i]->design->pieces[p].solid));
    }
}

static void assert_same_misses(const NwAdvisor *a, const NwAdvisor *b) {
    size_t count, other;
    const NwMiss *list = nw_advisor_misses(a, &count), *others = nw_advisor_misses(b, &other);
    ck_assert_uint_eq(count, other);
    for (size_t i = 0; i < count; i++) {
        ck_assert_int_eq(list[i].reason, others[i].reason);
        ck_assert_int_eq(list[i].piece, others[i].piece);
        ck_assert_int_eq(list[i].count, others[i].count);
        assert_same_changes(list[i].changes, others[i].changes, list[i].count);
    }
}

static void assert_same_progress(const NwAdvisor *a, const NwAdvisor *b) {
    NwAdvisorProgress one, other;
    nw_advisor_progress(a, &one);
    nw_advisor_progress(b, &other);
    ck_assert_int_eq(one.changes, other.changes);
    for (int c = 0; c <= NW_CHANGES_MAX; c++) {
        ck_assert_uint_eq(one.tried[c], other.tried[c]);
        ck_assert_uint_eq(one.settled[c], other.settled[c]);
    }
    for (int i = 0; i < NW_MISS_COUNT; i++)
        ck_assert_uint_eq(one.missed[i], other.missed[i]);
    ck_assert_uint_eq(one.proofs, other.proofs);
    int level[2], total[2];
    ck_assert_int_eq(nw_advisor_before(a, &level[0], &total[0]),
                     nw_advisor_before(b, &level[1], &total[1]));
    ck_assert_int_eq(level[0], level[1]);
    ck_assert_int_eq(total[0], total[1]);
}

/* ---- tests ------------------------------------------------------------------------------- */

typedef struct Kept {
    uint8_t *bytes;
    size_t size;
} Kept;

static Kept keep(const NwAdvisor *advisor) {
    Kept kept;
    nw_advisor_save(advisor, &kept.bytes, &kept.size);
    return kept;
}

/* Frees the advisor; another goes on where it was. What is saved again at once is the same. */
static NwAdvisor *interrupt(NwAdvisor *advisor, const NwDesign *design, NwAdvisorOptions options) {
    Kept kept = keep(advisor);
    nw_advisor_free(advisor);
    advisor = new_advisor(design, options);
    ck_assert_int_eq(nw_advisor_restore(advisor, kept.bytes, kept.size), NW_OK);
    Kept again = keep(advisor);
    ck_assert_uint_eq(again.size, kept.size);
    free(again.bytes);
    free(kept.bytes);
    return advisor;
}

/* Sessions of random effort. One that is too short for a slide search could try it for ever, so
 * they get longer. */
static NwAdvisor *run_in_sessions(const NwDesign *design, NwAdvisorOptions options,
                                  NwRandom *random, size_t *interruptions) {
    NwAdvisor *advisor = new_advisor(design, options);
    NwStatus status;
    int longest = 300;
    do {
        status = run_on(advisor, 1 + nw_random_below(random, longest));
        advisor = interrupt(advisor, design, options);
        ++*interruptions;
        longest += longest / 40;
    } while (status == NW_STOPPED || status == NW_OK);
    ck_assert_int_eq(status, NW_NONE);
    return advisor;
}

START_TEST(many_sessions_come_to_what_one_does) {
    NwRandom random = {17};
    uint64_t seed = 1;
    size_t interruptions = 0, proposals = 0, misses = 0, proofs = 0, pairs = 0;
    for (int i = 0; i < DESIGNS; i++) {
        NwAdvisor *whole;
        NwAdvisorOptions options = question(i);
        NwDesign *design = next_with_a_cook(&seed, options, &whole);
        if (i % 4 == 3) { /* ask for one cook */
            const NwBaseline *baseline = nw_advisor_ground(whole);
            for (size_t k = 0; k < baseline->known_count; k++)
                if (nw_baseline_is_cook(baseline, k))
                    options.cook = baseline->known[k].key;
            nw_advisor_free(whole);
            whole = new_advisor(design, options);
            ck_assert_int_eq(run_on(whole, LONG_MAX / 2), NW_NONE);
        }
        NwAdvisor *parts = run_in_sessions(design, options, &random, &interruptions);
        assert_same_proposals(whole, parts);
        assert_same_misses(whole, parts);
        assert_same_progress(whole, parts);
        NwAdvisorProgress progress;
        nw_advisor_progress(whole, &progress);
        size_t count;
        nw_advisor_proposals(whole, &count);
        proposals += count;
        nw_advisor_misses(whole, &count);
        misses += count;
        proofs += progress.proofs;
        pairs += progress.tried[2];
        nw_advisor_free(whole);
        nw_advisor_free(parts);
        nw_design_free(design);
    }
    ck_assert_uint_gt(interruptions, 10 * DESIGNS);
    ck_assert_uint_gt(proposals, DESIGNS);
    ck_assert_uint_gt(misses, DESIGNS);
    ck_assert_uint_gt(proofs, DESIGNS);
    ck_assert_uint_gt(pairs, DESIGNS);
}
END_TEST

/* Stopped in the middle of the search of the design itself, and before it was asked anything. */
START_TEST(what_is_known_of_the_design_answers_any_question) {
    uint64_t seed = 40;
    for (int i = 0; i < DESIGNS / 4; i++) {
        NwAdvisor *whole;
        NwAdvisorOptions options = {.singles = true};
        NwDesign *design = next_with_a_cook(&seed, options, &whole);
        NwAdvisor *first = new_advisor(design, (NwAdvisorOptions){.pairs = true});
        long effort = 1 + 7 * i;
        ck_assert_int_ne(nw_advisor_search(first, effort), NW_OK);
        Kept kept = keep(first);
        NwAdvisor *second = new_advisor(design, options);
        ck_assert_int_eq(nw_advisor_restore(second, kept.bytes, kept.size), NW_OK);
        ck_assert_int_eq(run_on(second, LONG_MAX / 2), NW_NONE);
        assert_same_proposals(whole, second);
        assert_same_progress(whole, second);
        free(kept.bytes);
        nw_advisor_free(first);
        nw_advisor_free(second);
        nw_advisor_free(whole);
        nw_design_free(design);
    }
}
END_TEST

/* An advisor that refused bytes must begin at the beginning, and come to the same. */
static void assert_refused(const NwDesign *design, NwAdvisorOptions options, Kept kept) {
    NwAdvisor *advisor = new_advisor(design, options);
    ck_assert_int_eq(nw_advisor_restore(advisor, kept.bytes, kept.size), NW_BAD_RESUME);
    NwAdvisorProgress progress;
    nw_advisor_progress(advisor, &progress);
    ck_assert_int_eq(progress.changes, 0);
    size_t count;
    nw_advisor_proposals(advisor, &count);
    ck_assert_uint_eq(count, 0);
    nw_advisor_free(advisor);
}

START_TEST(bytes_from_elsewhere_are_refused) {
    uint64_t seed = 100;
    NwAdvisorOptions options = {.singles = true},
                     others[] = {{.singles = false},
                                 {.pairs = true},
                                 {.singles = true, .cook = 5},
                                 {.singles = true, .baseline = {.diagonals = true}},
                                 {.singles = true, .baseline = {.max_states = 99}}};
    NwAdvisor *advisor, *stranger;
    NwDesign *design = next_with_a_cook(&seed, options, &advisor);
    NwDesign *other = next_with_a_cook(&seed, options, &stranger);
    Kept kept = keep(advisor);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        assert_refused(design, others[i], kept);
    assert_refused(other, options, kept);
    design->mirrors_together = !design->mirrors_together;
    assert_refused(design, options, kept);
    free(kept.bytes);
    nw_advisor_free(advisor);
    nw_advisor_free(stranger);
    nw_design_free(design);
    nw_design_free(other);
}
END_TEST

START_TEST(damaged_bytes_are_refused) {
    uint64_t seed = 200;
    NwAdvisorOptions options = {0};
    NwAdvisor *advisor;
    NwDesign *design = next_with_a_cook(&seed, options, &advisor);
    Kept kept = keep(advisor);
    for (size_t i = 0; i < kept.size; i += 1 + i / 50) {
        assert_refused(design, options, (Kept){kept.bytes, i});
        kept.bytes[i] ^= (uint8_t)(1 << i % 8);
        assert_refused(design, options, kept);
        kept.bytes[i] ^= (uint8_t)(1 << i % 8);
    }
    free(kept.bytes);
    nw_advisor_free(advisor);
    nw_design_free(design);
}
END_TEST

/* With a check sum that is right again, anything may stand in the bytes. They are refused or lead
 * to wrong advice, but nothing breaks. */
static void forge(const NwDesign *design, NwAdvisorOptions options, Kept kept, NwRandom *random,
                  size_t *taken) {
    size_t content = kept.size - SUM_BYTES;
    NwWriter writer = {0};
    for (size_t i = 0; i < content; i++)
        nw_write_byte(&writer, kept.bytes[i]);
    for (int times = 1 + nw_random_below(random, 3); times--;)
        writer.bytes[nw_random_below(random, (int)content)] ^=
            (uint8_t)(1 << nw_random_below(random, 8));
    writer.size -= (size_t)(nw_random_below(random, 8) == 0 ? nw_random_below(random, 9) : 0);
    nw_write_sum(&writer);
    NwAdvisor *advisor = new_advisor(design, options);
    *taken += nw_advisor_restore(advisor, writer.bytes, writer.size) == NW_OK;
    run_on(advisor, EFFORT);
    free(keep(advisor).bytes);
    nw_advisor_free(advisor);
    free(writer.bytes);
}

START_TEST(forged_bytes_do_no_harm) {
    NwRandom random = {4711};
    uint64_t seed = 300;
    size_t taken = 0;
    for (int i = 0; i < DESIGNS / 2; i++) {
        NwAdvisor *advisor;
        NwAdvisorOptions options = question(i);
        NwDesign *design = next_with_a_cook(&seed, options, &advisor);
        nw_advisor_free(advisor);
        advisor = new_advisor(design, options);
        run_on(advisor, 1 + nw_random_below(&random, 3000));
        Kept kept = keep(advisor);
        for (int k = 0; k < FORGERIES; k++)
            forge(design, options, kept, &random, &taken);
        free(kept.bytes);
        nw_advisor_free(advisor);
        nw_design_free(design);
    }
    ck_assert_uint_gt(taken, 0);
    ck_assert_uint_lt(taken, FORGERIES * DESIGNS / 2);
}
END_TEST

/* The candidate in front is one that the design allows, and its stage moves on. */
START_TEST(one_can_watch_the_candidate_in_front) {
    uint64_t seed = 400;
    NwAdvisorOptions options = {.singles = true};
    bool seen[NW_FRONT_COUNT] = {false};
    for (int i = 0; i < DESIGNS; i++) {
        NwAdvisor *ended;
        NwDesign *design = next_with_a_cook(&seed, options, &ended);
        NwAdvisor *advisor = new_advisor(design, options);
        NwFront front;
        const NwProposal *proposal;
        ck_assert(!nw_advisor_get_front(advisor, &front));
        NwStatus status;
        while ((status = nw_advisor_step(advisor, 2, &proposal)) != NW_NONE) {
            ck_assert(status == NW_OK || status == NW_STOPPED);
            if (!nw_advisor_get_front(advisor, &front))
                continue;
            seen[front.stage] = true;
            ck_assert(front.share >= 0 && front.share <= 1);
            ck_assert_int_eq(front.count, 1);
            NwDesign *variant = nw_design_copy(nw_advisor_ground(advisor)->design);
            ck_assert(nw_changes_apply(variant, front.changes, front.count));
            nw_design_free(variant);
        }
        ck_assert(!nw_advisor_get_front(advisor, &front));
        ck_assert_int_eq(front.count, 0);
        nw_advisor_free(advisor);
        nw_advisor_free(ended);
        nw_design_free(design);
    }
    ck_assert(seen[NW_FRONT_FITS] && seen[NW_FRONT_MARKS] && seen[NW_FRONT_OPENS]);
    ck_assert(seen[NW_FRONT_KILLS] && seen[NW_FRONT_PROVED]);
}
END_TEST

int main(void) {
    Suite *suite = suite_create("resume_advice");
    TCase *tcase = tcase_create("advisor");
    tcase_set_timeout(tcase, 900);
    tcase_add_test(tcase, many_sessions_come_to_what_one_does);
    tcase_add_test(tcase, what_is_known_of_the_design_answers_any_question);
    tcase_add_test(tcase, bytes_from_elsewhere_are_refused);
    tcase_add_test(tcase, damaged_bytes_are_refused);
    tcase_add_test(tcase, forged_bytes_do_no_harm);
    tcase_add_test(tcase, one_can_watch_the_candidate_in_front);
    suite_add_tcase(suite, tcase);
    return run_suite(suite);
}
