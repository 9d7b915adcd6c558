#!/usr/bin/env python3
"""Breaks the program in small ways, one at a time, and sees whether a test notices.

    make mutate [SEED=1] [COUNT=100] [EACH=40] [ROOMS="calc model"] [QUICK=1] [SANITIZED=1] [AGAIN=LOG]

COUNT mutants are drawn from the rooms together, or EACH from every room.  QUICK=1 runs the nearest
suites and scripts only: fewer are killed, much sooner.  SANITIZED=1 runs what survives again, sanitized.
AGAIN=LOG tries what survived in the output of an earlier run, and draws nothing.

A mutant is one change of one place: a relation, a number, a sign, && and ||, two arguments, a cell
of a table, a call left out.  It is made in a scratch copy of the tree, only what depends on it is
built (ccache knows what a changed table left as it was), and the tests run until one fails: the
suites that include the file's header, those nearest to its room, the scripts nearest to it, and
every other suite that is quick.  A failure counts when it is seen twice and the same test
passes on the tree as it is; a test that fails there is named and kills nothing.  A mutant is

  killed        a test fails, or does not end
  survived      every test passes: a test is missing, or the change makes no difference
  equivalent    it survived, and equivalents.txt argues why nothing can tell it from the original
  not compiled  the compiler refuses it

The share is what was killed of what compiles and is not equivalent, with the 95 % interval of the
sample (Wilson); over several rooms the shares are weighed by the lines of each room.

The same SEED and COUNT make the same mutants of the same tree.  Places are drawn in two steps, so
that long tables do not crowd out short functions: a file, by its number of lines; then a place.
"""

import argparse
import collections
import glob
import os
import random
import re
import resource
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
    "base": "base beside gather text glyph utf8 csv json_text band plot typed units bad_input",
    "calc": "refrigerant moist_air coil electrical airflow charge uncertainty barometer drift "
            "figures bad_input charging tightness_calc",
    "catalog": "catalog conditions tables figures visit diagnose diagnose_electrical history states "
               "limits",
    "model": "figures cylinder call_parts tightness_shown tightness_log slips power charging visit money bill tables "
             "diagnose expect checklist call_lists",
    "diagnose": "measured likelihoods chances circuit diagnose contradictions next_checks "
                "diagnose_electrical assessment states session demo",
    "store": "entries moving finding store keeping flaws apart merge arrivals old_book session "
             "call_json call_parts two taken_back prices bare",
    "report": "wording paper bill reports papers money judging",
    "app": "trail_words short_texts series unit_past result_json call_json_words settings "
           "ledger prices csv summary_line rows typed_fields looked_up session held progress "
           "background undone other_program taken_back two call_json call_parts papers demo history "
           "tightness_log assessment changes questions unkept",
    "tui": "canvas widgets edit inks tours workbook pages customer_pages records findings_page "
           "predictions checklists cylinders units_shown compare hints clear keystrokes unkept "
           "two_at_once changes questions office_line curses local judging quick tightness",
    "cli": "base",
}
# Scripts that are nearest to a room: they run before the suites of the other rooms.
SCRIPTS = {
    "base": "record figure export statements", "calc": "figure assess statements",
    "catalog": "figure assess record manual statements completion",
    "model": "figure assess record statements", "diagnose": "assess statements",
    "store": "books calls hostile record ledger",
    "report": "statements export hostile pdf pages units",
    "app": "statements pages tables record history ledger prices settings calls assess",
    "tui": "general screens/mouse screens/terminals",
    "cli": "pages general calls export figure assess history ledger prices record settings books "
           "hostile completion tables rates",
}
# Made by programs, and held to their sources by other means than these tests:
LEFT_OUT = (
    # from the reference library; `make check-reference` holds every curve to it
    "src/calc/refrigerant_curves.def",
    # by `make circuit-table` from many simulated units: one number of thousands moves a likelihood
    # by less than its own sampling; `make check-diagnose` scores the whole against floors
    "src/diagnose/circuit_table.c",
    # by generate_characters.py; the suite utf8 holds every width to the C library
    "src/base/characters.def",
)

# Only a server shows what they do: where there is none they are left out, and it is said.
SERVED = tuple(f"src/{name}.c" for name in ("store/sync", "store/take", "store/unread", "store/office",
                                            "store/libpq", "cli/office", "cli/find"))
SERVER_TEST = "tests/store/office.sh"


