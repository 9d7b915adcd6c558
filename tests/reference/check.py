#!/usr/bin/env python3
"""Compares the built program's figures with the reference libraries, live.

    make check-reference            or
    check.py PROGRAM                with the packages of requirements.txt

Every row of QUANTITIES is one comparison: a figure of the program, the points
at which it is asked, what the reference library says there, and the largest
difference that is allowed.  All questions go to one run of `PROGRAM figure -`,
one JSON object a line, and come back in the same order.

Saturation and density: CoolProp, from -40 F to 5 F below critical, as far as
the gauges reach that the program takes readings from.  Moist air: psychrolib,
from sea level to 10,000 ft, wet bulbs below freezing included.  Prints the
largest difference of each quantity and where it was; exits 1 beyond a limit.
"""

import functools
import importlib.metadata
import json
import math
import subprocess
import sys
from dataclasses import dataclass
from typing import Callable

import numpy
import psychrolib

from saturation import BUBBLE, DEW, LOWEST_F, MODELS, fluid

ALTITUDES_FT = (0, 2500, 5000, 10000)
LEAST_POINTS = 20000

psychrolib.SetUnitSystem(psychrolib.IP)
# Of its wet-bulb search, F: compares the equations, not where a search stopped.
psychrolib.PSYCHROLIB_TOLERANCE = 1e-7


@dataclass
class Quantity:
    """One row of the comparison."""

    figure: str  # the program's figure
    what: str  # what is compared, for the report
    unit: str  # of the difference
    limit: float  # largest difference allowed
    points: Callable  # yields (readings, the reference's answer)
    difference: Callable = lambda answer, expected: abs(answer - expected)


def relative(answer, expected):
    return abs(answer / expected - 1.0)


# ---- Refrigerants ----


@functools.lru_cache(maxsize=None)
def fluid_of(name):
    return fluid(name)


def temperatures(name, count):
    """Over the range of the refrigerant, its ends a hair inside."""
    return numpy.linspace(LOWEST_F + 1e-6, fluid_of(name).highest_f - 1e-6, count)


@functools.lru_cache(maxsize=None)
def saturation_curve(name, line, count):
    return [(float(t), fluid_of(name).pressure(t, line)) for t in temperatures(name, count)]


def gauge_readings(line, count, highest_psig, altitudes):
    """(refrigerant, altitude, psig, saturation temperature) over the whole range."""
    for name in MODELS:
        for temp_f, pressure_psia in saturation_curve(name, line, count):
            for altitude in altitudes:
                psig = pressure_psia - psychrolib.GetStandardAtmPressure(altitude)
                if psig <= highest_psig:
                    yield name, altitude, psig, temp_f


# The highest pressures that the program takes as readings, psig.
SUCTION_PSIG, LIQUID_PSIG = 600.0, 1000.0


def suction_points(count=260, altitudes=(0, 5000)):
    for name, altitude, psig, temp_f in gauge_readings(DEW, count, SUCTION_PSIG, altitudes):
        readings = {"refrigerant": name, "suction_pressure": psig, "altitude": altitude}
        yield readings, temp_f


def liquid_points(count=260, altitudes=(0, 5000)):
    for name, altitude, psig, temp_f in gauge_readings(BUBBLE, count, LIQUID_PSIG, altitudes):
        readings = {"refrigerant": name, "liquid_pressure": psig, "altitude": altitude}
        yield readings, temp_f


def superheat_points():
    for readings, temp_f in suction_points(61, ALTITUDES_FT):
        yield readings | {"suction_line_temp": 55.0}, 55.0 - temp_f


def subcooling_points():
    for readings, temp_f in liquid_points(61, ALTITUDES_FT):
        yield readings | {"liquid_line_temp": 95.0}, temp_f - 95.0


def with_reference_pressure(points, line):
    """The same points, expecting (refrigerant, line, psia) to compare pressures with."""
    for readings, temp_f in points:
        name = readings["refrigerant"]
        yield readings, (name, line, fluid_of(name).pressure(temp_f, line))


