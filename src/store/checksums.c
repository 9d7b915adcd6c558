/* Checksums of what is kept: CRC-32 (ISO 3309), which finds every error of one bit. */
#include "store/trail.h"

#include <string.h>

/* Of a byte with 0 to 7 more bytes behind it, so that eight are taken in one step. */
static uint32_t (*crc_tables(void))[256]
{
	static uint32_t tables[8][256];

	if (tables[0][1])
		return tables;
	for (uint32_t i = 0; i < 256; i++) {
		uint32_t crc = i;
		for (int bit = 0; bit < 8; bit++)
			crc = crc & 1 ? crc >> 1 ^ 0xedb88320U : crc >> 1;
		tables[0][i] = crc;
	}
	for (uint32_t i = 0; i < 256; i++)
		for (int behind = 1; behind < 8; behind++)
			tables[behind][i] = tables[behind - 1][i] >> 8 ^
			                    tables[0][tables[behind - 1][i] & 0xff];
	return tables;
}

/* Eight bytes, the first in the lowest bits. */
static uint32_t add_number(uint32_t crc, int64_t number)
{
	uint32_t (*tables)[256] = crc_tables();
	uint64_t bytes = (uint64_t)number ^ crc;

	crc = 0;
	for (int i = 0; i < 8; i++)
		crc ^= tables[7 - i][bytes >> (8 * i) & 0xff];
	return crc;
}

static uint32_t add_bytes(uint32_t crc, const char *bytes, size_t length)
{
	const uint32_t *table = crc_tables()[0];
	const unsigned char *at = (const unsigned char *)bytes;

	for (; length >= 8; length -= 8, at += 8) {
		uint64_t number = 0;
		for (int i = 7; i >= 0; i--)
			number = number << 8 | at[i];
		crc = add_number(crc, (int64_t)number);
	}
	while (length--)
		crc = crc >> 8 ^ table[(crc ^ *at++) & 0xff];
	return crc;
}

/* A text with its end; nothing is another thing than the empty text. */
static uint32_t add_text(uint32_t crc, const char *text)
{
	return text ? add_bytes(crc, text, strlen(text) + 1) : add_bytes(crc, "\1", 2);
}

uint32_t thing_seed(int kind, const char *uid, const char *call_uid)
{
	return add_text(add_text(add_number(0xffffffffU, kind), uid), call_uid);
}

uint32_t name_seed(const char *name)
{
	return add_text(0xffffffffU, name);
}

uint32_t entry_sum(uint32_t thing, uint32_t field, const struct entry *entry)
{
	uint32_t crc = add_number(thing, field);

	crc = add_number(crc, entry->stamp);
	crc = add_number(crc, entry->book);
	crc = add_number(crc, entry->number);
	crc = add_text(crc, entry->technician);
	crc = add_text(crc, entry->old);
	crc = add_text(crc, entry->new);
	return ~add_number(crc, entry->at);
}

int64_t book_sum(int64_t book)
{
	return (int32_t)~add_number(0xffffffffU, book);
}

int64_t texts_sum(const char *one, const char *other)
{
	return (int32_t)~add_text(add_text(0xffffffffU, one), other);
}
