"""Labelled electrical calls: a machine whose motors, capacitors and wiring obey Ohm, and one fault.

Each fault alters the state the readings are taken from; the readings are then whatever a meter
would show.  FAULTS: id -> function(rng, b, r) that changes the readings r of the machine b and
returns the keys a technician would hardly leave out on such a call.
"""

import math

CAPACITORS = {1.5: 25, 2.0: 30, 2.5: 35, 3.0: 40, 3.5: 45, 4.0: 55, 5.0: 70}
SOUND_OHMS = ("common_run_resistance", "common_start_resistance", "start_run_resistance")


def nameplate(rng, three_phase=None, tons=None):
    tons = tons or float(rng.choice(list(CAPACITORS)))
    if three_phase is None:
        three_phase = bool(rng.random() < 0.15)
    motor = "three_phase" if three_phase else ("csr" if rng.random() < 0.12 else "psc")
    volts = float(rng.choice([208, 230, 460]) if three_phase else rng.choice([208, 230, 230, 230]))
    watts = tons * rng.uniform(900.0, 1180.0) / 0.70      # nameplate load, running at about 70 %
    rla = watts / (volts * (1.732 * 0.86 if three_phase else 0.95))
    lra = rla * rng.uniform(5.0, 6.2)
    impedance = volts / lra
    run = impedance * rng.uniform(0.25, 0.36)
    return {"tons": tons, "motor": motor, "three": three_phase, "volts": volts,
            "rla": round(rla, 1), "lra": round(lra), "run": run,
            "start": run * rng.uniform(3.1, 5.6), "capacitor": float(CAPACITORS[tons]),
            "fan_capacitor": float(rng.choice([4.0, 5.0, 5.0, 7.5, 10.0])),
            "fan_fla": round(float(rng.uniform(0.8, 1.9)), 2),
            "blower_fla": round(1.4 + tons * float(rng.uniform(0.7, 1.1)), 1),
            "fan_winding": float(rng.uniform(15.0, 60.0)),
            "tolerance": float(rng.choice([5.0, 6.0, 6.0, 10.0]))}


# What must be known of the nameplate for a fault to be one at all.
NEEDS = {
    "low_line_voltage": ("rated_voltage",), "high_line_voltage": ("rated_voltage",),
    "compressor_capacitor_weak": ("compressor_capacitor_rated",),
    "compressor_capacitor_failed": ("compressor_capacitor_rated",),
    "fan_capacitor_weak": ("fan_capacitor_rated",),
    "fan_capacitor_failed": ("fan_capacitor_rated",),
    "fan_motor_overloaded": ("fan_motor_fla",), "blower_motor_overloaded": ("blower_motor_fla",),
    "winding_shorted": ("compressor_rla",),
}


def system(rng, b, fault=""):
    """The nameplate as far as it was written down."""
    needs = NEEDS.get(fault, ())
    out = {"compressor_motor": b["motor"], "rated_voltage": b["volts"],
           "compressor_rla": b["rla"], "nominal_capacity": b["tons"]}
    if rng.random() < 0.75:
        out["compressor_lra"] = float(b["lra"])
    if rng.random() < 0.8 or "fan_motor_fla" in needs:
        out["fan_motor_fla"] = b["fan_fla"]
    if rng.random() < 0.7 or "blower_motor_fla" in needs:
        out["blower_motor_fla"] = b["blower_fla"]
    if not b["three"]:
        out["compressor_capacitor_rated"] = b["capacitor"]
    out["fan_capacitor_rated"] = b["fan_capacitor"]
    if rng.random() < 0.4:
        out["capacitor_tolerance"] = b["tolerance"]
    if rng.random() < 0.25 and not b["three"]:
        out["run_winding_rated"] = round(b["run"], 2)
        out["start_winding_rated"] = round(b["start"], 2)
    return {k: v for k, v in out.items() if rng.random() > 0.04 or k in needs}


def _windings(b, r, run, start):
    if b["three"]:
        r.update({SOUND_OHMS[0]: 2 * run, SOUND_OHMS[1]: 2 * run, SOUND_OHMS[2]: 2 * run})
        return
    r.update({SOUND_OHMS[0]: run, SOUND_OHMS[1]: start, SOUND_OHMS[2]: run + start})


