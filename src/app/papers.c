/*
 * The report of a call, from the book to bytes.
 */
#include <padside/app/papers.h>

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <padside/app/call_json.h>
#include <padside/app/history.h>
#include <padside/app/settings.h>
#include <padside/base/beside.h>
#include <padside/report/pdf.h>
#include <padside/catalog/catalog.h>

#include "app/past_visits.h"
#include "app/picture_file.h"

/* Earlier visits that trends are drawn from, and how many of anything the paper lists. */
enum { MOST_VISITS = 24, MOST_LISTED = 6, MOST_COMPANY_LINES = 6 };

/* What the book knows besides the call itself. */
struct background {
	const struct call *call;                       /* whose paper it is */
	struct past past;                              /* of the unit, before the call */
	struct past_call *visits;                      /* earlier ones, newest first; owned */
	size_t visit_count;                            /* of them */
	struct paper_visit lines[MOST_LISTED];         /* the newest of them for the paper */
	size_t line_count;                             /* of them */
	struct watch_item watch[MOST_LISTED];          /* open from earlier calls */
	size_t watch_count;                            /* of them */
	struct past_offer offered[MOST_LISTED];        /* at earlier calls, and not taken */
	size_t offered_count;                         /* of them */
	struct trend trends[MOST_LISTED];              /* of what drifts; their points owned */
	size_t trend_count;                            /* of them */
	struct history_series *series;                 /* whose words the trends borrow; owned */
	char company[SETTING_SIZE];                    /* lines of the head, cut by NUL */
	const char *company_lines[MOST_COMPANY_LINES]; /* into `company` */
	size_t company_count;                          /* of them */
	char currency[16];                             /* "$" */
	char warranty[SETTING_SIZE];                   /* as set; may be empty */
	char terms[SETTING_SIZE];                      /* as set; may be empty */
	char sheet[SETTING_SIZE];                      /* "a4", or anything else for Letter */
	struct picture logo;                           /* its bytes owned */
};

static const struct {
	const char *key, *ending;
} formats[PAPER_FORMAT_COUNT] = {
	[PAPER_TEXT] = { "text", "txt" }, [PAPER_MARKDOWN] = { "markdown", "md" },
	[PAPER_HTML] = { "html", "html" }, [PAPER_CSV] = { "csv", "csv" },
	[PAPER_PDF] = { "pdf", "pdf" }, [PAPER_JSON] = { "json", "json" },
};

const char *paper_format_key(enum paper_format format)
{
	return formats[format].key;
}

const char *paper_format_ending(enum paper_format format)
{
	return formats[format].ending;
}

bool paper_format_from_key(const char *key, enum paper_format *format)
{
	for (int i = 0; i < PAPER_FORMAT_COUNT; i++)
		if (strcmp(formats[i].key, key) == 0) {
			*format = (enum paper_format)i;
			return true;
		}
	return false;
}

/* ---- What the book knows ---- */

/* What was noted by then and open when that visit was over, as the workbook shows it. */
static enum status list_watch(struct store *store, struct background *background,
                              struct error *error)
{
	const struct call *call = background->call;
	struct watch_item *items;
	size_t count;
	enum status status = past_watch_load(store, call, &items, &count, error);

	for (size_t i = 0; i < count && background->watch_count < MOST_LISTED; i++)
		background->watch[background->watch_count++] = items[i];
	free(items);
	return status;
}

static enum status list_offered(struct store *store, struct background *background,
                                 struct error *error)
{
	const struct call *call = background->call;
	const wall_time began = past_visit_began(call);
	struct past_offer *offers;
	size_t count;
	enum status status = store_offers_left(store, &call->customer.uid, &call->system.uid,
	                                       &call->uid, &offers, &count, error);

	for (size_t i = 0; i < count && background->offered_count < MOST_LISTED; i++)
		if (offers[i].offered_at <= began && offers[i].offer.decided_at <= began)
			background->offered[background->offered_count++] = offers[i];
	free(offers);
	return status;
}

static void list_visits(struct background *background)
{
	const struct past_call *visits = background->visits;

	for (size_t i = 0; i < background->visit_count && i < MOST_LISTED; i++)
		background->lines[background->line_count++] = (struct paper_visit){
			.at = visits[i].opened_at, .found = visits[i].found_line, .done = visits[i].done_line };
}

