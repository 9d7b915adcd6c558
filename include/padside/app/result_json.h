#ifndef PADSIDE_RESULT_JSON_H
#define PADSIDE_RESULT_JSON_H

#include <stddef.h>

#include <padside/diagnose/assessment.h>
#include <padside/base/error.h>
#include <padside/model/figures.h>
#include <padside/base/json.h>
#include <padside/base/text.h>

/*
 * Answers as JSON, in the form that `figure --json` and `assess --json`
 * print: one line each, no line break inside.
 */

/*
 * {"figure", "value", "unit", "plus_minus"}, with "assumed" where the figure takes something
 * for granted; not evaluated: value null and "why".  `visit` holds the readings as found.
 */
void result_json_write_figure(const struct visit *visit, enum figure figure,
                              const struct figure_value *value, struct text *text);

/*
 * {"figures", "findings", "healthy", "unexplained", "predictions", "own_past",
 * "contradictions", "next_checks", "not_evaluated"} of the leading stage; where both stages were
 * read, the same of the other as "as_left".  Numbers are in the canonical unit
 * beside them; `units` is for what is put into words.  `call` is the one that
 * was assessed.
 */
void result_json_write_assessment(const struct assessment *assessment, const struct call *call,
                                  enum unit_system units, struct text *text);

/* {"error": "…"}. */
void result_json_write_error(const struct error *error, struct text *text);

/*
 * Reads the question {"figure": "superheat", "readings": {"key": value, …}}.
 * The readings are put into STAGE_AS_FOUND of `visit`.
 */
enum status result_json_read_figure(struct json_reader *reader, const char *json, size_t length,
                                enum figure *figure, struct visit *visit, struct error *error);

#endif
