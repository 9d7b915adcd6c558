/*
 * What is written on the page of the work: how each column is read and
 * written.
 */
#include "tui/work.h"

#include <stdio.h>
#include <string.h>

#include <padside/model/money.h>
#include <padside/base/number.h>
#include <padside/base/text.h>

enum { NUMBER_LIMIT = 24 };

/* More in one step than any residential unit holds is a slip of the finger. */
static const double most_ounces = 1000;

const struct charge_entry work_blank_charge = {
	.at = WALL_TIME_NONE,
	.values = {
		{ .taken_at = WALL_TIME_NONE }, { .taken_at = WALL_TIME_NONE },
		{ .taken_at = WALL_TIME_NONE }, { .taken_at = WALL_TIME_NONE },
		{ .taken_at = WALL_TIME_NONE }, { .taken_at = WALL_TIME_NONE },
	},
};
const struct work_line work_blank_line = { .quantity = 1000 };

/* ---- Charge log ---- */

static void get_at(const struct form_line *line, const void *element, struct session *session,
                   char *out, size_t size)
{
	(void)line, (void)session;
	form_write_time(((const struct charge_entry *)element)->at, out, size);
}

static enum status set_at(const struct form_line *line, void *element, const char *typed,
                          struct session *session, struct error *error)
{
	return form_read_time(line, typed, session_now(session), &((struct charge_entry *)element)->at,
	                      error);
}

static double *ounces_of(struct charge_entry *entry, int column)
{
	return column == CHARGE_COLUMN_ADDED ? &entry->added_oz : &entry->recovered_oz;
}

static void get_ounces(const struct form_line *line, const void *element, struct session *session,
                       char *out, size_t size)
{
	struct charge_entry entry = *(const struct charge_entry *)element;
	double ounces = *ounces_of(&entry, line->which);

	out[0] = '\0';
	if (ounces > 0)
		form_write_measure(ounces, UNIT_OZ, 1, session, out, size);
}

static enum status set_ounces(const struct form_line *line, void *element, const char *typed,
                              struct session *session, struct error *error)
{
	struct charge_entry *entry = element;
	double ounces = 0;
	char accepted[64];

	unit_list_accepted(UNIT_OZ, accepted, sizeof accepted);
	if (*typed && !form_read_measure(typed, UNIT_OZ, session, &ounces))
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type an amount like 3 or 2.5; units: %s",
		                 line->label, accepted);
	if (ounces < 0)
		return error_set(error, STATUS_OUT_OF_RANGE,
		                 "%s takes no minus: what is taken out has a column of its own",
		                 line->label);
	if (ounces > most_ounces)
		return form_refuse_range(line, (struct range){ 0, most_ounces }, UNIT_OZ, session, error);
	*ounces_of(entry, line->which) = ounces;
	return STATUS_OK;
}

static char *charge_text(struct charge_entry *entry, int column, size_t *size)
{
	*size = column == CHARGE_COLUMN_CYLINDER ? sizeof entry->cylinder : sizeof entry->note;
	return column == CHARGE_COLUMN_CYLINDER ? entry->cylinder : entry->note;
}

static void get_charge_text(const struct form_line *line, const void *element,
                            struct session *session, char *out, size_t size)
{
	struct charge_entry entry = *(const struct charge_entry *)element;
	size_t most;

	(void)session;
	text_copy(out, size, charge_text(&entry, line->which, &most));
}

static enum status set_charge_text(const struct form_line *line, void *element, const char *typed,
                                   struct session *session, struct error *error)
{
	size_t most;
	char *text = charge_text(element, line->which, &most);

	(void)session;
	return form_read_text(line, typed, text, most, error);
}

static void get_reading(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	const struct charge_entry *entry = element;
	enum charge_reading reading = (enum charge_reading)(line->which - CHARGE_COLUMN_READINGS);

	reading_format(charge_reading_id(reading), &entry->values[reading], session_units(session),
	               VALUE_FORM_SHEET, out, size);
}

static enum status set_reading(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	struct charge_entry *entry = element;
	enum charge_reading reading = (enum charge_reading)(line->which - CHARGE_COLUMN_READINGS);

	return reading_parse(charge_reading_id(reading), typed, session_units(session),
	                     &entry->values[reading], error);
}

/* What the unit holds at most: its nameplate and what the line set adds is not far above. */
static double known_charge(const struct call *call)
{
	double ounces;

	return visit_number(&call->visit, STAGE_AS_FOUND, READING_FACTORY_CHARGE, &ounces) == STATUS_OK
	       ? ounces : 0;
}

