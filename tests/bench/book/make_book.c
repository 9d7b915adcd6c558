/*
 * make_book BOOK CALLS [TRUCK] < demo/book.ndjson: a large book for the benchmark.
 *
 * Every call is one of the demo's with other people, another place, another
 * serial number, another day, and numbers a little off; made by fixed rules,
 * so that every book of a size is the same.  Written through the store, in
 * the order of time, as a truck would have done over the years.  One customer
 * in a thousand has many machines, and the first machine is visited most.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <padside/app/call_json.h>
#include <padside/app/summary_line.h>
#include <padside/store/store.h>
#include <padside/base/text.h>

enum {
	MOST_TEMPLATES = 64, VISITS_A_MACHINE = 4, CALLS_A_TRANSACTION = 2000,
	MACHINES_OF_MANY = 40, CUSTOMERS_A_LANDLORD = 1000, OFTEN = 97,
};

struct maker {
	struct call templates[MOST_TEMPLATES]; /* the demo's calls */
	size_t template_count;                 /* of them */
	uint64_t state;                        /* of the random numbers */
	size_t truck;                          /* whose book it is; each has its own customers */
	struct store *store;                   /* the book */
};

static const char *const first_names[] = {
	"Ada", "Bela", "Cormac", "Dilys", "Edda", "Farid", "Greta", "Hiro", "Ines", "Jonas", "Kaia",
	"Lorcan", "Mira", "Nadia", "Otis", "Petra", "Quill", "Runa", "Silas", "Tova", "Ulric", "Vera",
	"Wren", "Ximena", "Yusuf", "Zora",
};
static const char *const name_starts[] = {
	"Ash", "Bram", "Crow", "Dun", "Elm", "Fen", "Gar", "Hol", "Ivers", "Kel", "Lind", "Mar", "Nor",
	"Oak", "Pem", "Quar", "Rad", "Sel", "Thorn", "Under", "Vel", "Whit", "Yar", "Zell",
};
static const char *const name_ends[] = {
	"bury", "combe", "dale", "field", "gate", "ham", "land", "more", "nell", "ridge", "sted", "ton",
	"wick", "wood", "worth",
};
static const char *const street_ends[] = { "Street", "Road", "Lane", "Row", "Close", "Hill" };

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* splitmix64, public domain. */
static uint64_t draw(uint64_t *state)
{
	uint64_t z = *state += 0x9e3779b97f4a7c15U;

	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9U;
	z = (z ^ (z >> 27)) * 0x94d049bb133111ebU;
	return z ^ (z >> 31);
}

static size_t draw_below(uint64_t *state, size_t count)
{
	return (size_t)(draw(state) % count);
}

static struct uid draw_uid(uint64_t *state)
{
	uint64_t a = draw(state), b = draw(state);
	struct uid uid;

	snprintf(uid.text, sizeof uid.text, "%08x-%04x-4%03x-8%03x-%012llx", (unsigned)(a >> 32),
	         (unsigned)(a >> 16) & 0xffff, (unsigned)a & 0xfff, (unsigned)(b >> 52) & 0xfff,
	         (unsigned long long)(b & 0xffffffffffffU));
	return uid;
}

static void die(const struct error *error)
{
	fprintf(stderr, "make_book: %s\n", error->text);
	exit(EXIT_FAILURE);
}

static void read_templates(struct maker *maker)
{
	struct json_reader *reader = json_reader_new();
	struct error error = { .text = "no memory" };
	char *line = NULL;
	size_t size = 0;
	ssize_t length;

	while (reader && maker->template_count < MOST_TEMPLATES &&
	       (length = getline(&line, &size, stdin)) > 0) {
		struct call *call = &maker->templates[maker->template_count++];
		call_init(call);
		if (call_json_read(reader, line, (size_t)length, CALL_JSON_RECORD, call, &error) != STATUS_OK)
			die(&error);
	}
	free(line);
	json_reader_free(reader);
	if (maker->template_count == 0)
		die(&error);
}

