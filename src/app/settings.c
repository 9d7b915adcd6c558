/*
 * What is set once for a truck.
 */
#include <padside/app/settings.h>

#include <stdio.h>
#include <string.h>

#include <padside/model/checklist.h>
#include <padside/model/money.h>
#include <padside/base/number.h>
#include <padside/base/text.h>

#include "app/picture_file.h"

enum setting_kind {
	SETTING_LINES, SETTING_WORD, SETTING_NAME, SETTING_NUMBER, SETTING_LINE, SETTING_SHEET,
	SETTING_COLOURS, SETTING_CARRIED, SETTING_PICTURE, SETTING_INSTRUMENTS, SETTING_LISTS,
	SETTING_CODE, SETTING_PERCENT, SETTING_HOURS, SETTING_CENTS
};

enum { WORD_SIZE = 16, LINES_SIZE = 512 };

static const struct {
	const char *key, *help;
	enum setting_kind kind;
} settings[SETTING_COUNT] = {
#define SETTING(id, key_, kind_, help_) \
	[SETTING_##id] = { .key = key_, .help = help_, .kind = SETTING_##kind_ },
#include <padside/app/settings.def>
#undef SETTING
};

static const char *const sheets[] = { "letter", "a4", NULL };
static const char *const colours[] = { "auto", "light", "dark", "mono", NULL };
static const char *const carried[] = { "all", "own", NULL };

/* Numbers are held to what a call takes, since a new call starts with them. */
static const struct {
	size_t size;    /* of a text, with its NUL; 0: it is a number */
	double most;    /* of a number; the least is 0 */
	const char *const *words; /* of a choice, ended by NULL; else NULL */
	const char *choice;       /* the same in a sentence */
} kinds[] = {
	[SETTING_LINES] = { .size = LINES_SIZE },
	[SETTING_WORD] = { .size = WORD_SIZE },
	[SETTING_NAME] = { .size = NAME_SIZE },
	[SETTING_NUMBER] = { .size = NUMBER_TEXT_SIZE },
	[SETTING_LINE] = { .size = LINE_SIZE },
	[SETTING_SHEET] = { .size = WORD_SIZE, .words = sheets, .choice = "letter or a4" },
	[SETTING_COLOURS] = { .size = WORD_SIZE, .words = colours,
	                      .choice = "auto, light, dark or mono" },
	[SETTING_CARRIED] = { .size = WORD_SIZE, .words = carried, .choice = "all or own" },
	[SETTING_PICTURE] = { .size = LINES_SIZE },
	[SETTING_INSTRUMENTS] = { .size = LINES_SIZE },
	[SETTING_LISTS] = { .size = SETTING_SIZE },
	[SETTING_CODE] = { .size = WORD_SIZE },
	[SETTING_PERCENT] = { .most = BILLING_MOST_PERCENT },
	[SETTING_HOURS] = { .most = BILLING_MOST_HOURS },
	[SETTING_CENTS] = { .most = BILLING_MOST_ENERGY_RATE },
};

static const enum setting tax_settings[WORK_KIND_COUNT] = {
	[WORK_LABOUR] = SETTING_TAX_LABOUR, [WORK_PART] = SETTING_TAX_PART,
	[WORK_REFRIGERANT] = SETTING_TAX_REFRIGERANT, [WORK_FEE] = SETTING_TAX_FEE,
};

const char *setting_key(enum setting setting)
{
	return settings[setting].key;
}

const char *setting_help(enum setting setting)
{
	return settings[setting].help;
}

enum setting setting_from_key(const char *key)
{
	for (int i = 0; i < SETTING_COUNT; i++)
		if (strcmp(settings[i].key, key) == 0)
			return (enum setting)i;
	return SETTING_COUNT;
}

enum status setting_get(struct store *store, enum setting setting, char *value, size_t size,
                        struct error *error)
{
	return store_setting_get(store, settings[setting].key, value, size, error);
}

/* A number with nothing behind it. */
static bool is_number(const char *typed, double *number)
{
	const char *rest;

	return number_parse(typed, number, &rest) && *rest == '\0';
}

/* The number of a setting as it was typed; a percentage may carry its sign. */
static bool read_number(enum setting setting, const char *typed, double *number)
{
	millipercent percent;

	if (settings[setting].kind != SETTING_PERCENT)
		return is_number(typed, number);
	if (money_parse_percent(typed, &percent) != STATUS_OK)
		return false;
	*number = (double)percent / 1000;
	return true;
}

static enum status check_number(enum setting setting, const char *typed, struct error *error)
{
	double number, most = kinds[settings[setting].kind].most;
	bool percent = settings[setting].kind == SETTING_PERCENT;

	if (!read_number(setting, typed, &number))
		return error_set(error, STATUS_BAD_INPUT, "%s takes %s, not \"%.40s\"; nothing was changed",
		                 settings[setting].key,
		                 percent ? "a percentage such as 8.875, at most three decimals" : "a "
		                                                                                  "number",
		                 typed);
	if (number < 0 || number > most)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes 0 to %.0f%s, not \"%.40s\"; nothing "
		                 "was changed", settings[setting].key, most, percent ? " %" : "", typed);
	return STATUS_OK;
}

