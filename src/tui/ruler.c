/*
 * The band in ink.
 */
#include "tui/ruler.h"

unsigned ruler_ink(enum band_verdict verdict)
{
	static const enum ink inks[] = {
		[BAND_UNKNOWN] = INK_MARGIN,
		[BAND_INSIDE] = INK_GOOD,
		[BAND_AMBIGUOUS] = INK_WATCH,
		[BAND_LOW] = INK_BAD,
		[BAND_HIGH] = INK_BAD,
	};

	return inks[verdict];
}

static unsigned part_ink(enum band_part part, enum band_verdict verdict)
{
	if (part == BAND_RULE)
		return INK_RULE;
	return part == BAND_EXPECTED ? INK_EXPECTED : ruler_ink(verdict);
}

/* What a cell of a lying ruler looks like in a standing one. */
static unsigned turn(unsigned character)
{
	static const unsigned turned[][2] = {
		{ 0x2500, 0x2502 }, /* ─ │ */
		{ 0x251c, 0x2534 }, /* ├ ┴ */
		{ 0x2524, 0x252c }, /* ┤ ┬ */
		{ 0x258c, 0x2584 }, /* ▌ ▄ */
		{ 0x2590, 0x2580 }, /* ▐ ▀ */
		{ 0x25c0, 0x25bc }, /* ◀ ▼ */
		{ 0x25b6, 0x25b2 }, /* ▶ ▲ */
	};

	for (size_t i = 0; i < sizeof turned / sizeof *turned; i++)
		if (turned[i][0] == character)
			return turned[i][1];
	return character;
}

void ruler_draw_upright(struct canvas *canvas, struct area area, int row, int column, int height,
                        const struct band *band)
{
	struct band_cell cells[BAND_WIDTH_MOST];
	enum band_verdict verdict = band_judge(band);

	height = band_cells(band, height, cells);
	for (int i = 0; i < height; i++)
		canvas_fill(canvas, area_part(area, row + height - 1 - i, column, 1, 1),
		            part_ink(cells[i].part, verdict), turn(cells[i].character));
}

int ruler_draw(struct canvas *canvas, struct area area, int row, int column, int width,
               const struct band *band)
{
	struct band_cell cells[BAND_WIDTH_MOST];
	enum band_verdict verdict = band_judge(band);

	width = band_cells(band, width, cells);
	for (int i = 0; i < width; i++)
		canvas_fill(canvas, area_part(area, row, column + i, 1, 1),
		            part_ink(cells[i].part, verdict), cells[i].character);
	return column + width;
}

/* A ruler that leaves `words` columns of the area to the words behind it; an area may be
   of any size, as the canvas clips what is drawn. */
static int narrowed(int width, struct area area, int column, int words)
{
	long long room = (long long)area.columns - column - words - 1;

	return room >= width ? width : room < BAND_WIDTH_LEAST ? BAND_WIDTH_LEAST : (int)room;
}

int ruler_draw_with_words(struct canvas *canvas, struct area area, int row, int column,
                          int width, const struct band *band, int decimals)
{
	struct band expected = *band;
	enum band_verdict verdict = band_judge(band);
	struct text words;

	expected.has_value = false;
	text_init(&words);
	band_add_words(&expected, decimals, canvas_is_plain(canvas), &words);
	if (verdict != BAND_UNKNOWN)
		text_add(&words, ": ");
	width = narrowed(width, area, column, text_columns(text_get(&words)) +
	                 text_columns(band_verdict_word(verdict)));
	column = ruler_draw(canvas, area, row, column, width, band) + 1;
	column = canvas_put(canvas, area, row, column, INK_MARGIN, text_get(&words));
	text_done(&words);
	return canvas_put(canvas, area, row, column, ruler_ink(verdict), band_verdict_word(verdict));
}
