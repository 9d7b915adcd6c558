"""Labelled service calls: what `padside assess` reads, and apart from it what is really wrong.

    generate.py --split tune|test --seed N --count M --calls FILE --labels FILE [--tables DIR]
                [--fleet wide|odd|pairs]

One JSON object a line in both files, in the same order.  A call holds nothing but what a technician
would have written down.  A label holds: `truth` (fault ids; empty for a healthy machine), `accept`
(other first findings that are not wrong), `kind` (healthy, condition, single, pair, electrical),
`severity`, `capacity_loss` and `efficiency_loss` (shares, against the same machine healthy in the
same weather), `residuals` (true reading minus that of the healthy machine), `readings` (all that could
have been taken, the deciding ones with them, as the instruments would show them) and `earlier` (two
visits of the same machine, sound, on other days).  What is not in the call, report.py may add.

Fleets: `wide` is what the field shows, electrical calls among them; `odd` holds units that are sound
but differ from their nameplates far more than most, and their faults; `pairs` two faults at once.
"""

import argparse
import json
import sys

import numpy as np

import air
import electrical
import faults
import fleet
import machine
import meter

F = 1.8
PSI = 6894.757

REFRIGERANTS = {"R-410A": 0.40, "R-22": 0.25, "R-454B": 0.11, "R-32": 0.09, "R-407C": 0.08,
                "R-134a": 0.07}
# What the refrigerant side of the calls is made of.
MIX = {
    "healthy": 0.20, "low_indoor_load": 0.04, "undercharge": 0.12, "overcharge": 0.09,
    "metering_clogged": 0.05, "line_restricted": 0.06, "metering_overfeed": 0.07,
    "noncondensables": 0.07, "compressor_inefficient": 0.08, "low_indoor_airflow": 0.08,
    "high_indoor_airflow": 0.01, "low_outdoor_airflow": 0.07,
}
PAIRS_SHARE = 0.06
ELECTRICAL_SHARE = 0.24
CUTOUT_PSIG = {"R-410A": 610.0, "R-32": 610.0, "R-454B": 600.0, "R-22": 400.0, "R-407C": 400.0,
               "R-134a": 320.0}

# Taken when they would decide something, and never by habit.
DECIDING = ("condenser_bend_temp", "standing_pressure", "standing_temp", "condenser_leaving_db")

# Readings a technician on a cooling call seldom leaves out, and how often he does.
CORE = ("suction_pressure", "liquid_pressure", "suction_line_temp", "liquid_line_temp",
        "outdoor_db", "return_db")


def _weather(rng, m, info, condition):
    """Random weather; `condition` marks machines under low indoor load."""
    n = m["nominal"].size
    outdoor = rng.uniform(65.0, 110.0, n)
    dry = np.where(condition, rng.uniform(58.0, 66.0, n), rng.uniform(69.0, 85.0, n))
    rh = np.where(condition, rng.uniform(0.28, 0.48, n), rng.uniform(0.45, 0.70, n))
    altitude = np.where(rng.random(n) < 0.6, rng.uniform(0.0, 1200.0, n),
                        rng.uniform(0.0, 6000.0, n)).round(-1)
    barometric = air.pressure_at(altitude)
    celsius = (dry - 32.0) / F
    ratio = air.ratio_from_rh(celsius, rh, barometric)
    c = machine.weather(machine.healthy_conditions(n), m, celsius, ratio, (outdoor - 32.0) / F,
                        barometric, info["cfm_per_ton"])
    c["charge"] = m["charge"]
    return c, altitude, rh


def _names(what):
    return what.split("+") if what != "healthy" else []


