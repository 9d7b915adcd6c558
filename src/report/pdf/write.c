/*
 * The report as PDF: the blocks from top to bottom, once to count the sheets
 * and once to print them, since each says how many there are.
 */
#include <cairo-pdf.h>

#include <math.h>
#include <string.h>

#include "report/pdf/module.h"
#include "report/pdf/press.h"
#include "report/writer.h"

/* ---- The logo ---- */

/* What is left of the picture's bytes to read. */
struct reading_place {
	const struct picture *picture; /* whose */
	size_t at;                     /* how far it was read */
};

static cairo_status_t read_bytes(void *closure, unsigned char *out, unsigned length)
{
	struct reading_place *place = closure;

	if (place->picture->length - place->at < length)
		return CAIRO_STATUS_READ_ERROR;
	memcpy(out, place->picture->bytes + place->at, length);
	place->at += length;
	return CAIRO_STATUS_SUCCESS;
}

/*
 * Width and height of a JPEG, from its frame header (ISO/IEC 10918-1, B.2.2).
 * False when there is none.
 */
static bool jpeg_size(const struct picture *picture, int *width, int *height)
{
	const unsigned char *bytes = picture->bytes;

	for (size_t at = 2; at + 9 < picture->length && bytes[at] == 0xff;) {
		unsigned marker = bytes[at + 1];
		bool is_frame = marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 &&
		                marker != 0xcc;
		if (is_frame) {
			*height = bytes[at + 5] << 8 | bytes[at + 6];
			*width = bytes[at + 7] << 8 | bytes[at + 8];
			return *width > 0 && *height > 0;
		}
		at += 2 + (size_t)(bytes[at + 2] << 8 | bytes[at + 3]);
	}
	return false;
}

/* The bytes of a JPEG go into the file as they are; the document outlives the surface. */
static cairo_surface_t *jpeg_surface(const struct picture *picture)
{
	enum { WIDEST = 4096 };
	int width, height;

	if (!jpeg_size(picture, &width, &height) || width > WIDEST || height > WIDEST)
		return NULL;
	cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
	cairo_surface_set_mime_data(surface, CAIRO_MIME_TYPE_JPEG, picture->bytes, picture->length,
	                            NULL, NULL);
	return surface;
}

/* Puts the logo at the top left; returns its width, 0 when it cannot be read. */
static double put_logo(struct pdf_press *press, double most_wide, double most_high)
{
	const struct picture *picture = &press->document->logo;
	struct reading_place place = { .picture = picture };
	cairo_surface_t *surface = !picture->bytes ? NULL : picture->is_jpeg ? jpeg_surface(picture)
		: cairo_image_surface_create_from_png_stream(read_bytes, &place);
	double width = 0;

	if (surface && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
		double wide = cairo_image_surface_get_width(surface);
		double high = cairo_image_surface_get_height(surface);
		double share = fmin(most_wide / wide, most_high / high);
		width = wide * share;
		cairo_save(press->cairo);
		cairo_translate(press->cairo, pdf_left, press->y);
		cairo_scale(press->cairo, share, share);
		cairo_set_source_surface(press->cairo, surface, 0, 0);
		cairo_paint(press->cairo);
		cairo_restore(press->cairo);
	}
	if (surface)
		cairo_surface_destroy(surface);
	return width;
}

/* ---- Blocks ---- */

static void put_letterhead(struct pdf_press *press, const struct block *block)
{
	const double high = 30;
	double logo = put_logo(press, 150, high), x = pdf_left + (logo > 0 ? logo + 10 : 0);
	double bottom = press->y + (logo > 0 ? high : 0);
	struct text reach;

	text_init(&reach);
	for (size_t i = 1; i < block->row_count; i++)
		text_add_format(&reach, "%s%s", i > 1 ? "   " : "", block->rows[i].cells[0]);
	double name = 0;
	if (block->row_count > 0)
		name = press_put(press, PDF_COMPANY, PDF_ACCENT, block->rows[0].cells[0], x, press->y,
		                 (press->right - x) * 0.45, false);
	double lines = press_put(press, PDF_SMALL, PDF_SOFT, text_get(&reach),
	                         x + (press->right - x) * 0.47, press->y + 3, (press->right - x) * 0.53,
	                         true);
	text_done(&reach);
	press->y = fmax(bottom, press->y + fmax(name, lines + 3)) + 4;
	press_line(press, PDF_ACCENT, 0.8, pdf_left, press->y, press->right, press->y);
	press->y += 6;
}

