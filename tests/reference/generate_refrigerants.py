#!/usr/bin/env python3
"""Writes the program's refrigerant curves and the vectors that test them.

    generate_refrigerants.py            (from anywhere; needs requirements.txt)

writes src/calc/refrigerant_curves.def and tests/reference/vectors/
refrigerant.csv, after holding the fit against the reference on a dense grid.
Run it after changing saturation.py or the version of CoolProp; commit what it
wrote.

Each curve is cut into CELLS cells of equal width in temperature, with the value
and the slope at their borders: a cubic through them (Hermite's) is smooth,
needs neither logarithm nor exponential, and reproduces the nodes exactly.
For the way back, from a pressure, each cell has a polynomial that inverts its
cubic, and a table says in which cell to begin looking.
"""

import csv
import datetime
import math
import pathlib
import struct
import sys

import CoolProp
import numpy
from numpy.polynomial import polynomial

from saturation import BLENDS, BUBBLE, DEW, LOWEST_F, MODELS, fluid

CELLS, BACK_TERMS, OCTAVE_BITS = 64, 5, 5  # the same in src/calc/refrigerant.c
PRESSURE_LIMIT = 1e-5  # relative; about 0.0006 F
DENSITY_LIMIT = 2e-4  # relative
BACK_LIMIT = 5e-8  # of a cell; about 2e-7 F
BACK_FORMATS = (".12g", ".10g", ".9g", ".8g", ".7g")  # the higher the power, the less it adds
SLOPE_STEP_F = 0.02
GRID_POINTS, VECTOR_POINTS = 1501, 19

ROOT = pathlib.Path(__file__).resolve().parents[2]


def spread(low, high, points):
    """`points` temperatures from low to high; the ends exactly."""
    return [min(max(t, low), high) for t in numpy.linspace(low, high, points)]


def slope(value, temp_f):
    """dvalue/dtemp, by the five-point rule."""
    f = [value(temp_f + i * SLOPE_STEP_F) for i in (-2, -1, 1, 2)]
    return (f[0] - 8.0 * f[1] + 8.0 * f[2] - f[3]) / (12.0 * SLOPE_STEP_F)


def nodes_of(value, high):
    """[(value, slope per cell)] at the borders of the cells, as they are printed."""
    width = (high - LOWEST_F) / CELLS
    return [
        (float(f"{value(t):.12g}"), float(f"{slope(value, t) * width:.9g}"))
        for t in spread(LOWEST_F, high, CELLS + 1)
    ]


def cubic(nodes, cell, t):
    """What the program works out in a cell at t from 0 to 1."""
    (v0, s0), (v1, s1) = nodes[cell], nodes[cell + 1]
    rise = v1 - v0
    return v0 + t * (s0 + t * (3.0 * rise - 2.0 * s0 - s1 + t * (s0 + s1 - 2.0 * rise)))


def octave_part(pressure):
    """Counts pressures in steps of 1/32 of each octave: the front bits of the double."""
    return struct.unpack("<Q", struct.pack("<d", pressure))[0] >> (52 - OCTAVE_BITS)


def starts_of(nodes):
    """(the part of the first pressure, the cell in which each part begins)"""
    first, last = (octave_part(nodes[i][0]) for i in (0, -1))
    starts = []
    for part in range(first, last + 1):
        begins = struct.unpack("<d", struct.pack("<Q", part << (52 - OCTAVE_BITS)))[0]
        ends = struct.unpack("<d", struct.pack("<Q", (part + 1) << (52 - OCTAVE_BITS)))[0]
        inside = [c for c in range(CELLS) if begins < nodes[c + 1][0] < ends]
        if len(inside) > 1:
            sys.exit("a part of an octave holds two nodes")
        starts.append(max(c for c in range(CELLS) if c == 0 or nodes[c][0] <= begins))
    return first, starts


def way_back(nodes):
    """Of each cell: t as a polynomial without constant term in the rise of the value."""
    back = []
    for cell in range(CELLS):
        t = (1.0 - numpy.cos(math.pi * numpy.arange(81) / 80.0)) / 2.0
        rises = numpy.array([cubic(nodes, cell, x) for x in t]) - nodes[cell][0]
        share = rises[1:-1] / rises[-1]
        # t = share + share (1 - share) q(share): right at both ends whatever q is.
        q = polynomial.polyfit(
            share, (t[1:-1] - share) / (share * (1.0 - share)), BACK_TERMS - 2
        )
        series = polynomial.polyadd([0.0, 1.0], polynomial.polymul([0.0, 1.0, -1.0], q))
        series = [
            float(format(c / rises[-1] ** i, f))
            for i, (c, f) in enumerate(zip(series[1:], BACK_FORMATS), start=1)
        ]
        if max(abs(polynomial.polyval(rises, [0.0] + series) - t)) > BACK_LIMIT:
            sys.exit("a way back is not exact enough")
        back.append(series)
    return back


def table(value, high, limit, rising):
    """The nodes of a curve, and their largest relative error on a dense grid."""
    nodes = nodes_of(value, high)
    worst = 0.0
    for i, temp_f in enumerate(spread(LOWEST_F, high, GRID_POINTS)):
        x = i * CELLS / (GRID_POINTS - 1)
        cell = min(int(x), CELLS - 1)
        worst = max(worst, abs(cubic(nodes, cell, x - cell) / value(temp_f) - 1.0))
    if worst > limit:
        sys.exit(f"the table is off by {worst}")
    # A cubic is monotone in a cell when both slopes lie between 0 and 3 rises.
    for (v0, s0), (v1, s1) in zip(nodes, nodes[1:]):
        if not all(0.0 < s / (v1 - v0) < 3.0 for s in (s0, s1)) or (v1 > v0) != rising:
            sys.exit("a curve is not monotone")
    return nodes, worst


