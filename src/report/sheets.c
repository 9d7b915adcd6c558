/*
 * A document's text on sheets: cut at empty lines, with a foot on each.
 */
#include <padside/report/document.h>

#include <string.h>

#include <padside/base/glyph.h>

enum {
	SHEET_COLUMNS = 80,
	FOOT_ROWS = 2,       /* an empty line and the foot */
	INDENT = 2,          /* of items; what hangs below them stands deeper */
	HEADING_ROWS = 5,    /* of a heading with its help */
	ROWS_TO_GIVE = 16,   /* of a sheet that may stay empty so that it ends well */
	TIGHT_TO_GIVE = 4,   /* of one where there is little room */
	MOST_SHEETS = 4096
};

/* Where each sheet begins. */
struct cut {
	const char *starts[MOST_SHEETS + 1]; /* and where the last one ends */
	int count;                           /* of sheets */
};

static const char *next_line(const char *at)
{
	at += strcspn(at, "\n");
	return at + (*at == '\n');
}

/* Whether what ends at a gap is a heading with nothing of its own but a few words of help. */
static bool is_bare_heading(const char *block, int rows)
{
	const char *rule = next_line(block);

	return rows <= HEADING_ROWS && (strncmp(rule, "──", strlen("──")) == 0 ||
	                                strncmp(rule, "--", strlen("--")) == 0);
}

/* Whether what stands behind a gap is a line to sign on, which stays with what is signed. */
static bool is_to_sign(const char *gap)
{
	gap += strspn(gap, "\n ");
	return strncmp(gap, "____", strlen("____")) == 0;
}

/*
 * The end of the sheet that begins at `start`: behind an empty line near its end that does
 * not part a heading from what it is of; else before an item with all that hangs below it.
 */
static const char *sheet_end(const char *start, int rows_to_give)
{
	const char *at = start, *gap = NULL, *item = NULL, *block = start;
	bool is_below_heading = false;
	int block_row = 0;

	for (int row = 0; row < DOCUMENT_SHEET_ROWS - FOOT_ROWS; row++) {
		if (!*at)
			return at;
		bool is_near = row >= DOCUMENT_SHEET_ROWS - FOOT_ROWS - rows_to_give;
		if (*at == '\n' && is_near && !is_bare_heading(block, row - block_row) && !is_to_sign(at))
			gap = at;
		if (is_near && strspn(at, " ") <= INDENT && !is_below_heading)
			item = at;
		is_below_heading = *at != ' ' && *at != '\n';
		at = next_line(at);
		if (at[-1] == '\n' && at - start > 1 && at[-2] == '\n') {
			block = at;
			block_row = row + 1;
		}
	}
	if (!*at || (!gap && !item))
		return at;
	return gap ? gap : item;
}

static void cut_sheets(const struct document *document, const char *text, struct cut *cut)
{
	int rows_to_give = document->is_tight ? TIGHT_TO_GIVE : ROWS_TO_GIVE;

	cut->count = 0;
	do {
		cut->starts[cut->count++] = text;
		text = sheet_end(text, rows_to_give);
		while (*text == '\n')
			text++;
	} while (*text && cut->count < MOST_SHEETS);
	cut->starts[cut->count] = text + strlen(text);
}

static void add_foot(const struct document *document, int sheet, int count, bool plain,
                     struct text *sheets)
{
	struct text left, right;

	text_init(&left);
	text_init(&right);
	glyph_add_string(&left, document->whose, plain);
	text_add(&right, *document->number ? "" : "page");
	if (*document->number) {
		glyph_add_string(&right, document->number, plain);
		text_add(&right, ", page");
	}
	text_add_format(&right, " %d of %d", sheet, count);
	int room = SHEET_COLUMNS - text_columns(text_get(&left)) - text_columns(text_get(&right));
	text_add(sheets, text_get(&left));
	/* Too long for one line: the number goes below. */
	if (room < 1) {
		text_add_char(sheets, '\n');
		room = SHEET_COLUMNS - text_columns(text_get(&right));
	}
	text_pad(sheets, ' ', room > 0 ? room : 0);
	text_add(sheets, text_get(&right));
	text_add_char(sheets, '\n');
	sheets->failed = sheets->failed || left.failed || right.failed;
	text_done(&left);
	text_done(&right);
}

int document_count_sheets(const struct document *document, const char *text)
{
	struct cut cut;

	cut_sheets(document, text, &cut);
	return cut.count;
}

void document_add_sheets(const struct document *document, const char *text, bool plain,
                         struct text *sheets)
{
	struct cut cut;

	cut_sheets(document, text, &cut);
	for (int i = 0; i < cut.count; i++) {
		const char *end = cut.starts[i + 1];
		int rows = 0;
		/* The empty lines that it was cut at stay behind. */
		while (end > cut.starts[i] + 1 && end[-1] == '\n' && end[-2] == '\n')
			end--;
		for (const char *at = cut.starts[i]; at < end; at = next_line(at))
			rows++;
		text_add_bytes(sheets, cut.starts[i], (size_t)(end - cut.starts[i]));
		bool is_last = i + 1 == cut.count;
		text_pad(sheets, '\n', is_last ? 1 : DOCUMENT_SHEET_ROWS - FOOT_ROWS - rows + 1);
		add_foot(document, i + 1, cut.count, plain, sheets);
		text_add(sheets, is_last ? "" : "\f");
	}
}
