/*
 * Wall-clock time, and the calendar by plain arithmetic (the proleptic
 * Gregorian day count of H. Hinnant's "chrono-compatible low-level date
 * algorithms"), so that it depends on no zone file.
 */
#include <padside/base/clock.h>

#include <ctype.h>
#include <stdio.h>
#include <time.h>

struct civil {
	int year, month, day;     /* month and day from 1 */
	int hour, minute, second; /* 24-hour clock */
};

static int64_t days_from_civil(int year, int month, int day)
{
	int64_t y = year - (month <= 2);
	int64_t era = (y >= 0 ? y : y - 399) / 400;
	int64_t year_of_era = y - era * 400;
	int64_t day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
	int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;

	return era * 146097 + day_of_era - 719468;
}

static struct civil civil_from_time(wall_time time)
{
	int64_t days = time >= 0 ? time / 86400 : -((86399 - time) / 86400);
	int seconds = (int)(time - days * 86400);
	int64_t z = days + 719468;
	int64_t era = (z >= 0 ? z : z - 146096) / 146097;
	int64_t day_of_era = z - era * 146097;
	int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 -
	                       day_of_era / 146096) / 365;
	int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int64_t shifted = (5 * day_of_year + 2) / 153;
	int month = (int)(shifted < 10 ? shifted + 3 : shifted - 9);

	return (struct civil){
		.year = (int)(year_of_era + era * 400 + (month <= 2)),
		.month = month,
		.day = (int)(day_of_year - (153 * shifted + 2) / 5 + 1),
		.hour = seconds / 3600, .minute = seconds / 60 % 60, .second = seconds % 60,
	};
}

static wall_time wall_of(time_t time)
{
	struct tm local;

	if (!localtime_r(&time, &local))
		return (wall_time)time;
	return days_from_civil(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday) * 86400 +
	       local.tm_hour * 3600 + local.tm_min * 60 + local.tm_sec;
}

static wall_time machine_now(void *context)
{
	(void)context;
	return wall_of(time(NULL));
}

/* Seconds since the machine started; the wall's where it cannot tell. */
static int64_t machine_steady(void *context)
{
	struct timespec now;

	return clock_gettime(CLOCK_MONOTONIC, &now) == 0 ? (int64_t)now.tv_sec : machine_now(context);
}

const struct clock clock_of_machine = { .now = machine_now, .steady = machine_steady };

wall_time clock_now(const struct clock *clock)
{
	return clock->now(clock->context);
}

int64_t clock_steady(const struct clock *clock)
{
	return clock->steady ? clock->steady(clock->context) : clock_now(clock);
}

int64_t clock_utc_milliseconds(const struct clock *clock)
{
	struct timespec now;

	if (clock->now != machine_now || clock_gettime(CLOCK_REALTIME, &now) != 0)
		return clock_now(clock) * 1000;
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

wall_time clock_wall_of(const struct clock *clock, int64_t milliseconds)
{
	int64_t seconds = milliseconds / 1000;

	return clock->now == machine_now ? wall_of((time_t)seconds) : seconds;
}

/* Reads exactly `count` digits and steps over them. */
static bool take_digits(const char **at, int count, int *value)
{
	*value = 0;
	for (int i = 0; i < count; i++) {
		if (!isdigit((unsigned char)**at))
			return false;
		*value = *value * 10 + (*(*at)++ - '0');
	}
	return true;
}

static bool take_char(const char **at, const char *wanted)
{
	for (; *wanted; wanted++)
		if (**at == *wanted) {
			(*at)++;
			return true;
		}
	return false;
}

static bool take_hour(const char **at, struct civil *civil)
{
	if (!take_digits(at, 2, &civil->hour) || !take_char(at, ":") ||
	    !take_digits(at, 2, &civil->minute))
		return false;
	if (take_char(at, ":") && !take_digits(at, 2, &civil->second))
		return false;
	return civil->hour < 24 && civil->minute < 60 && civil->second < 60;
}

bool clock_parse(const char *typed, wall_time *time)
{
	struct civil civil = { .year = 0 };
	const char *at = typed;

	if (!take_digits(&at, 4, &civil.year) || !take_char(&at, "-") ||
	    !take_digits(&at, 2, &civil.month) || !take_char(&at, "-") ||
	    !take_digits(&at, 2, &civil.day))
		return false;
	if (take_char(&at, "T ") && !take_hour(&at, &civil))
		return false;
	if (*at != '\0' || civil.year < 1900 || civil.year > 2999)
		return false;
	wall_time result = days_from_civil(civil.year, civil.month, civil.day) * 86400 +
	                   civil.hour * 3600 + civil.minute * 60 + civil.second;
	/* A day that does not exist comes back as another one. */
	struct civil back = civil_from_time(result);
	if (back.month != civil.month || back.day != civil.day)
		return false;
	*time = result;
	return true;
}

void clock_format(wall_time time, char *out, size_t size)
{
	struct civil c = civil_from_time(time == WALL_TIME_NONE ? 0 : time);

	if (time == WALL_TIME_NONE)
		snprintf(out, size, "%s", "");
	else
		snprintf(out, size, "%04d-%02d-%02dT%02d:%02d:%02d",
		         c.year, c.month, c.day, c.hour, c.minute, c.second);
}

void clock_format_date(wall_time time, char *out, size_t size)
{
	struct civil c = civil_from_time(time == WALL_TIME_NONE ? 0 : time);

	if (time == WALL_TIME_NONE)
		snprintf(out, size, "%s", "");
	else
		snprintf(out, size, "%04d-%02d-%02d", c.year, c.month, c.day);
}

void clock_format_hour(wall_time time, char *out, size_t size)
{
	struct civil c = civil_from_time(time == WALL_TIME_NONE ? 0 : time);

	if (time == WALL_TIME_NONE)
		snprintf(out, size, "%s", "");
	else
		snprintf(out, size, "%02d:%02d", c.hour, c.minute);
}

void clock_format_month(wall_time time, char *out, size_t size)
{
	static const char *const months[] = {
		"January", "February", "March", "April", "May", "June", "July", "August",
		"September", "October", "November", "December",
	};
	struct civil c = civil_from_time(time == WALL_TIME_NONE ? 0 : time);

	if (time == WALL_TIME_NONE)
		snprintf(out, size, "%s", "");
	else
		snprintf(out, size, "%s %d", months[c.month - 1], c.year);
}

int clock_year(wall_time time)
{
	return civil_from_time(time).year;
}