def has_server():
    return bool(glob.glob("/usr/lib/postgresql/*/bin/initdb") + glob.glob("/usr/pgsql-*/bin/initdb")
                or shutil.which("initdb"))


# What a call releases is looked for under the sanitizers, where a leak fails (make sanitize).
RELEASES = re.compile(r"\s*(va_end|f?close|free|\w+_(free|done|close|unref|finalize))\(")

BUILD_SECONDS, FIRST_BUILD_SECONDS = 600, 3600
TEST_SECONDS = 1200
CPU_SECONDS = 8  # of one process: a mutant that computes longer has no end, however busy the machine
SLOW = ("requests", "trail", "faults", "local")  # run only where a room names them
SOUND = "build-sound"

# Pointers and numbers in each other's place do not compile.  What only hardens is left out: make
# would ask the compiler about each of it for every mutant.
FLAGS = ("CFLAGS=-O0", "FORTIFY=", "HARDENED=", "LINK_HARDENED=",
         "WERROR=-Werror=int-conversion -Werror=incompatible-pointer-types")
SANITIZED = ("SANITIZE=-fsanitize=address,undefined -fno-sanitize-recover=all",)


def room_of(path):
    parts = path.split("/")
    return parts[2] if parts[0] == "include" else parts[1]


def script(name):
    return f"tests/{name}.sh" if "/" in name else f"tests/cli/{name}.sh"


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
        return room_of(self.path)

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
                  r"|^[ \t]*#[ \t]*define \w+\([^)\n]*\)[ \t]*$"
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


# Of two that are equal either is the smaller, or the larger.
EITHER = re.compile(r"([\w.>\[\]-]+) ([<>]=?) ([\w.>\[\]-]+) \? (?:\1 : \3|\3 : \1)(?![\w.>\[\]-])")


def find_relations(code):
    even = {match.start(2) for match in EITHER.finditer(code)}
    for match in re.finditer(r"(?<=\s)(<=|>=|==|!=|<|>)(?=\s)", code):
        if match.start() not in even:
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


# Of these the order of two arguments makes no difference.
EVEN = re.compile(r"\b(fmin|fmax|hypot)$")
SAME = re.compile(r"\)(?: [!=]= 0| (?:&&|\|\|)|\))")  # and of these where only sameness is asked


def find_arguments(code):
    """Two simple arguments, or two cells, side by side."""
    simple = r"[A-Za-z_][\w.>\-]*|-?\d+(?:\.\d+)?"
    for match in re.finditer(rf"(?<=[(,{{])( ?)({simple})(, )({simple})(?=[,)}}]| }})", code):
        gap, first, comma, second = match.groups()
        called = code[:match.start() - 1][-8:]
        is_even = EVEN.search(called) or (re.search(r"\bstrcmp$", called)
                                          and SAME.match(code, match.end()))
        if first != second and not is_even:
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
            if (room_of(name) in rooms and name not in LEFT_OUT
                    and (name not in SERVED or has_server())):
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
    """path | line before | line after | why; a line after of * stands for every change of the line"""
    argued = set()
    with open(path, encoding="utf-8") as file:
        for line in file:
            if line.strip() and not line.startswith("#"):
                where, before, after, why = (part.strip() for part in line.split(" | "))
                assert why, line
                argued.add((where, before, after))
    return argued


def tell_gone(argued, root):
    """What is argued of a line ends with the line."""
    for where in sorted({where for where, _, _ in argued}):
        path = os.path.join(root, where)
        there = set()
        if os.path.exists(path):
            with open(path, encoding="utf-8") as file:
                there = {line.strip() for line in file}
        for before in sorted(b for w, b, _ in argued if w == where and b not in there):
            print(f"argued of a line that is gone: {where}: {before}", flush=True)


# ---- A scratch copy ----


def limit_cpu():
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))