/* One instrument and its accuracy: "voltmeter 0.3 V + 0.5 %". */
static enum status read_meter(const char *typed, enum instrument *instrument,
                              struct accuracy *accuracy, struct error *error)
{
	char key[48];
	size_t length = strcspn(typed, " ");

	snprintf(key, sizeof key, "%.*s", (int)length, typed);
	*instrument = instrument_from_key(key);
	if (*instrument == INSTRUMENT_NONE)
		return error_set(error, STATUS_BAD_INPUT, "there is no instrument \"%.40s\"; the manual, "
		                 "padside-readings, lists them; nothing was changed", key);
	return accuracy_parse(*instrument, typed + length, accuracy, error);
}

/* Reads the whole list, and where `use` is set, sets them. */
static enum status read_meters(const char *typed, bool use, struct error *error)
{
	while (*typed) {
		char one[128];
		struct accuracy accuracy;
		enum instrument instrument;
		size_t length = strcspn(typed, ";\n");

		snprintf(one, sizeof one, "%.*s", (int)length, typed);
		const char *at = one + strspn(one, " ");
		if (*at) {
			enum status status = read_meter(at, &instrument, &accuracy, error);
			if (status != STATUS_OK)
				return status;
			if (use)
				instrument_set_accuracy(instrument, accuracy);
		}
		typed += length + (typed[length] != '\0');
	}
	return STATUS_OK;
}

enum status settings_use_meters(struct store *store, struct error *error)
{
	char value[SETTING_SIZE];
	struct error ignored;
	enum status status = setting_get(store, SETTING_METERS, value, sizeof value, error);

	if (status != STATUS_OK)
		return status;
	instruments_reset();
	/* A list of another program's time may name what is gone: the rest still counts. */
	read_meters(value, true, &ignored);
	return STATUS_OK;
}

/* Every line must be a list that a call can hold. */
static enum status check_checklists(const char *typed, struct error *error)
{
	struct checklist list;
	char line[SETTING_SIZE];
	enum status status = STATUS_OK;

	for (const char *at = typed; *at && status == STATUS_OK; at += at[0] == '\n') {
		size_t length = strcspn(at, "\n");
		snprintf(line, sizeof line, "%.*s", (int)length, at);
		if (length >= NOTE_SIZE)
			status = error_set(error, STATUS_OUT_OF_RANGE,
			                   "the checklist \"%.40s…\" has more than %d "
			                   "characters; nothing was changed", line, NOTE_SIZE - 1);
		else if (length > 0)
			status = checklist_parse(line, &list, error);
		at += length;
	}
	return status;
}

/* Whether it is one of the words, where the setting is a choice. */
static enum status check_choice(enum setting setting, const char *typed, struct error *error)
{
	const char *const *words = kinds[settings[setting].kind].words;

	for (size_t i = 0; words && words[i]; i++)
		if (strcmp(words[i], typed) == 0)
			return STATUS_OK;
	return !words || !*typed ? STATUS_OK
		: error_set(error, STATUS_BAD_INPUT, "%s takes %s, not \"%.40s\"; nothing was changed",
		            settings[setting].key, kinds[settings[setting].kind].choice, typed);
}