/* Who lives where is drawn from the number of the customer and of the machine alone. */
static void write_people(size_t truck, size_t customer, size_t machine, struct call *call)
{
	uint64_t who = 1 + customer + ((uint64_t)truck << 40);
	uint64_t where = 1000000007U + machine + ((uint64_t)truck << 40);

	call->customer.uid = draw_uid(&who);
	snprintf(call->customer.name, sizeof call->customer.name, "%s %s%s",
	         first_names[draw_below(&who, COUNT(first_names))],
	         name_starts[draw_below(&who, COUNT(name_starts))],
	         name_ends[draw_below(&who, COUNT(name_ends))]);
	snprintf(call->customer.phone, sizeof call->customer.phone, "%03zu-555-%04zu",
	         200 + draw_below(&who, 700), draw_below(&who, 10000));
	call->site.uid = draw_uid(&where);
	call->system.uid = draw_uid(&where);
	snprintf(call->site.address, sizeof call->site.address, "%zu %s%s %s", 1 + draw_below(&where, 300),
	         name_starts[draw_below(&where, COUNT(name_starts))],
	         name_ends[draw_below(&where, COUNT(name_ends))],
	         street_ends[draw_below(&where, COUNT(street_ends))]);
	struct value serial = { .state = VALUE_TAKEN, .taken_at = WALL_TIME_NONE };
	snprintf(serial.text, sizeof serial.text, "%02zu-%07zu", draw_below(&where, 26),
	         draw_below(&where, 10000000));
	visit_set(&call->visit, STAGE_AS_FOUND, READING_SERIAL, &serial);
}

/* Numbers half a percent off, each its own way. */
static void vary(struct maker *maker, struct visit *visit)
{
	for (int stage = 0; stage < STAGE_COUNT; stage++)
		for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
			const struct reading_info *info = reading_info((enum reading)i);
			struct value value = *visit_value(visit, (enum stage)stage, (enum reading)i);
			if (info->scope != SCOPE_CALL || info->kind != KIND_NUMBER || value.state != VALUE_TAKEN)
				continue;
			value.number *= 1 + 0.01 * ((double)draw_below(&maker->state, 1000) / 1000 - 0.5);
			visit_set(visit, (enum stage)stage, (enum reading)i, &value);
		}
}

static void renew_uids(struct maker *maker, struct call *call)
{
	call->uid = draw_uid(&maker->state);
	for (int list = 0; list < CALL_LIST_COUNT; list++) {
		struct uid *line;
		for (size_t i = 0; (line = call_list_at(call, (enum call_list)list, i)); i++)
			*line = draw_uid(&maker->state);
	}
}

/* Most customers have one machine each, a landlord's follow each other. */
static size_t customer_of(size_t machine)
{
	return machine % CUSTOMERS_A_LANDLORD < MACHINES_OF_MANY
	       ? machine - machine % CUSTOMERS_A_LANDLORD : machine;
}

static void store_call(struct maker *maker, struct call *call)
{
	struct error error = { .text = "" };

	if (store_call_record(maker->store, call, &error) != STATUS_OK ||
	    summary_line_keep(maker->store, call, &error) != STATUS_OK)
		die(&error);
}

static void make_call(struct maker *maker, size_t number, size_t machines)
{
	static const wall_time year = 31556952;
	wall_time began = 0;
	size_t machine = number % OFTEN == 0 ? 0 : number % machines;
	struct call *template = &maker->templates[machine % maker->template_count];
	/* The lists stay the template's; only its numbers and texts are this call's. */
	struct call call = *template;

	clock_parse("2021-01-04", &began);
	write_people(maker->truck, customer_of(machine), machine, &call);
	vary(maker, &call.visit);
	renew_uids(maker, &call);
	call.opened_at = began + (wall_time)((double)number / (double)machines * (double)year);
	call.closed_at = call.opened_at + 5400;
	store_call(maker, &call);
}

int main(int count, char **words)
{
	struct maker *maker = calloc(1, sizeof *maker);
	struct error error = { .text = "usage: make_book BOOK CALLS [TRUCK] < demo/book.ndjson" };
	size_t calls = count >= 3 ? (size_t)strtoul(words[2], NULL, 10) : 0;
	size_t machines = calls / VISITS_A_MACHINE;

	if (!maker || machines == 0)
		die(&error);
	maker->truck = count == 4 ? (size_t)strtoul(words[3], NULL, 10) : 0;
	maker->state = maker->truck << 40;
	read_templates(maker);
	if (store_open(words[1], STORE_CREATE, &clock_of_machine, &maker->store, &error) != STATUS_OK)
		die(&error);
	for (size_t i = 0; i < calls; i++) {
		if (i % CALLS_A_TRANSACTION == 0 && store_begin(maker->store, &error) != STATUS_OK)
			die(&error);
		make_call(maker, i, machines);
		bool ends = (i + 1) % CALLS_A_TRANSACTION == 0 || i + 1 == calls;
		if (ends && store_end(maker->store, STATUS_OK, &error) != STATUS_OK)
			die(&error);
	}
	store_close(maker->store);
	for (size_t i = 0; i < maker->template_count; i++)
		call_done(&maker->templates[i]);
	free(maker);
	return EXIT_SUCCESS;
}