/* Splits the company setting into its lines. */
static void split_company(struct background *background)
{
	char *at = background->company;

	while (*at && background->company_count < MOST_COMPANY_LINES) {
		background->company_lines[background->company_count++] = at;
		at += strcspn(at, "\n");
		if (*at)
			*at++ = '\0';
	}
}

/* What was set for every report. */
static enum status read_settings(struct store *store, struct background *background,
                                 struct error *error)
{
	char logo[SETTING_SIZE] = "";
	const struct {
		enum setting setting;
		char *value;
	} wanted[] = {
		{ SETTING_COMPANY, background->company }, { SETTING_WARRANTY, background->warranty },
		{ SETTING_TERMS, background->terms }, { SETTING_PAPER_SIZE, background->sheet },
		{ SETTING_LOGO, logo },
	};
	enum status status = papers_currency(store, background->currency, sizeof background->currency,
	                                     error);

	for (size_t i = 0; i < sizeof wanted / sizeof *wanted && status == STATUS_OK; i++)
		status = setting_get(store, wanted[i].setting, wanted[i].value, SETTING_SIZE, error);
	/* A picture that went away since it was set stops no report. */
	if (status == STATUS_OK && *logo)
		picture_load(logo, &background->logo);
	return status;
}

static enum status gather(struct store *store, struct background *background,
                          struct error *error)
{
	const struct call *call = background->call;
	enum status status = read_settings(store, background, error);

	if (status == STATUS_OK)
		status = store_past_calls(store, &call->system.uid, call, MOST_VISITS, &background->visits,
		                          &background->visit_count, error);
	if (status == STATUS_OK)
		status = past_visits_load(store, call, &background->past, error);
	/* Nothing is open any more on a unit that was taken out. */
	bool is_there = !visit_has(&call->visit, STAGE_AS_FOUND, READING_TAKEN_OUT);
	if (status == STATUS_OK && is_there)
		status = list_watch(store, background, error);
	if (status == STATUS_OK && is_there)
		status = list_offered(store, background, error);
	split_company(background);
	list_visits(background);
	return status;
}

/* ---- What drifts ---- */

static bool add_trend(struct background *background, const struct history_series *series,
                      enum unit_system units)
{
	enum unit shown = unit_shown(series->unit, units);
	struct plot_point *points = calloc(series->count, sizeof *points);
	bool has_limit = series->crossing.expected;
	double limit = series->drift.slope > 0 ? series->high : series->low;

	if (!points)
		return false;
	for (size_t i = 0; i < series->count; i++)
		points[i] = (struct plot_point){
			.at = series->points[i].at,
			.value = unit_convert(series->points[i].value, series->unit, shown) };
	background->trends[background->trend_count++] = (struct trend){
		.label = series->label, .unit = unit_symbol(shown, false), .words = series->sentence,
		.points = points, .count = (int)series->count, .has_limit = has_limit,
		.limit = has_limit ? unit_convert(limit, series->unit, shown) : 0, .limit_name = "limit",
	};
	return true;
}

/* The visits up to this call, oldest first; returns how many. */
static size_t order_visits(const struct background *background, struct history_visit *visits)
{
	const struct past_call *earlier = background->visits;
	size_t count = 0;

	for (size_t i = background->visit_count; i > 0; i--)
		visits[count++] = (struct history_visit){ .opened_at = earlier[i - 1].opened_at,
		                                          .visit = &earlier[i - 1].visit };
	visits[count++] = (struct history_visit){ .opened_at = background->call->opened_at,
	                                          .visit = &background->call->visit };
	return count;
}

/* Follows everything over the visits up to this call; false when memory ran out. */
static bool follow(struct background *background, enum unit_system units)
{
	struct history_visit visits[MOST_VISITS + 1];
	size_t count = order_visits(background, visits);

	if (count < DRIFT_FEWEST_POINTS)
		return true;
	background->series = calloc(MOST_LISTED, sizeof *background->series);
	if (!background->series)
		return false;
	for (int i = SERIES_NONE + 1; i < SERIES_COUNT && background->trend_count < MOST_LISTED; i++) {
		struct history_series *series = &background->series[background->trend_count];
		if (history_follow(visits, count, (enum series)i, units, background->call->opened_at,
		                   series) &&
		    series->drift.claim == DRIFT_CLAIMED && !add_trend(background, series, units))
			return false;
	}
	return true;
}