def pressure_difference(answer_f, expected):
    """The reference's pressure at the program's temperature, against the one given."""
    name, line, pressure_psia = expected
    return relative(fluid_of(name).pressure(answer_f, line), pressure_psia)


# Outside diameter and wall of ACR tube, in.: ASTM B280.
LIQUID_TUBES_IN = ((0.25, 0.030), (0.375, 0.032), (0.5, 0.032))
LINE_LENGTH_FT = 50.0


def line_set_points():
    for name in MODELS:
        for temp_f in temperatures(name, 90):
            pounds_per_ft3 = fluid_of(name).liquid_density(temp_f)
            for outside_in, wall_in in LIQUID_TUBES_IN:
                area_ft2 = math.pi / 4.0 * ((outside_in - 2.0 * wall_in) / 12.0) ** 2
                readings = {
                    "refrigerant": name,
                    "liquid_line_temp": float(temp_f),
                    "line_set_length": LINE_LENGTH_FT,
                    "liquid_line_od": outside_in,
                }
                yield readings, area_ft2 * LINE_LENGTH_FT * pounds_per_ft3 * 16.0


# ---- Moist air ----


def air_states():
    """(altitude, pressure, dry bulb, humidity ratio) by relative humidity."""
    for altitude in ALTITUDES_FT:
        pressure_psia = psychrolib.GetStandardAtmPressure(altitude)
        for dry_bulb in numpy.linspace(-15.0, 125.0, 29):
            for humidity in numpy.linspace(0.02, 1.0, 15):
                ratio = psychrolib.GetHumRatioFromRelHum(dry_bulb, humidity, pressure_psia)
                yield altitude, pressure_psia, float(dry_bulb), float(humidity), ratio


@functools.lru_cache(maxsize=None)
def wet_bulb_states():
    """[(readings, pressure, dry bulb, humidity ratio by the wet bulb)]"""
    states = []
    for altitude, pressure_psia, dry_bulb, _, ratio in air_states():
        # Rounded, as one reads it; the answer is then worked out from what was read.
        wet_bulb = round(
            psychrolib.GetTWetBulbFromHumRatio(dry_bulb, ratio, pressure_psia), 2
        )
        if wet_bulb > dry_bulb or wet_bulb < -19.0:
            continue
        ratio = psychrolib.GetHumRatioFromTWetBulb(dry_bulb, wet_bulb, pressure_psia)
        # psychrolib keeps a floor under the humidity ratio: too dry to compare.
        if ratio <= 2e-7:
            continue
        readings = {"return_db": dry_bulb, "return_wb": wet_bulb, "altitude": altitude}
        states.append((readings, pressure_psia, dry_bulb, ratio))
    return states


def humidity_points():
    for readings, pressure_psia, dry_bulb, ratio in wet_bulb_states():
        humidity = psychrolib.GetRelHumFromHumRatio(dry_bulb, ratio, pressure_psia)
        yield readings, 100.0 * humidity


def dew_point_points():
    for readings, pressure_psia, dry_bulb, ratio in wet_bulb_states():
        yield readings, psychrolib.GetTDewPointFromHumRatio(dry_bulb, ratio, pressure_psia)


def enthalpy_points():
    for readings, _, dry_bulb, ratio in wet_bulb_states():
        yield readings, psychrolib.GetMoistAirEnthalpy(dry_bulb, ratio)


def wet_bulb_points():
    for altitude, pressure_psia, dry_bulb, humidity, ratio in air_states():
        readings = {"return_db": dry_bulb, "return_rh": 100.0 * humidity, "altitude": altitude}
        yield readings, psychrolib.GetTWetBulbFromHumRatio(dry_bulb, ratio, pressure_psia)


