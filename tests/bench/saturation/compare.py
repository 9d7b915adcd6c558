#!/usr/bin/env python3
"""Saturation lookups a second: ours against CoolProp's low-level interface.

    make bench-saturation           or
    compare.py PROGRAM              with PROGRAM built from saturation.c

Both are measured in this run, on the same points in the same shuffled order:
the dew pressure at a temperature and the dew temperature at a pressure.
CoolProp's is AbstractState.update(QT or PQ) alone, without reading the answer
out; the time that the loop and an empty call of its binding take is measured
and subtracted, so that Python is not what is compared.  Its equations for pure
refrigerants are fast (Chebyshev "superancillary" curves); a blend is slow.
"""

import pathlib
import random
import subprocess
import sys
import time

import CoolProp

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / "reference"))
from saturation import DEW, LOWEST_F, MODELS, PA_PER_PSI, fluid, kelvin  # noqa: E402

POINTS, POINTS_OF_MIXTURE, ROUNDS = 2000, 60, 7


def shuffled_points(name):
    """[(F, psia)] at which CoolProp answers, without the ends."""
    of = fluid(name)
    mixture = hasattr(of, "library_at")
    count = POINTS_OF_MIXTURE if mixture else POINTS
    points = []
    for i in range(count):
        temp_f = LOWEST_F + (of.highest_f - LOWEST_F) * (i + 0.5) / count
        try:
            pressure = (of.library_at if mixture else of.at)(temp_f, DEW)[0]
            CoolProp.AbstractState("HEOS", MODELS[name]).update(
                CoolProp.PQ_INPUTS, pressure * PA_PER_PSI, DEW
            )
        except ValueError:
            continue
        points.append((temp_f, pressure))
    random.Random(1).shuffle(points)
    return points


def best_ns(work, arguments, rounds):
    """Nanoseconds a call in the best round."""
    best = float("inf")
    for _ in range(rounds):
        began = time.perf_counter_ns()
        for argument in arguments:
            work(argument)
        best = min(best, (time.perf_counter_ns() - began) / len(arguments))
    return best


def library_ns(name, points):
    """Nanoseconds of CoolProp for (pressure, temperature), binding subtracted."""
    state = CoolProp.AbstractState("HEOS", MODELS[name])
    rounds = 1 if len(points) <= POINTS_OF_MIXTURE else ROUNDS
    update, empty = state.update, state.Tmin
    qt, pq = CoolProp.QT_INPUTS, CoolProp.PQ_INPUTS
    temps = [kelvin(temp_f) for temp_f, _ in points]
    pressures = [pressure_psia * PA_PER_PSI for _, pressure_psia in points]
    binding = best_ns(lambda _: empty(), temps, ROUNDS)
    return (
        best_ns(lambda temp: update(qt, DEW, temp), temps, rounds) - binding,
        best_ns(lambda pressure: update(pq, pressure, DEW), pressures, rounds) - binding,
    )


def our_ns(program, points_of):
    """{name: nanoseconds of ours for (pressure, temperature)}"""
    lines = "".join(
        f"{name} {temp_f!r} {pressure_psia!r}\n"
        for name, points in points_of.items()
        for temp_f, pressure_psia in points
    )
    run = subprocess.run([program], input=lines, capture_output=True, text=True, check=True)
    rows = (line.split() for line in run.stdout.splitlines())
    return {name: (float(pressure), float(temp)) for name, pressure, temp in rows}


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: compare.py PROGRAM")
    points_of = {name: shuffled_points(name) for name in MODELS}
    ours = our_ns(sys.argv[1], points_of)
    theirs = {name: library_ns(name, points) for name, points in points_of.items()}

    print(f"CoolProp {CoolProp.__version__}, AbstractState.update; nanoseconds a lookup")
    print(f"{'':9}{'dew pressure at a temperature':^35}{'dew temperature at a pressure':^35}")
    print(f"{'':9}" + f"{'ours':>9}{'CoolProp':>13}{'ratio':>9}    " * 2)
    for name in MODELS:
        pairs = zip(ours[name], theirs[name])
        print(f"{name:9}" + "".join(f"{a:9.1f}{b:13.1f}{b / a:9.0f}    " for a, b in pairs))
    pairs = list(zip(zip(*ours.values()), zip(*theirs.values())))
    for title, wanted in (("all", lambda n: True), ("no R-454B", lambda n: n != "R-454B")):
        chosen = [i for i, name in enumerate(MODELS) if wanted(name)]
        ratios = [sum(b[i] for i in chosen) / sum(a[i] for i in chosen) for a, b in pairs]
        total = sum(b[i] for _, b in pairs for i in chosen) / sum(
            a[i] for a, _ in pairs for i in chosen
        )
        print(
            f"{title}: lookups a second, one of each refrigerant: {ratios[0]:.0f} times for a"
            f" pressure, {ratios[1]:.0f} times for a temperature, {total:.0f} times for both"
        )


if __name__ == "__main__":
    main()
