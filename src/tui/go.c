/*
 * Go anywhere: a few letters of any reading, step, figure, command, help
 * topic, customer or call, and Enter.
 */
#include <stdio.h>
#include <string.h>

#include <padside/app/session_find.h>
#include <padside/base/text.h>

#include "tui/list.h"
#include "tui/local.h"
#include "tui/workbook.h"

enum { MOST_TARGETS = 120, MOST_FOUND = 12, LABEL_SIZE = 96, KIND_COLUMN = 1, LABEL_COLUMN = 12,
       DETAIL_COLUMN = 52 };

enum target_kind {
	TARGET_STEP, TARGET_FIELD, TARGET_READING, TARGET_FIGURE, TARGET_COMMAND, TARGET_HELP,
	TARGET_CUSTOMER, TARGET_CALL
};

/* What something is found by. */
struct names {
	const char *label;  /* how it is called */
	const char *detail; /* what stands beside it */
	const char *also;   /* other words for it, not shown; NULL none */
};

/* One place to go to. */
struct target {
	enum target_kind kind;   /* what it is */
	int which;               /* of the table of that kind */
	struct uid uid;          /* of a customer or a call */
	char label[LABEL_SIZE];  /* how it is called */
	char detail[LABEL_SIZE]; /* beside it */
};

struct go {
	struct list list;                     /* on what was found, with what was typed */
	struct target targets[MOST_TARGETS];  /* found */
	int count;                            /* of them */
};

static const char *const kind_words[] = {
	[TARGET_STEP] = "step", [TARGET_FIELD] = "field", [TARGET_READING] = "reading",
	[TARGET_FIGURE] = "figure",
	[TARGET_COMMAND] = "command", [TARGET_HELP] = "help", [TARGET_CUSTOMER] = "customer",
	[TARGET_CALL] = "call",
};

/* ---- Looking ---- */

static bool has_word(const struct names *names, const char *word)
{
	return text_contains_ignoring_case(names->label, word) ||
	       text_contains_ignoring_case(names->detail, word) ||
	       (names->also && text_contains_ignoring_case(names->also, word));
}

/* Whether every word that was typed is a part of one of the names. */
static bool fits(const char *typed, const struct names *names)
{
	char word[64];

	for (const char *at = typed; *(at += strspn(at, " "));) {
		size_t length = strcspn(at, " ");
		snprintf(word, sizeof word, "%.*s", (int)length, at);
		if (!has_word(names, word))
			return false;
		at += length;
	}
	return true;
}

static void add(struct go *go, enum target_kind kind, int which, const struct names names)
{
	if (go->count == MOST_TARGETS || !fits(list_filter(&go->list), &names))
		return;
	struct target *target = &go->targets[go->count++];
	*target = (struct target){ .kind = kind, .which = which };
	text_copy(target->label, sizeof target->label, names.label);
	text_copy(target->detail, sizeof target->detail, names.detail);
}

/* What else a page is looked for by: what is done there, beside its name on the route. */
static const char *const step_also[STEP_COUNT] = {
	[STEP_SYSTEM] = "nameplate", [STEP_REFRIGERANT] = "gauges pressures",
	[STEP_CHOICES] = "price quote estimate accepted declined",
	[STEP_WORK] = "discount deposit tax bill invoice money price list parts",
	[STEP_SUMMARY] = "pdf html csv json print write export paper close company",
};

static void add_steps(struct go *go)
{
	char also[LABEL_SIZE];

	for (int i = 0; i < STEP_COUNT; i++) {
		const struct step_info *info = step_info((enum step)i);
		snprintf(also, sizeof also, "%s %s", info->brief, step_also[i] ? step_also[i] : "");
		add(go, TARGET_STEP, i, (struct names){ .label = info->label, .detail = info->purpose,
		                                        .also = also });
	}
}

static void add_fields(struct go *go)
{
	for (int i = 0; i < FIELD_COUNT; i++) {
		enum step step = session_field_step((enum field)i);
		if (step < STEP_COUNT)
			add(go, TARGET_FIELD, i, (struct names){ .label = field_info((enum field)i)->label,
			                                         .detail = step_info(step)->label });
	}
}

static void add_readings(struct workbook *workbook, struct go *go)
{
	const struct visit *visit = &session_call(workbook_session(workbook))->visit;

	for (int i = READING_NONE + 1; i < READING_COUNT; i++) {
		const struct reading_info *info = reading_info((enum reading)i);
		if (visit_applies(visit, STAGE_AS_FOUND, (enum reading)i))
			add(go, TARGET_READING, i, (struct names){ .label = info->label, .also = info->also,
			                                           .detail = step_info(info->step)->label });
	}
}