static void put_heading(struct pdf_press *press, const struct block *block)
{
	static const enum pdf_style levels[] = { PDF_PLAIN, PDF_TITLE, PDF_HEADING, PDF_PART };
	static const double before[] = { 0, 2, 4.5, 3 }, kept_with[] = { 0, 60, 62, 40 };

	press->y += press->y > pdf_top ? before[block->level] : 0;
	press_need(press, kept_with[block->level]);
	press_text(press, levels[block->level], block->level == 2 ? PDF_ACCENT : PDF_INK, block->text,
	           0);
	if (block->level == 2) {
		press_line(press, PDF_ACCENT, 1.4, pdf_left, press->y + 1, pdf_left + 24, press->y + 1);
		press->y += 3;
	}
	press->y += 2;
}

static void put_paragraph(struct pdf_press *press, const struct block *block)
{
	static const enum pdf_style styles[TONE_COUNT] = {
		[TONE_LEAD] = PDF_LEAD, [TONE_SMALL] = PDF_SMALL, [TONE_CAUTION] = PDF_PLAIN,
	};
	double height, width = press->right - pdf_left - 12;
	struct text words;

	if (block->tone != TONE_CAUTION) {
		press_text(press, styles[block->tone], block->tone == TONE_SMALL ? PDF_SOFT : PDF_INK,
		           block->text, 0);
		press->y += 2;
		return;
	}
	text_init(&words);
	text_add_format(&words, "%s: %s", writer_tone_word(block->tone), block->text);
	press_measure(press, PDF_PLAIN, text_get(&words), width, NULL, &height);
	press_need(press, height + 8);
	press_box(press, PDF_ACT, pdf_left, press->y + 1, 2.6, height + 5);
	press_put(press, PDF_PLAIN, PDF_INK, text_get(&words), pdf_left + 9, press->y + 3, width,
	          false);
	press->y += height + 9;
	text_done(&words);
}

static void put_items(struct pdf_press *press, const struct block *block, double indent)
{
	for (size_t i = 0; i < block->row_count; i++) {
		press_need(press, 12);
		press_put(press, PDF_PLAIN, PDF_INK, "•", pdf_left + indent, press->y, -1, false);
		press_text(press, PDF_PLAIN, PDF_INK, block->rows[i].cells[0], indent + 9);
	}
	press->y += 2;
}

static void put_list(struct pdf_press *press, const struct block *block)
{
	put_items(press, block, 4);
}

static void put_pairs(struct pdf_press *press, const struct block *block)
{
	const double names = 104, width = press->right - pdf_left - names;

	for (size_t i = 0; i < block->row_count; i++) {
		double name, value;
		press_measure(press, PDF_PLAIN, block->rows[i].cells[0], names - 6, NULL, &name);
		press_measure(press, PDF_PLAIN, block->rows[i].cells[1], width, NULL, &value);
		press_need(press, fmax(name, value));
		press_put(press, PDF_PLAIN, PDF_SOFT, block->rows[i].cells[0], pdf_left, press->y,
		          names - 6, false);
		press_put(press, PDF_PLAIN, PDF_INK, block->rows[i].cells[1], pdf_left + names, press->y,
		          width, false);
		press->y += fmax(name, value) + 0.6;
	}
	press->y += 2;
}