class Copy:
    """The tree at one moment, built with the given flags."""

    def __init__(self, root, files, flags, is_quick):
        self.flags = flags
        self.is_quick = is_quick
        self.files = files
        self.sound = {}  # whether a test passes on the tree as it is, of those that were asked
        self.place = tempfile.mkdtemp(prefix="padside-mutate-")
        os.chmod(self.place, 0o755)  # as root, a server runs for another user
        self.tree = os.path.join(self.place, "tree")
        self.log = os.path.join(self.place, "log")  # of the last command
        home = os.path.join(self.place, "home")
        os.makedirs(home)
        for name in files:
            target = os.path.join(self.tree, name)
            os.makedirs(os.path.dirname(target), exist_ok=True)
            shutil.copy2(os.path.join(root, name), target)
        self.environment = dict(os.environ, HOME=home, TMPDIR=home, BUILD="build",
                                LC_ALL="C.UTF-8", CK_DEFAULT_TIMEOUT="600", CK_VERBOSITY="silent",
                                CK_TAP_LOG_FILE_NAME="-")
        for name in ("MAKEFLAGS", "MAKELEVEL"):
            self.environment.pop(name, None)
        if shutil.which("ccache"):
            self.flags += (f"CC=ccache {os.environ.get('CC', 'cc').removeprefix('ccache ')}",)
            self.environment.setdefault("CCACHE_DIR", os.path.join(self.place, "ccache"))
            self.environment["CCACHE_BASEDIR"] = self.place

    def close(self):
        shutil.rmtree(self.place, ignore_errors=True)

    def run(self, command, seconds):
        """True: it succeeded; False: it failed; None: it did not end."""
        ends = time.monotonic() + seconds
        with open(self.log, "wb") as log, \
             subprocess.Popen(command, cwd=self.tree, env=self.environment, start_new_session=True,
                              stdin=subprocess.DEVNULL, stdout=log, stderr=log,
                              preexec_fn=limit_cpu) as process:
            while process.poll() is None and time.monotonic() < ends and not self.has_failed():
                try:
                    process.wait(0.1)
                except subprocess.TimeoutExpired:
                    pass
            if process.poll() is not None:
                return process.returncode == 0
            is_late = time.monotonic() >= ends
            # The runner ends the test that it has begun, which is a group of its own.
            process.terminate()
            try:
                process.wait(2)
            except subprocess.TimeoutExpired:
                pass
            try:
                os.killpg(process.pid, signal.SIGKILL)
            except ProcessLookupError:
                pass
            return None if is_late else False

    def has_failed(self):
        """Whether the runner has said of a test that it failed: one is enough."""
        with open(self.log, "rb") as log:
            return re.search(rb"^not ok ", log.read(), re.M) is not None

    def build(self, target, seconds=BUILD_SECONDS):
        return self.run(["make", "-s", "-j2", *self.flags, target], seconds)

    def write(self, path, source):
        with open(os.path.join(self.tree, path), "w", encoding="utf-8") as file:
            file.write(source)

    def suites(self):
        with open(os.path.join(self.tree, "build/suites.def"), encoding="utf-8") as file:
            return re.findall(r"SUITE\((\w+)\)", file.read())

    def run_test(self, name, seconds, build="build"):
        command = [name] if name.startswith("tests/") else [f"{build}/test-runner", name]
        self.environment["BUILD"] = build
        try:
            return self.run(command, seconds)
        finally:
            self.environment["BUILD"] = "build"

    def keep_sound(self):
        """What was built of the tree as it is, to ask whether a test that fails passes there."""
        os.makedirs(os.path.join(self.tree, SOUND), exist_ok=True)
        for name in ("test-runner", "padside", "padside-pdf.so", "manual", "suites.def"):
            built = os.path.join(self.tree, "build", name)
            if os.path.exists(built):
                shutil.copy2(built, os.path.join(self.tree, SOUND, name))

    def passes_when_sound(self, name):
        """Whether a test passes on the tree as it is; asked once, when it first fails."""
        if name not in self.sound:
            # Twice: on a busy machine a server may start too late once.
            self.sound[name] = any(self.run_test(name, TEST_SECONDS, SOUND) for _ in range(2))
            if not self.sound[name]:
                print(f"left out      {name}: it fails on the tree as it is", flush=True)
        return self.sound[name]

    def including(self, path):
        """The suites that include the header of a file; of a table the manual too."""
        stem, room = os.path.splitext(os.path.basename(path))[0], room_of(path)
        if path.startswith("include/") and path.endswith(".def"):
            yield script("manual")
        header = re.compile(rf"include [<\"](?:padside/)?{room}/{stem}\.")
        for test in sorted(glob.glob("tests/*/test_*.c", root_dir=self.tree)):
            with open(os.path.join(self.tree, test), encoding="utf-8") as file:
                if header.search(file.read()):
                    yield os.path.basename(test)[len("test_"):-len(".c")]

    def order(self, path):
        """The tests for a mutant of that file, nearest first."""
        room = room_of(path)
        names = [*self.including(path), *NEAREST[room].split()]
        names += [script(name) for name in SCRIPTS[room].split()]
        if not self.is_quick:
            names += [name for name in self.suites() if name not in SLOW]
        names += [SERVER_TEST] if path in SERVED else []
        return [name for name in dict.fromkeys(names) if self.sound.get(name, True)]

    def has_no_end(self):
        """Whether the last command computed for longer than any test does."""
        with open(self.log, "rb") as log:
            return b"signal 24" in log.read()

    def fails(self, name):
        """Whether it fails twice, or has no end, and passes on the tree as it is."""
        return (not self.run_test(name, TEST_SECONDS)
                and (self.has_no_end() or not self.run_test(name, TEST_SECONDS))
                and self.passes_when_sound(name))

    def who_notices(self, path):
        """The test that fails, or does not end; None when all pass."""
        is_whole = False
        for name in self.order(path):
            if name.startswith("tests/") and not is_whole:
                if not self.build("tests"):
                    return "the build"
                is_whole = True
            if self.fails(name):
                return name
        return None

    def readers(self, mutant):
        """The files that expand the cell of a table; headers take the names of its rows only.

        None where it is no cell: all that includes the file is built.
        """
        if not mutant.path.endswith(".def") or re.match(r"[A-Z]+\(", mutant.before):
            return None
        name = mutant.path.removeprefix("include/").removeprefix("src/")
        found = []
        for path in self.files:
            if path.endswith(".c") and path.split("/")[0] in ("src", "man", "tests"):
                with open(os.path.join(self.tree, path), encoding="utf-8") as file:
                    if re.search(rf"^#include [<\"]{re.escape(name)}[>\"]", file.read(), re.M):
                        found.append(path)
        return found

    def put(self, mutant, source):
        """Writes the file so that make builds what depends on the change, and no more."""
        path = os.path.join(self.tree, mutant.path)
        written = os.stat(path).st_mtime_ns
        self.write(mutant.path, source)
        readers = self.readers(mutant)
        if readers is not None:
            os.utime(path, ns=(written, written))
            for reader in readers:
                os.utime(os.path.join(self.tree, reader))

    def judge(self, mutant):
        """What became of it, and by which test."""
        with open(os.path.join(self.tree, mutant.path), encoding="utf-8") as file:
            source = file.read()
        self.put(mutant, source[:mutant.start] + mutant.text + source[mutant.end:])
        try:
            if not self.build("build/test-runner"):
                return "not compiled", ""
            by = self.who_notices(mutant.path)
            return ("killed", by) if by else ("survived", "")
        finally:
            self.put(mutant, source)