static void add_figures(struct workbook *workbook, struct go *go)
{
	const struct figure_set *set = session_figures(workbook_session(workbook),
	                                               workbook_stage(workbook));
	char shown[64];

	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++) {
		text_copy(shown, sizeof shown, "");
		if (set->values[i].status == STATUS_OK)
			figure_format((enum figure)i, set->values[i].value,
			              session_units(workbook_session(workbook)), VALUE_FORM_WITH_UNIT, shown,
			              sizeof shown);
		add(go, TARGET_FIGURE, i, (struct names){ .label = figure_info((enum figure)i)->label,
		                                          .detail = shown });
	}
}

static void add_commands(struct go *go, bool on_call)
{
	for (int i = REQUEST_NONE + 1; i < REQUEST_COUNT; i++) {
		const struct request_info *info = request_info((enum request)i);
		bool is_here = info->place == PLACE_ANY || (on_call && info->place == PLACE_CALL);
		bool is_step = i >= REQUEST_STEP_1 && i <= REQUEST_STEP_12;
		if (is_here && !is_step && *info->help && i != REQUEST_GO)
			add(go, TARGET_COMMAND, i, (struct names){ .label = info->help, .detail = info->key,
			                                           .also = info->word });
	}
}

static void add_help(struct go *go)
{
	for (int i = 0; i < PLACE_COUNT; i++)
		add(go, TARGET_HELP, i, (struct names){ .label = request_place_title((enum request_place)i),
		                                        .detail = "keys" });
}

/* People and calls are looked up once there is something to look for. */
static void add_people(struct workbook *workbook, struct go *go)
{
	struct session *session = workbook_session(workbook);
	static struct customer_line customers[MOST_FOUND];
	static struct call_line calls[MOST_FOUND];
	char date[CLOCK_TEXT_SIZE], label[LABEL_SIZE];
	struct error error;
	int count;

	if (strlen(list_filter(&go->list)) < 2)
		return;
	if (session_find_customers(session, list_filter(&go->list), customers, MOST_FOUND, &count,
	                           &error) != STATUS_OK)
		workbook_refuse(workbook, &error);
	for (int i = 0; i < count && go->count < MOST_TARGETS; i++) {
		struct target *target = &go->targets[go->count++];
		*target = (struct target){ .kind = TARGET_CUSTOMER, .uid = customers[i].customer.uid };
		text_copy(target->label, sizeof target->label, customers[i].customer.name);
		text_copy(target->detail, sizeof target->detail, customers[i].address);
	}
	if (session_find_calls(session, list_filter(&go->list), calls, MOST_FOUND, &count, &error) !=
	    STATUS_OK)
		workbook_refuse(workbook, &error);
	for (int i = 0; i < count && go->count < MOST_TARGETS; i++) {
		struct target *target = &go->targets[go->count++];
		*target = (struct target){ .kind = TARGET_CALL, .uid = calls[i].uid };
		local_date(calls[i].opened_at, date, sizeof date);
		snprintf(label, sizeof label, "%s, %s", calls[i].customer, date);
		text_trim_broken_utf8(label);
		text_copy(target->label, sizeof target->label, label);
		text_copy(target->detail, sizeof target->detail,
		          *calls[i].found_line ? calls[i].found_line : calls[i].complaint);
	}
}

/* Whether a target is called as was typed, or begins so; false while nothing is typed. */
static bool is_named(const struct go *go, const struct target *target, bool whole)
{
	const char *typed = list_filter(&go->list);
	char start[LABEL_SIZE];

	text_copy(start, sizeof start, target->label);
	if (!whole && strlen(typed) < sizeof start)
		start[strlen(typed)] = '\0';
	return *typed && text_equal_ignoring_case(start, typed);
}

/* Puts what is so named in front; apart from that the order stays. */
static void put_first(struct go *go, bool whole)
{
	int front = 0;

	for (int i = 0; i < go->count; i++) {
		if (!is_named(go, &go->targets[i], whole))
			continue;
		struct target best = go->targets[i];
		memmove(&go->targets[front + 1], &go->targets[front],
		        (size_t)(i - front) * sizeof go->targets[0]);
		go->targets[front++] = best;
	}
}

