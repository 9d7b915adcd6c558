"""Scores the circuit's diagnosis in every way it is used, on fleets from generate.py.

    modes.py --padside build/padside --calls FILE --labels FILE [--name NAME] [--detail]
             [--learn-calls FILE --learn-labels FILE]

  one-shot   what a technician on a cooling call writes down
  deciding   the same, and return bend, standing pressure and air leaving the condenser
  past       the same as one-shot, and one or two earlier visits of the unit, left sound
  asking     two pressures, one pipe, two air temperatures; then what the program asks for first,
             reading by reading, beside a fixed textbook order
  learner    with --learn-*: gradient boosting trained on the readings of that other split and asked
             about these calls, as the ceiling of what the readings hold

Counted, for single faults: right first where the fault costs a tenth of capacity, and where it costs
5 % of capacity or efficiency; sound units on which something is level `act`; calibration in ten
bins, and in brackets what chance alone makes of it when every stated probability is exactly right;
for pairs in which each alone costs 5 %, both among the first three.  Electrical calls are report.py's.
"""

import argparse
import collections
import copy
import json
import math
import subprocess

DECIDING = ("condenser_bend_temp", "standing_pressure", "standing_temp", "condenser_leaving_db")
FIRST = ("compressor_state", "fan_state", "suction_pressure", "liquid_pressure",
         "suction_line_temp", "outdoor_db", "return_db")
TEXTBOOK = ("liquid_line_temp", "return_wb", "supply_db", "discharge_line_temp")
STEPS = (2, 4)


def load(path):
    with open(path, encoding="utf-8") as lines:
        return [json.loads(line) for line in lines]


def ask(program, calls):
    text = "".join(json.dumps(call) + "\n" for call in calls)
    done = subprocess.run([program, "assess", "--json", "-"], input=text.encode(),
                          stdout=subprocess.PIPE, check=False)
    return [json.loads(line) for line in done.stdout.decode().splitlines()]


class Score:
    """Counts over calls of (label, ids in order, probability of the first, whether level act)."""

    def __init__(self):
        self.tenth, self.twentieth, self.false, self.pairs = ([0, 0] for _ in range(4))
        self.points = []
        self.by = collections.defaultdict(lambda: [0, 0, collections.Counter()])

    def add(self, label, ids, probability, act):
        first = ids[0] if ids else "healthy"
        right = first in label["truth"] or first in label["accept"]
        if ids:
            self.points.append((probability, right))
        if label["kind"] == "healthy":
            self.false[0] += 1
            self.false[1] += act
        elif label["kind"] == "pair":
            self.pairs[0] += 1
            self.pairs[1] += all(fault in ids[:3] for fault in label["truth"])
        elif label["kind"] == "single":
            self.tenth[0] += label["capacity_loss"] >= 0.10
            self.tenth[1] += right and label["capacity_loss"] >= 0.10
            if max(label["capacity_loss"], label["efficiency_loss"]) >= 0.05:
                self.twentieth[0] += 1
                self.twentieth[1] += right
                row = self.by[("valve " if label["metering"] in ("txv", "exv") else "orifice ")
                              + label["way"]]
                row[0] += 1
                row[1] += right
                if not right:
                    row[2][first] += 1

    def calibration(self):
        bins = collections.defaultdict(float)
        for probability, right in self.points:
            bins[min(int(probability * 10), 9)] += probability - right
        return sum(map(abs, bins.values())) / max(len(self.points), 1)

    def chance(self):
        """The expected calibration of an answer that is right as often as it says, on so few calls."""
        bins = collections.defaultdict(float)
        for probability, _ in self.points:
            bins[min(int(probability * 10), 9)] += probability * (1.0 - probability)
        total = sum(math.sqrt(2.0 / math.pi * variance) for variance in bins.values())
        return total / max(len(self.points), 1)

    def line(self):
        share = lambda pair: f"{pair[1] / pair[0]:6.1%} of{pair[0]:5d}" if pair[0] else " " * 14
        return (f"{share(self.tenth)}  {share(self.twentieth)}  {share(self.false)}  "
                f"{self.calibration():5.3f} ({self.chance():5.3f})  {share(self.pairs)}")


def score(labels, answers):
    total = Score()
    for label, answer in zip(labels, answers):
        findings = answer["findings"]
        total.add(label, [f["id"] for f in findings],
                  findings[0]["probability"] if findings else 0.0,
                  any(f["level"] == "act" for f in findings))
    return total


def asking(program, calls, labels):
    """After each of STEPS: the score when following the program, and in the textbook's order."""
    led, fixed = [], []
    for call, label in zip(calls, labels):
        bare = copy.deepcopy(call)
        bare["as_found"] = {key: label["readings"][key] for key in FIRST
                            if key in label["readings"]}
        led.append(bare)
        fixed.append(copy.deepcopy(bare))
    out = {0: (score(labels, ask(program, led)),) * 2}
    for step in range(1, max(STEPS) + 1):
        for call, label, answer in zip(led, labels, ask(program, led)):
            for check in answer["next_checks"]:
                if check["reading"] in label["readings"]:
                    call["as_found"][check["reading"]] = label["readings"][check["reading"]]
                    if check["reading"] == "standing_pressure":
                        call["as_found"]["standing_temp"] = label["readings"]["standing_temp"]
                    break
        for call, label in zip(fixed, labels):
            key = TEXTBOOK[step - 1]
            call["as_found"][key] = label["readings"][key]
        if step in STEPS:
            out[step] = (score(labels, ask(program, led)), score(labels, ask(program, fixed)))
    return out


