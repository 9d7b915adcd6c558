/* Names of keys: a name that is known is written the same again. */
#include "fuzz/fuzz.h"

#include "support/key_name.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *name = as_string(data, size);
	char written[KEY_NAME_SIZE];
	struct key key, again;

	if (key_from_name(name, &key)) {
		key_write_name(key, written, sizeof written);
		must(key_from_name(written, &again) && key_equal(key, again));
	}
	free(name);
	return 0;
}
