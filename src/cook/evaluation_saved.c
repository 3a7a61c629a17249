/* An evaluation as bytes: what the slide searches and the full search have told. Sets of bits are
 * quickly compared again, so the first stages are not written down; an evaluation that is read goes
 * through them and then takes up the rest. What makes no sense then is dropped, and found out
 * again. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/evaluation_private.h"

static void write_findings(const NwEvaluation *evaluation, NwWriter *writer) {
    const NwOutcome *outcome = &evaluation->outcome;
    nw_write_number(writer, (uint64_t)outcome->level);
    nw_slides_write(writer, outcome->slides, outcome->total);
    nw_write_number(writer, evaluation->at);
    for (size_t i = 0; i < evaluation->at; i++) {
        const NwSurvivor *survivor = &evaluation->cooks.list[i];
        nw_opens_write(writer, survivor->opens);
        nw_write_number(writer, (uint64_t)survivor->level);
        nw_write_number(writer, (uint64_t)survivor->total);
    }
    if (evaluation->step == NW_STEP_PROVING)
        nw_proof_write(evaluation->proof, writer);
}

void nw_evaluation_write(const NwEvaluation *evaluation, NwWriter *writer) {
    NwWriter own = {0};
    if (evaluation->past) {
        nw_write_block(writer, evaluation->past, evaluation->past_size);
        return;
    }
    if (evaluation->step > NW_STEP_OPENS)
        write_findings(evaluation, &own);
    nw_write_block(writer, own.bytes, own.size);
    free(own.bytes);
}

void nw_evaluation_read(NwEvaluation *evaluation, NwReader *reader) {
    size_t size;
    const uint8_t *past = nw_read_block(reader, &size);
    if (!size)
        return;
    evaluation->past = nw_alloc(size, 1);
    evaluation->past_size = size;
    memcpy(evaluation->past, past, size);
}

static void forget(NwEvaluation *evaluation) {
    free(evaluation->past);
    evaluation->past = NULL;
    evaluation->past_size = evaluation->past_at = 0;
}

bool nw_evaluation_recall(NwEvaluation *evaluation) {
    if (!evaluation->past)
        return false;
    NwReader reader = {.at = evaluation->past, .end = evaluation->past + evaluation->past_size};
    int level = (int)nw_read_number(&reader, INT_MAX), total;
    NwSlide *slides = nw_slides_read(&reader, evaluation->aim->baseline->bodies, &total);
    size_t at = (size_t)nw_read_number(&reader, evaluation->cooks.count);
    for (size_t i = 0; i < at; i++) {
        NwSurvivor *survivor = &evaluation->cooks.list[i];
        survivor->opens = nw_opens_read(&reader);
        survivor->level = (int)nw_read_number(&reader, INT_MAX);
        survivor->total = (int)nw_read_number(&reader, INT_MAX);
    }
    bool good = !reader.bad && level <= total;
    if (good) {
        nw_evaluation_take_way(evaluation, level, total, slides);
        evaluation->at = at;
        evaluation->past_at = (size_t)(reader.at - evaluation->past);
    }
    free(slides);
    if (!good || evaluation->past_at == evaluation->past_size)
        forget(evaluation);
    return good;
}

bool nw_evaluation_recall_proof(NwEvaluation *evaluation) {
    if (!evaluation->past)
        return true;
    NwReader reader = {.at = evaluation->past + evaluation->past_at,
                       .end = evaluation->past + evaluation->past_size};
    nw_proof_read(evaluation->proof, &reader);
    forget(evaluation);
    return !reader.bad;
}