/* Ounces that can be in the unit before the entry: its charge, what went in, what came out. */
static double most_inside(const struct call *call, const struct charge_entry *entry)
{
	double inside = known_charge(call);

	for (size_t i = 0; i < call->charge_count; i++)
		if (strcmp(call->charge[i].uid.text, entry->uid.text) != 0)
			inside += call->charge[i].added_oz - call->charge[i].recovered_oz;
	return inside;
}

static bool was_evacuated(const struct call *call)
{
	for (size_t i = 0; i < call->tightness_count; i++)
		if (call->tightness[i].kind == TIGHTNESS_VACUUM)
			return true;
	return false;
}

/* A line set may hold a third more than the nameplate; beyond that one asks (common practice). */
static const double most_share_of_charge = 1.35;

/* Kept, but asked about: what hardly can be. */
static void question_charge(struct workbook *workbook, const struct form_line *line,
                            const void *element, void *context)
{
	const struct charge_entry *entry = element;
	const struct call *call = session_call(workbook_session(workbook));
	double known = known_charge(call), inside = most_inside(call, entry);
	const char *question = NULL;
	wall_time began = call->arrived_at != WALL_TIME_NONE ? call->arrived_at : call->opened_at;

	(void)line, (void)context;
	if (entry->at != WALL_TIME_NONE && entry->at < began)
		question = "the time is before this call began. Is it right?";
	else if (entry->at > session_now(workbook_session(workbook)) + 60)
		question = "the time is in the future. Is it right?";
	else if (known > 0 && entry->recovered_oz > 0 &&
	         entry->recovered_oz > most_share_of_charge * inside)
		question =
			"more was recovered than the unit can hold by its nameplate. Read the scale again.";
	else if (known > 0 && entry->added_oz > most_share_of_charge * known)
		question = "more was added than the nameplate's charge. Read the scale again.";
	else if (known > 0 && entry->added_oz > 0 && !was_evacuated(call) &&
	         inside + entry->added_oz > most_share_of_charge * known)
		question = "that much fits only a nearly empty unit: recover, evacuate, weigh in. "
		           "Otherwise read the scale again.";
	if (question)
		workbook_say(workbook, INK_QUESTION, "Kept, but %s", question);
}

/* An entry without a time is of now. */
static enum status keep_charge(struct session *session, const void *element, void *context,
                               struct error *error)
{
	struct charge_entry entry = *(const struct charge_entry *)element;

	(void)context;
	if (entry.at == WALL_TIME_NONE)
		entry.at = session_now(session);
	return session_put_charge(session, &entry, error);
}

#define READING_LINE(id, label_, help_) \
	[CHARGE_COLUMN_READINGS + CHARGE_##id] = { .label = label_, .help = help_, \
		.limit = VALUE_TEXT_SIZE - 1, .is_number = true, \
		.which = CHARGE_COLUMN_READINGS + CHARGE_##id, \
		.get = get_reading, .set = set_reading }

static const struct form_line charge_lines[CHARGE_COLUMN_COUNT] = {
	[CHARGE_COLUMN_AT] = { .label = "time",
	                       .help = "10:35, or now; the first thing typed in a line sets it to now",
	                       .limit = NUMBER_LIMIT, .get = get_at, .set = set_at },
	[CHARGE_COLUMN_ADDED] = { .label = "added", .help = "by the scale, put in at this time",
	                          .limit = NUMBER_LIMIT, .is_number = true,
	                          .which = CHARGE_COLUMN_ADDED, .get = get_ounces, .set = set_ounces },
	[CHARGE_COLUMN_RECOVERED] = { .label = "recovered",
	                              .help = "by the scale, taken out into a cylinder",
	                              .limit = NUMBER_LIMIT, .is_number = true,
	                              .which = CHARGE_COLUMN_RECOVERED, .get = get_ounces,
	                              .set = set_ounces },
	[CHARGE_COLUMN_CYLINDER] = { .label = "cylinder",
	                             .help = "its label, for the refrigerant ledger",
	                             .limit = CYLINDER_SIZE - 1, .which = CHARGE_COLUMN_CYLINDER,
	                             .get = get_charge_text, .set = set_charge_text },
	READING_LINE(SUCTION_PRESSURE, "suction pressure", "as it stood before refrigerant was moved"),
	READING_LINE(SUCTION_LINE_TEMP, "suction line temperature",
	             "near the service valve, clamped and shaded"),
	READING_LINE(LIQUID_PRESSURE, "liquid pressure", "as it stood before refrigerant was moved"),
	READING_LINE(LIQUID_LINE_TEMP, "liquid line temperature", "near the service valve"),
	READING_LINE(OUTDOOR_DB, "outdoor dry bulb",
	             "where it enters the condenser; empty: as on the sheet"),
	READING_LINE(RETURN_WB, "return wet bulb", "where it enters the coil; empty: as on the sheet"),
	[CHARGE_COLUMN_NOTE] = { .short_texts = SHORT_OWN, .label = "note",
	                         .help = "what else happened: a leak repaired, a filter changed",
	                         .limit = LINE_SIZE - 1, .which = CHARGE_COLUMN_NOTE,
	                         .get = get_charge_text, .set = set_charge_text },
};

