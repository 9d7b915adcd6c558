#!/usr/bin/env python3
"""Lines and branches that the tests ran, by room, and what never ran.

    make coverage [MISSED=1]

Reads what gcov says, as JSON, about every object of the sources under FOLDER, built with
--coverage and run.  A line counts once, whoever included it; branches are those that gcov counts,
without the ones that only an exception or a compiler's own check would take.  With MISSED=1 every
function that never ran and every line is named.
"""

import argparse
import collections
import gzip
import json
import os
import re
import subprocess
import tempfile

ROOMS = ("base", "calc", "catalog", "model", "diagnose", "store", "report", "app", "tui", "cli")


def read_all(folder):
    """What gcov says about each object file."""
    objects = [os.path.join(path, name) for path, _, names in os.walk(folder)
               for name in names if name.endswith(".gcno")]
    with tempfile.TemporaryDirectory() as place:
        for number, name in enumerate(sorted(objects)):
            within = os.path.join(place, str(number))
            os.makedirs(within)
            subprocess.run(["gcov", "--json-format", "--branch-probabilities", os.path.abspath(name)],
                           cwd=within, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True)
            for written in os.listdir(within):
                with gzip.open(os.path.join(within, written), "rt", encoding="utf-8") as file:
                    yield json.load(file)


def room_of(path):
    match = re.search(r"(?:^|/)src/(\w+)/", path)
    return match.group(1) if match and match.group(1) in ROOMS else None


def gather(folder):
    """{path: ({line: runs}, {(line, branch): runs}, {function: (line, runs)})}"""
    files = collections.defaultdict(lambda: (collections.Counter(), collections.Counter(), {}))
    for answer in read_all(folder):
        for file in answer["files"]:
            path = os.path.normpath(file["file"])
            if not room_of(path):
                continue
            lines, branches, functions = files[path]
            for line in file["lines"]:
                lines[line["line_number"]] += line["count"]
                for number, branch in enumerate(line["branches"]):
                    if not branch["throw"]:
                        branches[line["line_number"], number] += branch["count"]
            for function in file["functions"]:
                runs = functions.get(function["name"], (0, 0))[1] + function["execution_count"]
                functions[function["name"]] = (function["start_line"], runs)
    return files


def share(counted):
    ran = sum(1 for runs in counted if runs)
    return f"{ran:7d} of {len(counted):6d} {ran / len(counted):7.1%}" if counted else ""


def ranges(numbers):
    """1, 2, 3, 7 as "1-3, 7"."""
    parts = []
    for number in sorted(numbers):
        if parts and number == parts[-1][1] + 1:
            parts[-1][1] = number
        else:
            parts.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in parts)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", help="of the objects, e.g. build/coverage/src")
    parser.add_argument("--missed", action="store_true", help="name what never ran")
    args = parser.parse_args()
    files = gather(args.folder)
    if args.missed:
        for path, (lines, _, functions) in sorted(files.items()):
            for name, (line, runs) in sorted(functions.items(), key=lambda row: row[1]):
                if not runs:
                    print(f"{path}:{line}: {name} never ran")
            missed = [number for number, runs in lines.items() if not runs]
            if missed:
                print(f"{path}: lines {ranges(missed)}")
    print(f"\n{'room':10s}{'lines that ran':>26s}{'branches taken':>28s}")
    for room in (*ROOMS, "all"):
        chosen = [of for path, of in files.items() if room in (room_of(path), "all")]
        lines = [runs for of in chosen for runs in of[0].values()]
        branches = [runs for of in chosen for runs in of[1].values()]
        print(f"{room:10s}{share(lines):>26s}{share(branches):>28s}")


if __name__ == "__main__":
    main()
