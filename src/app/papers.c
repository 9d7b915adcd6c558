/*
 * The paper of a call, from the book to bytes.
 */
#include <padside/papers.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <padside/exchange.h>

enum { MOST_EARLIER = 6, MOST_COMPANY_LINES = 6, SETTING_SIZE = 512 };

/* What the book knows besides the call itself; lists are kept short for the paper. */
struct background {
	const struct call *call;                     /* whose paper it is */
	struct store_visit *visits[MOST_EARLIER];    /* earlier visits; owned */
	struct paper_visit lines[MOST_EARLIER];      /* the same for the paper */
	size_t visit_count;                          /* of them */
	struct watch_item watch[MOST_EARLIER];       /* open from earlier calls */
	size_t watch_count;                          /* of them */
	struct offer declined[MOST_EARLIER];         /* at earlier calls */
	size_t declined_count;                       /* of them */
	char company[SETTING_SIZE];                  /* lines of the head, cut by NUL */
	const char *company_lines[MOST_COMPANY_LINES]; /* into `company` */
	size_t company_count;                        /* of them */
	char currency[16];                           /* "$" */
};

static const struct {
	const char *key, *ending;
} formats[PAPER_FORMAT_COUNT] = {
	[PAPER_TEXT] = { "text", "txt" }, [PAPER_MARKDOWN] = { "markdown", "md" },
	[PAPER_HTML] = { "html", "html" }, [PAPER_CSV] = { "csv", "csv" },
	[PAPER_JSON] = { "json", "json" },
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

static bool take_visit(const struct store_visit *visit, void *context)
{
	struct background *background = context;

	if (visit->opened_at >= background->call->opened_at ||
	    strcmp(visit->call.text, background->call->uid.text) == 0)
		return true;
	struct store_visit *kept = malloc(sizeof *kept);
	if (!kept)
		return false;
	*kept = *visit;
	background->visits[background->visit_count] = kept;
	background->lines[background->visit_count++] = (struct paper_visit){
		.at = kept->opened_at, .found = kept->found_line, .done = kept->done_line };
	return background->visit_count < MOST_EARLIER;
}

static bool take_watch(const struct watch_item *item, const struct uid *call, void *context)
{
	struct background *background = context;

	if (strcmp(call->text, background->call->uid.text) != 0 &&
	    item->noted_at < background->call->opened_at)
		background->watch[background->watch_count++] = *item;
	return background->watch_count < MOST_EARLIER;
}

static bool take_declined(const struct offer *offer, const struct uid *call, void *context)
{
	struct background *background = context;

	if (strcmp(call->text, background->call->uid.text) != 0 &&
	    offer->decided_at < background->call->opened_at)
		background->declined[background->declined_count++] = *offer;
	return background->declined_count < MOST_EARLIER;
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

static enum status gather(struct store *store, const struct call *call,
                          struct background *background, struct error *error)
{
	background->call = call;
	enum status status = store_setting_get(store, "company", background->company,
	                                       sizeof background->company, error);
	if (status == STATUS_OK)
		status = store_setting_get(store, "currency", background->currency,
		                           sizeof background->currency, error);
	if (status == STATUS_OK)
		status = store_system_visits(store, &call->system.uid, take_visit, background, error);
	if (status == STATUS_OK)
		status = store_open_watch_items(store, &call->system.uid, take_watch, background, error);
	if (status == STATUS_OK)
		status = store_declined_offers(store, &call->customer.uid, &call->system.uid, take_declined,
		                               background, error);
	split_company(background);
	return status;
}

static void build(const struct call *call, const struct background *background,
                  const struct paper_choice *choice, struct text *out)
{
	struct figure_set figures[STAGE_COUNT];
	struct diagnosis diagnoses[STAGE_COUNT];
	struct document document;
	struct paper_input input = {
		.call = call, .units = choice->units, .currency = background->currency,
		.company = background->company_lines, .company_count = background->company_count,
		.visits = background->lines, .visit_count = background->visit_count,
		.watch = background->watch, .watch_count = background->watch_count,
		.declined = background->declined, .declined_count = background->declined_count,
	};

	for (int stage = 0; stage < STAGE_COUNT; stage++) {
		figures_evaluate(&call->visit, (enum stage)stage, &figures[stage]);
		diagnose(&call->visit, (enum stage)stage, &figures[stage], &diagnoses[stage]);
		input.figures[stage] = &figures[stage];
		input.diagnoses[stage] = &diagnoses[stage];
	}
	document_init(&document);
	paper_build(&input, choice->reader, &document);
	document_write(&document, (enum document_format)choice->format, choice->plain, out);
	if (document.failed)
		out->failed = true;
	document_done(&document);
}

enum status papers_write(struct store *store, const struct call *call,
                         const struct paper_choice *choice, struct text *out, struct error *error)
{
	struct background background = { .call = NULL };
	enum status status = STATUS_OK;

	if (choice->format == PAPER_JSON) {
		exchange_write_call(call, out);
	} else {
		status = gather(store, call, &background, error);
		if (status == STATUS_OK)
			build(call, &background, choice, out);
		for (size_t i = 0; i < background.visit_count; i++)
			free(background.visits[i]);
	}
	if (status == STATUS_OK && out->failed)
		status = error_set(error, STATUS_NO_MEMORY, "there is no memory left for the paper; nothing was "
		                   "written; close other programs and try again");
	return status;
}

/* Writes everything and makes sure that it is on the drive. */
static int write_whole(int file, const struct text *bytes)
{
	const char *at = text_get(bytes);
	size_t left = bytes->length;

	while (left > 0) {
		ssize_t written = write(file, at, left);
		if (written < 0 && errno == EINTR)
			continue;
		if (written < 0)
			return -1;
		at += written;
		left -= (size_t)written;
	}
	return fsync(file);
}

/* Puts the bytes into a new file beside `path` and then into its place. */
static enum status save_beside(const char *path, const char *beside, const struct text *bytes,
                               struct error *error)
{
	int file = open(beside, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
	bool whole = file >= 0 && write_whole(file, bytes) == 0;
	int why = errno;

	if (file >= 0 && close(file) != 0 && whole) {
		whole = false;
		why = errno;
	}
	if (whole && rename(beside, path) == 0)
		return STATUS_OK;
	if (whole)
		why = errno;
	if (file >= 0)
		unlink(beside);
	return error_set(error, STATUS_IO, "%s could not be written: %s; nothing was left there", path,
	                 strerror(why));
}

enum status papers_save(const char *path, const struct text *bytes, bool force, struct error *error)
{
	struct text beside;

	if (!force && access(path, F_OK) == 0)
		return error_set(error, STATUS_EXISTS, "%s is there already and was left alone; give another "
		                 "name, or --force to replace it", path);
	text_init(&beside);
	text_add_format(&beside, "%s.%ld.part", path, (long)getpid());
	enum status status = beside.failed
		? error_set(error, STATUS_NO_MEMORY, "there is no memory left to write %s", path)
		: save_beside(path, text_get(&beside), bytes, error);
	text_done(&beside);
	return status;
}
