"""Writes src/diagnose/circuit_table.c: what the circuit's readings are, healthy and with each fault.

    circuit_table.py --output FILE [--tables DIR] [--units N]

For each kind of metering N units are built over the refrigerants in use, put in random weather and
solved with no fault and with every fault at three severities (a third of its range each).  Kept are,
in the coordinates of samples.py: the healthy mean as a regression on weather and nameplate; how much
each refrigerant differs; by fault and severity the mean shift as a regression on weather, the full
covariance over units and what it costs; and how much of the healthy covariance is the unit's own, by
reading the same units on two days.  Seeds are fixed: the file is remade digit by digit.
"""

import argparse
import sys

import numpy as np

import faults
import samples

KINDS = (("fixed_orifice", 0.8), ("capillary", 0.2)), (("txv", 0.8), ("exv", 0.2))
REFRIGERANTS = {"R-410A": 0.34, "R-22": 0.22, "R-454B": 0.16, "R-32": 0.14, "R-407C": 0.14}
NAMED = {"metering_clogged": "liquid_restriction", "line_restricted": "liquid_restriction"}
LEVELS = 3
LEVEL_SHARE = (0.40, 0.35, 0.25)      # lighter faults are met more often
SHIFT_FEATURES = 4
# Condensing over outdoor, °F, by SEER: fleet.APPROACH, the line that nameplates are read by.
SEER, APPROACH = zip(*samples.fleet.APPROACH)


def working_wet_bulb(dry_bulb, wet_bulb):
    """The wet bulb that a coil works on; on a dry coil the dry bulb counts (expected.c)."""
    dry = 43.3 + 0.47 * (dry_bulb - 43.3)
    over = wet_bulb - dry
    return dry + 0.5 * (over + np.sqrt(over * over + 4.0))


def features(weather, kind):
    """Regressors from the columns of samples.WEATHER."""
    outdoor, back, wet, altitude, seer, target = weather.T
    hot, moist = (outdoor - 95.0) / 10.0, (working_wet_bulb(back, wet) - 67.0) / 5.0
    return np.stack([np.ones(len(weather)), hot, moist, (back - 78.0) / 5.0, hot * hot,
                     moist * moist, hot * moist, (np.interp(seer, SEER, APPROACH) - 17.5) / 5.0,
                     altitude / 5000.0, kind * (target - 10.0) / 3.0], 1)


def fleets(kind, units, tables):
    for metering, part in KINDS[kind]:
        for number, (name, share) in enumerate(REFRIGERANTS.items()):
            n = max(24, round(units * part * share))
            rng = np.random.default_rng([20, kind, number, metering != KINDS[kind][0][0]])
            yield name, samples.Fleet(rng, name, tables, n, "tune", metering)


def gather(kind, units, tables):
    """Arrays of healthy units, and by fault and level of the same units with the fault."""
    healthy, again, faulty = [], [], {}
    for name, fleet in fleets(kind, units, tables):
        print(f"{fleet.info['metering'][0]} {name}: {fleet.n} units", file=sys.stderr, flush=True)
        weather = fleet.weather()
        sound = fleet.coordinates(fleet.base, fleet.healthy)
        for fault, (low, high, _) in faults.FAULTS.items():
            low = max(low, faults.VALVE_LEAST.get(fault, 0.0)) if kind else low
            for level in range(LEVELS):
                edges = low + (high - low) * np.array([level, level + 1]) / LEVELS
                severity = fleet.rng.uniform(*edges, fleet.n)
                with_fault, capacity, efficiency, mask = fleet.fault({fault: severity})
                faulty.setdefault((fault, level), []).append(
                    (weather[mask], sound[mask], with_fault[mask], capacity[mask],
                     efficiency[mask], np.full(mask.sum(), name)))
        mask = fleet.ok
        fleet.new_weather(other_day=True)
        mask = mask & fleet.ok
        healthy.append((weather[mask], sound[mask], np.full(mask.sum(), name)))
        again.append((fleet.weather()[mask], fleet.coordinates(fleet.base, fleet.healthy)[mask]))
    join = lambda rows: [np.concatenate(column) for column in zip(*rows)]
    return join(healthy), join(again), {key: join(rows) for key, rows in faulty.items()}


def positive(matrix):
    """The nearest covariance without negative directions."""
    values, vectors = np.linalg.eigh(0.5 * (matrix + matrix.T))
    return (vectors * np.maximum(values, 0.0)) @ vectors.T