def _severities(rng, what, is_valve):
    """Per fault an array of severities, 0 where the machine has it not."""
    pair = np.array(["+" in w for w in what])
    out = {}
    for fault, (low, high, _) in faults.FAULTS.items():
        has = np.array([fault in _names(w) for w in what])
        # Either half of a pair is worth finding, and the unit still runs.
        least = np.where(pair, low + 0.15 * (high - low), low)
        most = np.where(pair, low + 0.70 * (high - low), high)
        least = np.where(is_valve, np.maximum(least, faults.VALVE_LEAST.get(fault, 0.0)), least)
        out[fault] = np.where(has, rng.uniform(least, np.maximum(most, least + 0.05)), 0.0)
    return out


def _what(rng, n, kind):
    """What is wrong with each of n machines: a fault, two joined by +, or nothing."""
    names = list(MIX)
    what = rng.choice(names, n, p=np.array([MIX[k] for k in names]) / sum(MIX.values()))
    pairs = np.array(["+".join(p) for p in faults.PAIRS])
    share = 1.0 if kind == "pairs" else 0.0 if kind == "odd" else PAIRS_SHARE
    return np.where(rng.random(n) < share, rng.choice(pairs, n), what)


def other_day(rng, m, info, altitude):
    """A sound machine on another day: filter, condenser and charge are no more quite the same."""
    n = m["nominal"].size
    c, _, _ = _weather(rng, m, info, np.zeros(n, bool))
    airflow = info["cfm_per_ton"] * np.exp(rng.normal(0.0, 0.04, n))
    c = machine.weather(c, m, c["return_temp"], c["return_ratio"], c["outdoor"],
                        air.pressure_at(altitude), airflow)
    c["outdoor_flow"] = c["outdoor_flow"] * np.exp(rng.normal(0.0, 0.03, n))
    c["charge"] = c["charge"] * np.exp(rng.normal(0.0, 0.01, n))
    return c


def _air_leaving(c, got, blower_watts):
    eva = got["evaporator"]
    cp = air.CP_AIR + c["return_ratio"] * air.CP_VAPOUR
    dry = c["return_temp"] - (eva["sensible"] - blower_watts) / (c["indoor_mass"] * cp)
    ratio = c["return_ratio"] - eva["latent"] / (c["indoor_mass"] * 2.45e6)
    ratio = np.minimum(ratio, air.saturation_ratio(dry, c["barometric"]))
    return dry, ratio


def condenser_leaving(m, c, got):
    """Air temperature behind the condenser, °C; the fan's own heat with it."""
    capacity = m["condenser_air"] * c["outdoor_flow"] * c["outdoor_density"] / 1.146
    rejected = got["flow"] * (got["discharge"] - got["condenser"]["enthalpy"])
    return c["outdoor"] + (rejected + 0.05 * m["design_power"]) / capacity


def truth(ref, m, c, got, rng_loss, blower, extra):
    """What perfect instruments would read, in the program's units, as arrays.

    `extra`: arrays per machine: bend (°C that the probe is off the middle of condensing), rest (°C
    that the unit is off its air after standing), gathered (share of foreign gas that is with the
    vapour when the unit stands), leaving (°C that the leaving air is off)."""
    r = machine.readings(ref, got)
    supply, ratio = _air_leaving(c, got, blower)
    pressure = c["barometric"]
    standing = ref.dew_pressure(c["outdoor"] + extra["rest"]) + extra["gathered"] * c["foreign_gas"]
    return {
        "condenser_bend_temp": (0.5 * (got["cond"] + got["bubble"]) + extra["bend"]) * F + 32.0,
        "standing_temp": c["outdoor"] * F + 32.0,
        "standing_pressure": (standing - pressure) / PSI,
        "condenser_leaving_db": (condenser_leaving(m, c, got) + extra["leaving"]) * F + 32.0,
        "outdoor_db": c["outdoor"] * F + 32.0,
        "suction_pressure": (got["suction"] - pressure) / PSI,
        "liquid_pressure": (got["head"] - pressure) / PSI,
        "suction_line_temp": r["suction_line"] * F + 32.0,
        "liquid_line_temp": r["liquid_line"] * F + 32.0,
        "discharge_line_temp": (r["discharge"] - rng_loss * (r["discharge"] - c["outdoor"])) * F
        + 32.0,
        "drier_in_temp": r["liquid_line"] * F + 32.0,
        "drier_out_temp": r["drier_out"] * F + 32.0,
        "return_db": c["return_temp"] * F + 32.0,
        "return_wb": air.wet_bulb(c["return_temp"], c["return_ratio"], pressure) * F + 32.0,
        "return_rh": 100.0 * air.relative_humidity(c["return_temp"], c["return_ratio"], pressure),
        "supply_db": supply * F + 32.0,
        "supply_wb": air.wet_bulb(supply, ratio, pressure) * F + 32.0,
        "supply_rh": np.minimum(100.0 * air.relative_humidity(supply, ratio, pressure), 100.0),
        "_superheat": r["superheat"] * F, "_subcooling": r["subcooling"] * F,
        "_power": got["power"],
        "airflow": c["indoor_mass"] / air.density(c["return_temp"], c["return_ratio"], pressure)
        / machine.CFM,
    }