NUMBERS = ("suction_pressure", "liquid_pressure", "suction_line_temp", "liquid_line_temp",
           "discharge_line_temp", "outdoor_db", "return_db", "return_wb", "return_rh", "supply_db",
           "supply_wb", "common_amps", "airflow", "drier_in_temp", "drier_out_temp",
           "condenser_bend_temp", "standing_pressure", "standing_temp", "condenser_leaving_db")
FIGURES = ("suction_saturation_temp", "superheat", "condenser_over_outdoor", "subcooling",
           "temperature_split", "rla_share", "target_superheat", "drier_drop")


def row(call, answer):
    """A call as numbers: readings, the program's figures, the nameplate."""
    found, system = call["as_found"], call["system"]
    figures = answer["figures"]
    return ([found.get(key, float("nan")) for key in NUMBERS]
            + [(figures.get(key) or {}).get("value") if (figures.get(key) or {}).get("value")
               is not None else float("nan") for key in FIGURES]
            + [system.get("seer", float("nan")), system.get("target_subcooling", float("nan")),
               float(system["metering"] in ("txv", "exv")),
               float(hash_of(system["refrigerant"]))])


def hash_of(name):
    return ("R-410A", "R-22", "R-32", "R-454B", "R-407C", "R-134a").index(name)


def learner(program, calls, labels, learn_calls, learn_labels):
    from sklearn.ensemble import HistGradientBoostingClassifier
    single = [i for i, label in enumerate(learn_labels) if label["kind"] in ("healthy", "single")]
    x = [row(learn_calls[i], a) for i, a in
         zip(single, ask(program, [learn_calls[i] for i in single]))]
    y = [(learn_labels[i]["truth"] or ["healthy"])[0] for i in single]
    # What was never taken there teaches nothing.
    kept = [i for i in range(len(x[0])) if len({r[i] for r in x if r[i] == r[i]}) > 1]
    keep = lambda rows: [[r[i] for i in kept] for r in rows]
    model = HistGradientBoostingClassifier(max_iter=150, random_state=0).fit(keep(x), y)
    total = Score()
    names = list(model.classes_)
    shares = model.predict_proba(keep([row(c, a) for c, a in zip(calls, ask(program, calls))]))
    for label, share in zip(labels, shares):
        order = sorted((n for n in names if n != "healthy"), key=lambda n: -share[names.index(n)])
        best = share[names.index(order[0])]
        total.add(label, order, best, best >= 0.6)
    return total


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--padside", default="build/padside")
    parser.add_argument("--calls", required=True)
    parser.add_argument("--labels", required=True)
    parser.add_argument("--name", default="")
    parser.add_argument("--learn-calls")
    parser.add_argument("--learn-labels")
    parser.add_argument("--detail", action="store_true", help="by fault")
    args = parser.parse_args()
    pairs = [(c, l) for c, l in zip(load(args.calls), load(args.labels))
             if l["kind"] in ("healthy", "single", "pair") and "readings" in l]
    calls, labels = [c for c, _ in pairs], [l for _, l in pairs]
    print(f"\n{args.name:20s}    a tenth of         5 % of either     sound told        "
          "calibration     pairs, both\n" + " " * 24 + "capacity                            to act"
          "            (by chance)      in three")

    def show(name, total):
        print(f"{name:20s}{total.line()}", flush=True)
        if args.detail:
            for way, (n, right, wrong) in sorted(total.by.items()):
                print(f"    {way:34s}{right / n:5.0%} of {n:4d}  "
                      + ", ".join(f"{k} {v}" for k, v in wrong.most_common(4)))

    show("one-shot", score(labels, ask(args.padside, calls)))
    deciding = copy.deepcopy(calls)
    for call, label in zip(deciding, labels):
        call["as_found"].update({key: label["readings"][key] for key in DECIDING})
    show("deciding readings", score(labels, ask(args.padside, deciding)))
    for visits in (1, 2):
        past = [dict(c, earlier=l["earlier"][-visits:]) for c, l in zip(calls, labels)]
        show(f"past, {visits} visit{'s' if visits > 1 else ''}",
             score(labels, ask(args.padside, past)))
    for step, (led, fixed) in asking(args.padside, calls, labels).items():
        show(f"asked, {step} readings", led)
        if step:
            show(f"textbook, {step}", fixed)
    if args.learn_calls:
        other = [(c, l) for c, l in zip(load(args.learn_calls), load(args.learn_labels))
                 if "readings" in l]
        show("learner", learner(args.padside, calls, labels, [c for c, _ in other],
                                [l for _, l in other]))


if __name__ == "__main__":
    main()