def _heat(b, r, shell):
    """Shell and windings at one temperature, °F: copper gains 0.22 % of its ohms a degree."""
    r["shell_temp"] = shell
    r["winding_temp"] = shell
    r["_warm"] = (234.5 + (shell - 32.0) / 1.8) / 259.5
    _windings(b, r, b["run"] * r["_warm"], b["start"] * r["_warm"])


def _amps(rng, b, r, common, unbalance=None):
    if b["three"]:
        parts = unbalance or [rng.normal(1.0, 0.012) for _ in range(3)]
        r.update(amps_a=common * parts[0], amps_b=common * parts[1], amps_c=common * parts[2])
        return
    volts = r.get("line_voltage", b["volts"])
    across = volts * rng.uniform(1.4, 1.7)
    start = 2 * math.pi * 60.0 * r["compressor_capacitance"] * 1e-6 * across
    start = min(start, 0.85 * common)
    r.update(common_amps=common, start_amps=start,
             run_amps=math.sqrt(max(common**2 - start**2, 0.01)),
             compressor_capacitor_volts=across)


def _volts(rng, b, r, volts):
    drop = r.get("contactor_drop", 0.0)
    if b["three"]:
        v = [volts * rng.normal(1.0, 0.003) for _ in range(3)]
        r.update(line_voltage_ab=v[0], line_voltage_bc=v[1], line_voltage_ca=v[2])
    else:
        r["line_voltage"] = volts
    r["load_side_voltage"] = volts - 2.0 * drop


def sound(rng, b):
    """Every electrical reading of a machine that runs well."""
    r = {"contactor_drop": rng.uniform(0.02, 0.25)}
    _volts(rng, b, r, b["volts"] * rng.uniform(0.96, 1.045))
    r.update(control_voltage=rng.uniform(24.0, 27.2), contactor_condition="clean",
             contactor_coil_resistance=rng.uniform(9.0, 22.0), capacitor_condition="sound",
             terminal_condition="sound", breaker_tripped=False,
             fan_capacitance=b["fan_capacitor"] * rng.uniform(0.97, 1.035))
    if not b["three"]:
        r["compressor_capacitance"] = b["capacitor"] * rng.uniform(0.97, 1.035)
    r["line_voltage_starting"] = b["volts"] * rng.uniform(0.94, 0.985)
    _heat(b, r, rng.uniform(110.0, 165.0))
    r["compressor_ground_resistance"] = "OL" if rng.random() < 0.5 else rng.uniform(120.0, 900.0)
    r["fan_winding_resistance"] = b["fan_winding"]
    r["fan_ground_resistance"] = "OL" if rng.random() < 0.6 else rng.uniform(120.0, 900.0)
    r.update(compressor_state="runs", fan_state="runs", blower_state="runs")
    _amps(rng, b, r, b["rla"] * rng.uniform(0.58, 0.84))
    r["starting_amps"] = b["lra"] * rng.uniform(0.82, 0.98)
    r["starting_seconds"] = rng.uniform(0.2, 0.6)
    r["fan_amps"] = b["fan_fla"] * rng.uniform(0.72, 0.95)
    r["blower_amps"] = b["blower_fla"] * rng.uniform(0.62, 0.93)
    return r


def _currents_gone(b, r):
    for key in ("run_amps", "start_amps", "compressor_capacitor_volts", "starting_amps",
                "starting_seconds", "line_voltage_starting"):
        r.pop(key, None)
    if b["three"]:
        r.update(amps_a=0.0, amps_b=0.0, amps_c=0.0)
    else:
        r["common_amps"] = 0.0


def _silent(rng, b, r, fan="silent", shell=(75.0, 112.0)):
    _currents_gone(b, r)
    r.pop("contactor_drop", None)
    r["compressor_state"] = "silent"
    r["fan_state"] = fan
    if fan == "silent":
        r["fan_amps"] = 0.0
    _heat(b, r, rng.uniform(*shell))


def _tripped(rng, b, r, chance=1.0):
    """The breaker has opened: no volts as found, or none measured."""
    r["breaker_tripped"] = bool(rng.random() < chance)
    if not r["breaker_tripped"]:
        return
    dead = rng.random() < 0.4
    for key in ("line_voltage", "line_voltage_ab", "line_voltage_bc", "line_voltage_ca",
                "load_side_voltage"):
        if key in r:
            r[key] = 0.0
            if not dead:
                r.pop(key)