const struct form_kind work_charge_kind = {
	.name = "charge", .home = FORM_HOME_LIST, .list = LIST_CHARGE,
	.lines = charge_lines, .count = CHARGE_COLUMN_COUNT, .size = sizeof(struct charge_entry),
	.keep = keep_charge, .kept = question_charge,
};

/* ---- Work ---- */

static void get_kind(const struct form_line *line, const void *element, struct session *session,
                     char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct work_line *)element)->kind]);
}

static enum status set_kind(const struct form_line *line, void *element, const char *typed,
                            struct session *session, struct error *error)
{
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)session;
	if (status == STATUS_OK)
		((struct work_line *)element)->kind = (enum work_kind)word;
	return status;
}

static void get_charged(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	(void)session;
	text_copy(out, size, line->words[((const struct work_line *)element)->no_charge]);
}

static enum status set_charged(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	int word;
	enum status status = form_read_word(line, typed, &word, error);

	(void)session;
	if (status == STATUS_OK)
		((struct work_line *)element)->no_charge = word == 1;
	return status;
}

static void get_work_text(const struct form_line *line, const void *element,
                          struct session *session, char *out, size_t size)
{
	const struct work_line *work = element;

	(void)session;
	text_copy(out, size, line->which == WORK_COLUMN_NOTE ? work->note : work->description);
}

static enum status set_work_text(const struct form_line *line, void *element, const char *typed,
                                 struct session *session, struct error *error)
{
	struct work_line *work = element;

	(void)session;
	return form_read_text(line, typed,
	                      line->which == WORK_COLUMN_NOTE ? work->note : work->description,
	                      LINE_SIZE, error);
}

static void get_quantity(const struct form_line *line, const void *element,
                         struct session *session, char *out, size_t size)
{
	(void)line, (void)session;
	money_format_quantity(((const struct work_line *)element)->quantity, out, size);
}

static enum status set_quantity(const struct form_line *line, void *element, const char *typed,
                                struct session *session, struct error *error)
{
	struct work_line *work = element;
	thousandths quantity = 1000;
	int stem;
	const char *unit = money_line_unit(work, &stem);

	(void)session;
	enum status status = *typed ? money_read_quantity(work, typed, &quantity) : STATUS_OK;
	if (status == STATUS_BAD_INPUT)
		return error_set(error, status, "%s: this line counts by the %s: type how many of those",
		                 line->label, strcmp(unit, "each") == 0 ? "piece" : unit);
	if (status != STATUS_OK)
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a number like 2 or 1.5",
		                 line->label);
	if (quantity < -100000000 || quantity > 100000000)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s: at most 100,000 of one thing",
		                 line->label);
	work->quantity = quantity;
	return STATUS_OK;
}

static void get_unit_price(const struct form_line *line, const void *element,
                           struct session *session, char *out, size_t size)
{
	(void)line, (void)session;
	money_format(((const struct work_line *)element)->unit_price, out, size);
}

static enum status set_unit_price(const struct form_line *line, void *element, const char *typed,
                                  struct session *session, struct error *error)
{
	(void)session;
	return form_read_money(line, typed, &((struct work_line *)element)->unit_price, error);
}

static enum status keep_work(struct session *session, const void *element, void *context,
                             struct error *error)
{
	(void)context;
	return session_put_work(session, element, error);
}

