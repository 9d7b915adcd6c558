/* Numbers and amounts: what is read is finite and reads back the same. */
#include "fuzz/fuzz.h"

#include <math.h>

#include <padside/model/money.h>
#include <padside/base/number.h>

static void read_number(const char *typed)
{
	char written[NUMBER_SIZE];
	const char *rest;
	double value, again;

	if (!number_parse(typed, &value, &rest))
		return;
	must(isfinite(value) && rest > typed && rest <= typed + strlen(typed));
	number_format_exact(value, written, sizeof written);
	must(number_parse(written, &again, &rest) && *rest == '\0');
	must(memcmp(&again, &value, sizeof value) == 0);
	for (int decimals = 0; decimals <= 9; decimals++)
		number_format(value, decimals, written, sizeof written);
}

static void read_money(const char *typed)
{
	cents amount, again;
	thousandths quantity;
	millipercent percent;
	char written[64];

	money_parse_quantity(typed, &quantity);
	money_parse_percent(typed, &percent);
	if (money_parse(typed, &amount) != STATUS_OK)
		return;
	money_format(amount, written, sizeof written);
	must(money_parse(written, &again) == STATUS_OK && again == amount);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *typed = as_string(data, size);

	read_number(typed);
	read_money(typed);
	free(typed);
	return 0;
}
