#!/usr/bin/env python3
"""Breaks the program in small ways, one at a time, and sees whether a test notices.

    make mutate [SEED=1] [COUNT=100] [ROOMS="calc model"] [QUICK=1]

QUICK=1 runs the suites only, without the scripts and the sanitizers: fewer are killed, much sooner.

A mutant is one change of one place: a relation, a number, a sign, && and ||, two arguments, a cell
of a table, a call left out.  It is made in a scratch copy of the tree, only what depends on it is
built, and the tests run: those nearest to its room first, then every suite, then the scripts that
drive the program; when all of them pass, once more under the sanitizers.  A mutant is

  killed        a test fails, a sanitizer speaks up, or nothing ends in time
  survived      every test passes: a test is missing, or the change makes no difference
  equivalent    it survived, and equivalents.txt argues why nothing can tell it from the original
  not compiled  the compiler refuses it

The same SEED and COUNT make the same mutants of the same tree.  Places are drawn in two steps, so
that long tables do not crowd out short functions: a file, by its number of lines; then a place.
"""

import argparse
import collections
import glob
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass

ROOMS = ("base", "calc", "catalog", "model", "diagnose", "store", "report", "app", "tui", "cli")

# Suites that are nearest to a room: they run first, and mostly that is enough.
NEAREST = {
    "base": "base text glyph csv json json_text band plot wrap number catalog bad_input",
    "calc": "refrigerant moist_air coil electrical airflow charge uncertainty barometer drift "
            "figures bad_input charging",
    "catalog": "catalog tables figures visit diagnose diagnose_electrical history",
    "model": "figures charging visit money bill tables diagnose",
    "diagnose": "diagnose diagnose_electrical session demo",
    "store": "store merge faults session demo call_json",
    "report": "paper bill reports papers money",
    "app": "session call_json papers demo history prices csv summary_line",
    "tui": "workbook pages customer_pages canvas widgets edit curses local",
    "cli": "base",
}
# Scripts that are nearest to a room, when every suite has passed.
SCRIPTS = {
    "base": "record figure export", "calc": "figure assess", "catalog": "figure assess record manual",
    "model": "figure assess record", "diagnose": "assess", "store": "books calls hostile record",
    "report": "export hostile pdf", "app": "tables record history ledger prices settings calls assess",
    "tui": "general", "cli": "general calls export figure assess history ledger prices record "
                             "settings books hostile",
}
# Made by a program from the reference library, which `make check-reference` holds it to.
LEFT_OUT = ("src/calc/refrigerant_curves.def",)

BUILD_SECONDS, TEST_SECONDS = 300, 240

# Pointers and numbers in each other's place do not compile.
FLAGS = ("CFLAGS=-O0", "FORTIFY=", "WERROR=-Werror=int-conversion -Werror=incompatible-pointer-types")
SANITIZED = ("SANITIZE=-fsanitize=address,undefined -fno-sanitize-recover=all",)


@dataclass(frozen=True)
class Mutant:
    path: str
    start: int
    end: int
    text: str  # what stands there instead
    line: int
    before: str
    after: str

    @property
    def room(self):
        parts = self.path.split("/")
        return parts[2] if parts[0] == "include" else parts[1]

    def change(self):
        return f"{self.before}  ->  {self.after}"


# ---- Places ----


def blank_out(source):
    """The source with comments, strings, directives and assertions as spaces: places stay."""
    def spaces(match):
        return re.sub(r"[^\n]", " ", match.group())
    code = re.sub(r'/\*.*?\*/|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])+\'', spaces, source,
                  flags=re.S)
    return re.sub(r"^[ \t]*#[ \t]*(include|if|ifdef|ifndef|elif|else|endif|undef)\b[^\n]*"
                  r"|^[ \t]*(assert|_Static_assert|static_assert)\([^;]*;", spaces, code, flags=re.M)