def _statics(rng, what, share):
    """Duct side: external static, filter and coil, for an airflow `share` of the healthy one."""
    filter_drop, coil = rng.uniform(0.08, 0.18), rng.uniform(0.14, 0.26)
    back, out = rng.uniform(0.05, 0.12), rng.uniform(0.10, 0.20)
    state = "clean"
    cause = None
    if what == "low_indoor_airflow":
        cause = str(rng.choice(["filter", "coil", "duct", "blower"]))
        flow = share**2
        filter_drop, coil, back, out = (v * flow for v in (filter_drop, coil, back, out))
        # A blower on its curve: pressure rises as the flow is throttled.
        short = rng.uniform(0.30, 0.60) * (1.0 - share) / 0.5
        if cause == "filter":
            filter_drop += short
            state = "blocked" if share < 0.6 else "loaded"
        elif cause == "coil":
            coil += short
        elif cause == "duct":
            out += short
    return {"return_static": -(filter_drop + back), "supply_static": coil + out,
            "filter_drop": filter_drop, "coil_drop": coil, "filter_condition": state}, cause


def draw_extra(rng, n):
    """How the deciding readings differ from machine to machine and call to call; see truth()."""
    return {"bend": rng.normal(-0.2, 0.5, n), "rest": rng.normal(0.0, 0.5, n),
            "gathered": rng.uniform(0.30, 0.90, n), "leaving": rng.normal(0.0, 0.8, n)}


def _system(rng, name, info, k, b, charge_kg):
    out = {"refrigerant": name, "metering": str(info["metering"][k])}
    out.update(electrical.system(rng, b))
    out["nominal_capacity"] = float(info["tons"][k])
    if rng.random() < 0.85:
        out["seer"] = float(info["seer"][k])
    if info["metering"][k] in ("txv", "exv") and rng.random() < 0.8:
        out["target_subcooling"] = float(info["nameplate_subcooling"][k])
    if rng.random() < 0.6:
        out["factory_charge"] = round(charge_kg * 35.274, 0)
    if rng.random() < 0.5:
        out["line_set_length"] = float(info["line_length"][k])
        out["liquid_line_od"] = float(round(info["liquid_od"][k], 4))
        out["suction_line_od"] = float(info["suction_od"][k])
    return out


