/*
 * The style sheet of the HTML paper: ink on white, one accent, fonts of the
 * reader's own system.  Screen first, then what changes in print; lengths in
 * print are in points and millimetres so that Letter and A4 both hold.
 */
#include "report/page_style.h"

#include <stddef.h>

const char *const page_style[] = {
	":root { color-scheme: light; --ink: #1d2528; --soft: #566068; --line: #cfd6d9;\n"
	"  --accent: #0b5563; --pale: #eef3f4; --act: #9c2318; --watch: #8a5200; --good: #25663a; }\n",
	"* { box-sizing: border-box; }\n",
	"body { margin: 0; background: #e4e9ea; color: var(--ink);\n"
	"  font: 15px/1.45 system-ui, -apple-system, \"Segoe UI\", \"Liberation Sans\", sans-serif;\n"
	"  font-variant-numeric: tabular-nums; print-color-adjust: exact;\n"
	"  -webkit-print-color-adjust: exact; }\n",
	"main { max-width: 60rem; margin: 1.5rem auto; padding: 2.2rem 2.6rem; background: #fff; }\n",
	"header { display: flex; flex-wrap: wrap; gap: 0 1.2em; align-items: baseline;\n"
	"  padding-bottom: .5rem; border-bottom: 3px solid var(--accent); color: var(--soft); }\n",
	"header p { margin: 0; }\n",
	"header .company { color: var(--accent); font-size: 1.2rem; font-weight: 700;\n"
	"  margin-right: auto; }\n",
	"h1 { font-size: 1.7rem; line-height: 1.2; margin: 1rem 0 .6rem; }\n",
	"h2 { font-size: 1.08rem; margin: 1.4rem 0 .45rem; padding-bottom: .15rem;\n"
	"  color: var(--accent); border-bottom: 1px solid var(--line); break-after: avoid; }\n",
	"h3, h4 { font-size: 1rem; margin: .8rem 0 .3rem; break-after: avoid; }\n",
	"p { margin: .4rem 0; }\n",
	".lead { font-size: 1.05em; font-weight: 600; }\n",
	".small, small, figcaption { color: var(--soft); font-size: .87em; font-weight: 400; }\n",
	".caution { padding: .45rem .8rem; border: 1.5px solid var(--act); border-left-width: 6px; }\n",
	"ul { margin: .3rem 0; padding-left: 1.2em; }\n",
	"dl { margin: .4rem 0; }\n",
	"dl div { display: flex; gap: 1em; padding: .08rem 0; }\n",
	"dt { flex: 0 0 11.5em; color: var(--soft); }\n",
	"dd { margin: 0; }\n",
	"dl.brief { columns: 2 18rem; column-gap: 2rem; }\n",
	"dl div { break-inside: avoid; }\n",
	".finding { margin: .5rem 0; padding: .35rem .8rem .4rem; background: var(--pale);\n"
	"  border-left: 6px solid var(--soft); break-inside: avoid; }\n",
	".finding h3, .finding h4 { margin: 0; }\n",
	".finding .sure { font-weight: 400; }\n",
	".finding .tag { float: right; font-size: .8em; font-weight: 600; padding: 0 .5em;\n"
	"  border: 1px solid; border-radius: 3px; color: var(--soft); background: #fff; }\n",
	".act { border-left-color: var(--act); }\n",
	".act .tag { color: var(--act); }\n",
	".gone { border-left-color: var(--good); }\n",
	".gone .tag { color: var(--good); }\n",
	".watch { border-left-color: var(--watch); border-left-style: double; }\n",
	".watch .tag { color: var(--watch); }\n",
	"table { width: 100%; border-collapse: collapse; margin: .4rem 0 .7rem; }\n",
	"th, td { padding: .16rem .9rem .16rem 0; text-align: left; vertical-align: top;\n"
	"  border-bottom: 1px solid var(--line); }\n",
	"th:last-child, td:last-child { padding-right: 0; }\n",
	"th { font-weight: 400; }\n",
	"thead th { font-weight: 600; color: var(--soft); font-size: .87em;\n"
	"  border-bottom: 1.5px solid var(--soft); }\n",
	"thead th { vertical-align: bottom; }\n",
	"tr { break-inside: avoid; }\n",
	"td.brief { white-space: nowrap; }\n",
	".n { text-align: right; white-space: nowrap; }\n",
	".subtotal th, .subtotal td { color: var(--soft); font-style: italic; }\n",
	"tfoot th, tfoot td { border-bottom: 0; }\n",
	"tfoot tr:first-child > * { border-top: 1.5px solid var(--soft); }\n",
	"tfoot tr:last-child > * { font-weight: 700; font-size: 1.05em; }\n",
	".aloud { position: absolute; width: 1px; height: 1px; overflow: hidden;\n"
	"  clip-path: inset(50%); white-space: nowrap; }\n",
	"section:has(> .readings) { columns: 2 20rem; column-gap: 2rem; }\n",
	"section:has(> .readings) > h2 { column-span: all; }\n",
	".readings { font-size: .87em; break-inside: avoid; }\n",
	".readings thead th:first-child { color: var(--accent); }\n",
	".good { color: var(--good); }\n",
	".rulers td { white-space: nowrap; vertical-align: middle; }\n",
	".rulers .n { padding-right: .5em; }\n",
	".rulers .stage { padding-left: 2.2em; white-space: nowrap; }\n",
	".rulers th { white-space: nowrap; vertical-align: middle; }\n",
	".rulers small { display: block; white-space: normal; min-width: 11em; line-height: 1.15; }\n",
	".key { width: .9em; height: .9em; vertical-align: -.1em; }\n",
	".rulers { font-size: .94em; }\n",
	".rulers th, .rulers td { padding-right: .5em; }\n",
	".drawn { width: 25%; }\n",
	".ruler { display: block; width: 100%; min-width: 6.5rem; max-width: 17rem; height: auto; }\n",
	".rule { fill: none; stroke: var(--soft); stroke-width: 1; }\n",
	".stretch { fill: #a9bfc4; }\n",
	".spread { stroke: var(--ink); stroke-width: 3; opacity: .45; }\n",
	".found { fill: #fff; stroke: var(--ink); stroke-width: 1.6; }\n",
	".left { fill: var(--ink); }\n",
	"figure { margin: .7rem 0; break-inside: avoid; }\n",
	".trend { display: block; width: 100%; height: auto; }\n",
	".trend text { font: 15px system-ui, \"Liberation Sans\", sans-serif; fill: var(--soft); }\n",
	".course { fill: none; stroke: var(--ink); stroke-width: 1.5; }\n",
	".limit { stroke: var(--act); stroke-width: 1.5; stroke-dasharray: 6 4; }\n",
	"@media (max-width: 54rem) {\n"
	"  main { margin: 0; padding: 1rem; }\n"
	"  table { display: block; overflow-x: auto; }\n"
	"}\n",
	"@page { margin: 9mm 13mm 8mm; }\n",
	"@media print {\n"
	"  body { background: #fff; font-size: 7.9pt; line-height: 1.19; }\n"
	"  main { max-width: none; margin: 0; padding: 0; }\n"
	"  header { padding-bottom: 1mm; }\n"
	"  header .company { font-size: 12pt; }\n"
	"  h1 { font-size: 14.5pt; margin: 2mm 0 1mm; }\n"
	"  h2 { font-size: 9.3pt; margin: 1.6mm 0 .5mm; padding-bottom: 0; }\n"
	"  h3, h4 { font-size: 8.8pt; margin: 1.2mm 0 .6mm; }\n"
	"  p, ul, dl { margin: .7mm 0; }\n"
	"  dl div { padding: 0; }\n"
	"  dt { flex-basis: 11.5em; }\n"
	"  table { margin: .8mm 0 1.2mm; }\n"
	"  th, td { padding-top: .15mm; padding-bottom: .15mm; }\n"
	"  table, dl { break-inside: avoid; }\n"
	"  .rulers { break-inside: auto; }\n"
	"  .readings { margin-top: 0; }\n"
	"  .finding { margin: 1mm 0; padding: .6mm 2.5mm .8mm; }\n"
	"  .finding ul { columns: 2; }\n"
	"  .caution { padding: .8mm 2.5mm; }\n"
	"  .ruler { width: 42mm; min-width: 0; }\n"
	"  figure { display: flex; gap: 4mm; align-items: center; margin: 1mm 0; }\n"
	"  .trend { flex: 0 0 30%; }\n"
	"  section:has(> .readings) { columns: 2; }\n"
	"  dl.brief { columns: 3; column-gap: 4mm; }\n"
	"  dl.brief dt { flex-basis: 13.2em; }\n"
	"  dl.brief div { gap: .5em; }\n"
	/* Else a footer is repeated on every page. */
	"  tfoot { display: table-row-group; }\n"
	"}\n",
	NULL,
};