def _hum(rng, b, r, amps, seconds=(3.0, 12.0)):
    """Energised, not turning: locked-rotor current until the overload opens."""
    _currents_gone(b, r)
    r.pop("contactor_drop", None)
    r["compressor_state"] = "hums"
    _heat(b, r, rng.uniform(95.0, 150.0))
    r["starting_amps"] = amps * rng.uniform(0.98, 1.05)
    r["starting_seconds"] = rng.uniform(*seconds)
    if b["three"]:
        r.update(amps_a=amps, amps_b=amps, amps_c=amps)
    else:
        r["common_amps"] = amps
    sag = rng.uniform(0.92, 0.97)
    r["line_voltage_starting"] = b["volts"] * sag


def healthy(rng, b, r):
    return ("line_voltage", "common_amps", "compressor_state")


def no_line_power(rng, b, r):
    _silent(rng, b, r)
    dead = rng.uniform(0.0, 1.5)
    if b["three"]:
        r.update(line_voltage_ab=dead, line_voltage_bc=dead, line_voltage_ca=dead)
    else:
        r["line_voltage"] = dead
    r["load_side_voltage"] = 0.0
    r["breaker_tripped"] = bool(rng.random() < 0.5)
    return ("line_voltage", "line_voltage_ab", "line_voltage_bc", "line_voltage_ca",
            "compressor_state", "fan_state")


def low_line_voltage(rng, b, r):
    share = rng.uniform(0.74, 0.885)
    _volts(rng, b, r, b["volts"] * share)
    r["line_voltage_starting"] = b["volts"] * share * rng.uniform(0.84, 0.93)
    _amps(rng, b, r, b["rla"] * rng.uniform(0.75, 0.95) / share)
    if share < 0.8 and rng.random() < 0.5:
        _hum(rng, b, r, b["lra"] * share)
        r["line_voltage_starting"] = b["volts"] * share * rng.uniform(0.84, 0.93)
    r["load_side_voltage"] = b["volts"] * share
    return ("line_voltage", "line_voltage_ab", "line_voltage_bc", "line_voltage_ca",
            "compressor_state")


def high_line_voltage(rng, b, r):
    _volts(rng, b, r, b["volts"] * rng.uniform(1.125, 1.2))
    return ("line_voltage", "line_voltage_ab", "line_voltage_bc", "line_voltage_ca",
            "compressor_state")


def voltage_unbalance(rng, b, r):
    percent = rng.uniform(2.8, 7.0)
    mean = b["volts"] * rng.uniform(0.97, 1.03)
    d = mean * percent / 100.0
    v = [mean - d, mean + 0.5 * d, mean + 0.5 * d]
    k = int(rng.integers(3))
    v = v[k:] + v[:k]
    r.update(line_voltage_ab=v[0], line_voltage_bc=v[1], line_voltage_ca=v[2])
    swing = percent * rng.uniform(5.0, 8.0) / 100.0
    _amps(rng, b, r, b["rla"] * rng.uniform(0.7, 0.9),
          [1.0 + swing, 1.0 - 0.5 * swing, 1.0 - 0.5 * swing])
    return ("line_voltage_ab", "line_voltage_bc", "line_voltage_ca", "compressor_state")


def no_control_voltage(rng, b, r):
    _silent(rng, b, r)
    r["control_voltage"] = rng.uniform(0.0, 2.5)
    r["load_side_voltage"] = 0.0
    r["blower_state"] = "silent" if rng.random() < 0.6 else "runs"
    if r["blower_state"] == "silent":
        r["blower_amps"] = 0.0
    return ("control_voltage", "compressor_state", "line_voltage", "line_voltage_ab")


def contactor_coil_open(rng, b, r):
    _silent(rng, b, r)
    r["contactor_coil_resistance"] = "OL"
    r["load_side_voltage"] = 0.0
    return ("control_voltage", "contactor_coil_resistance", "compressor_state")


def contactor_contacts_worn(rng, b, r):
    r["contactor_drop"] = rng.uniform(0.7, 6.0)
    r["contactor_condition"] = str(rng.choice(["pitted", "burnt"]))
    volts = r.get("line_voltage", r.get("line_voltage_ab"))
    r["load_side_voltage"] = volts - 2.0 * r["contactor_drop"]
    return ("contactor_drop", "contactor_condition", "compressor_state")