RELATIONS = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "=="}
NUMBER = r"(?<![\w.\"])(?:\d+\.\d*(?:[eE][-+]?\d+)?|\d+(?:[eE][-+]?\d+)|0[xX][0-9a-fA-F]+|\d+|\.\d+)(?![\w.])"
# A declared length, or an enumerator that is one, only makes a buffer longer.
LENGTH = re.compile(r"^[ \t]*(?:static |const |unsigned |struct |enum )*\w+[ \t*]+\w+(?:\[\w+\])*\[(\d+)\]"
                    r"|\b\w*(?:SIZE|LENGTH|BYTES|CAPACITY)\w* (?:= )?(\d+)", re.M)


def other_number(text):
    if re.fullmatch(r"\d+", text):
        return str(int(text) + 1)
    if text.lower().startswith("0x"):
        return hex(int(text, 16) + 1)
    value = float(text)
    return repr(value * 1.25 if value else 0.5)


def find_numbers(code):
    lengths = {match.start(k) for match in LENGTH.finditer(code) for k in (1, 2) if match.group(k)}
    for match in re.finditer(NUMBER, code):
        if match.start() not in lengths:
            yield match.start(), match.end(), other_number(match.group())


def find_relations(code):
    for match in re.finditer(r"(?<=\s)(<=|>=|==|!=|<|>)(?=\s)", code):
        yield match.start(), match.end(), RELATIONS[match.group()]


def find_signs(code):
    for match in re.finditer(r"(?<=[\w)\]] )[-+*/](?= [\w(*&-])", code):
        yield match.start(), match.end(), {"+": "-", "-": "+", "*": "/", "/": "*"}[match.group()]
    for match in re.finditer(r"(?<=[\w)\]] )(\+=|-=)(?= )", code):
        yield match.start(), match.end(), {"+=": "-=", "-=": "+="}[match.group()]
    for match in re.finditer(r"(?<=[{(,=?:\s])-(?=[\d.(a-z])", code):
        yield match.start(), match.end(), ""
    for match in re.finditer(r"\+\+|--", code):
        yield match.start(), match.end(), {"++": "--", "--": "++"}[match.group()]


def find_logic(code):
    for match in re.finditer(r"&&|\|\|", code):
        yield match.start(), match.end(), {"&&": "||", "||": "&&"}[match.group()]
    for match in re.finditer(r"!(?=[\w(])", code):
        yield match.start(), match.end(), ""
    for match in re.finditer(r"\b(true|false)\b", code):
        yield match.start(), match.end(), {"true": "false", "false": "true"}[match.group()]


def find_arguments(code):
    """Two simple arguments, or two cells, side by side."""
    simple = r"[A-Za-z_][\w.>\-]*|-?\d+(?:\.\d+)?"
    for match in re.finditer(rf"(?<=[(,{{])( ?)({simple})(, )({simple})(?=[,)}}]| }})", code):
        gap, first, comma, second = match.groups()
        if first != second:
            yield match.start(), match.end(), gap + second + comma + first


def find_calls(code):
    for match in re.finditer(r"(?<=\n)(\t+)([a-z]\w*\([^;{}\n]*\));(?=\n)", code):
        if not re.match(r"(return|if|for|while|switch|sizeof)\b", match.group(2)):
            yield match.start(2), match.end(2), "(void)0"


FINDERS = (find_numbers, find_relations, find_signs, find_logic, find_arguments, find_calls)


def mutants_of(path, root):
    with open(os.path.join(root, path), encoding="utf-8") as file:
        source = file.read()
    code = blank_out(source)
    found = []
    for finder in FINDERS:
        for start, end, text in finder(code):
            first = source.rfind("\n", 0, start) + 1
            last = source.find("\n", end)
            whole = source[first:last].strip()
            changed = (source[first:start] + text + source[end:last]).strip()
            found.append(Mutant(path, start, end, text, source.count("\n", 0, start) + 1, whole,
                                changed))
    return sorted(found, key=lambda m: (m.start, m.text))


