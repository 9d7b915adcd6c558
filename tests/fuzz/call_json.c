/*
 * Calls as JSON: what is read is written to the same bytes again, judged, and
 * put on paper in every format without a character that acts.
 */
#include "fuzz/fuzz.h"

#include <padside/app/result_json.h>
#include <padside/app/call_json.h>
#include <padside/report/paper.h>

static struct json_reader *reader;

static void write_twice(const struct call *call)
{
	struct error error;
	struct text once, twice;
	struct call again;

	text_init(&once);
	text_init(&twice);
	call_init(&again);
	call_json_write(call, &once);
	must(call_json_read(reader, text_get(&once), once.length, CALL_JSON_ASSESS, &again,
	                        &error) == STATUS_OK);
	call_json_write(&again, &twice);
	must(strcmp(text_get(&once), text_get(&twice)) == 0);
	call_done(&again);
	text_done(&once);
	text_done(&twice);
}

static void must_be_harmless(const struct text *text)
{
	for (size_t i = 0; i < text->length; i++) {
		unsigned char byte = (unsigned char)text_get(text)[i];
		must(byte >= ' ' || byte == '\n' || byte == '\r' || byte == '\t');
		must(byte != 0x7f);
	}
}

static void write_papers(const struct paper_input *input)
{
	for (int of = 0; of < PAPER_READER_COUNT; of++) {
		struct document document;
		document_init(&document);
		paper_build(input, (enum paper_reader)of, &document);
		for (int format = 0; format < DOCUMENT_FORMAT_COUNT; format++) {
			struct text text;
			text_init(&text);
			document_write(&document, (enum document_format)format, format % 2 == 0, &text);
			must_be_harmless(&text);
			text_done(&text);
		}
		document_done(&document);
	}
}

static void judge(const struct call *call)
{
	static struct assessment assessment;
	struct paper_input input = { .call = call, .assessment = &assessment, .currency = "$" };
	struct text answer;

	text_init(&answer);
	assessment_make(&(struct assessment_input){ .call = call, .with_before = true },
	                &assessment);
	result_json_write_assessment(&assessment, call, UNITS_SI, &answer);
	must_be_harmless(&answer);
	text_done(&answer);
	write_papers(&input);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct error error;
	struct call call;

	if (!reader)
		reader = json_reader_new();
	must(reader != NULL);
	call_init(&call);
	if (size > 0 && call_json_read(reader, (const char *)data, size, CALL_JSON_ASSESS, &call,
	                                   &error) == STATUS_OK) {
		write_twice(&call);
		judge(&call);
	}
	call_done(&call);
	return 0;
}
