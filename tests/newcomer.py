#!/usr/bin/env python3
"""The newcomer's exercise: a reading, a figure made of it and a fault that uses both, added by the
guide alone.

    make check-guide

In a scratch copy the rows below are added to the files that "A new thing is a row" in DEVELOPERS.md
names for a reading, a figure, a fault and a next check, and to no other.  The copy must then build
with warnings as errors and the sanitizers, its tests must pass once the golden files were looked at
and the pages of the manual written anew, and the new fault must stand first in `padside assess`
where the new reading shows it.  A file that is edited here and not named in the guide, or named
there and missing, fails.
"""

import glob
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

GUIDE = "DEVELOPERS.md"
THINGS = ("A reading", "A figure", "A fault", "A next check")

# What a newcomer writes: the file, the beginning of the line before which it goes, and the text.
READING = ("include/padside/catalog/readings.def", "READING(LINE_VOLTAGE_STARTING,", """\
READING(NEUTRAL_VOLTAGE, "neutral_voltage",
	.label = "neutral to ground",
	.help = "Neutral bar to the ground bar, with the unit running.",
	.tells = "Normally below 5 V. Much more: the neutral is loose or too thin for its load.",
	.step = STEP_ELECTRICAL, .kind = KIND_NUMBER,
	.unit = UNIT_VOLT, .decimals = 1, .hard = { 0, 700 }, .plausible = { 0, 10 },
	.instrument = INSTRUMENT_VOLTMETER_LOW)
""")
SPAN = ("tests/unit/test_limits.c", '	{ "line_voltage_starting",', """\
	{ "neutral_voltage", 0, 10, NAN, 60 },
""")
FIGURE = ("include/padside/catalog/figures.def", "FIGURE(STARTING_SAG,", """\
FIGURE(NEUTRAL_SHARE, "neutral_share",
	.label = "neutral voltage, share", .unit = UNIT_PERCENT, .decimals = 1,
	.needs = { { READING_NEUTRAL_VOLTAGE }, { READING_LINE_VOLTAGE } },
	.formula = "100 x neutral to ground voltage / line voltage",
	.source = "definition")
""")
FIGURE_FUNCTION = ("src/model/electrical_figures.c", "enum status evaluate_STARTING_SAG(", """\
enum status evaluate_NEUTRAL_SHARE(const struct inputs *inputs, double *value)
{
	return electrical_share(inputs->numbers[READING_NEUTRAL_VOLTAGE],
	                        inputs->numbers[READING_LINE_VOLTAGE], value);
}

""")
WORKED = ("tests/unit/test_figures.c", "	/* 5.5 RLA when the nameplate has no LRA", """\
	/* By hand: 100 x 24 / 240. */
	{ FIGURE_NEUTRAL_SHARE, { { READING_NEUTRAL_VOLTAGE, "24" }, { READING_LINE_VOLTAGE, "240" } },
	  10, 1e-9 },
""")
EXPECTED = ("src/model/expect.c", "	[FIGURE_STARTING_SAG]", """\
	[FIGURE_NEUTRAL_SHARE] = { .low = 0, .high = 2, .source = "common practice" },
""")
FAULT = ("include/padside/catalog/faults.def", "FAULT(LOW_LINE_VOLTAGE,", """\
FAULT(NEUTRAL_LOOSE, "neutral_loose",
	.family = FAMILY_ELECTRICAL, .prior = 0.01,
	.label = "loose neutral connection",
	.meaning = "A wire of the house's supply has come loose, and voltages wander.",
	.advice = "Look for a loose or burnt neutral from the panel to the unit; tighten it, or have "
	          "an electrician do so. Then read again.",
	.caution = "Live panel work belongs to a licensed electrician where the code says so.")
""")
STATES = ("src/diagnose/states.def", "VARIABLE(CONTACTS,", """\
VARIABLE(NEUTRAL, SOUND, ALONE)
STATE(NEUTRAL, LOOSE, .fault = FAULT_NEUTRAL_LOOSE, .level = LEVEL_ACT, .weight = 1)

""")
CLUE = ("src/diagnose/clues_supply.c", "void clues_of_supply(", """\
/* Common practice: up to 2 V of drop on a loaded neutral, some per cent of the line where it is loose. */
static void collect_neutral(const struct view *view, struct clues *clues)
{
	struct clue *clue = clue_from_figure(view, clues, VARIABLE_NEUTRAL, FIGURE_NEUTRAL_SHARE);

	if (clue) {
		double sd = clue_meter_sd(clue, 0.1);
		CLUE_SAY(clue, { OTHERS(NEUTRAL), density_even(clue->value, 0, 1.5, sd) },
		         { STATE_NEUTRAL_LOOSE, density_even(clue->value, 2, 40, sd) });
		clue_expect(clue, 0.5);
		return;
	}
	/* The volts alone, where the line was not read. */
	clue = clue_from_reading(view, clues, VARIABLE_NEUTRAL, READING_NEUTRAL_VOLTAGE);
	if (clue) {
		double sd = clue_meter_sd(clue, 0.2);
		CLUE_SAY(clue, { OTHERS(NEUTRAL), density_even(clue->value, 0, 3, sd) },
		         { STATE_NEUTRAL_LOOSE, density_even(clue->value, 4, 80, sd) });
		clue_expect(clue, 1);
	}
}

""")
CLUE_CALL = ("src/diagnose/clues_supply.c", "	collect_sag(view, clues);", """\
	collect_neutral(view, clues);
""")
NEXT_CHECK = ("include/padside/diagnose/next_checks.def", "PART_CHECK(CONTACTOR_DROP,", """\
PART_CHECK(NEUTRAL_VOLTAGE,              NEUTRAL,     0.40, 1.5, false, "whether the neutral is loose")
""")
STATEMENT = ("tests/statements/findings-electrical.txt", "statement ", """\
statement a neutral that carries voltage
source common practice: some per cent of the line between neutral and ground is a loose neutral
input {"as_found": {"line_voltage": 240, "neutral_voltage": 24}}
must neutral_loose first act

statement a sound neutral
source common practice
input {"as_found": {"line_voltage": 240, "neutral_voltage": 0.5}}
must not neutral_loose act

""")
EDITS = (READING, SPAN, FIGURE, FIGURE_FUNCTION, WORKED, EXPECTED, FAULT, STATES, CLUE, CLUE_CALL,
         NEXT_CHECK, STATEMENT)

