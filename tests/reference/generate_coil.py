#!/usr/bin/env python3
"""Writes tests/reference/vectors/coil.inc: a healthy coil worked out apart.

    pip install psychrolib==2.5.0
    python3 tests/reference/generate_coil.py > tests/reference/vectors/coil.inc

Follows the text of the EnergyPlus Engineering Reference ("Coil:Cooling:DX:
SingleSpeed": capacity curves of the example files, bypass factor, apparatus
dew point, dry coil) with psychrolib for moist air, in SI units and by plain
halving, sharing no code or unit with the program.
"""
import datetime
import importlib.metadata
import math

import psychrolib as air

air.SetUnitSystem(air.SI)
air.PSYCHROLIB_TOLERANCE = 1e-8

TON_W = 12000 * 0.29307107
CFM_M3_S = 0.3048 ** 3 / 60
PSI_PA = 6894.757293


def celsius(f):
    return (f - 32) / 1.8


def halve(function, low, high):
    """Where `function`, rising, becomes positive."""
    for _ in range(80):
        middle = (low + high) / 2
        if function(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def capacity_share(x, y, flow):
    return (0.942587793 + 0.009543347 * x + 0.00068377 * x * x - 0.011042676 * y
            + 0.000005249 * y * y - 0.00000972 * x * y) * (0.8 + 0.2 * flow)


def state(dry, wet, pressure):
    ratio = air.GetHumRatioFromTWetBulb(dry, wet, pressure)
    return ratio, air.GetMoistAirEnthalpy(dry, ratio), air.GetMoistAirVolume(dry, ratio, pressure)


def sensible_share(dry, enthalpy, surface, pressure):
    ratio = air.GetSatHumRatio(surface, pressure)
    bottom = air.GetMoistAirEnthalpy(surface, ratio)
    return (air.GetMoistAirEnthalpy(dry, ratio) - bottom) / (enthalpy - bottom)


def rated(sensible):
    pressure = 14.696 * PSI_PA
    dry, wet = celsius(80), celsius(67)
    ratio, enthalpy, volume = state(dry, wet, pressure)
    dew = air.GetTDewPointFromHumRatio(dry, ratio, pressure)
    surface = halve(lambda t: sensible_share(dry, enthalpy, t, pressure) - sensible,
                    celsius(45), dew)
    flow = 400 * CFM_M3_S / volume
    bypass = 1 - TON_W / flow / (enthalpy - air.GetSatAirEnthalpy(surface, pressure))
    return flow, -math.log(bypass)


def coil(dry_f, wet_f, outdoor_f, cfm_per_ton, psia, sensible):
    """Per ton: total W share, sensible ratio, split °F, supply wet bulb °F."""
    pressure = psia * PSI_PA
    dry, wet, outdoor = celsius(dry_f), celsius(wet_f), celsius(outdoor_f)
    ratio, enthalpy, volume = state(dry, wet, pressure)
    rated_flow, exponent = rated(sensible)
    flow = cfm_per_ton * CFM_M3_S / volume
    bypass = math.exp(-exponent * rated_flow / flow)

    def surface_of(wet_bulb):
        drop = TON_W * capacity_share(wet_bulb, outdoor, flow / rated_flow) / flow
        bottom = state(dry, wet_bulb, pressure)[1] - drop / (1 - bypass)
        return halve(lambda t: air.GetSatAirEnthalpy(t, pressure) - bottom, -40, 50), drop

    surface, drop = surface_of(wet)
    if air.GetSatHumRatio(surface, pressure) >= ratio:
        sweat = halve(lambda w: state(dry, w, pressure)[0]
                      - air.GetSatHumRatio(surface_of(w)[0], pressure), wet, dry)
        drop = surface_of(sweat)[1]
        share = 1.0
    else:
        share = sensible_share(dry, enthalpy, surface, pressure)
    middle = enthalpy - (1 - share) * drop
    supply_ratio = air.GetHumRatioFromEnthalpyAndTDryBulb(middle, dry)
    supply = air.GetTDryBulbFromEnthalpyAndHumRatio(enthalpy - drop, supply_ratio)
    supply_wet = air.GetTWetBulbFromHumRatio(supply, supply_ratio, pressure)
    return drop * flow / TON_W, share, (dry - supply) * 1.8, supply_wet * 1.8 + 32


print("/*")
print(" * A healthy coil by generate_coil.py with psychrolib %s, written on %s."
      % (importlib.metadata.version("psychrolib"), datetime.date.today().isoformat()))
print(" * psia, return dry and wet bulb, outdoors, cfm/ton, rated sensible ratio;")
print(" * capacity share, sensible ratio, split, supply wet bulb.")
print(" */")
for psia in (14.696, 12.228):
    for dry_bulb, wet_bulb in ((70, 60), (75, 57), (75, 63), (80, 55), (80, 60), (80, 67),
                               (80, 73), (85, 68), (90, 75)):
        for outdoors in (65, 80, 95, 115):
            for cfm, ratio in ((400, 0.75), (350, 0.75), (300, 0.70), (450, 0.78)):
                print("{%g,%g,%g,%g,%g,%g,%.6f,%.6f,%.5f,%.5f},"
                      % ((psia, dry_bulb, wet_bulb, outdoors, cfm, ratio)
                         + coil(dry_bulb, wet_bulb, outdoors, cfm, psia, ratio)))
