"""Random machines: what a builder may choose, and how the parts of two builders differ.

The two splits draw from different worlds.  `tune` and `test` differ in seeds and in the ranges of
the constants that a model must assume (heat transfer exponents, flash share, slip, volumes,
compressor map), so that a diagnosis fitted to one is tried on the other.
"""

import numpy as np

import air
import machine
import properties

F = 5.0 / 9.0

# constant: (low, high) for tune, (low, high) for test
CONSTANTS = {
    "best_efficiency": ((0.60, 0.70), (0.56, 0.72)),
    "efficiency_fall": ((0.015, 0.03), (0.010, 0.035)),
    "best_ratio": ((2.6, 3.4), (2.4, 3.6)),
    "motor_heat": ((0.08, 0.20), (0.05, 0.25)),
    "fill": ((0.94, 0.98), (0.92, 0.99)),
    "fill_fall": ((0.030, 0.055), (0.020, 0.065)),
    "shell_loss": ((0.06, 0.14), (0.04, 0.18)),
    "condenser_air_share": ((0.50, 0.70), (0.45, 0.75)),
    "condenser_air_power": ((0.50, 0.70), (0.45, 0.75)),
    "gas_share": ((0.45, 0.75), (0.40, 0.80)),
    "liquid_share": ((0.35, 0.60), (0.30, 0.70)),
    "preheat": ((0.25, 0.55), (0.10, 0.65)),
    "shell_store": ((0.05, 0.15), (0.03, 0.20)),
    "condenser_effect": ((0.50, 0.65), (0.45, 0.70)),
    "superheat_share": ((0.10, 0.16), (0.08, 0.19)),
    "evaporator_ntu": ((1.9, 2.6), (1.7, 2.8)),
    "evaporator_air_power": ((0.50, 0.65), (0.45, 0.70)),
    "slip_power": ((0.38, 0.46), (0.33, 0.50)),
    "flash_share": ((0.50, 0.64), (0.46, 0.68)),
    "condenser_litres_per_kw": ((0.34, 0.50), (0.30, 0.55)),
    "evaporator_litres_per_kw": ((0.22, 0.32), (0.20, 0.36)),
}

METERING = ("fixed_orifice", "txv", "capillary", "exv")


def draw(rng, ref, n, split, metering=None):
    """n machines of one refrigerant, built and charged.  Returns (m, info, good)."""
    column = 1 if split == "test" else 0
    d = {key: rng.uniform(*ranges[column], n) for key, ranges in CONSTANTS.items()}
    kind = (np.asarray([metering] * n) if metering else
            rng.choice(METERING, n, p=(0.38, 0.42, 0.10, 0.10)))
    tons = rng.choice([1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0], n)
    seer = rng.choice(SEERS[ref.name], n).astype(float)
    d["is_valve"] = (kind == "txv") | (kind == "exv")
    d["nominal"] = tons * machine.TON * rng.uniform(0.95, 1.04, n)
    d["evap"] = (45.0 + rng.normal(0.0, 1.3, n) - 32.0) * F
    usual = np.interp(seer, [8.0, 11.0, 14.0, 17.0], [28.0, 25.0, 20.0, 16.0])
    d["approach"] = (usual + rng.normal(0.0, 1.8, n)) * F
    d["line_rise"] = rng.uniform(0.8, 2.2, n)
    d["superheat"] = np.where(d["is_valve"], rng.uniform(4.0, 5.6, n),
                              12.0 * F - d["line_rise"])
    d["subcooling"] = np.where(d["is_valve"], rng.choice([8.0, 9.0, 10.0, 11.0, 12.0, 13.0], n),
                               rng.uniform(8.0, 13.0, n)) * F
    d["subcooling"] = np.minimum(d["subcooling"], 0.72 * d["approach"])
    d["superheat_span"] = np.where(kind == "exv", 1.5, rng.uniform(3.0, 5.0, n))
    d["open_share"] = np.where(kind == "exv", 0.5, rng.uniform(0.52, 0.74, n))
    d["flash_share"] = d["flash_share"] + np.where(kind == "capillary", 0.03, 0.0)
    scale = ref.saturation(np.array([7.0]))["pressure"][0]
    d["suction_drop"] = scale * rng.uniform(0.008, 0.022, n)
    d["liquid_drop"] = scale * rng.uniform(0.010, 0.035, n)
    kw = d["nominal"] / 1000.0
    bigger = 1.0 + 0.05 * (seer - 13.0)
    d["condenser_volume"] = d["condenser_litres_per_kw"] * kw * bigger / 1000.0
    d["evaporator_volume"] = d["evaporator_litres_per_kw"] * kw / 1000.0
    length = rng.choice([15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0], n)
    liquid_od = np.where(tons < 2.6, 5.0 / 16.0, 3.0 / 8.0)
    liquid_od = np.where(rng.random(n) < 0.4, 3.0 / 8.0, liquid_od)
    bore = (liquid_od - 0.064) * 0.0254
    d["line_volume"] = np.pi / 4.0 * bore**2 * length * 0.3048
    suction_od = np.where(tons < 2.6, 0.75, 0.875)
    d["gas_volume"] = np.pi / 4.0 * ((suction_od - 0.08) * 0.0254) ** 2 * length * 0.3048 + 0.002
    m = machine.design(ref, d)
    # Charged in the field at the rating point with the airflow the house gives.
    info = {"metering": kind, "tons": tons, "seer": seer, "line_length": length,
            "liquid_od": liquid_od, "suction_od": suction_od,
            "nameplate_subcooling": np.round(d["subcooling"] / F),
            "cfm_per_ton": rng.uniform(350.0, 430.0, n)}
    c = rating_conditions(m, info["cfm_per_ton"])
    m["charge"], good, x = machine.charge_for(
        ref, m, c, subcooling=d["subcooling"] + rng.normal(0.0, 1.0, n) * F,
        superheat=(12.0 + rng.normal(0.0, 1.5, n)) * F)
    m["design_charge"] = np.where(good, m["charge"], m["design_charge"])
    m["design_x"] = x
    return m, info, good


def rating_conditions(m, cfm_per_ton):
    n = m["nominal"].size
    one = np.ones(n)
    ratio = air.ratio_from_wet_bulb(machine.RATING["return_temp"],
                                    machine.RATING["return_wet_bulb"], machine.SEA_LEVEL)
    return machine.weather(machine.healthy_conditions(n), m, machine.RATING["return_temp"] * one,
                           ratio * one, machine.RATING["outdoor"] * one, machine.SEA_LEVEL * one,
                           cfm_per_ton)


# Seasonal ratings a refrigerant is met with.
SEERS = {
    "R-22": [10, 10, 10, 11, 12, 13],
    "R-410A": [10, 13, 13, 14, 14, 15, 16, 18],
    "R-32": [14, 15, 16, 18],
    "R-454B": [14, 15, 16, 17],
    "R-407C": [10, 11, 12, 13],
    "R-134a": [10, 11, 12, 13],
}


def refrigerant(name, cache):
    return properties.Refrigerant(name, cache)
