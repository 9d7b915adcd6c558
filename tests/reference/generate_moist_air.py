#!/usr/bin/env python3
"""Writes tests/reference/vectors/moist_air.inc from the reference library.

    pip install psychrolib==2.5.0
    python3 tests/reference/generate_moist_air.py > tests/reference/vectors/moist_air.inc

The grid runs over dry bulb, relative humidity and altitude; each row is a
whole state.  The library's search tolerance is tightened from 0.0018 °F to
1e-7 °F, so that what is compared is the equations and not where the search
was stopped.
"""
import datetime
import importlib.metadata

import psychrolib

DRY_BULBS = [-20, -5, 10, 20, 26, 30, 33, 36, 39, 42, 45, 48, 52, 56, 60, 64, 68, 72,
             75, 78, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125, 130]
HUMIDITIES = [2, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100]
ALTITUDES = [0, 2500, 5000, 10000]

psychrolib.SetUnitSystem(psychrolib.IP)
psychrolib.PSYCHROLIB_TOLERANCE = 1e-7

print("/*")
print(" * Moist air by psychrolib %s (IP), written by generate_moist_air.py on %s."
      % (importlib.metadata.version("psychrolib"), datetime.date.today().isoformat()))
print(" * psia, dry bulb, RH %, wet bulb, dew point, lb/lb, Btu/lb, ft3/lb, lb/ft3.")
print(" */")
for altitude in ALTITUDES:
    psia = float("%.6f" % psychrolib.GetStandardAtmPressure(altitude))
    for dry_bulb in DRY_BULBS:
        for humidity in HUMIDITIES:
            ratio, wet, dew, _, enthalpy, volume, _ = \
                psychrolib.CalcPsychrometricsFromRelHum(dry_bulb, humidity / 100, psia)
            density = psychrolib.GetMoistAirDensity(dry_bulb, ratio, psia)
            print("{%.6f,%d,%d,%.6f,%.6f,%.7g,%.7g,%.7g,%.7g},"
                  % (psia, dry_bulb, humidity, wet, dew, ratio, enthalpy, volume, density))
