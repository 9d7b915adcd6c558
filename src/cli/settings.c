/*
 * padside settings: what a truck sets once.
 */
#include "cli/commands.h"

#include <string.h>

#include <padside/base/glyph.h>
#include <padside/app/settings.h>

#include "cli/book.h"

static enum status print_all(struct store *store, struct error *error)
{
	char value[SETTING_SIZE];
	struct text shown;

	text_init(&shown);
	for (int i = 0; i < SETTING_COUNT; i++) {
		enum status status = setting_get(store, (enum setting)i, value, sizeof value, error);
		if (status != STATUS_OK) {
			text_done(&shown);
			return status;
		}
		/* Several lines are shown as they are typed. */
		text_clear(&shown);
		for (const char *at = value; *at;
		     at += strcspn(at, "\n") + (at[strcspn(at, "\n")] != '\0')) {
			char line[SETTING_SIZE];
			snprintf(line, sizeof line, "%.*s", (int)strcspn(at, "\n"), at);
			if (at != value)
				text_add(&shown, "\\n");
			glyph_add_string(&shown, line, false);
		}
		printf("%s=%s\n    %s\n", setting_key((enum setting)i), text_get(&shown),
		       setting_help((enum setting)i));
	}
	text_done(&shown);
	return STATUS_OK;
}

static enum status print_one(struct store *store, const char *key, struct error *error)
{
	char value[SETTING_SIZE];
	enum setting setting = setting_from_key(key);

	if (setting == SETTING_COUNT)
		return error_set(error, STATUS_NOT_FOUND, "there is no setting \"%.40s\"; padside settings "
		                 "lists them", key);
	enum status status = setting_get(store, setting, value, sizeof value, error);
	if (status == STATUS_OK)
		puts(value);
	return status;
}

/* Keeps one KEY=VALUE. */
static enum status put_one(struct store *store, const char *word, struct error *error)
{
	char key[32];
	size_t length = strcspn(word, "=");

	snprintf(key, sizeof key, "%.*s", (int)(length < sizeof key ? length : 0), word);
	enum setting setting = setting_from_key(key);
	if (setting == SETTING_COUNT)
		return error_set(error, STATUS_BAD_INPUT,
		                 "there is no setting \"%.40s\"; padside settings lists "
		                 "them; nothing was changed", word);
	if (word[length] != '=')
		return error_set(error, STATUS_BAD_INPUT,
		                 "%s needs a value, as in %s=VALUE; nothing was changed", key, key);
	return setting_put(store, setting, word + length + 1, error);
}

/* Keeps every KEY=VALUE, or none. */
static enum status put_all(struct store *store, int count, char **words, struct error *error)
{
	enum status status = store_begin(store, error);

	if (status != STATUS_OK)
		return status;
	for (int i = 0; i < count && status == STATUS_OK; i++)
		status = put_one(store, words[i], error);
	return store_end(store, status, error);
}

int command_settings(struct cli *cli, int count, char **words)
{
	struct store *store;
	struct error error;

	if (!command_parse(cli, NULL, &count, words))
		return EXIT_USAGE;
	if (cli->wants_help)
		return command_usage(cli, NULL, stdout), EXIT_DONE;
	bool asks_one = count == 1 && !strchr(words[0], '=');
	bool only_looks = count == 0 || asks_one;
	if (book_open(cli, only_looks ? STORE_EXISTING : STORE_CREATE, &store, &error) != STATUS_OK)
		return command_report(&error);
	enum status status = asks_one  ? print_one(store, words[0], &error)
	                     : count > 0 ? put_all(store, count, words, &error)
	                                 : print_all(store, &error);
	store_close(store);
	return status == STATUS_OK ? EXIT_DONE : command_report(&error);
}