def _taken(rng, truth):
    """Which readings get written down."""
    thorough = rng.random() < 0.55
    keep = {}
    humidity = "return_wb" if rng.random() < 0.7 else "return_rh"
    after = "supply_wb" if rng.random() < 0.7 else "supply_rh"
    for key, value in truth.items():
        if key.startswith("_"):
            continue
        chance = 0.65 if thorough else 0.25
        if key in CORE:
            chance = 0.985
        elif key in ("return_wb", "return_rh"):
            chance = 0.96 if key == humidity else 0.0
        elif key in ("supply_wb", "supply_rh"):
            chance = chance if key == after else 0.0
        elif key == "supply_db":
            chance = 0.95 if thorough else 0.75
        elif key in ("compressor_state", "common_amps", "line_voltage", "amps_a", "amps_b",
                     "amps_c", "discharge_line_temp"):
            chance = 0.9 if thorough else 0.45
        elif key in ("drier_in_temp", "drier_out_temp", "airflow", "return_static",
                     "supply_static", "filter_drop", "coil_drop"):
            chance *= 0.5
        elif key in electrical.SOUND_OHMS or key.endswith("_ground_resistance"):
            chance = 0.08
        if rng.random() < chance:
            keep[key] = value
    if ("drier_in_temp" in keep) != ("drier_out_temp" in keep):
        keep.pop("drier_in_temp", None)
        keep.pop("drier_out_temp", None)
    return keep


def _electrics(rng, b, m, k, power):
    """Electrical readings of a machine that draws `power` watts."""
    r = electrical.sound(rng, b)
    r.pop("_warm")
    for key in ("winding_temp", "shell_temp"):
        r.pop(key)
    volts = r.get("line_voltage", r.get("line_voltage_ab"))
    factor = rng.uniform(0.92, 0.98) if not b["three"] else rng.uniform(0.82, 0.89)
    amps = power / (volts * factor * (1.732 if b["three"] else 1.0))
    electrical._amps(rng, b, r, amps)
    if b["three"]:
        for key in electrical.SOUND_OHMS:
            r.pop(key, None)
        r.pop("compressor_capacitance", None)
    r["fan_amps"] *= 0.97
    return r


def _plate(rng, m, info, k):
    """A nameplate whose rated load amps fit the compressor."""
    b = electrical.nameplate(rng, tons=float(info["tons"][k]))
    watts = m["design_power"][k] * rng.uniform(1.25, 1.55)
    b["rla"] = round(watts / (b["volts"] * (1.732 * 0.86 if b["three"] else 0.95)), 1)
    b["lra"] = round(b["rla"] * rng.uniform(5.0, 6.2))
    return b


def _costly(ref, m, healthy, base, severities, x, what):
    """Which pairs are of two faults that alone cost 5 % of capacity or efficiency each."""
    fine = np.ones(len(what), bool)
    pair = np.array(["+" in w for w in what])
    for fault, severity in severities.items() if pair.any() else ():
        has = pair & (severity > 0.0)
        if not has.any():
            continue
        got, ok, _ = faults.solve(ref, m, healthy, {fault: np.where(has, severity, 0.0)}, x)
        capacity = 1.0 - got["taken"] / base["taken"]
        efficiency = 1.0 - got["taken"] / got["power"] / (base["taken"] / base["power"])
        fine &= ~has | (ok & ((capacity >= 0.05) | (efficiency >= 0.05)))
    return fine


def _earlier(rng, ref, m, info, altitude, discharge_loss, blower_share, plates):
    """Two earlier visits of each machine, sound: dicts of readings, None where nothing was read."""
    visits = []
    for day in ("2025-07-02T10:15", "2024-06-11T14:40"):
        c = other_day(rng, m, info, altitude)
        got, ok, _ = machine.solve(ref, m, c)
        blower = c["indoor_mass"] / 1.2 / machine.CFM * blower_share
        values = truth(ref, m, c, got, discharge_loss, blower, draw_extra(rng, ok.size))
        visits.append((day, ok & (got["cond"] < ref.highest - 0.5), values))

    def of(k):
        out = []
        for day, ok, values in reversed(visits):
            if not ok[k]:
                continue
            one = {key: v[k] for key, v in values.items()}
            one.update(_electrics(rng, plates[k], m, k, one["_power"]))
            one["running_minutes"] = float(rng.integers(15, 45))
            taken = {key: v for key, v in _taken(rng, one).items() if key not in DECIDING}
            out.append({"opened_at": day, "as_left": meter.take(rng, taken)})
        return out
    return of


