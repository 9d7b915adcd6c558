"""The JSON Schema of a call, held against the program by a public validator.

usage: schema.py PROGRAM

Checked with the package jsonschema (its Draft 2020-12 validator):
the schema is a schema; every call of the demo, and each again as the program
exports it, is valid; what the schema calls invalid, the program refuses; and what
`assess` answers to the demo's calls is as the schema says.
"""

import copy
import json
import pathlib
import subprocess
import sys
import tempfile

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]

# Where a document is broken, and with what.
BROKEN = (
    (("customer", "nickname"), "Ada"),
    (("site", "altitude"), 90000),
    (("system", "refrigerant"), "R-9999"),
    (("system", "model"), 7),
    (("call", "opened_at"), "yesterday"),
    (("as_found", "suction_pressure"), True),
    (("as_found", "breaker_tripped"), "perhaps"),
    (("as_found", "nameplate"), 1),
    (("charge_log", 0, "added"), -5),
    (("work", 0, "kind"), "gift"),
    (("work", 0, "unit_price"), "12.505"),
    (("choices", 0, "decision"), "maybe"),
    (("watch", 0, "text"), ["two", "lines"]),
    (("billing", "discount"), 101),
    (("taken_at", "as_found", "suction_pressure"), 9),
    (("weather",), {}),
)


# An earlier visit as `assess` takes it, and what it does not take.
EARLIER = {"opened_at": "2025-06-03T09:12", "as_left": {"suction_pressure": 127}}
BROKEN_EARLIER = ({"refit": "perhaps"}, {"opened_at": "yesterday"}, {"weather": 1},
                  {"as_found": {"refrigerant": "R-22"}}, 7)


def run(program, book, *words, stdin=None):
    return subprocess.run(
        [program, "--book", book, *words], input=stdin, capture_output=True, text=True, check=False
    )


def breaks(document, path, value):
    """The document with one member replaced; lists and sections are made where they lack."""
    broken = copy.deepcopy(document)
    at = broken
    for step, following in zip(path, path[1:]):
        if isinstance(step, str):
            at = at.setdefault(step, [{}] if isinstance(following, int) else {})
        else:
            at = at[step]
    at[path[-1]] = value
    return broken


def main():
    program = sys.argv[1]
    failures = []
    count = 0

    def check(what, holds):
        nonlocal count
        count += 1
        if not holds:
            failures.append(what)

    schema = json.loads((ROOT / "schema/call.schema.json").read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    lines = (ROOT / "demo/book.ndjson").read_text().splitlines()
    with tempfile.TemporaryDirectory() as scratch:
        book = f"{scratch}/book.db"
        recorded = run(program, book, "record", str(ROOT / "demo/book.ndjson"))
        for number, line in enumerate(lines, 1):
            check(f"demo call {number} is valid", validator.is_valid(json.loads(line)))
        for call in recorded.stdout.split():
            written = run(program, book, "export", call, "--for", "office", "--format", "json")
            problems = list(validator.iter_errors(json.loads(written.stdout)))
            check(f"{call} as exported is valid: {problems[:1]}", not problems)
        whole = json.loads(lines[-1])
        for path, value in BROKEN:
            broken = breaks(whole, path, value)
            where = "/".join(map(str, path))
            check(f"{where} = {value!r} is invalid", not validator.is_valid(broken))
            answer = run(program, f"{scratch}/other.db", "record", "-", stdin=json.dumps(broken))
            check(f"{where} = {value!r} is refused", answer.returncode == 1)
    answers = run(program, "", "assess", "--json", str(ROOT / "demo/book.ndjson")).stdout
    answered = jsonschema.Draft202012Validator({**schema["$defs"]["answer"],
                                                "$defs": schema["$defs"]})
    for number, line in enumerate(answers.splitlines(), 1):
        problems = list(answered.iter_errors(json.loads(line)))
        check(f"the answer to demo call {number} is valid: {problems[:1]}", not problems)
    check("every demo call is answered", len(answers.splitlines()) == len(lines))
    for earlier, holds in [(EARLIER, True), ({**EARLIER, "refit": True}, True)] + [
            (broken, False) for broken in BROKEN_EARLIER]:
        document = {"as_found": {"suction_pressure": 130}, "earlier": [earlier]}
        check(f"earlier {earlier!r} is valid: {holds}", validator.is_valid(document) == holds)
        answer = run(program, "", "assess", "--json", "-", stdin=json.dumps(document))
        check(f"earlier {earlier!r} is taken: {holds}", (answer.returncode == 0) == holds)
    for failure in failures:
        print(f"FAIL {failure}")
    print(f"{count - len(failures)} passed, {len(failures)} failed")
    sys.exit(1 if failures or not recorded.stdout else 0)


if __name__ == "__main__":
    main()
