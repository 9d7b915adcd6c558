/*
 * The history of a unit, put together from what the book has.
 */
#include <padside/app/history.h>

#include <stdlib.h>
#include <string.h>

/* Every series that a unit can have: the followed ones, each figure, each reading. */
enum { MOST_SERIES = SERIES_COUNT + FIGURE_COUNT + READING_COUNT };

static enum status out_of_memory(struct error *error)
{
	return error_set(error, STATUS_NO_MEMORY, "%s", status_sentence(STATUS_NO_MEMORY));
}

/* Whether a plain plot would only repeat a followed series. */
static bool is_followed(enum figure figure, enum reading reading)
{
	for (int i = SERIES_NONE + 1; i < SERIES_COUNT; i++) {
		const struct series_info *info = series_info((enum series)i);
		if (info->figure == figure && info->reading == reading && info->minus == FIGURE_NONE)
			return true;
	}
	return false;
}

static bool is_plotted(enum reading reading)
{
	const struct reading_info *info = reading_info(reading);

	return info->scope == SCOPE_CALL &&
	       (info->kind == KIND_NUMBER || info->kind == KIND_RESISTANCE);
}

/* Fills history->series, which has room for all of that extent. */
static void build_series(const struct history_visit *visits, enum history_extent extent,
                         enum unit_system units, wall_time now, struct history *history)
{
	size_t count = history->visit_count;

	for (int i = SERIES_NONE + 1; i < SERIES_COUNT; i++)
		history->series_count += history_follow(visits, count, (enum series)i, units, now,
		                                        &history->series[history->series_count]);
	if (extent != HISTORY_EVERYTHING)
		return;
	for (int i = FIGURE_NONE + 1; i < FIGURE_COUNT; i++)
		if (!figure_info((enum figure)i)->is_word && !is_followed((enum figure)i, READING_NONE))
			history->series_count += history_plot_figure(
				visits, count, (enum figure)i, &history->series[history->series_count]);
	for (int i = READING_NONE + 1; i < READING_COUNT; i++)
		if (is_plotted((enum reading)i) && !is_followed(FIGURE_NONE, (enum reading)i))
			history->series_count += history_plot_reading(
				visits, count, (enum reading)i, &history->series[history->series_count]);
}

/* The figures that are followed. */
static void find_followed(bool wanted[FIGURE_COUNT])
{
	memset(wanted, 0, FIGURE_COUNT * sizeof *wanted);
	for (int i = SERIES_NONE + 1; i < SERIES_COUNT; i++) {
		wanted[series_info((enum series)i)->figure] = true;
		wanted[series_info((enum series)i)->minus] = true;
	}
}

/* The figures of every visit, oldest first; owned by the caller, NULL when memory ran out. */
static struct figure_set *evaluate_visits(const struct history_visit *visits, size_t count,
                                          enum history_extent extent)
{
	struct figure_set *sets = calloc(count ? count : 1, STAGE_COUNT * sizeof *sets);
	bool followed[FIGURE_COUNT];

	find_followed(followed);
	for (size_t i = 0; sets && i < count; i++)
		for (int stage = 0; stage < STAGE_COUNT; stage++)
			figures_evaluate_some(visits[i].visit, (enum stage)stage,
			                      extent != HISTORY_EVERYTHING ? followed : NULL,
			                      &sets[i * STAGE_COUNT + (size_t)stage]);
	return sets;
}

static bool is_anything_read(const struct history *history)
{
	for (size_t i = 0; i < history->visit_count; i++)
		for (int j = 0; j < STAGE_COUNT * READING_COUNT; j++) {
			enum reading reading = (enum reading)(j % READING_COUNT);
			const struct value *value =
				&history->visits[i].visit.values[j / READING_COUNT][reading];
			if (value->state != VALUE_NOT_TAKEN && reading_info(reading)->scope == SCOPE_CALL)
				return true;
		}
	return false;
}

static enum status load_series(enum history_extent extent, enum unit_system units, wall_time now,
                               struct history *history, struct error *error)
{
	struct history_visit visits[HISTORY_MOST_VISITS];

	/* The store tells the newest first, a series begins with the oldest. */
	for (size_t i = 0; i < history->visit_count; i++) {
		const struct past_call *visit = &history->visits[history->visit_count - 1 - i];
		visits[i] = (struct history_visit){ .opened_at = visit->opened_at,
			.visit = &visit->visit };
	}
	struct figure_set *sets = evaluate_visits(visits, history->visit_count, extent);
	history->series = malloc((extent != HISTORY_EVERYTHING ? SERIES_COUNT : MOST_SERIES) *
	                         sizeof *history->series);
	if (!history->series || !sets) {
		free(sets);
		return out_of_memory(error);
	}
	for (size_t i = 0; i < history->visit_count; i++)
		visits[i].figures = &sets[i * STAGE_COUNT];
	build_series(visits, extent, units, now, history);
	free(sets);
	/* Most units have a few dozen series: give the rest back. */
	size_t kept = history->series_count ? history->series_count : 1;
	struct history_series *fitted = realloc(history->series, kept * sizeof *fitted);
	if (fitted)
		history->series = fitted;
	return STATUS_OK;
}

void history_init(struct history *history)
{
	memset(history, 0, sizeof *history);
	history->system.last_call = WALL_TIME_NONE;
}

static void free_lists(struct history *history)
{
	free(history->visits);
	free(history->series);
	free(history->watch);
	free(history->offered);
	free(history->made_up);
}

void history_done(struct history *history)
{
	free_lists(history);
	history_init(history);
}

static enum status load_what_is_open(struct store *store, struct history *history,
                                     struct error *error)
{
	const struct system_line *system = &history->system;
	const char *out = system_taken_out(system);
	enum status status = *out ? STATUS_OK
		: store_open_watch_items(store, &system->system.uid, NULL, WALL_TIME_NONE, &history->watch,
		                         &history->watch_count, error);

	if (status == STATUS_OK)
		status = store_offers_left(store, &system->customer.uid, &system->system.uid, NULL,
		                           &history->offered, &history->offered_count, error);
	for (size_t i = 0; i < history->offered_count; i++)
		text_copy(history->offered[i].unit_out, sizeof history->offered[i].unit_out, out);
	return status;
}

enum status history_load_of(struct store *store, const struct system_line *system,
                            enum history_extent extent, enum unit_system units, wall_time now,
                            struct history *history, struct error *error)
{
	const struct uid *uid = &system->system.uid;

	free_lists(history);
	*history = (struct history){ .system = *system };
	enum status status = store_past_calls(store, uid, NULL, HISTORY_MOST_VISITS, &history->visits,
	                                      &history->visit_count, error);
	if (status == STATUS_OK && extent != HISTORY_SERIES)
		status = load_what_is_open(store, history, error);
	if (status == STATUS_OK)
		status = store_made_up(store, uid, &history->made_up, &history->made_up_count, error);
	if (status == STATUS_OK)
		status = load_series(extent, units, now, history, error);
	history->is_read = is_anything_read(history);
	if (status != STATUS_OK)
		history_done(history);
	return status;
}

enum status history_load(struct store *store, const struct uid *system,
                         enum history_extent extent, enum unit_system units, wall_time now,
                         struct history *history, struct error *error)
{
	struct system_line line;

	history_done(history);
	enum status status = store_system_load(store, system, &line, error);
	return status == STATUS_OK ? history_load_of(store, &line, extent, units, now, history, error)
	                           : status;
}