# ---- The report ----


def interval(killed, told):
    """Wilson's 95 % interval of a share."""
    z = 1.96
    middle = (killed + z * z / 2) / (told + z * z)
    half = z / (told + z * z) * (killed * (told - killed) / told + z * z / 4) ** 0.5
    return max(0.0, middle - half), min(1.0, middle + half)


def share_of(row):
    told = row["killed"] + row["survived"]
    if not told:
        return "-"
    low, high = interval(row["killed"], told)
    return f"{row['killed'] / told:6.1%} ({low:.0%} to {high:.0%})"


def weighed(counts, weights):
    """The share over rooms that were sampled apart, by their size."""
    whole, share, variance = 0, 0.0, 0.0
    for room, row in counts.items():
        told = row["killed"] + row["survived"]
        if told:
            p = (row["killed"] + 1) / (told + 2)
            whole += weights[room]
            share += weights[room] * row["killed"] / told
            variance += weights[room] ** 2 * p * (1 - p) / told
    half = 1.96 * variance ** 0.5 / whole if whole else 0
    return f"{share / whole:6.1%} (± {half:.1%})" if whole else "-"


def print_table(counts, weights):
    print(f"\n{'room':10s}{'killed':>9s}{'survived':>10s}{'equivalent':>12s}{'not compiled':>14s}"
          f"   of what compiles, 95 %")
    for room in ROOMS:
        row = counts[room]
        if sum(row.values()):
            print(f"{room:10s}{row['killed']:9d}{row['survived']:10d}{row['equivalent']:12d}"
                  f"{row['not compiled']:14d}   {share_of(row)}")
    total = sum(counts.values(), collections.Counter())
    print(f"{'all':10s}{total['killed']:9d}{total['survived']:10d}{total['equivalent']:12d}"
          f"{total['not compiled']:14d}   {weighed(counts, weights)}, by the size of each room")