static void put_finding(struct pdf_press *press, const struct block *block)
{
	static const enum pdf_colour colours[TONE_COUNT] = {
		[TONE_NOTE] = PDF_SOFT, [TONE_WATCH] = PDF_WATCH, [TONE_ACT] = PDF_ACT,
		[TONE_GONE] = PDF_GOOD,
	};
	struct text title;

	press_need(press, 34);
	double top = press->y;
	int page = press->page;
	text_init(&title);
	text_add(&title, block->text);
	if (*block->label)
		text_add_format(&title, ": %s", block->label);
	text_add_format(&title, " (%s)", writer_tone_word(block->tone));
	press_text(press, PDF_STRONG, colours[block->tone], text_get(&title), 8);
	text_done(&title);
	if (block->row_count == 1)
		press_text(press, PDF_PLAIN, PDF_INK, block->rows[0].cells[0], 8);
	else
		put_items(press, block, 8);
	if (press->page == page)
		press_box(press, colours[block->tone], pdf_left, top + 1, 2.6, press->y - top - 3);
	press->y += 2;
}

static void put_signature(struct pdf_press *press, const struct block *block)
{
	double width = (press->right - pdf_left) / fmax(1, (double)block->row_count);

	press_need(press, 42);
	press->y += 24;
	for (size_t i = 0; i < block->row_count; i++) {
		double x = pdf_left + width * (double)i;
		press_line(press, PDF_INK, 0.7, x, press->y, x + width - 16, press->y);
		press_put(press, PDF_SMALL, PDF_SOFT, block->rows[i].cells[0], x, press->y + 2, width - 16,
		          false);
	}
	press->y += 11;
}

static void put_blocks(struct pdf_press *press)
{
	static void (*const put[BLOCK_KIND_COUNT])(struct pdf_press *press,
	                                           const struct block *block) = {
		[BLOCK_LETTERHEAD] = put_letterhead, [BLOCK_HEADING] = put_heading,
		[BLOCK_PARAGRAPH] = put_paragraph, [BLOCK_LIST] = put_list, [BLOCK_PAIRS] = put_pairs,
		[BLOCK_TABLE] = pdf_table, [BLOCK_FINDING] = put_finding, [BLOCK_READINGS] = pdf_readings,
		[BLOCK_RULERS] = pdf_rulers, [BLOCK_TREND] = pdf_trend, [BLOCK_SIGNATURE] = put_signature,
	};

	press_begin(press);
	for (size_t i = 0; i < press->document->block_count; i++)
		put[press->document->blocks[i].kind](press, &press->document->blocks[i]);
	press_end(press);
}

/* ---- The file ---- */

static cairo_status_t keep_bytes(void *closure, const unsigned char *bytes, unsigned length)
{
	struct text *text = closure;

	if (text)
		text_add_bytes(text, (const char *)bytes, length);
	return text && text->failed ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

/* Prints into `text` (NULL: nowhere, to count) and returns how many sheets; 0 when it failed. */
static int print(const struct document *document, int pages, struct text *text)
{
	struct pdf_press press = { .document = document, .pages = pages };

	press_size(&press, document->is_a4);
	cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(keep_bytes, text, press.width,
	                                                               press.height);
	cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, document->title);
	press.cairo = cairo_create(surface);
	press.layout = pango_cairo_create_layout(press.cairo);
	/* A point of the font is a point of the sheet. */
	pango_cairo_context_set_resolution(pango_layout_get_context(press.layout), 72);
	put_blocks(&press);
	g_object_unref(press.layout);
	bool whole = cairo_status(press.cairo) == CAIRO_STATUS_SUCCESS;
	cairo_destroy(press.cairo);
	cairo_surface_finish(surface);
	whole = whole && cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS;
	cairo_surface_destroy(surface);
	return whole ? press.page : 0;
}

/* Where memory runs out at the very end the library says nothing and leaves the end out. */
static bool has_its_end(const struct text *text)
{
	static const char end[] = "%%EOF\n";
	size_t length = sizeof end - 1;

	return text->length >= length && memcmp(text->bytes + text->length - length, end, length) == 0;
}

static void write(const struct document *document, struct text *text)
{
	int pages = print(document, 0, NULL);

	if (pages == 0 || print(document, pages, text) == 0 || !has_its_end(text))
		text->failed = true;
}

const struct pdf_module padside_pdf_module = { .version = PADSIDE_VERSION, .write = write };