def tree_files(root):
    """What git knows of, or would."""
    out = subprocess.run(["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others",
                          "--exclude-standard"], cwd=root, stdout=subprocess.PIPE, check=True).stdout
    return sorted(name for name in out.decode().split("\0")
                  if name and os.path.exists(os.path.join(root, name)))


def sources(root, rooms):
    names = glob.glob("src/*/*", root_dir=root) + glob.glob("include/padside/*/*", root_dir=root)
    for name in sorted(names):
        if re.fullmatch(r"src/\w+/\w+\.(c|def)|include/padside/\w+/\w+\.def", name):
            parts = name.split("/")
            room = parts[2] if parts[0] == "include" else parts[1]
            if room in rooms and name not in LEFT_OUT:
                yield name


def draw(root, seed, count, rooms):
    """`count` mutants, none twice."""
    rng = random.Random(seed)
    places = {name: mutants_of(name, root) for name in sources(root, rooms)}
    places = {name: found for name, found in places.items() if found}
    names = sorted(places)
    if not names:
        return []
    lines = {}
    for name in names:
        with open(os.path.join(root, name), encoding="utf-8") as file:
            lines[name] = sum(1 for _ in file)
    drawn = {}
    for _ in range(50 * count):
        if len(drawn) == count:
            break
        name = rng.choices(names, [lines[n] for n in names])[0]
        mutant = rng.choice(places[name])
        drawn.setdefault((name, mutant.start, mutant.text), mutant)
    return list(drawn.values())


# ---- Equivalents ----


def read_equivalents(path):
    """path | line before | line after | why"""
    # Ended from outside, it still clears its copies away.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    argued = set()
    with open(path, encoding="utf-8") as file:
        for line in file:
            if line.strip() and not line.startswith("#"):
                where, before, after, why = (part.strip() for part in line.split(" | "))
                assert why, line
                argued.add((where, before, after))
    return argued


# ---- A scratch copy ----


class Copy:
    """The tree at one moment, built with the given flags."""

    def __init__(self, root, files, flags, is_quick):
        self.flags = flags
        self.is_quick = is_quick
        self.files = files
        self.place = tempfile.mkdtemp(prefix="padside-mutate-")
        self.tree = os.path.join(self.place, "tree")
        self.log = os.path.join(self.place, "log")  # of the last command
        home = os.path.join(self.place, "home")
        os.makedirs(home)
        for name in files:
            target = os.path.join(self.tree, name)
            os.makedirs(os.path.dirname(target), exist_ok=True)
            shutil.copy2(os.path.join(root, name), target)
        self.environment = dict(os.environ, HOME=home, TMPDIR=home, BUILD="build",
                                LC_ALL="C.UTF-8", CK_DEFAULT_TIMEOUT="10", CK_VERBOSITY="silent")
        self.environment.pop("MAKEFLAGS", None)
        self.environment.pop("MAKELEVEL", None)

    def close(self):
        shutil.rmtree(self.place, ignore_errors=True)

    def run(self, command, seconds):
        """True: it succeeded; False: it failed; None: it did not end."""
        with open(self.log, "wb") as log, \
             subprocess.Popen(command, cwd=self.tree, env=self.environment, start_new_session=True,
                              stdin=subprocess.DEVNULL, stdout=log, stderr=log) as process:
            try:
                return process.wait(seconds) == 0
            except subprocess.TimeoutExpired:
                os.killpg(process.pid, signal.SIGKILL)
                return None

    def build(self, target):
        return self.run(["make", "-s", *self.flags, target], BUILD_SECONDS)

    def write(self, path, source):
        with open(os.path.join(self.tree, path), "w", encoding="utf-8") as file:
            file.write(source)

    def suites(self):
        with open(os.path.join(self.tree, "build/suites.def"), encoding="utf-8") as file:
            return re.findall(r"SUITE\((\w+)\)", file.read())

    def is_noticed(self, room):
        """Whether a test fails, or does not end: what is quick to build and run comes first."""
        suites = self.suites()
        near = [name for name in NEAREST[room].split() if name in suites]
        far = [name for name in suites if name not in near]
        for names in (near, far):
            if not self.run(["build/test-runner", *names], TEST_SECONDS):
                return True
        if self.is_quick:
            return False
        if not self.build("tests"):
            return True
        return any(not self.run([f"tests/cli/{name}.sh"], TEST_SECONDS)
                   for name in SCRIPTS[room].split())

    def judge(self, mutant):
        with open(os.path.join(self.tree, mutant.path), encoding="utf-8") as file:
            source = file.read()
        self.write(mutant.path, source[:mutant.start] + mutant.text + source[mutant.end:])
        try:
            if not self.build("build/test-runner"):
                return "not compiled"
            return "killed" if self.is_noticed(mutant.room) else "survived"
        finally:
            self.write(mutant.path, source)