static void background_done(struct background *background)
{
	for (size_t i = 0; i < background->trend_count; i++)
		free(background->trends[i].points);
	free(background->series);
	free(background->visits);
	free(background->logo.bytes);
}

/* ---- The paper ---- */

/* A report that would be longer is set closer. */
enum { MOST_SHEETS_FOR_CUSTOMER = 2 };

static void set_close(struct document *document, const struct paper_choice *choice)
{
	struct text loose;

	text_init(&loose);
	document_write(document, DOCUMENT_TEXT, choice->plain, &loose);
	document->is_tight = choice->reader == PAPER_CUSTOMER &&
	                     document_count_sheets(document, text_get(&loose)) >
	                         MOST_SHEETS_FOR_CUSTOMER;
	document->failed = document->failed || loose.failed;
	text_done(&loose);
}

static enum status write_document(struct document *document,
                                  const struct paper_choice *choice, struct text *out)
{
	enum status status = STATUS_OK;
	struct text whole;

	text_init(&whole);
	if (choice->format == PAPER_TEXT && choice->on_sheets) {
		set_close(document, choice);
		document_write(document, DOCUMENT_TEXT, choice->plain, &whole);
		document_add_sheets(document, text_get(&whole), choice->plain, out);
	} else if (choice->format == PAPER_PDF) {
		set_close(document, choice);
		status = pdf_write(document, out);
	} else {
		document_write(document, (enum document_format)choice->format, choice->plain, out);
	}
	out->failed = out->failed || whole.failed || document->failed;
	text_done(&whole);
	return status;
}

static enum status build(const struct background *background, const struct paper_choice *choice,
                         struct text *out)
{
	const struct call *call = background->call;
	struct assessment assessment;
	struct document document;
	struct paper_input input = {
		.call = call, .assessment = &assessment, .units = choice->units,
		.currency = background->currency,
		.company = background->company_lines, .company_count = background->company_count,
		.visits = background->lines, .visit_count = background->line_count,
		.watch = background->watch, .watch_count = background->watch_count,
		.offered = background->offered, .offered_count = background->offered_count,
		.trends = background->trends, .trend_count = background->trend_count,
		.warranty = background->warranty, .terms = background->terms, .logo = background->logo,
		.is_a4 = strcmp(background->sheet, "a4") == 0,
	};

	assessment_make(&(struct assessment_input){ .call = call, .past = &background->past },
	                &assessment);
	document_init(&document);
	paper_build(&input, choice->reader, &document);
	document.columns = choice->columns;
	enum status status = write_document(&document, choice, out);
	document_done(&document);
	return status;
}

/* Leaves of the readings what the customer's report says of the unit. */
static void hide_readings(struct visit *visit)
{
	static const enum reading told[] = {
		READING_NOMINAL_CAPACITY, READING_REFRIGERANT, READING_METERING, READING_MANUFACTURE_YEAR,
		READING_MODEL, READING_SERIAL, READING_TAKEN_OUT,
	};
	struct visit whole = *visit;

	visit_init(visit);
	for (size_t i = 0; i < sizeof told / sizeof *told; i++)
		visit_set(visit, STAGE_AS_FOUND, told[i], visit_value(&whole, STAGE_AS_FOUND, told[i]));
}

/* Takes out of a call what the customer's report would not say. */
static void hide_office(struct call *call)
{
	call->customer.uid = call->site.uid = call->system.uid = (struct uid){ .text = "" };
	call->office_note[0] = call->access_note[0] = call->checklist[0] = '\0';
	call->planned_at = call->billed_at = call->unsafe_at = WALL_TIME_NONE;
	call->charge_count = call->judgement_count = 0;
	call->tightness_count = call->cylinder_count = 0;
	for (size_t i = 0; i < call->work_count; i++)
		call->work[i].note[0] = '\0';
	for (size_t i = call->watch_count; i > 0; i--)
		if (!call_leaves_open(call, &call->watch[i - 1]))
			call_list_remove(call, LIST_WATCH, i - 1);
	hide_readings(&call->visit);
}

/* What the customer's report would not say is not in the customer's data either. */
static bool write_customer_json(const struct call *call, struct text *out)
{
	struct call shown;

	call_init(&shown);
	if (!call_copy(call, &shown))
		return false;
	hide_office(&shown);
	call_json_write(&shown, out);
	call_done(&shown);
	return true;
}