/* The form of a code of ISO 4217. */
static bool is_code(const char *typed)
{
	return strspn(typed, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3 && strlen(typed) == 3;
}

static enum status check(enum setting setting, const char *typed, struct error *error)
{
	size_t size = kinds[settings[setting].kind].size;

	if (*typed && size == 0)
		return check_number(setting, typed, error);
	if (*typed && settings[setting].kind == SETTING_INSTRUMENTS) {
		enum status status = read_meters(typed, false, error);
		if (status != STATUS_OK)
			return status;
	}
	if (*typed && settings[setting].kind == SETTING_CODE && !is_code(typed))
		return error_set(error, STATUS_BAD_INPUT, "%s takes three capital letters such as USD, not "
		                 "\"%.40s\"; nothing was changed", settings[setting].key, typed);
	if (*typed && settings[setting].kind == SETTING_PICTURE)
		return picture_check(typed, error);
	if (size > 0 && strlen(typed) >= size)
		return error_set(error, STATUS_OUT_OF_RANGE,
		                 "%s takes at most %zu characters; nothing was changed",
		                 settings[setting].key, size - 1);
	return check_choice(setting, typed, error);
}

/* "\n" as typed on a command line becomes a line end; other control characters a space. */
static void clean(const char *typed, struct text *text)
{
	for (; *typed; typed++) {
		if (typed[0] == '\\' && typed[1] == 'n') {
			text_add_char(text, '\n');
			typed++;
		} else {
			bool control = ((unsigned char)*typed < 0x20 && *typed != '\n') || *typed == 0x7f;
			text_add_char(text, control ? ' ' : *typed);
		}
	}
}

enum status setting_put(struct store *store, enum setting setting, const char *typed,
                        struct error *error)
{
	struct text text;
	enum status status = check(setting, typed, error);

	if (status != STATUS_OK)
		return status;
	text_init(&text);
	clean(typed, &text);
	if (!text.failed && settings[setting].kind == SETTING_LISTS)
		status = check_checklists(text_get(&text), error);
	if (text.failed)
		status = error_set(error, STATUS_NO_MEMORY, "there is no memory left; nothing was changed");
	if (status == STATUS_OK)
		status = store_setting_set(store, settings[setting].key, text_get(&text), error);
	text_done(&text);
	return status;
}

/* The number of a setting; 0 when it was never set. */
static enum status get_amount(struct store *store, enum setting setting, double *amount,
                              struct error *error)
{
	char value[SETTING_SIZE];
	enum status status = setting_get(store, setting, value, sizeof value, error);

	*amount = 0;
	if (status == STATUS_OK && !is_number(value, amount))
		*amount = 0;
	return status;
}

static enum status start_billing(struct store *store, struct billing *billing,
                                 struct error *error)
{
	char value[SETTING_SIZE];
	enum status status = get_amount(store, SETTING_COOLING_HOURS, &billing->cooling_hours, error);

	if (status == STATUS_OK)
		status = get_amount(store, SETTING_ENERGY_RATE, &billing->energy_rate, error);
	for (int kind = 0; kind < WORK_KIND_COUNT && status == STATUS_OK; kind++) {
		status = setting_get(store, tax_settings[kind], value, sizeof value, error);
		if (status == STATUS_OK && money_parse_percent(value, &billing->tax[kind]) != STATUS_OK)
			billing->tax[kind] = 0;
	}
	return status;
}

/* A text of a call that starts with a setting. */
static enum status start_text(struct store *store, enum setting setting, char *member, size_t size,
                              struct error *error)
{
	char value[SETTING_SIZE];
	enum status status = setting_get(store, setting, value, sizeof value, error);

	if (status == STATUS_OK)
		text_copy(member, size, value);
	return status;
}

enum status settings_start_call(struct store *store, struct call *call, struct error *error)
{
	const struct {
		enum setting setting;
		char *member;
		size_t size;
	} texts[] = {
		{ SETTING_TECHNICIAN, call->technician, sizeof call->technician },
		{ SETTING_LICENCE, call->licence, sizeof call->licence },
		{ SETTING_CERTIFICATION, call->certification, sizeof call->certification },
		{ SETTING_PAYMENT_TERMS, call->payment_terms, sizeof call->payment_terms },
	};
	enum status status = start_billing(store, &call->billing, error);

	for (size_t i = 0; i < sizeof texts / sizeof *texts && status == STATUS_OK; i++)
		status = start_text(store, texts[i].setting, texts[i].member, texts[i].size, error);
	return status;
}
