/*
 * Ids for everything that several trucks may bring together later.
 */
#include <padside/base/uid.h>

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static void fill_random(unsigned char *bytes, size_t count)
{
	if (getentropy(bytes, count) == 0)
		return;
	/* No entropy: still unlikely to meet another truck's. */
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	uint64_t state = (uint64_t)now.tv_nsec ^ (uint64_t)getpid() << 32 ^ (uint64_t)now.tv_sec;
	for (size_t i = 0; i < count; i++) {
		state = state * 6364136223846793005u + 1442695040888963407u;
		bytes[i] = (unsigned char)(state >> 56);
	}
}

/*
 * The first 60 bits that are not fixed: milliseconds, and 12 bits that count
 * on from a random start where one id follows another within a millisecond or
 * after the clock was put back (RFC 9562, section 6.2, method 1).
 */
static uint64_t next_stamp(unsigned start)
{
	static uint64_t last;
	struct timespec now;

	clock_gettime(CLOCK_REALTIME, &now);
	uint64_t milliseconds = (uint64_t)now.tv_sec * 1000 + (uint64_t)now.tv_nsec / 1000000;
	uint64_t stamp = milliseconds << 12 | (start & 0x7ff);
	last = stamp > last ? stamp : last + 1;
	return last;
}

struct uid uid_new(void)
{
	unsigned char bytes[16];
	struct uid uid;

	fill_random(bytes, sizeof bytes);
	uint64_t stamp = next_stamp((unsigned)bytes[0] << 8 | bytes[1]);
	for (int i = 0; i < 6; i++)
		bytes[i] = (unsigned char)(stamp >> (52 - 8 * i));
	bytes[6] = (unsigned char)((stamp >> 8 & 0x0f) | 0x70);
	bytes[7] = (unsigned char)stamp;
	bytes[8] = (unsigned char)((bytes[8] & 0x3f) | 0x80);

	char *at = uid.text;
	for (size_t i = 0; i < sizeof bytes; i++) {
		if (i == 4 || i == 6 || i == 8 || i == 10)
			*at++ = '-';
		snprintf(at, 3, "%02x", bytes[i]);
		at += 2;
	}
	return uid;
}

bool uid_is_valid(const char *text)
{
	if (strlen(text) != UID_SIZE - 1)
		return false;
	for (int i = 0; i < UID_SIZE - 1; i++) {
		bool dash = i == 8 || i == 13 || i == 18 || i == 23;
		if (dash ? text[i] != '-' : !strchr("0123456789abcdef", text[i]))
			return false;
	}
	return true;
}

bool uid_is_none(const struct uid *uid)
{
	return uid->text[0] == '\0';
}