def compressor_capacitor_weak(rng, b, r):
    share = rng.uniform(0.55, 0.88)
    r["compressor_capacitance"] = b["capacitor"] * share
    r["capacitor_condition"] = "swollen" if rng.random() < 0.35 else "sound"
    _amps(rng, b, r, b["rla"] * rng.uniform(0.62, 0.86) * (1.0 + 0.25 * (1.0 - share)))
    r["starting_seconds"] = rng.uniform(0.4, 1.3)
    return ("compressor_capacitance", "compressor_state")


def compressor_capacitor_failed(rng, b, r):
    _hum(rng, b, r, b["lra"] * rng.uniform(0.8, 0.97))
    r["compressor_capacitance"] = b["capacitor"] * (0.0 if rng.random() < 0.5
                                                    else rng.uniform(0.0, 0.22))
    r["capacitor_condition"] = str(rng.choice(["swollen", "swollen", "leaking", "sound"]))
    return ("compressor_capacitance", "compressor_state", "common_amps", "line_voltage")


def fan_capacitor_weak(rng, b, r):
    r["fan_capacitance"] = b["fan_capacitor"] * rng.uniform(0.5, 0.86)
    r["fan_amps"] = b["fan_fla"] * rng.uniform(0.85, 1.08)
    return ("fan_capacitance", "fan_state")


def fan_capacitor_failed(rng, b, r):
    r["fan_capacitance"] = b["fan_capacitor"] * rng.uniform(0.0, 0.2)
    r["fan_state"] = "hums"
    r["fan_amps"] = b["fan_fla"] * rng.uniform(1.3, 2.2)
    r["compressor_state"] = "cycles" if rng.random() < 0.5 else "runs"
    return ("fan_capacitance", "fan_state")


def _open(rng, b, r, keys, hums, shell=(75.0, 112.0)):
    if hums:
        _hum(rng, b, r, b["lra"] * hums)
    else:
        _silent(rng, b, r, fan="runs", shell=shell)
    for key in keys:
        r[key] = "OL"
    return SOUND_OHMS + ("compressor_state", "shell_temp", "common_amps")


def winding_open_run(rng, b, r):
    return _open(rng, b, r, (SOUND_OHMS[0], SOUND_OHMS[2]), rng.uniform(0.08, 0.2))


def winding_open_start(rng, b, r):
    return _open(rng, b, r, (SOUND_OHMS[1], SOUND_OHMS[2]), rng.uniform(0.75, 0.95))


def winding_open_common(rng, b, r):
    return _open(rng, b, r, (SOUND_OHMS[0], SOUND_OHMS[1]), 0.0)


def overload_open(rng, b, r):
    return _open(rng, b, r, (SOUND_OHMS[0], SOUND_OHMS[1]), 0.0, (175.0, 270.0))


def winding_shorted(rng, b, r):
    if rng.random() < 0.5:
        _silent(rng, b, r, shell=(80.0, 150.0))
        _tripped(rng, b, r)
    else:
        _amps(rng, b, r, b["rla"] * rng.uniform(1.15, 1.7))
        _heat(b, r, rng.uniform(150.0, 220.0))
    run, start = b["run"] * r["_warm"], b["start"] * r["_warm"]
    if rng.random() < 0.5:
        start *= rng.uniform(0.22, 0.5)     # ratio falls below 3
    else:
        run *= rng.uniform(0.2, 0.42)       # ratio climbs over 6
    _windings(b, r, run, start)
    return SOUND_OHMS


def winding_grounded(rng, b, r):
    _silent(rng, b, r, shell=(80.0, 140.0))
    r["compressor_ground_resistance"] = 0.0 if rng.random() < 0.6 else rng.uniform(0.0, 0.6)
    _tripped(rng, b, r, 0.85)
    return ("compressor_ground_resistance", "breaker_tripped", "compressor_state")


def insulation_weak(rng, b, r):
    r["compressor_ground_resistance"] = rng.uniform(1.5, 16.0)
    return ("compressor_ground_resistance", "compressor_state")


def compressor_lead_open(rng, b, r):
    _silent(rng, b, r, fan="runs")
    r["terminal_condition"] = str(rng.choice(["burnt", "broken", "burnt", "sound"]))
    return SOUND_OHMS + ("load_side_voltage", "compressor_state", "common_amps",
                         "terminal_condition")