# Readings, and what must come first: with the line voltage through the figure, without by the reading.
CALLS = (
    ({"line_voltage": 240, "neutral_voltage": 24}, "neutral_loose", 10.0),
    ({"neutral_voltage": 24}, "neutral_loose", None),
    ({"line_voltage": 240, "neutral_voltage": 0.5}, None, 0.2083),
)

failures = []


def check(what, holds, why=""):
    print(f"{'ok     ' if holds else 'FAILED '} {what}" + (f": {why}" if why and not holds else ""),
          flush=True)
    if not holds:
        failures.append(what)
    return holds


def named_files(root):
    """The files that the guide names for the things added here; * stands for a part of a name."""
    with open(os.path.join(root, GUIDE), encoding="utf-8") as file:
        guide = file.read()
    files = set()
    for thing in THINGS:
        row = re.search(rf"^- \*\*{thing}\*\*:(.*?)(?=^- \*\*|^\n)", guide, re.M | re.S)
        if check(f"the guide has a row for: {thing}", row is not None):
            files.update(re.findall(r"`((?:src|include|tests|schema|man)/[\w./*-]+)`", row.group(1)))
    return files


def copy_tree(root, target):
    out = subprocess.run(["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others",
                          "--exclude-standard"], cwd=root, stdout=subprocess.PIPE, check=True).stdout
    for name in out.decode().split("\0"):
        if name and os.path.exists(os.path.join(root, name)):
            to = os.path.join(target, name)
            os.makedirs(os.path.dirname(to), exist_ok=True)
            shutil.copy2(os.path.join(root, name), to)


def insert(root, path, before, text):
    with open(os.path.join(root, path), encoding="utf-8") as file:
        lines = file.read().splitlines(keepends=True)
    places = [i for i, line in enumerate(lines) if line.startswith(before)]
    if check(f"{path} has a line {before.strip()}", bool(places)):
        place = places[0]
        with open(os.path.join(root, path), "w", encoding="utf-8") as file:
            file.write("".join(lines[:place]) + text + "".join(lines[place:]))