QUANTITIES = (
    Quantity("suction_saturation_temp", "dew temperature", "F", 0.05, suction_points),
    Quantity(
        "suction_saturation_temp", "dew pressure", "", 1e-3,
        lambda: with_reference_pressure(suction_points(), DEW), pressure_difference,
    ),
    Quantity("liquid_saturation_temp", "bubble temperature", "F", 0.05, liquid_points),
    Quantity(
        "liquid_saturation_temp", "bubble pressure", "", 1e-3,
        lambda: with_reference_pressure(liquid_points(), BUBBLE), pressure_difference,
    ),
    Quantity("superheat", "superheat", "F", 0.05, superheat_points),
    Quantity("subcooling", "subcooling", "F", 0.05, subcooling_points),
    Quantity("line_set_liquid", "liquid density", "", 3e-3, line_set_points, relative),
    Quantity("return_wb", "wet bulb", "F", 0.01, wet_bulb_points),
    Quantity("return_rh", "relative humidity", "%", 0.01, humidity_points),
    Quantity("return_dew_point", "dew point", "F", 0.01, dew_point_points),
    Quantity("return_enthalpy", "enthalpy", "Btu/lb", 0.003, enthalpy_points),
)


# ---- Asking the program ----


def ask(program, questions):
    """The program's answers, one object a question, in order."""
    lines = "".join(json.dumps(question) + "\n" for question in questions)
    run = subprocess.run(
        [program, "figure", "-"], input=lines, capture_output=True, encoding="utf-8", check=False
    )
    answers = [json.loads(line) for line in run.stdout.splitlines() if line.startswith("{")]
    if len(answers) != len(questions):
        sys.exit(
            f"{program} figure - gave {len(answers)} answers to {len(questions)} questions\n"
            + run.stderr
        )
    return answers


def compare(quantity, points, answers):
    """(largest difference, the readings where it was, points not answered)"""
    worst, where, unanswered = 0.0, None, []
    for (readings, expected), answer in zip(points, answers):
        if answer.get("figure") != quantity.figure or answer.get("value") is None:
            unanswered.append((readings, answer))
            continue
        difference = quantity.difference(answer["value"], expected)
        if not difference <= worst:  # takes NaN as the worst
            worst, where = difference, readings
    return worst, where, unanswered


def report(quantity, points, answers):
    """Prints the row of a quantity; returns whether it holds."""
    worst, where, unanswered = compare(quantity, points, answers)
    holds = worst <= quantity.limit and not unanswered and bool(points)
    print(
        f"{'ok' if holds else 'FAIL':5}{quantity.figure:25}{quantity.what:20}"
        f"{len(points):>7}  {worst:9.2e}  {quantity.limit:7.0e} {quantity.unit:7}{where}"
    )
    for readings, answer in unanswered[:3]:
        print(f"     not answered: {json.dumps(readings)}: {json.dumps(answer)}")
    if len(unanswered) > 3:
        print(f"     and {len(unanswered) - 3} more not answered")
    return holds


def main():
    if len(sys.argv) != 2:
        print("usage: check.py PROGRAM", file=sys.stderr)
        sys.exit(2)
    grids = [list(quantity.points()) for quantity in QUANTITIES]
    questions = [
        {"figure": quantity.figure, "readings": readings}
        for quantity, grid in zip(QUANTITIES, grids)
        for readings, _ in grid
    ]
    answers = iter(ask(sys.argv[1], questions))

    versions = (f"{name} {importlib.metadata.version(name)}" for name in ("coolprop", "psychrolib"))
    print(f"{', '.join(versions)}: {len(questions)} points")
    print(
        f"{'':5}{'figure':25}{'compared':20}{'points':>7}  {'largest':>9}  {'limit':>7}"
        f" {'unit':7}where"
    )
    passed = sum(
        report(quantity, grid, [next(answers) for _ in grid])
        for quantity, grid in zip(QUANTITIES, grids)
    )
    failed = len(QUANTITIES) - passed
    if len(questions) < LEAST_POINTS:
        print(f"FAIL only {len(questions)} points; {LEAST_POINTS} are wanted")
        failed += 1
    print(f"reference: {passed} passed, {failed} failed")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