enum status papers_currency(struct store *store, char *currency, size_t size, struct error *error)
{
	enum status status = setting_get(store, SETTING_CURRENCY, currency, size, error);

	if (status == STATUS_OK && !*currency)
		text_copy(currency, size, "$");
	return status;
}

/* What a sign stands for where nobody said it. */
static const struct {
	const char *sign, *code;
} signs[] = { { "$", "USD" }, { "€", "EUR" }, { "£", "GBP" } };

enum status papers_currency_code(struct store *store, char *code, size_t size, struct error *error)
{
	char currency[SETTING_SIZE];
	enum status status = setting_get(store, SETTING_CURRENCY_CODE, code, size, error);

	if (status != STATUS_OK || *code)
		return status;
	status = papers_currency(store, currency, sizeof currency, error);
	text_copy(code, size, status == STATUS_OK ? currency : "");
	for (size_t i = 0; i < sizeof signs / sizeof *signs && status == STATUS_OK; i++)
		if (strcmp(currency, signs[i].sign) == 0)
			text_copy(code, size, signs[i].code);
	return status;
}

enum status papers_has_phone(struct store *store, bool *has_phone, struct error *error)
{
	struct background background = { .call = NULL };
	enum status status = setting_get(store, SETTING_COMPANY, background.company,
	                                 sizeof background.company, error);

	split_company(&background);
	*has_phone = *paper_phone(background.company_lines, background.company_count);
	return status;
}

/* Says why there is no paper; nothing when there is one. */
static enum status refuse_paper(enum status status, struct error *error)
{
	if (status == STATUS_NOT_APPLICABLE)
		error_set(error, status,
		          "PDF needs padside-pdf.so, which could not be loaded; nothing was written; "
		          "export html and print it from a browser, or build padside with pango and cairo");
	else if (status != STATUS_OK)
		error_set(error, status,
		          "there is no memory left for the report; nothing was written; close other "
		          "programs and try again");
	return status;
}

enum status papers_write(struct store *store, const struct call *call,
                         const struct paper_choice *choice, struct text *out, struct error *error)
{
	struct background background = { .call = call };
	unsigned long times_short = text_times_short();
	enum status status = STATUS_OK;

	if (choice->format == PAPER_JSON && choice->reader == PAPER_CUSTOMER) {
		out->failed = out->failed || !write_customer_json(call, out);
	} else if (choice->format == PAPER_JSON) {
		call_json_write(call, out);
	} else {
		status = gather(store, &background, error);
		if (status == STATUS_OK && !follow(&background, choice->units))
			out->failed = true;
		if (status == STATUS_OK && !out->failed)
			status = refuse_paper(build(&background, choice, out), error);
	}
	background_done(&background);
	/* Of the small pieces that a paper is put together from, none may be lacking either. */
	if (status == STATUS_OK && (out->failed || text_times_short() != times_short))
		status = refuse_paper(STATUS_NO_MEMORY, error);
	return status;
}

/* ---- Saving ---- */

static bool write_whole(int file, const struct text *bytes)
{
	const char *at = text_get(bytes);
	size_t left = bytes->length;

	while (left > 0) {
		ssize_t written = write(file, at, left);
		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return false;
		at += written;
		left -= (size_t)written;
	}
	return true;
}

/* A device or a pipe: renaming a file over it would take it away. */
static bool is_no_file(const char *path)
{
	struct stat found;

	return stat(path, &found) == 0 && !S_ISREG(found.st_mode);
}

enum status papers_save(const char *path, const struct text *bytes, bool force, struct error *error)
{
	struct beside beside;
	struct stat found;

	if (!*path)
		return error_set(error, STATUS_BAD_INPUT, "no file is named; nothing was written");
	if (!force && lstat(path, &found) == 0)
		return error_set(error, STATUS_EXISTS, "%s is there already and was left alone", path);
	if (is_no_file(path))
		return error_set(error, STATUS_IO, "%s is not a file that can be replaced; it was left as "
		                 "it was; give another name", path);
	enum status status = beside_begin(&beside, path, 0600, error);
	if (status != STATUS_OK)
		return status;
	if (write_whole(beside.file, bytes))
		return beside_end(&beside, force, error);
	int why = errno;
	beside_drop(&beside);
	return error_set(error, STATUS_IO, "%s could not be written: %s; nothing was left there; give "
	                 "another place", path, strerror(why));
}