static const struct form_line work_lines[WORK_COLUMN_COUNT] = {
	[WORK_COLUMN_KIND] = { .label = "kind", .help = "which tax applies.",
	                       .limit = NUMBER_LIMIT,
	                       .words = { "labour", "part", "refrigerant", "fee" },
	                       .get = get_kind, .set = set_kind },
	[WORK_COLUMN_DESCRIPTION] = { .short_texts = SHORT_WORK, .label = "what",
	                              .help = "as the customer reads it; typing searches prices",
	                              .limit = LINE_SIZE - 1, .which = WORK_COLUMN_DESCRIPTION,
	                              .get = get_work_text, .set = set_work_text },
	[WORK_COLUMN_QUANTITY] = { .label = "quantity", .help = "hours, pieces, a weight",
	                           .is_number = true,
	                           .limit = NUMBER_LIMIT, .get = get_quantity, .set = set_quantity },
	[WORK_COLUMN_PRICE] = { .label = "each", .help = "price for one", .is_number = true,
	                        .limit = NUMBER_LIMIT, .get = get_unit_price, .set = set_unit_price },
	[WORK_COLUMN_CHARGED] = { .label = "charged or free", .help = "free is shown at its price and "
	                          "charged nothing.", .words = { "charged", "free" },
	                          .limit = NUMBER_LIMIT, .get = get_charged, .set = set_charged },
	[WORK_COLUMN_NOTE] = { .short_texts = SHORT_OWN, .label = "office note",
	                       .help = "never in the customer's report",
	                       .limit = LINE_SIZE - 1, .which = WORK_COLUMN_NOTE, .get = get_work_text,
	                       .set = set_work_text },
};

const struct form_kind work_line_kind = {
	.name = "work", .home = FORM_HOME_LIST, .list = LIST_WORK,
	.lines = work_lines, .count = WORK_COLUMN_COUNT, .size = sizeof(struct work_line),
	.keep = keep_work,
};

/* ---- Money ---- */

static millipercent *percent_of(struct billing *billing, int line)
{
	return line == MONEY_LINE_DISCOUNT ? &billing->discount : &billing->tax[line - MONEY_LINE_TAX];
}

static void get_percent(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	struct billing billing = *(const struct billing *)element;
	char number[MONEY_SIZE];

	(void)session;
	money_format_percent(*percent_of(&billing, line->which), number, sizeof number);
	snprintf(out, size, "%s %%", number);
}

static enum status set_percent(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	millipercent percent = 0;

	(void)session;
	if (*typed && money_parse_percent(typed, &percent) != STATUS_OK)
		return error_set(error, STATUS_NOT_A_NUMBER, "%s: type a percentage like 8.875",
		                 line->label);
	if (percent < 0 || percent > BILLING_MOST_PERCENT * 1000)
		return error_set(error, STATUS_OUT_OF_RANGE, "%s takes 0 to 100 %%", line->label);
	*percent_of(element, line->which) = percent;
	return STATUS_OK;
}

static void get_deposit(const struct form_line *line, const void *element, struct session *session,
                        char *out, size_t size)
{
	(void)line, (void)session;
	money_format(((const struct billing *)element)->deposit, out, size);
}

static enum status set_deposit(const struct form_line *line, void *element, const char *typed,
                               struct session *session, struct error *error)
{
	(void)session;
	return form_read_money(line, typed, &((struct billing *)element)->deposit, error);
}

static enum status keep_money(struct session *session, const void *element, void *context,
                              struct error *error)
{
	(void)context;
	return session_put_billing(session, element, error);
}

#define PERCENT_LINE(label_, help_, line) \
	{ .label = label_, .help = help_, .limit = NUMBER_LIMIT, .is_number = true, .which = line, \
	  .get = get_percent, .set = set_percent }

static const struct form_line money_lines[MONEY_LINE_COUNT] = {
	[MONEY_LINE_DISCOUNT] = PERCENT_LINE("discount", "off every charged line, before tax",
	                                     MONEY_LINE_DISCOUNT),
	[MONEY_LINE_DEPOSIT] = { .label = "deposit", .help = "paid already", .limit = NUMBER_LIMIT,
	                         .is_number = true, .get = get_deposit, .set = set_deposit },
	[MONEY_LINE_TAX + WORK_LABOUR] = PERCENT_LINE("tax on labour", "as the law of the place says",
	                                              MONEY_LINE_TAX + WORK_LABOUR),
	[MONEY_LINE_TAX + WORK_PART] = PERCENT_LINE("tax on parts", "as the law of the place says",
	                                            MONEY_LINE_TAX + WORK_PART),
	[MONEY_LINE_TAX + WORK_REFRIGERANT] = PERCENT_LINE("tax on refrigerant",
	                                                   "as the law of the place says",
	                                                   MONEY_LINE_TAX + WORK_REFRIGERANT),
	[MONEY_LINE_TAX + WORK_FEE] = PERCENT_LINE("tax on fees", "as the law of the place says",
	                                           MONEY_LINE_TAX + WORK_FEE),
};

const struct form_kind work_money_kind = {
	.name = "money", .home = FORM_HOME_BILLING,
	.lines = money_lines, .count = MONEY_LINE_COUNT, .size = sizeof(struct billing),
	.keep = keep_money,
};
