/* Bytes that outlive the process: a writer that grows, and a reader that trusts nothing.
 *
 * Numbers take 7 bits a byte, low bits first, the top bit telling that more follow (LEB128), so
 * small ones are short and no byte order shows; signed ones are folded first (0, -1, 1, -2 ...). A
 * reader that meets its end, or a number past what its caller allows, is `bad` from then on and
 * reads zeros; so it is enough to ask once, and before reserving room for a count that was read.
 *
 * Ownership: the writer's bytes are the caller's to free; a reader borrows. Thread: each belongs to
 * one. */
#ifndef NW_BASE_BYTES_H
#define NW_BASE_BYTES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct NwWriter {
    uint8_t *bytes;
    size_t size, capacity;
} NwWriter;

void nw_write_byte(NwWriter *writer, uint8_t byte);
void nw_write_number(NwWriter *writer, uint64_t number);
void nw_write_signed(NwWriter *writer, int number);
void nw_write_word(NwWriter *writer, uint64_t word); /* 8 bytes, little-endian */

/* A count of bytes, then these. */
void nw_write_block(NwWriter *writer, const uint8_t *bytes, size_t size);

/* A check sum of all so far. */
void nw_write_sum(NwWriter *writer);

typedef struct NwReader {
    const uint8_t *at, *end;
    bool bad;
} NwReader;

uint8_t nw_read_byte(NwReader *reader, uint8_t most);
uint64_t nw_read_number(NwReader *reader, uint64_t most);
int nw_read_signed(NwReader *reader, int least, int most);
uint64_t nw_read_word(NwReader *reader);

/* A number of things that take at least one byte each: no more than bytes are left. */
size_t nw_read_count(NwReader *reader);

/* What nw_write_block has written; borrowed. */
const uint8_t *nw_read_block(NwReader *reader, size_t *size);

/* Takes the check sum off the end; the reader is bad if it is wrong. */
void nw_read_sum(NwReader *reader);

#endif
