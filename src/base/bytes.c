#include "base/bytes.h"

#include <string.h>

#include "base/bits.h"
#include "base/memory.h"

enum { WORD = 8 };

void nw_write_byte(NwWriter *writer, uint8_t byte) {
    writer->bytes = nw_grow(writer->bytes, writer->size, &writer->capacity, 1);
    writer->bytes[writer->size++] = byte;
}

void nw_write_number(NwWriter *writer, uint64_t number) {
    for (; number >= 0x80; number >>= 7)
        nw_write_byte(writer, (uint8_t)(number | 0x80));
    nw_write_byte(writer, (uint8_t)number);
}

void nw_write_signed(NwWriter *writer, int number) {
    int64_t wide = number;
    nw_write_number(writer, wide < 0 ? (uint64_t)(-2 * wide - 1) : (uint64_t)(2 * wide));
}

void nw_write_word(NwWriter *writer, uint64_t word) {
    for (int i = 0; i < WORD; i++)
        nw_write_byte(writer, (uint8_t)(word >> 8 * i));
}

void nw_write_block(NwWriter *writer, const uint8_t *bytes, size_t size) {
    nw_write_number(writer, size);
    for (size_t i = 0; i < size; i++)
        nw_write_byte(writer, bytes[i]);
}

static uint64_t sum_of(const uint8_t *bytes, size_t size) {
    uint64_t sum = size;
    for (size_t i = 0; i < size; i++)
        sum = nw_mix(sum + bytes[i] + UINT64_C(0x9e3779b97f4a7c15));
    return sum;
}

void nw_write_sum(NwWriter *writer) {
    nw_write_word(writer, sum_of(writer->bytes, writer->size));
}

/* ---- reading ----------------------------------------------------------------------------- */

static uint64_t spoil(NwReader *reader) {
    reader->bad = true;
    return 0;
}

static size_t left(const NwReader *reader) {
    return (size_t)(reader->end - reader->at);
}

static uint8_t next(NwReader *reader) {
    if (reader->bad || !left(reader))
        return (uint8_t)spoil(reader);
    return *reader->at++;
}

uint8_t nw_read_byte(NwReader *reader, uint8_t most) {
    uint8_t byte = next(reader);
    return byte <= most ? byte : (uint8_t)spoil(reader);
}

uint64_t nw_read_number(NwReader *reader, uint64_t most) {
    uint64_t number = 0;
    for (int shift = 0; shift < 64; shift += 7) {
        uint64_t byte = next(reader), bits = byte & 0x7f;
        if (bits << shift >> shift != bits)
            return spoil(reader);
        number |= bits << shift;
        if (!(byte & 0x80))
            return number <= most ? number : spoil(reader);
    }
    return spoil(reader);
}

int nw_read_signed(NwReader *reader, int least, int most) {
    uint64_t folded = nw_read_number(reader, UINT32_MAX);
    int64_t number = folded & 1 ? -(int64_t)(folded / 2) - 1 : (int64_t)(folded / 2);
    if (number < least || number > most)
        return (int)spoil(reader);
    return (int)number;
}

uint64_t nw_read_word(NwReader *reader) {
    uint64_t word = 0;
    for (int i = 0; i < WORD; i++)
        word |= (uint64_t)next(reader) << 8 * i;
    return reader->bad ? 0 : word;
}

size_t nw_read_count(NwReader *reader) {
    return (size_t)nw_read_number(reader, left(reader));
}

const uint8_t *nw_read_block(NwReader *reader, size_t *size) {
    *size = nw_read_count(reader);
    if (*size > left(reader)) /* the count itself has taken some */
        *size = (size_t)spoil(reader);
    const uint8_t *block = reader->at;
    reader->at += *size;
    return block;
}

void nw_read_sum(NwReader *reader) {
    if (left(reader) < WORD) {
        spoil(reader);
        return;
    }
    NwReader sum = {.at = reader->end - WORD, .end = reader->end};
    reader->end -= WORD;
    if (nw_read_word(&sum) != sum_of(reader->at, left(reader)))
        spoil(reader);
}
