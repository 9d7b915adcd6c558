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
    "leak_saved": ((0.10, 0.40), (0.05, 0.45)),
    "condenser_air_share": ((0.50, 0.70), (0.45, 0.75)),
    "condenser_air_power": ((0.50, 0.70), (0.45, 0.75)),
    "gas_share": ((0.45, 0.75), (0.40, 0.80)),
    "liquid_share": ((0.35, 0.60), (0.30, 0.70)),
    "preheat": ((0.00, 0.30), (0.00, 0.36)),
    "shell_store": ((0.05, 0.15), (0.03, 0.20)),
    "condenser_effect": ((0.50, 0.80), (0.45, 0.82)),
    "superheat_share": ((0.06, 0.14), (0.05, 0.16)),
    "evaporator_ntu": ((1.9, 2.6), (1.7, 2.8)),
    "evaporator_air_power": ((0.50, 0.65), (0.45, 0.70)),
    "slip_power": ((0.38, 0.46), (0.33, 0.50)),
    "flash_share": ((0.50, 0.64), (0.46, 0.68)),
    "condenser_litres_per_kw": ((0.34, 0.50), (0.30, 0.55)),
    "evaporator_litres_per_kw": ((0.22, 0.32), (0.20, 0.36)),
}

METERING = ("fixed_orifice", "txv", "capillary", "exv")

# Condensing over outdoor by seasonal rating: 13 SEER class splits 10 to 16 °F, heat pumps 15 to
# 16, packages 14 to 21 at 95 °F (makers' tables, trade notes, section 8), older ones as the trade
# rule says (30, 25, 20, 15 by SEER: an upper guide), one standard deviation of 3.5 °F.
APPROACH = ((8.0, 28.0), (10.0, 24.5), (13.0, 18.5), (16.0, 15.0), (18.0, 13.0))


def charging_weather(rng, n):
    """Where a technician charged a restrictor by its chart: half at the rating point, the others
    on a day whose target lies between 8 and 28 °F.  Returns (outdoor, wet bulb, superheat), °F."""
    outdoor, wet = rng.uniform(75.0, 105.0, n), rng.uniform(60.0, 74.0, n)
    target = (3.0 * wet - 80.0 - outdoor) / 2.0
    rated = (rng.random(n) < 0.5) | (target < 8.0) | (target > 28.0)
    return (np.where(rated, 95.0, outdoor), np.where(rated, 67.0, wet),
            np.where(rated, 12.0, target))


def draw(rng, ref, n, split, metering=None, odd=False):
    """n machines of one refrigerant, built and charged; `odd` ones are as sound, but each differs
    from its nameplate far more than most.  Returns (m, info, good)."""
    wide = 2.2 if odd else 1.0
    column = 1 if split == "test" else 0
    d = {key: rng.uniform(*ranges[column], n) for key, ranges in CONSTANTS.items()}
    kind = (np.asarray([metering] * n) if metering else
            rng.choice(METERING, n, p=(0.38, 0.42, 0.10, 0.10)))
    tons = rng.choice([1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0], n)
    seer = rng.choice(SEERS[ref.name], n).astype(float)
    d["is_valve"] = (kind == "txv") | (kind == "exv")
    d["nominal"] = tons * machine.TON * rng.uniform(0.95, 1.04, n)
    d["evap"] = (45.3 + rng.normal(0.0, 2.1 * wide, n) - 32.0) * F
    usual = np.interp(seer, *zip(*APPROACH))
    d["approach"] = np.clip(usual + rng.normal(0.0, 3.5 * wide, n), 8.5, 38.0) * F
    # Coils are sized by the mean of a blend's temperature, dew and bubble as far apart as here.
    glide = [float(t - ref.saturation(np.array([t]))["bubble_temp"][0]) for t in (7.0, 45.0)]
    d["evap"] = d["evap"] + 0.4 * glide[0]
    d["approach"] = d["approach"] + 0.5 * glide[1]
    d["line_rise"] = rng.uniform(0.8, 2.2, n)
    d["superheat"] = np.where(d["is_valve"], rng.uniform(3.2, 6.4, n),
                              12.0 * F - d["line_rise"])
    d["subcooling"] = np.where(d["is_valve"], rng.choice([8.0, 9.0, 10.0, 11.0, 12.0, 13.0], n),
                               rng.uniform(8.0, 13.0, n)) * F
    d["subcooling"] = np.minimum(d["subcooling"], 0.72 * (d["approach"] - glide[1]))
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
    # Charged in the field with the airflow the house gives: valves to nameplate subcooling at the
    # rating point, restrictors by their chart; and 3 % of the charge is within anybody's error.
    info = {"metering": kind, "tons": tons, "seer": seer, "line_length": length,
            "liquid_od": liquid_od, "suction_od": suction_od,
            "nameplate_subcooling": np.round(d["subcooling"] / F),
            "cfm_per_ton": np.clip(rng.normal(385.0, 32.0 * wide, n), 300.0, 480.0)}
    outdoor, wet, target = charging_weather(rng, n)
    c = conditions(m, info["cfm_per_ton"], np.where(d["is_valve"], 95.0, outdoor),
                   np.where(d["is_valve"], 67.0, wet))
    m["charge"], good, x = machine.charge_for(
        ref, m, c, subcooling=d["subcooling"] + rng.normal(0.0, 1.0 * wide, n) * F,
        superheat=(target + rng.normal(0.0, 1.5 * wide, n)) * F)
    m["charge"] = m["charge"] * (1.0 + rng.uniform(-0.03, 0.03, n))
    m["design_charge"] = np.where(good, m["charge"], m["design_charge"])
    m["design_x"] = x
    return m, info, good


def conditions(m, cfm_per_ton, outdoor_f, wet_bulb_f):
    """A sound machine at sea level, its return 13 °F warmer than its wet bulb."""
    n = m["nominal"].size
    one = np.ones(n)
    dry, wet = (wet_bulb_f + 13.0 - 32.0) * F * one, (wet_bulb_f - 32.0) * F * one
    ratio = air.ratio_from_wet_bulb(dry, wet, machine.SEA_LEVEL)
    return machine.weather(machine.healthy_conditions(n), m, dry, ratio,
                           (outdoor_f - 32.0) * F * one, machine.SEA_LEVEL * one, cfm_per_ton)


def rating_conditions(m, cfm_per_ton):
    return conditions(m, cfm_per_ton, 95.0, 67.0)


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
