/*
 * The style sheet of the HTML report: ink on white, one accent, fonts of the
 * reader's own system.  Screen first, then the phone, then what changes in
 * print, where nothing of the phone's rules holds; lengths in print are in
 * points and millimetres so that Letter and A4 both hold.  What the customer
 * reads on paper is 9 points or more; `dense` is for the office.
 */
#include "report/page_style.h"

#include <stddef.h>

const char *const page_style[] = {
	":root { color-scheme: light; --ink: #1b2326; --soft: #4f5b62; --line: #cdd5d8;\n"
	"  --accent: #0b5563; --pale: #f1f5f5; --act: #9c2318; --watch: #7a4900; --good: #1f5c34; }\n",
	"* { box-sizing: border-box; }\n",
	"body { margin: 0; background: #e6eaeb; color: var(--ink);\n"
	"  font: 16px/1.5 system-ui, -apple-system, \"Segoe UI\", \"Liberation Sans\", sans-serif;\n"
	"  font-variant-numeric: tabular-nums; overflow-wrap: anywhere; print-color-adjust: exact;\n"
	"  -webkit-print-color-adjust: exact; }\n",
	"body.dense { font-size: 15px; line-height: 1.42; }\n",
	"main { max-width: 54rem; margin: 1.5rem auto; padding: 2.4rem 3rem; background: #fff; }\n",
	".dense main { max-width: 66rem; }\n",
	"header { display: flex; flex-wrap: wrap; gap: .1rem 1.2em; align-items: center;\n"
	"  padding-bottom: .7rem; border-bottom: 1px solid var(--accent); color: var(--soft); }\n",
	"header img { max-height: 3.4rem; max-width: 12rem; }\n",
	"header p { margin: 0; }\n",
	"header .company { color: var(--accent); font-size: 1.25rem; font-weight: 650;\n"
	"  margin-right: auto; }\n",
	"h1 { font-size: 1.75rem; font-weight: 650; line-height: 1.2; margin: 1.3rem 0 .8rem; }\n",
	"h2 { font-size: 1.1rem; font-weight: 650; margin: 1.7rem 0 .5rem; padding-bottom: .25rem;\n"
	"  color: var(--accent); break-after: avoid; break-inside: avoid;\n"
	"  background: linear-gradient(var(--accent), var(--accent)) left bottom / "
	"2.2rem 2px no-repeat; }\n",
	"h3, h4 { font-size: 1rem; font-weight: 650; margin: .9rem 0 .3rem; break-after: avoid; }\n",
	"p { margin: .45rem 0; }\n",
	".lead { font-size: 1.06em; }\n",
	".small, small, figcaption { color: var(--soft); font-size: .88em; font-weight: 400; }\n",
	".caution { padding: .5rem .8rem; border: 1px solid var(--act); border-left-width: 5px; }\n",
	"ul { margin: .35rem 0; padding-left: 1.2em; }\n",
	"li { margin: .12rem 0; }\n",
	"dl { margin: .5rem 0; }\n",
	"dl div { display: flex; gap: 1em; padding: .1rem 0; break-inside: avoid; }\n",
	"dt { flex: 0 0 11.5em; color: var(--soft); }\n",
	"dd { margin: 0; min-width: 0; }\n",
	"dl.brief { columns: 2 18rem; column-gap: 2rem; }\n",
	".finding { margin: .6rem 0; padding: .5rem .9rem; background: var(--pale);\n"
	"  border-left: 4px solid var(--soft); break-inside: avoid; }\n",
	".finding h3, .finding h4 { margin: 0; }\n",
	".finding p { margin: .1rem 0 0; }\n",
	".finding .sure { font-weight: 400; }\n",
	".finding .tag { display: inline-block; margin-left: .4em; padding: 0 .5em; font-size: .85em;\n"
	"  font-weight: 600; border: 1px solid; border-radius: 2px; color: var(--soft); "
	"background: #fff; }\n",
	".act { border-left-color: var(--act); }\n",
	".act .tag { color: var(--act); }\n",
	".gone { border-left-color: var(--good); }\n",
	".gone .tag { color: var(--good); }\n",
	".watch { border-left-color: var(--watch); border-left-style: double; }\n",
	".watch .tag { color: var(--watch); }\n",
	"table { width: 100%; border-collapse: collapse; margin: .5rem 0 .8rem; }\n",
	"th, td { padding: .24rem .9rem .24rem 0; text-align: left; vertical-align: top;\n"
	"  border-bottom: 1px solid var(--line); overflow-wrap: normal; }\n",
	"th:last-child, td:last-child { padding-right: 0; }\n",
	"th { font-weight: 400; }\n",
	"thead th { font-weight: 600; color: var(--soft); font-size: .88em; vertical-align: bottom;\n"
	"  border-bottom: 1px solid var(--soft); }\n",
	"tr { break-inside: avoid; }\n",
	"tbody th { min-width: 9.5em; }\n",
	"td.brief { white-space: nowrap; }\n",
	".n { text-align: right; white-space: nowrap; }\n",
	"thead .n { white-space: normal; }\n",
	".subtotal th, .subtotal td { color: var(--soft); background: var(--pale); }\n",
	"tfoot th, tfoot td { border-bottom: 0; }\n",
	"tfoot tr:first-child > * { border-top: 1.5px solid var(--soft); }\n",
	"tfoot tr:last-child > * { font-weight: 700; font-size: 1.06em; }\n",
	".aloud { position: absolute; width: 1px; height: 1px; overflow: hidden;\n"
	"  clip-path: inset(50%); white-space: nowrap; }\n",
	".dense section:has(> .readings) { columns: 2 22rem; column-gap: 2rem; }\n",
	".dense section:has(> .readings) > h2 { column-span: all; }\n",
	".readings { font-size: .9em; break-inside: avoid; }\n",
	".readings thead th:first-child { color: var(--accent); }\n",
	/* Two tables stand side by side: a cell takes a second line before one runs into the other. */
	".dense .readings th, .dense .readings td { white-space: normal; padding-right: .5em; }\n",
	".dense .readings tbody th { min-width: 5em; }\n",
	".good { color: var(--good); }\n",
	".rulers { font-size: .94em; }\n",
	".rulers th, .rulers td { padding-right: .5em; vertical-align: middle; }\n",
	".rulers .n { padding-right: .5em; }\n",
	".rulers .stage { padding-left: 2.2em; white-space: nowrap; }\n",
	".rulers td:last-child { white-space: nowrap; }\n",
	".rulers small { display: block; min-width: 11em; line-height: 1.2; white-space: normal; }\n",
	".key { width: .9em; height: .9em; vertical-align: -.1em; }\n",
	".drawn { width: 25%; }\n",
	".ruler { display: block; width: 100%; min-width: 6.5rem; max-width: 17rem; height: auto; }\n",
	".rule { fill: none; stroke: var(--soft); stroke-width: 1; }\n",
	".stretch { fill: #a9bfc4; }\n",
	".spread { stroke: var(--ink); stroke-width: 3; opacity: .45; }\n",
	".found { fill: #fff; stroke: var(--ink); stroke-width: 1.6; }\n",
	".left { fill: var(--ink); }\n",
	"figure { margin: .8rem 0; break-inside: avoid; }\n",
	".trend { display: block; width: 100%; height: auto; }\n",
	".trend text { font: 15px system-ui, \"Liberation Sans\", sans-serif; fill: var(--soft); }\n",
	".grid { stroke: var(--line); stroke-width: 1; }\n",
	".course { fill: none; stroke: var(--ink); stroke-width: 1.8; }\n",
	".limit { stroke: var(--act); stroke-width: 1.6; stroke-dasharray: 6 4; }\n",
	".sign { display: flex; gap: 2rem; margin-top: 3rem; break-inside: avoid; }\n",
	".sign p { flex: 1 1 0; margin: 0; padding-top: .2rem; border-top: 1px solid var(--ink);\n"
	"  color: var(--soft); font-size: .88em; }\n",
	"@media screen and (max-width: 48rem) {\n"
	"  main, .dense main { margin: 0; padding: 1.1rem; }\n"
	"  dl div { display: block; }\n"
	"  dl.brief { columns: 1; }\n"
	"  th, td { padding-right: .5rem; }\n"
	"  tbody th { min-width: 0; }\n"
	"  .cards thead { display: none; }\n"
	"  .cards, .cards tbody, .cards tr, .cards th, .cards td { display: block; width: auto;\n"
	"    text-align: left; white-space: normal; border: 0; padding: 0; }\n"
	"  .cards tr { padding: .4rem 0; border-bottom: 1px solid var(--line); }\n"
	"  .cards th { font-weight: 600; }\n"
	"  .cards td { display: inline; padding-right: .4em; }\n"
	"  .cards td[data-name]::before { content: attr(data-name) \" \"; color: var(--soft); }\n"
	"  .cards .verdict { padding-right: 1em; }\n"
	"  .cards .drawn { display: block; width: 100%; margin: .2rem 0; }\n"
	"  .cards .drawn .ruler { max-width: none; }\n"
	"  .readings td { white-space: normal; }\n"
	"  .sign { display: block; }\n"
	"  .sign p { margin-top: 3rem; }\n"
	"}\n",
	"@page { margin: 12mm 15mm 16mm; @bottom-left { font: 9pt system-ui, \"Liberation Sans\",\n"
	"  sans-serif; color: #4f5b62; vertical-align: top; padding-top: 3mm; width: 58%; }\n"
	"  @bottom-right { font: 9pt system-ui, \"Liberation Sans\", sans-serif; color: #4f5b62;\n"
	"  vertical-align: top; padding-top: 3mm; } }\n",
	"@media print {\n"
	"  body { background: #fff; font-size: 9.4pt; line-height: 1.18; }\n"
	"  body.dense { font-size: 8.2pt; line-height: 1.22; }\n"
	"  main, .dense main { max-width: none; margin: 0; padding: 0; }\n"
	"  header { padding-bottom: 1.5mm; }\n"
	"  header .company { font-size: 13pt; }\n"
	"  h1 { font-size: 15.5pt; margin: 2.4mm 0 1.4mm; }\n"
	"  h2 { font-size: 10.6pt; margin: 1.4mm 0 .6mm; padding-bottom: .4mm; }\n"
	"  .dense h2 { font-size: 9.6pt; margin: 2.4mm 0 .8mm; }\n"
	"  h3, h4 { font-size: 1em; margin: 1.4mm 0 .6mm; }\n"
	"  p, ul, dl { margin: .7mm 0; }\n"
	"  .small, small, figcaption, thead th, .readings, .sign p, .finding .tag { font-size: 9pt; }\n"
	"  .dense .small, .dense small, .dense figcaption, .dense thead th, .dense .readings,\n"
	"  .dense .finding .tag { font-size: .93em; }\n"
	"  .rulers { font-size: 9pt; }\n"
	"  .dense .rulers { font-size: .95em; }\n"
	"  dl div { padding: .1mm 0; }\n"
	"  table { margin: .6mm 0 1.2mm; }\n"
	"  th, td { padding-top: .25mm; padding-bottom: .25mm; }\n"
	"  .dense th, .dense td { padding-top: .15mm; padding-bottom: .15mm; }\n"
	"  dl, .cards:not(.rulers) { break-inside: avoid; }\n"
	"  .finding { margin: 1mm 0; padding: .6mm 2.5mm; }\n"
	"  .finding ul { padding-left: 1.1em; margin: .2mm 0; }\n"
	"  .dense .finding ul { columns: 2; }\n"
	"  .caution { padding: .6mm 2.5mm; }\n"
	"  .ruler { width: 36mm; min-width: 0; }\n"
	"  .dense figure { display: flex; gap: 4mm; align-items: center; margin: 1mm 0; }\n"
	"  .dense .trend { flex: 0 0 46%; }\n"
	"  .trend text { font-size: 17px; fill: var(--ink); }\n"
	"  .dense section:has(> .readings) { columns: 2; }\n"
	"  .dense dl.brief { columns: 3; column-gap: 4mm; }\n"
	"  .dense dl.brief dt { flex-basis: 13.2em; }\n"
	"  .sign { margin-top: 9mm; }\n"
	/* Else a footer is repeated on every page. */
	"  tfoot { display: table-row-group; }\n"
	"}\n",
	NULL,
};