def run(root, words, **environment):
    done = subprocess.run(words, cwd=root, env=dict(os.environ, **environment),
                          start_new_session=True, stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    return done.returncode, done.stdout.decode("utf-8", "replace")


def make(root, *words):
    flags = ("CFLAGS=-O1 -g", "FORTIFY=", "WERROR=-Werror",
             "SANITIZE=-fsanitize=address,undefined -fno-sanitize-recover=all")
    jobs = f"-j{os.cpu_count() or 2}"
    return run(root, ["make", "-s", jobs, *flags, *words], MAKEFLAGS="", MAKELEVEL="")


def take_over_pages(root):
    """What was drawn becomes the golden file, unread: the exercise asks whether the guide names all
    that is needed. Who adds a thing in earnest reads each difference first."""
    drawing = []
    for path in sorted(glob.glob(os.path.join(root, "tests/*/test_*.c"))):
        with open(path, encoding="utf-8") as file:
            if re.search(r"\b(golden_\w+|desk_look)\(", file.read()):
                drawing.append(os.path.basename(path)[len("test_"):-len(".c")])
    run(root, ["build/test-runner", *drawing], BUILD="build", CK_FORK="no")
    run(root, ["tests/cli/pages.sh"], BUILD="build")
    for golden in glob.glob(os.path.join(root, "tests/*/golden/*")) + \
            glob.glob(os.path.join(root, "tests/cli/pages/*")):
        drawn = os.path.join(root, "build", "pages" if "/pages/" in golden else "golden",
                             os.path.basename(golden))
        if os.path.exists(drawn):
            shutil.copy(drawn, golden)


def assess(root, readings):
    done = subprocess.run(["build/padside", "assess", "--json", "-"], cwd=root,
                          input=json.dumps({"as_found": readings}).encode(), stdout=subprocess.PIPE)
    return json.loads(done.stdout or b"{}")


def check_answers(root):
    for readings, fault, share in CALLS:
        answer = assess(root, readings)
        found = answer.get("findings", [])
        first = found[0]["id"] if found else None
        if fault:
            check(f"{readings}: {fault} stands first", first == fault, str(first))
            check(f"{readings}: it asks for action", bool(found) and found[0]["level"] == "act")
        else:
            check(f"{readings}: nothing to act on", all(f["level"] != "act" for f in found))
        if share is not None:
            value = answer["figures"].get("neutral_share", {}).get("value")
            check(f"{readings}: the figure", value is not None and abs(value - share) < 1e-3, str(value))
    wanted = [c["reading"] for c in assess(root, {"line_voltage": 240}).get("next_checks", [])]
    print(f"        next checks after the line voltage: {', '.join(wanted) or 'none'}")


def main():
    with tempfile.TemporaryDirectory(prefix="padside-newcomer-") as place:
        root = os.path.join(place, "tree")
        copy_tree(os.path.abspath(sys.argv[1] if len(sys.argv) > 1 else "."), root)
        named = {name for pattern in named_files(root)
                 for name in glob.glob(pattern, root_dir=root) or [pattern]}
        for path, before, text in EDITS:
            check(f"the guide names {path}", path in named)
            insert(root, path, before, text)
        status, said = make(root, "tests")
        if check("it builds, warnings as errors, sanitized", status == 0, said[-3000:]):
            status, said = make(root, "man")
            check("the manual is written anew", status == 0, said[-1000:])
            if os.environ.get("GUIDE") != "answers":
                take_over_pages(root)
                # Leaks are looked for where the whole is sanitized; here they would take most of the time,
                # and so would a process for each test.
                status, said = run(root, ["tests/all"], BUILD="build", CK_FORK="no",
                                   ASAN_OPTIONS="detect_leaks=0")
                failed = [line for line in said.splitlines() if "FAILED" in line or re.search(r":[EF]:", line)]
                check("every test passes", status == 0, "\n".join(failed[:20]) + "\n" + said[-300:])
                print(f"        {(said.splitlines() or ['no answer'])[-1]}")
            check_answers(root)
    print(f"newcomer: {'all of it holds' if not failures else f'{len(failures)} failed'}")
    return 1 if failures else 0


if __name__ == "__main__":
    raise SystemExit(main())