static void look(struct workbook *workbook, struct go *go)
{
	bool on_call = session_call(workbook_session(workbook)) != NULL;

	go->count = 0;
	if (on_call) {
		add_steps(go);
		add_fields(go);
		add_readings(workbook, go);
		add_figures(workbook, go);
	}
	add_people(workbook, go);
	add_commands(go, on_call);
	add_help(go);
	/* What begins with the letters comes first, before it what is called just so. */
	put_first(go, false);
	put_first(go, true);
	list_set_count(&go->list, go->count);
}

static void enter(struct workbook *workbook, void *state)
{
	struct go *go = state;

	list_init(&go->list, true);
	look(workbook, go);
}

/* ---- Keys ---- */

static void pick(struct workbook *workbook, const struct target *target)
{
	switch (target->kind) {
	case TARGET_STEP:
		workbook_go_step(workbook, (enum step)target->which);
		break;
	case TARGET_FIELD:
		workbook_go_field(workbook, (enum field)target->which);
		break;
	case TARGET_READING:
		workbook_go_reading(workbook, (enum reading)target->which);
		break;
	case TARGET_FIGURE:
		workbook_go_figure(workbook, (enum figure)target->which);
		break;
	case TARGET_COMMAND:
		workbook_ask(workbook, (enum request)target->which);
		break;
	case TARGET_HELP:
		workbook_go_help(workbook, (enum request_place)target->which);
		break;
	case TARGET_CUSTOMER:
		workbook_set_customer(workbook, &target->uid);
		workbook_go(workbook, SCREEN_CUSTOMER);
		break;
	case TARGET_CALL:
		workbook_open_call(workbook, &target->uid);
		break;
	}
}

static bool press_list(struct workbook *workbook, struct go *go, struct key key)
{
	switch (list_key(&go->list, key)) {
	case LIST_PICKED: {
		const struct target target = go->targets[list_chosen(&go->list)];
		pick(workbook, &target);
		return true;
	}
	case LIST_FILTERED:
		look(workbook, go);
		return true;
	case LIST_MOVED:
		return true;
	default:
		return false;
	}
}

static bool press(struct workbook *workbook, void *state, enum request request, struct key key)
{
	switch (request) {
	case REQUEST_GO_BACK:
		workbook_go_back(workbook);
		return true;
	default:
		return press_list(workbook, state, key);
	}
}

/* ---- Drawing ---- */

static void draw_target(struct canvas *canvas, struct area area, int row, unsigned style,
                        const struct target *target)
{
	canvas_fill(canvas, area_rows(area, row, 1), style, ' ');
	canvas_put_padded(canvas, area, row, KIND_COLUMN, LABEL_COLUMN - KIND_COLUMN - 1,
	                  style == INK_SELECTED ? style : INK_FAINT, kind_words[target->kind]);
	canvas_put(canvas, area_columns(area, 0, DETAIL_COLUMN - 1), row, LABEL_COLUMN, style,
	           target->label);
	canvas_put(canvas, area, row, DETAIL_COLUMN, style == INK_SELECTED ? style : INK_FAINT,
	           target->detail);
}

static void draw(struct workbook *workbook, void *state, struct area area)
{
	struct go *go = state;
	struct canvas *canvas = workbook_canvas(workbook);
	int column = canvas_put(canvas, area, 0, 1, INK_TITLE, "Go to: ");

	edit_draw(&go->list.filter, canvas, area, 0, column, area.columns - column - 2,
	          INK_FIELD_ACTIVE);
	struct area lines = list_layout(&go->list, canvas, area_rows(area, 2, area.rows - 2));
	for (int i = go->list.top; i < list_end(&go->list); i++) {
		draw_target(canvas, lines, i - go->list.top, list_style(&go->list, i, INK_PLAIN),
		            &go->targets[i]);
		workbook_hot(workbook, lines, i - go->list.top, 0, lines.columns, i);
	}
	if (go->count == 0)
		canvas_put(canvas, area, 2, 1, INK_FAINT, "Nothing matches.");
	workbook_hint(workbook, "Type a few letters of a reading, field, step, figure, customer, call, "
	              "command.");
}

static void click(struct workbook *workbook, void *state, int which)
{
	struct go *go = state;

	if (which < go->count) {
		const struct target target = go->targets[which];
		pick(workbook, &target);
	}
}

const struct screen screen_go = {
	.place = PLACE_GO, .state_size = sizeof(struct go),
	.enter = enter, .draw = draw, .press = press, .click = click,
};