def read_arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--root", default=".")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=100, help="mutants of all rooms together")
    parser.add_argument("--each", type=int, default=0, help="mutants of each room, instead of a count")
    parser.add_argument("--rooms", nargs="*", default=[])
    parser.add_argument("--only", default="", help="of the drawn ones, those whose file has this in it")
    parser.add_argument("--quick", action="store_true", help="the nearest suites and scripts only")
    parser.add_argument("--sanitized", action="store_true", help="survivors again, sanitized")
    parser.add_argument("--again", default="", help="the output of a run whose survivors are tried")
    parser.add_argument("--list", action="store_true", help="show the mutants, make none")
    args = parser.parse_args()
    unknown = [room for room in args.rooms if room not in ROOMS]
    if unknown:
        parser.error(f"no room {unknown[0]}; rooms are {', '.join(ROOMS)}")
    args.rooms = args.rooms or ROOMS
    return args


def survivors_of(root, log):
    """Those of an earlier run that the tree still has; a line may have moved."""
    with open(log, encoding="utf-8") as file:
        told = re.findall(r"^survived +([^:]+):\d+: (.*?)  ->  (.*)$", file.read(), re.M)
    found = {}
    for path, before, after in told:
        for mutant in mutants_of(path, root):
            if (mutant.before, mutant.after) == (before, after):
                found.setdefault((path, before, after), mutant)
    return list(found.values())


def draw_all(root, args):
    if args.again:
        return survivors_of(root, args.again)
    if args.each:
        drawn = [m for room in args.rooms for m in draw(root, args.seed, args.each, (room,))]
    else:
        drawn = draw(root, args.seed, args.count, args.rooms)
    return [mutant for mutant in drawn if args.only in mutant.path and
            (args.sanitized or mutant.text != "(void)0" or not RELEASES.match(mutant.before))]


def try_all(mutants, copy, args):
    """What became of them, by room."""
    argued = read_equivalents(os.path.join(os.path.dirname(os.path.abspath(__file__)),
                                           "equivalents.txt"))
    tell_gone(argued, copy.tree)
    sanitized = None
    counts = collections.defaultdict(collections.Counter)
    began = time.monotonic()
    try:
        for number, mutant in enumerate(mutants, 1):
            became, by = copy.judge(mutant)
            if became == "survived" and args.sanitized:
                if not sanitized:
                    sanitized = Copy(copy.tree, copy.files, FLAGS + SANITIZED, True)
                    sanitized.build("tests", FIRST_BUILD_SECONDS)
                    sanitized.keep_sound()
                became, by = sanitized.judge(mutant)
            if became == "survived" and any((mutant.path, mutant.before, after) in argued
                                            for after in (mutant.after, "*")):
                became = "equivalent"
            counts[mutant.room][became] += 1
            print(f"{became:13s} {mutant.path}:{mutant.line}: {mutant.change()}"
                  + (f"  [{by}]" if by else ""), flush=True)
            if number % 20 == 0:
                print(f"              {number} of {len(mutants)}, {time.monotonic() - began:.0f} s",
                      flush=True)
    finally:
        if sanitized:
            sanitized.close()
    return counts


def main():
    args = read_arguments()
    if args.list:
        for mutant in draw_all(args.root, args):
            print(f"{mutant.path}:{mutant.line}: {mutant.change()}")
        return 0
    # Ended from outside, it still clears its copies away.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    if {"store", "cli"} & set(args.rooms) and not has_server():
        print(f"left out      {', '.join(SERVED)}: there is no server here to test them with")
    copy = Copy(os.path.abspath(args.root), tree_files(args.root), FLAGS, args.quick)
    try:
        # Drawn from the copy: the tree itself may change meanwhile.
        mutants = draw_all(copy.tree, args)
        if not copy.build("tests", FIRST_BUILD_SECONDS):
            with open(copy.log, encoding="utf-8", errors="replace") as log:
                print(log.read()[-3000:], file=sys.stderr)
            print("the tree itself does not build; there is nothing to break", file=sys.stderr)
            return 1
        copy.keep_sound()
        counts = try_all(mutants, copy, args)
        weights = collections.Counter()
        for name in sources(copy.tree, ROOMS):
            with open(os.path.join(copy.tree, name), encoding="utf-8") as file:
                weights[room_of(name)] += sum(1 for _ in file)
    finally:
        copy.close()
    print(f"\nseed {args.seed}, {len(mutants)} mutants")
    print_table(counts, weights)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
