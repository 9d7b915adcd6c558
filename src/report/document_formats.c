/* The formats that a document can be written in. */
#include <padside/report/document.h>

#include "report/writer.h"

static const struct writer *const writers[DOCUMENT_FORMAT_COUNT] = {
	[DOCUMENT_TEXT] = &writer_text,
	[DOCUMENT_MARKDOWN] = &writer_markdown,
	[DOCUMENT_HTML] = &writer_html,
	[DOCUMENT_CSV] = &writer_csv,
};

void document_write(const struct document *document, enum document_format format, bool plain,
                    struct text *text)
{
	const struct writer *writer = writers[format];
	struct pen pen = { .document = document, .text = text, .plain = plain };

	if (writer->begin)
		writer->begin(&pen);
	for (size_t i = 0; i < document->block_count; i++)
		writer->blocks[document->blocks[i].kind](&pen, &document->blocks[i]);
	if (writer->end)
		writer->end(&pen);
}