def fit(kind, units, tables):
    (weather, sound, names), (weather2, sound2), faulty = gather(kind, units, tables)
    x = features(weather, kind)
    base = np.linalg.lstsq(x, sound, rcond=None)[0]
    rest = sound - x @ base
    offsets = {name: rest[names == name].mean(axis=0) for name in REFRIGERANTS}
    apart = lambda which: np.stack([offsets[name] for name in which])
    rest = rest - apart(names)
    rest2 = sound2 - features(weather2, kind) @ base - apart(names)
    own = positive((rest.T @ rest2 + rest2.T @ rest) / 2.0 / len(rest))
    classes = [("none", 0, 1.0, 0.0, 0.0, np.zeros((SHIFT_FEATURES, len(samples.COORDINATES))),
                np.cov(rest.T))]
    for (fault, level), (w, before, after, capacity, efficiency, which) in sorted(faulty.items()):
        g = features(w, kind)
        shift = np.linalg.lstsq(g[:, :SHIFT_FEATURES], after - before, rcond=None)[0]
        left = after - g @ base - apart(which) - g[:, :SHIFT_FEATURES] @ shift
        share = LEVEL_SHARE[level] * (0.5 if fault in NAMED else 1.0)
        classes.append((NAMED.get(fault, fault), level, share, capacity.mean(), efficiency.mean(),
                        shift, np.cov(left.T)))
    return base, offsets, own, classes


def number(value):
    """Three figures, at least a hundredth."""
    text = f"{value:.3g}" if abs(value) >= 0.1 else f"{value:.2f}"
    if "e" in text:
        text = f"{value:.0f}"
    return "0" if float(text) == 0.0 else text


def row(values, indent):
    return "\t" * indent + "{ " + ", ".join(number(v) for v in values) + " },\n"


def lower(matrix):
    return [matrix[i, j] for i in range(len(matrix)) for j in range(i + 1)]


def wrapped(values, indent):
    """Numbers in lines of up to 100 columns."""
    lines, line = [], ""
    for text in (number(v) for v in values):
        if len(line) + len(text) + 2 > 96 - 4 * indent:
            lines.append(line.rstrip())
            line = ""
        line += text + ", "
    lines.append(line.rstrip())
    return "".join("\t" * indent + text + "\n" for text in lines)


HEAD = """/*
 * Written by tests/bench/diagnose/circuit_table.py (make circuit-table): do not edit.
 *
 * What the circuit's readings are on units of a first-principles model, healthy and with each
 * fault; src/diagnose/circuit_table.h says what each number is.
 */
#include "diagnose/circuit_table.h"

"""


def write(out, fits):
    out.write(HEAD)
    out.write("const struct circuit_norm circuit_norms[CIRCUIT_KINDS] = {\n")
    for base, offsets, own, _ in fits:
        out.write("\t{\n\t\t.base = {\n")
        for column in base.T:
            out.write(row(column, 3))
        out.write("\t\t},\n\t\t.offsets = {\n")
        for name in REFRIGERANTS:
            out.write("\t\t\t[CIRCUIT_" + name.replace("-", "").upper() + "] = {\n"
                      + wrapped(offsets[name], 4) + "\t\t\t},\n")
        out.write("\t\t},\n\t\t.own = {\n" + wrapped(lower(own), 3) + "\t\t},\n\t},\n")
    out.write("};\n\n"
              "const struct circuit_class circuit_classes[CIRCUIT_KINDS][CIRCUIT_CLASSES] = {\n")
    for _, _, _, classes in fits:
        out.write("\t{\n")
        for fault, level, share, capacity, efficiency, shift, covariance in classes:
            out.write(f"\t\t{{\n\t\t\t.fault = FAULT_{fault.upper()}, .level = {level},"
                      f" .share = {number(share)},\n\t\t\t.capacity_loss = {number(capacity)},"
                      f" .efficiency_loss = {number(efficiency)},\n")
            if fault != "none":
                out.write("\t\t\t.shift = {\n")
                for column in shift.T:
                    out.write(row(column, 4))
                out.write("\t\t\t},\n")
            out.write("\t\t\t.covariance = {\n" + wrapped(lower(covariance), 4)
                      + "\t\t\t},\n\t\t},\n")
        out.write("\t},\n")
    out.write("};\n")


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--output", required=True)
    parser.add_argument("--tables", default="build/reference/tables")
    parser.add_argument("--units", type=int, default=600)
    args = parser.parse_args()
    fits = [fit(kind, args.units, args.tables) for kind in (0, 1)]
    with open(args.output, "w", encoding="utf-8") as out:
        write(out, fits)


if __name__ == "__main__":
    main()