def refrigerant_calls(rng, name, n, split, tables, kind="wide"):
    """n calls of one refrigerant, as (call, label) pairs; machines that do not close or would
    trip their cut-outs are left out."""
    ref = fleet.refrigerant(name, tables)
    m, info, good = fleet.draw(rng, ref, n, split, odd=kind == "odd")
    what = _what(rng, n, kind)
    healthy, altitude, rh = _weather(rng, m, info, what == "low_indoor_load")
    base, ok, x = machine.solve(ref, m, healthy)
    severities = _severities(rng, what, m["is_valve"])
    got, ok2, c = faults.solve(ref, m, healthy, severities, x)
    ok2 &= _costly(ref, m, healthy, base, severities, x, what)
    head = (got["head"] - c["barometric"]) / PSI
    fit = (good & ok & ok2 & (head < CUTOUT_PSIG[name]) & (got["cond"] < ref.highest - 0.5)
           & (base["cond"] < ref.highest - 0.5) & (got["evap"] > -22.0)
           & (got["evaporator"]["surface"] > -8.0))
    loss = 1.0 - got["taken"] / base["taken"]
    efficiency = 1.0 - (got["taken"] / got["power"]) / (base["taken"] / base["power"])
    discharge_loss = rng.uniform(0.04, 0.14, n)
    blower_share = rng.uniform(0.30, 0.50, n)
    blower = c["indoor_mass"] / 1.2 / machine.CFM * blower_share
    extra = draw_extra(rng, n)
    shown = truth(ref, m, c, got, discharge_loss, blower, extra)
    before = truth(ref, m, healthy, base, discharge_loss, blower, extra)
    plates = {k: _plate(rng, m, info, k) for k in np.flatnonzero(fit)}
    earlier = _earlier(rng, ref, m, info, altitude, discharge_loss, blower_share, plates)
    for k in np.flatnonzero(fit):
        b = plates[k]
        values = {key: v[k] for key, v in shown.items()}
        values.update(_electrics(rng, b, m, k, values["_power"]))
        share = c["indoor_mass"][k] / healthy["indoor_mass"][k]
        parts = what[k]
        names = [faults.named(part) for part in _names(parts)]
        low_air = "low_indoor_airflow" in names
        ducts, cause = _statics(rng, "low_indoor_airflow" if low_air else "", share)
        values.update(ducts)
        values["running_minutes"] = float(rng.integers(15, 45))
        kind = ("healthy" if parts == "healthy" else "condition" if parts == "low_indoor_load"
                else "pair" if len(names) == 2 else "single")
        accept = []
        if low_air and cause != "blower":
            accept += ["high_static_pressure", "filter_blocked", "evaporator_dirty"]
        if kind == "condition":
            accept.append("healthy")
        every = meter.take(rng, {key: v for key, v in values.items() if not key.startswith("_")})
        call = {"site": {}, "system": _system(rng, name, info, k, b, m["charge"][k]),
                "as_found": {key: every[key] for key in _taken(rng, values)
                             if key not in DECIDING}}
        if altitude[k] > 1000.0 or rng.random() < 0.85:
            call["site"]["altitude"] = float(altitude[k])
        label = {"truth": names, "accept": accept, "kind": kind,
                 "way": parts, "family": "air" if parts.endswith("airflow") else "refrigerant",
                 "severity": {key: round(float(v[k]), 3) for key, v in severities.items()
                              if v[k] > 0.0},
                 "capacity_loss": round(float(loss[k]), 4),
                 "efficiency_loss": round(float(efficiency[k]), 4), "refrigerant": name,
                 "metering": str(info["metering"][k]),
                 "core": all(key in call["as_found"] for key in CORE)
                 and ("return_wb" in call["as_found"] or "return_rh" in call["as_found"]),
                 "residuals": {key: round(float(shown[key][k] - before[key][k]), 2)
                               for key in shown if not key.startswith("_")},
                 "readings": every, "earlier": earlier(k)}
        label["residuals"]["superheat"] = round(
            float(shown["_superheat"][k] - before["_superheat"][k]), 2)
        label["residuals"]["subcooling"] = round(
            float(shown["_subcooling"][k] - before["_subcooling"][k]), 2)
        yield call, label


