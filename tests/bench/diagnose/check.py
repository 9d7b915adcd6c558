"""The generator's own foundations, against the reference libraries.

Moist air against psychrolib 2.5.0 (ASHRAE Fundamentals 2017), refrigerant tables against CoolProp
8.0.0 at points off the grid, and the first law on solved machines: heat taken in and power put in
leave through the condenser and the shell.
"""

import argparse

import numpy as np

import air
import fleet
import machine
import properties


def air_misses():
    import psychrolib
    psychrolib.SetUnitSystem(psychrolib.SI)
    worst = 0.0
    for t in (12.0, 20.0, 27.0, 33.0):
        for rh in (0.3, 0.55, 0.8):
            for p in (101325.0, 82000.0):
                w = psychrolib.GetHumRatioFromRelHum(t, rh, p)
                worst = max(worst, abs(float(air.ratio_from_rh(t, rh, p)) / w - 1.0) * 100.0,
                            abs(float(air.wet_bulb(t, w, p))
                                - psychrolib.GetTWetBulbFromHumRatio(t, w, p)),
                            abs(air.enthalpy(t, w) - psychrolib.GetMoistAirEnthalpy(t, w)) / 1000.0)
    return worst


def refrigerant_misses(tables, name):
    from CoolProp.CoolProp import PropsSI
    ref = fleet.refrigerant(name, tables)
    fluid = properties.FLUIDS[name]
    worst = 0.0
    for dew in (-11.3, 3.7, 7.4, 41.6, 55.2):
        p = PropsSI("P", "T", dew + 273.15, "Q", 1, fluid)
        row = ref.saturation(np.array([dew]))
        worst = max(worst, abs(row["pressure"][0] / p - 1.0),
                    abs(row["vapour_density"][0]
                        / PropsSI("D", "T", dew + 273.15, "Q", 1, fluid) - 1.0))
        for rise in (6.0, 22.0):
            above = ref.enthalpy_above(np.array([dew]), np.array([rise]))[0]
            truth = (PropsSI("H", "T", dew + rise + 273.15, "P", p, fluid)
                     - PropsSI("H", "T", dew + 273.15, "Q", 1, fluid))
            worst = max(worst, abs(above - truth) / 100e3)
    return worst


def balance_miss(tables, name):
    ref = fleet.refrigerant(name, tables)
    m, info, good = fleet.draw(np.random.default_rng(3), ref, 40, "tune")
    c = fleet.rating_conditions(m, info["cfm_per_ton"])
    c["charge"] = m["charge"]
    got, ok, _ = machine.solve(ref, m, c)
    sat = ref.saturation(got["suction_dew"])
    line = sat["vapour_enthalpy"] + got["gas"] - (
        ref.saturation(got["evap"])["vapour_enthalpy"] + got["above"])
    rejected = got["flow"] * (got["discharge"] - got["condenser"]["enthalpy"])
    put_in = (got["evaporator"]["heat"] + got["flow"] * line
              + got["power"] * (1.0 - m["shell_loss"]))
    return np.max(np.abs(rejected / put_in - 1.0)[ok & good])


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--tables", default="build/reference/tables")
    tables = parser.parse_args().tables
    results = [("moist air against psychrolib (%, K, kJ/kg)", air_misses(), 0.06)]
    for name in ("R-22", "R-410A", "R-32", "R-134a"):
        results.append((f"{name} tables against CoolProp (share)",
                        refrigerant_misses(tables, name), 0.006))
        results.append((f"{name} machines, first law (share)", balance_miss(tables, name), 0.001))
    for text, value, limit in results:
        print(f"{'ok    ' if value <= limit else 'FAILED'} {text}: {value:.5f} (limit {limit})")
    passed = sum(value <= limit for _, value, limit in results)
    print(f"bench-physics: {passed} passed, {len(results) - passed} failed")
    return 0 if passed == len(results) else 1


if __name__ == "__main__":
    raise SystemExit(main())