def locked_rotor(rng, b, r):
    _hum(rng, b, r, b["lra"] * rng.uniform(0.84, 1.0))
    return ("compressor_state", "common_amps", "compressor_capacitance", "line_voltage",
            "starting_seconds", "amps_a")


def fan_motor_overloaded(rng, b, r):
    r["fan_amps"] = b["fan_fla"] * rng.uniform(1.16, 1.6)
    return ("fan_amps", "fan_state", "fan_capacitance")


def fan_motor_failed(rng, b, r):
    if rng.random() < 0.6:
        r.update(fan_state="silent", fan_amps=0.0, fan_winding_resistance="OL")
    else:
        r.update(fan_state="hums", fan_amps=b["fan_fla"] * rng.uniform(1.4, 2.2))
    r["compressor_state"] = "cycles" if rng.random() < 0.5 else "runs"
    return ("fan_state", "fan_capacitance", "fan_winding_resistance", "fan_amps",
            "load_side_voltage")


def fan_motor_grounded(rng, b, r):
    _silent(rng, b, r)
    r["fan_ground_resistance"] = 0.0 if rng.random() < 0.6 else rng.uniform(0.0, 0.5)
    _tripped(rng, b, r, 0.85)
    return ("fan_ground_resistance", "fan_state", "compressor_state")


def blower_motor_overloaded(rng, b, r):
    r["blower_amps"] = b["blower_fla"] * rng.uniform(1.14, 1.5)
    return ("blower_amps", "blower_state")


THREE_ONLY = {"voltage_unbalance"}
SINGLE_ONLY = {"compressor_capacitor_weak", "compressor_capacitor_failed", "winding_open_run",
               "winding_open_start", "winding_open_common", "winding_shorted"}
FAULTS = {f.__name__: f for f in (
    no_line_power, low_line_voltage, high_line_voltage, voltage_unbalance, no_control_voltage,
    contactor_coil_open, contactor_contacts_worn, compressor_capacitor_weak,
    compressor_capacitor_failed, fan_capacitor_weak, fan_capacitor_failed, winding_open_run,
    winding_open_start, winding_open_common, overload_open, winding_shorted, winding_grounded,
    insulation_weak, compressor_lead_open, locked_rotor, fan_motor_overloaded, fan_motor_failed,
    fan_motor_grounded, blower_motor_overloaded)}
# The machine is down or will be within the day; the others are for watching or mending soon.
STOPS = {"no_line_power", "no_control_voltage", "contactor_coil_open", "winding_open_run",
         "compressor_capacitor_failed", "winding_open_start", "winding_open_common",
         "overload_open", "winding_shorted", "winding_grounded", "compressor_lead_open",
         "locked_rotor", "fan_motor_failed", "fan_capacitor_failed", "fan_motor_grounded"}


def call(rng, fault, keep=0.55):
    """One call: (nameplate, system, truth of the readings taken, running)."""
    three = True if fault in THREE_ONLY else (False if fault in SINGLE_ONLY else None)
    b = nameplate(rng, three)
    r = sound(rng, b)
    telling = FAULTS[fault](rng, b, r) if fault != "healthy" else healthy(rng, b, r)
    r.pop("_warm")
    if b["three"]:      # three equal windings: nothing to name by the single-phase rule
        for key in ("line_voltage", "compressor_capacitance"):
            r.pop(key, None)
        if fault not in ("overload_open", "compressor_lead_open"):
            for key in SOUND_OHMS:
                r.pop(key, None)
    groups = {}
    taken = {}
    for key, value in r.items():
        # Windings are measured all three or not at all; so are phases.
        group = "ohms" if key in SOUND_OHMS else key[:-1] if key.startswith("amps_") else (
            "phases" if key.startswith("line_voltage_") and len(key) == 15 else key)
        if group not in groups:
            groups[group] = rng.random() < (0.96 if key in telling else keep)
        if groups[group]:
            taken[key] = value
    if fault in SINGLE_ONLY and SOUND_OHMS[0] in taken and rng.random() < 0.15:
        names = ["terminal_12", "terminal_23", "terminal_31"]
        rng.shuffle(names)
        for name, key in zip(names, SOUND_OHMS):
            taken[name] = taken.pop(key)
    return b, system(rng, b, fault), taken, r["compressor_state"] == "runs"
