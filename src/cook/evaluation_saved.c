/* A trial as bytes: what the slide searches and the full search have told. Sets of bits are quickly
 * compared again, so the first stages are not written down; a trial that is read goes through them
 * and then takes up the rest. What makes no sense then is dropped, and found out again. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "base/memory.h"
#include "cook/evaluation_private.h"

static void write_findings(const NwEvaluation *trial, NwWriter *writer) {
    const NwOutcome *outcome = &trial->outcome;
    nw_write_number(writer, (uint64_t)outcome->level);
    nw_slides_write(writer, outcome->slides, outcome->total);
    nw_write_number(writer, trial->at);
    for (size_t i = 0; i < trial->at; i++) {
        const NwSurvivor *survivor = &trial->cooks.list[i];
        nw_opens_write(writer, survivor->opens);
        nw_write_number(writer, (uint64_t)survivor->level);
        nw_write_number(writer, (uint64_t)survivor->total);
    }
    if (trial->step == NW_STEP_PROVING)
        nw_proof_write(trial->proof, writer);
}

void nw_evaluation_write(const NwEvaluation *trial, NwWriter *writer) {
    NwWriter own = {0};
    if (trial->past) {
        nw_write_block(writer, trial->past, trial->past_size);
        return;
    }
    if (trial->step > NW_STEP_OPENS)
        write_findings(trial, &own);
    nw_write_block(writer, own.bytes, own.size);
    free(own.bytes);
}

void nw_evaluation_read(NwEvaluation *trial, NwReader *reader) {
    size_t size;
    const uint8_t *past = nw_read_block(reader, &size);
    if (!size)
        return;
    trial->past = nw_alloc(size, 1);
    trial->past_size = size;
    memcpy(trial->past, past, size);
}

static void forget(NwEvaluation *trial) {
    free(trial->past);
    trial->past = NULL;
    trial->past_size = trial->past_at = 0;
}

bool nw_evaluation_recall(NwEvaluation *trial) {
    if (!trial->past)
        return false;
    NwReader reader = {.at = trial->past, .end = trial->past + trial->past_size};
    int level = (int)nw_read_number(&reader, INT_MAX), total;
    NwSlide *slides = nw_slides_read(&reader, trial->aim->baseline->bodies, &total);
    size_t at = (size_t)nw_read_number(&reader, trial->cooks.count);
    for (size_t i = 0; i < at; i++) {
        NwSurvivor *survivor = &trial->cooks.list[i];
        survivor->opens = nw_opens_read(&reader);
        survivor->level = (int)nw_read_number(&reader, INT_MAX);
        survivor->total = (int)nw_read_number(&reader, INT_MAX);
    }
    bool good = !reader.bad && level <= total;
    if (good) {
        nw_evaluation_take_way(trial, level, total, slides);
        trial->at = at;
        trial->past_at = (size_t)(reader.at - trial->past);
    }
    free(slides);
    if (!good || trial->past_at == trial->past_size)
        forget(trial);
    return good;
}

bool nw_evaluation_recall_proof(NwEvaluation *trial) {
    if (!trial->past)
        return true;
    NwReader reader = {.at = trial->past + trial->past_at, .end = trial->past + trial->past_size};
    nw_proof_read(trial->proof, &reader);
    forget(trial);
    return !reader.bad;
}