def electrical_calls(rng, n, sound_machines):
    """n electrical calls; every third one whose machine runs also carries the refrigerant and air
    readings of a sound machine."""
    names = list(electrical.FAULTS) + ["healthy"] * 3
    for i in range(n):
        fault = names[i % len(names)]
        b, system, truth, running = electrical.call(rng, fault)
        taken = meter.take(rng, truth)
        site = {}
        system.setdefault("refrigerant", "R-410A" if rng.random() < 0.6 else "R-22")
        system["metering"] = str(rng.choice(["txv", "fixed_orifice"]))
        steady = running and fault not in ("winding_shorted", "low_line_voltage",
                                           "fan_capacitor_failed", "fan_motor_failed")
        if steady and sound_machines and rng.random() < 0.33:
            lender = sound_machines[int(rng.integers(len(sound_machines)))]
            site = lender["site"]
            for key in ("refrigerant", "metering", "nominal_capacity", "seer",
                        "target_subcooling"):
                system.pop(key, None)
                if key in lender["system"]:
                    system[key] = lender["system"][key]
            for key, value in lender["as_found"].items():
                if key in meter.PIPES + meter.PROBES + meter.BULBS or key.endswith(
                        ("_pressure", "_rh")):
                    taken[key] = value
        kind = "healthy" if fault == "healthy" else "electrical"
        yield ({"site": site, "system": system, "as_found": taken},
               {"truth": [] if fault == "healthy" else [fault], "accept": [], "kind": kind,
                "way": fault if fault != "healthy" else "healthy (electrical)",
                "family": "electrical", "severity": {}, "capacity_loss": None,
                "efficiency_loss": None,
                "refrigerant": system["refrigerant"], "metering": system["metering"],
                "core": True, "stops": fault in electrical.STOPS, "residuals": {}})


def generate(split, seed, count, tables, kind="wide"):
    rng = np.random.default_rng([seed, 1 if split == "test" else 0, len(kind)])
    wanted = round(count * (1.0 - ELECTRICAL_SHARE)) if kind == "wide" else count
    # Of random pairs most have a half that is too light to count: many are solved at once.
    more = 6.0 if kind == "pairs" else 1.2
    pairs = []
    for name, share in REFRIGERANTS.items():
        want = round(wanted * share)
        got = []
        while len(got) < want:
            got += list(refrigerant_calls(rng, name, max(20, round((want - len(got)) * more)),
                                          split, tables, kind))
        pairs += got[:want]
        print(f"{name}: {want} calls", file=sys.stderr, flush=True)
    sound = [call for call, label in pairs if label["kind"] == "healthy"]
    if count > len(pairs):
        pairs += list(electrical_calls(rng, count - len(pairs), sound))
    order = rng.permutation(len(pairs))
    return [pairs[i] for i in order]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--split", choices=("tune", "test"), required=True)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--fleet", choices=("wide", "odd", "pairs"), default="wide")
    parser.add_argument("--count", type=int, default=2500)
    parser.add_argument("--calls", required=True)
    parser.add_argument("--labels", required=True)
    parser.add_argument("--brief", action="store_true", help="labels without the residuals")
    parser.add_argument("--tables", default="build/reference/tables")
    args = parser.parse_args()
    pairs = generate(args.split, args.seed, args.count, args.tables, args.fleet)
    with open(args.calls, "w", encoding="utf-8") as calls, \
            open(args.labels, "w", encoding="utf-8") as labels:
        for i, (call, label) in enumerate(pairs):
            if args.brief:
                for key in ("residuals", "severity", "refrigerant", "metering", "readings", "earlier"):
                    label.pop(key)
            calls.write(json.dumps(call) + "\n")
            labels.write(json.dumps({"n": i, **label}) + "\n")


if __name__ == "__main__":
    main()