# ---- The report ----


def print_table(counts):
    print(f"\n{'room':10s}{'killed':>9s}{'survived':>10s}{'equivalent':>12s}{'not compiled':>14s}"
          f"{'of what compiles':>18s}")
    total = collections.Counter()
    for room in (*ROOMS, "all"):
        row = counts[room] if room != "all" else total
        total.update(row if room != "all" else {})
        told = row["killed"] + row["survived"]
        if told + row["equivalent"] + row["not compiled"]:
            share = f"{row['killed'] / told:.1%}" if told else "-"
            print(f"{room:10s}{row['killed']:9d}{row['survived']:10d}{row['equivalent']:12d}"
                  f"{row['not compiled']:14d}{share:>18s}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--root", default=".")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--rooms", nargs="*", default=[])
    parser.add_argument("--quick", action="store_true", help="the suites only")
    parser.add_argument("--list", action="store_true", help="show the mutants, make none")
    args = parser.parse_args()
    unknown = [room for room in args.rooms if room not in ROOMS]
    if unknown:
        parser.error(f"no room {unknown[0]}; rooms are {', '.join(ROOMS)}")
    argued = read_equivalents(os.path.join(os.path.dirname(os.path.abspath(__file__)),
                                           "equivalents.txt"))
    if args.list:
        for mutant in draw(args.root, args.seed, args.count, args.rooms or ROOMS):
            print(f"{mutant.path}:{mutant.line}: {mutant.change()}")
        return 0
    copy = Copy(os.path.abspath(args.root), tree_files(args.root), FLAGS, args.quick)
    sanitized = None
    counts = collections.defaultdict(collections.Counter)
    try:
        # Drawn from the copy: the tree itself may change meanwhile.
        mutants = draw(copy.tree, args.seed, args.count, args.rooms or ROOMS)
        if not copy.build("tests") or copy.is_noticed("cli"):
            with open(copy.log, encoding="utf-8", errors="replace") as log:
                print(log.read()[-3000:], file=sys.stderr)
            print("the tree itself does not build and pass; there is nothing to break", file=sys.stderr)
            return 1
        began = time.monotonic()
        for number, mutant in enumerate(mutants, 1):
            verdict = copy.judge(mutant)
            if verdict == "survived" and not args.quick:
                if not sanitized:
                    sanitized = Copy(copy.tree, copy.files, FLAGS + SANITIZED, False)
                    sanitized.build("tests")
                verdict = sanitized.judge(mutant)
            if verdict == "survived" and (mutant.path, mutant.before, mutant.after) in argued:
                verdict = "equivalent"
            counts[mutant.room][verdict] += 1
            if verdict == "survived":
                print(f"survived  {mutant.path}:{mutant.line}: {mutant.change()}", flush=True)
            if number % 10 == 0:
                print(f"          {number} of {len(mutants)}, {time.monotonic() - began:.0f} s",
                      flush=True)
    finally:
        for one in (copy, sanitized):
            if one:
                one.close()
    print(f"\nseed {args.seed}, {len(mutants)} mutants")
    print_table(counts)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