def curves(name, of):
    """{"dew": nodes, "bubble": nodes (not of a pure one), "density": nodes}"""
    wanted = {"dew": (lambda t: of.pressure(t, DEW), PRESSURE_LIMIT, True)}
    if name in BLENDS:
        wanted["bubble"] = (lambda t: of.pressure(t, BUBBLE), PRESSURE_LIMIT, True)
    wanted["density"] = (of.liquid_density, DENSITY_LIMIT, False)
    tables = {key: table(value, of.highest_f, *rest) for key, (value, *rest) in wanted.items()}
    print(f"{name:8}", "  ".join(f"{key} {worst:.1e}" for key, (_, worst) in tables.items()))
    return {key: nodes for key, (nodes, _) in tables.items()}


def check_blend(name, of):
    """Our phase equilibrium against the library's, where the library has one."""
    worst, failed = 0.0, 0
    for temp_f in spread(LOWEST_F, of.highest_f, 211):
        for line in (DEW, BUBBLE):
            try:
                theirs = of.library_at(temp_f, line)
            except ValueError:
                failed += 1
                continue
            ours = of.at(temp_f, line)
            worst = max([worst] + [abs(a / b - 1.0) for a, b in zip(ours, theirs)])
    print(f"{name}: library fails at {failed} of 422 points, differs elsewhere by {worst:.1e}")
    if worst > 1e-8:
        sys.exit("the phase equilibrium does not agree with the library's")


def wrapped(items):
    """{ items } in lines of up to 95 columns."""
    lines = ["\t" + items[0]]
    for item in items[1:]:
        if len(lines[-1]) + len(item) > 85:
            lines.append("\t" + item)
        else:
            lines[-1] += ", " + item
    return "{\n" + ",\n".join(lines) + " }"


def braces(rows, formats):
    """The rows as C initialisers, each number in its format."""
    return wrapped(
        ["{ " + ", ".join(format(v, f) for v, f in zip(row, formats)) + " }" for row in rows]
    )


def write_curves(path, source, rows):
    with open(path, "w", encoding="utf-8") as out:
        out.write(
            "/*\n"
            " * Saturation curves, generated by tests/reference/generate_refrigerants.py\n"
            f" * from {source}.  Do not edit.\n"
            " *\n"
            " * Each curve is a list of nodes: a value, and what it gains over a cell at its\n"
            " * slope there.\n"
            " *\n"
            " * LINE(id, psia over temperature, coefficients of the way back through each cell,\n"
            " *      the cell in which each part of an octave of pressure begins)\n"
            " * DENSITY(id, lb/ft3 of the saturated liquid over temperature)\n"
            " * CURVES(id, critical temperature in F, dew line, bubble line)\n"
            " */\n"
        )
        for name, of, tables in rows:
            identifier = name.replace("-", "").upper()
            for key, nodes in tables.items():
                written = braces(nodes, (".12g", ".9g"))
                if key == "density":
                    out.write(f"DENSITY({identifier}, .nodes = {written})\n")
                    continue
                back = braces(way_back(nodes), BACK_FORMATS)
                first, starts = starts_of(nodes)
                out.write(
                    f"LINE({identifier}_{key.upper()},\n\t.nodes = {written},\n\t.back = {back},\n"
                    f"\t.first_part = {first}, .start = {wrapped([str(c) for c in starts])})\n"
                )
            bubble = "BUBBLE" if "bubble" in tables else "DEW"
            out.write(
                f"CURVES({identifier}, {of.critical_f:.13g}, "
                f"{identifier}_DEW, {identifier}_{bubble})\n"
            )


def write_vectors(path, source, rows):
    with open(path, "w", encoding="utf-8", newline="") as out:
        out.write(f"# {source}\n# by tests/reference/generate_refrigerants.py\n")
        table = csv.writer(out, lineterminator="\n")
        table.writerow(
            ["refrigerant", "temp_f", "dew_psia", "bubble_psia", "liquid_density_lb_ft3"]
        )
        for name, of, _ in rows:
            for temp_f in spread(LOWEST_F, of.highest_f, VECTOR_POINTS):
                temp_f = math.floor(temp_f * 1000.0) / 1000.0
                values = (
                    of.pressure(temp_f, DEW),
                    of.pressure(temp_f, BUBBLE),
                    of.liquid_density(temp_f),
                )
                table.writerow([name, f"{temp_f:.3f}"] + [f"{v:.9g}" for v in values])


def main():
    today = datetime.date.today().isoformat()
    source = f"CoolProp {CoolProp.__version__}, {today}"
    rows = []
    for name in MODELS:
        of = fluid(name)
        if hasattr(of, "library_at"):
            check_blend(name, of)
        rows.append((name, of, curves(name, of)))
    write_curves(ROOT / "src/calc/refrigerant_curves.def", source, rows)
    write_vectors(ROOT / "tests/reference/vectors/refrigerant.csv", source, rows)


if __name__ == "__main__":
    main()
