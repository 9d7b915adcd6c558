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
            "kind": str(rng.choice(["reciprocating", "scroll", "rotary"] if tons < 2 else
                                   ["reciprocating", "scroll", "scroll"])),
            "blower_motor": str(rng.choice(["psc", "psc", "constant_torque", "constant_airflow"])),
            "blower_capacitor": float(rng.choice([5.0, 7.5, 10.0, 15.0])),
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
    "blower_capacitor_weak": ("blower_capacitor_rated", "blower_motor_type"),
    "blower_capacitor_failed": ("blower_capacitor_rated", "blower_motor_type"),
    "blower_motor_failed": ("blower_motor_type",), "ecm_module_failed": ("blower_motor_type",),
    "supply_connection_bad": ("rated_voltage",), "compressor_tight": ("compressor_rla",),
    "reversing_valve_leaking": ("system_kind",), "phase_lost": ("compressor_motor",),
    "rotation_reversed": ("compressor_motor",), "winding_open_phase": ("compressor_motor",),
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
    if rng.random() < 0.6 or "blower_motor_type" in needs:
        out["blower_motor_type"] = b["blower_motor"]
        if b["blower_motor"] == "psc":
            out["blower_capacitor_rated"] = b["blower_capacitor"]
    if rng.random() < 0.5:
        out["compressor_kind"] = b["kind"]
    if "system_kind" in needs:
        out["system_kind"] = "split_heat_pump"
    elif rng.random() < 0.5:
        out["system_kind"] = "split_cooling"
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
    if b["blower_motor"] == "psc":
        r["blower_capacitance"] = b["blower_capacitor"] * rng.uniform(0.97, 1.035)
    r.update(call_for_cooling=True, indoor_call=True, control_fuse="sound", float_switch="closed",
             high_pressure_switch="closed", low_pressure_switch="closed", contactor_pulled_in=True,
             transformer_primary=(120.0 if rng.random() < 0.6 else b["volts"]
                                  if b["volts"] < 300 else 230.0) * rng.uniform(0.96, 1.04),
             transformer_secondary=rng.uniform(24.5, 27.8), drain_condition="flows",
             coil_condition="clean", filter_condition="clean", condenser_condition="clean")
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


def _dead(rng, b, r, blower=0.0):
    """Nothing at the contactor's coil; `blower`: how often the blower runs all the same."""
    _silent(rng, b, r)
    r.update(control_voltage=rng.uniform(0.0, 2.5), load_side_voltage=0.0, contactor_pulled_in=False)
    r["blower_state"] = "runs" if rng.random() < blower else "silent"
    if r["blower_state"] == "silent":
        r["blower_amps"] = 0.0


def no_control_voltage(rng, b, r):
    """A break in the cable or at the board: every switch and the fuse are sound."""
    _dead(rng, b, r, 0.4)
    return ("control_voltage", "compressor_state", "line_voltage", "line_voltage_ab")


def no_call_for_cooling(rng, b, r):
    _dead(rng, b, r)
    r.update(call_for_cooling=False, indoor_call=False)
    return ("call_for_cooling", "compressor_state", "blower_state")


def transformer_failed(rng, b, r):
    _dead(rng, b, r)
    r.update(transformer_secondary=rng.uniform(0.0, 1.0), indoor_call=False,
             call_for_cooling=bool(rng.random() < 0.4))
    return ("transformer_primary", "transformer_secondary", "compressor_state")


def control_fuse_open(rng, b, r):
    _dead(rng, b, r)
    r.update(control_fuse="open", indoor_call=False, call_for_cooling=bool(rng.random() < 0.4))
    return ("control_fuse", "compressor_state", "transformer_secondary")


def float_switch_open(rng, b, r):
    _dead(rng, b, r, 0.5)
    r.update(float_switch="open", indoor_call=bool(rng.random() < 0.5))
    r.pop("drain_condition")
    return ("float_switch", "compressor_state", "control_voltage")


def high_pressure_switch_open(rng, b, r):
    _dead(rng, b, r, 1.0)
    r["high_pressure_switch"] = "open"
    r["condenser_condition"] = str(rng.choice(["clean", "dirty"]))
    return ("high_pressure_switch", "compressor_state", "control_voltage")


def low_pressure_switch_open(rng, b, r):
    _dead(rng, b, r, 1.0)
    r["low_pressure_switch"] = "open"
    return ("low_pressure_switch", "compressor_state", "control_voltage")


def contactor_stuck_open(rng, b, r):
    _silent(rng, b, r)
    r.update(contactor_pulled_in=False, load_side_voltage=0.0,
             contactor_condition=str(rng.choice(["clean", "fouled", "pitted"])))
    return ("control_voltage", "contactor_coil_resistance", "contactor_pulled_in",
            "compressor_state")


def contactor_pole_open(rng, b, r):
    """One line open: nothing across the motors, or half where another load feeds back."""
    _silent(rng, b, r)
    half = rng.random() < 0.35
    r["load_side_voltage"] = b["volts"] * rng.uniform(0.45, 0.55) if half else rng.uniform(0.0, 6.0)
    r["contactor_condition"] = str(rng.choice(["burnt", "pitted", "fouled", "clean"]))
    return ("contactor_pulled_in", "load_side_voltage", "line_voltage", "line_voltage_ab",
            "compressor_state", "control_voltage")


def contactor_welded(rng, b, r):
    r.update(call_for_cooling=False, indoor_call=False, control_voltage=rng.uniform(0.0, 1.0),
             contactor_pulled_in=True, blower_state="silent", blower_amps=0.0,
             contactor_condition=str(rng.choice(["burnt", "pitted"])))
    return ("call_for_cooling", "control_voltage", "compressor_state")


def contactor_coil_open(rng, b, r):
    _silent(rng, b, r)
    r["contactor_coil_resistance"] = "OL"
    r.update(load_side_voltage=0.0, contactor_pulled_in=False)
    return ("control_voltage", "contactor_coil_resistance", "compressor_state")


def contactor_contacts_worn(rng, b, r):
    r["contactor_drop"] = rng.uniform(0.7, 6.0)
    r["contactor_condition"] = str(rng.choice(["pitted", "burnt"]))
    volts = r.get("line_voltage", r.get("line_voltage_ab"))
    r["load_side_voltage"] = volts - 2.0 * r["contactor_drop"]
    return ("contactor_drop", "contactor_condition", "compressor_state")


def compressor_capacitor_weak(rng, b, r):
    share = rng.uniform(0.68, 0.88)
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
    r["fan_capacitance"] = b["fan_capacitor"] * rng.uniform(0.68, 0.86)
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


def supply_connection_bad(rng, b, r):
    """Right at rest; the connection takes its share of the starting current as heat."""
    sag = rng.uniform(0.16, 0.34)
    amps = b["lra"] * rng.uniform(0.70, 0.95)
    if sag > 0.24:
        _hum(rng, b, r, amps)
    else:
        r["starting_seconds"] = rng.uniform(0.8, 2.5)
    r["starting_amps"] = amps
    volts = r.get("line_voltage", r.get("line_voltage_ab", b["volts"]))
    r["line_voltage_starting"] = volts * (1.0 - sag)
    return ("line_voltage", "line_voltage_ab", "line_voltage_starting", "starting_amps",
            "compressor_state", "compressor_capacitance")


def _three_ohms(b, r, ab, bc, ca):
    for key in SOUND_OHMS:
        r.pop(key, None)
    r.update(winding_ab=ab, winding_bc=bc, winding_ca=ca)


def phase_lost(rng, b, r):
    """One line open: two legs at 1.73 of their current or at locked rotor, the third at nothing."""
    running = rng.random() < 0.3
    volts = b["volts"] * rng.uniform(0.97, 1.03)
    if running:
        live = b["rla"] * rng.uniform(0.65, 0.85) * 1.73
        parts = [live, live * rng.uniform(0.97, 1.03), rng.uniform(0.0, 0.15)]
        volt = [volts, volts * rng.uniform(0.92, 0.97), volts * rng.uniform(0.92, 0.97)]
    else:
        _hum(rng, b, r, b["lra"] * 0.87)
        live = b["lra"] * 0.87
        parts = [live, live * rng.uniform(0.97, 1.03), rng.uniform(0.0, 0.15)]
        half = rng.uniform(0.42, 0.56)
        volt = [volts, volts * half, volts * (half if rng.random() < 0.5 else rng.uniform(0.0, 0.05))]
    k = int(rng.integers(3))
    parts, volt = parts[k:] + parts[:k], volt[k:] + volt[:k]
    r.update(amps_a=parts[0], amps_b=parts[1], amps_c=parts[2], line_voltage_ab=volt[0],
             line_voltage_bc=volt[1], line_voltage_ca=volt[2])
    r.pop("load_side_voltage", None)
    return ("amps_a", "compressor_state") if running or rng.random() < 0.5 else (
        "line_voltage_ab", "line_voltage_bc", "line_voltage_ca", "compressor_state")


def rotation_reversed(rng, b, r):
    b["kind"] = "scroll"
    low = rng.uniform(120.0, 180.0)
    r.update(suction_pressure=low, liquid_pressure=low * rng.uniform(1.0, 1.06))
    _amps(rng, b, r, b["rla"] * rng.uniform(0.25, 0.45))
    return ("suction_pressure", "liquid_pressure", "compressor_state", "amps_a")


def winding_open_phase(rng, b, r):
    ohm = 2 * b["run"]
    pairs = ["OL", "OL", ohm]
    k = int(rng.integers(3))
    _hum(rng, b, r, b["lra"] * 0.87)
    amps = [b["lra"] * 0.87, b["lra"] * 0.86, 0.0]
    r.update(amps_a=amps[k], amps_b=amps[(k + 1) % 3], amps_c=amps[(k + 2) % 3])
    _heat(b, r, rng.uniform(70.0, 95.0))
    _three_ohms(b, r, *(pairs[k:] + pairs[:k]))
    # One line open inside looks at the clamp like one open outside; the ohms tell.
    for key in ("amps_a", "amps_b", "amps_c"):
        r.pop(key)
    return ("winding_ab", "winding_bc", "winding_ca", "shell_temp", "compressor_state")


def compressor_tight(rng, b, r):
    _amps(rng, b, r, b["rla"] * rng.uniform(1.2, 1.7))
    r["starting_seconds"] = rng.uniform(2.0, 5.0)
    r["starting_amps"] = b["lra"] * rng.uniform(0.9, 1.0)
    return ("common_amps", "amps_a", "starting_seconds", "compressor_state",
            "compressor_capacitance", "line_voltage_starting", "line_voltage")


def _blower_stands(rng, b, r, motor, hums):
    if motor == "psc":
        r["blower_capacitance"] = b["blower_capacitor"] * rng.uniform(0.97, 1.035)
    else:
        r.pop("blower_capacitance", None)
    b["blower_motor"] = motor
    r["blower_state"] = "hums" if rng.random() < hums else "silent"
    r["blower_amps"] = 0.0 if r["blower_state"] == "silent" else b["blower_fla"] * 1.6


def blower_motor_failed(rng, b, r):
    _blower_stands(rng, b, r, "psc", 0.3)
    return ("blower_state", "blower_capacitance", "indoor_call")


def blower_capacitor_failed(rng, b, r):
    _blower_stands(rng, b, r, "psc", 0.7)
    r["blower_capacitance"] = b["blower_capacitor"] * rng.uniform(0.0, 0.2)
    return ("blower_state", "blower_capacitance")


def blower_capacitor_weak(rng, b, r):
    b["blower_motor"] = "psc"
    r["blower_capacitance"] = b["blower_capacitor"] * rng.uniform(0.68, 0.86)
    return ("blower_state", "blower_capacitance")


def ecm_module_failed(rng, b, r):
    _blower_stands(rng, b, r, str(rng.choice(["constant_torque", "constant_airflow"])), 0.0)
    return ("blower_state", "indoor_call", "transformer_secondary")


def filter_blocked(rng, b, r):
    r["filter_condition"] = "blocked"
    return ("filter_condition",)


def evaporator_dirty(rng, b, r):
    r["coil_condition"] = "dirty"
    return ("coil_condition",)


def evaporator_iced(rng, b, r):
    r["coil_condition"] = "iced"
    return ("coil_condition",)


def drain_blocked(rng, b, r):
    if rng.random() < 0.6:
        float_switch_open(rng, b, r)
    r["drain_condition"] = "blocked"
    return ("drain_condition",)


def reversing_valve_leaking(rng, b, r):
    cold = rng.uniform(44.0, 58.0)
    r.update(reversing_valve_in_temp=cold, reversing_valve_out_temp=cold + rng.uniform(5.0, 20.0))
    return ("reversing_valve_in_temp", "reversing_valve_out_temp")


THREE_ONLY = {"voltage_unbalance", "phase_lost", "rotation_reversed", "winding_open_phase"}
SINGLE_ONLY = {"compressor_capacitor_weak", "compressor_capacitor_failed", "winding_open_run",
               "winding_open_start", "winding_open_common", "winding_shorted"}
FAULTS = {f.__name__: f for f in (
    no_line_power, low_line_voltage, high_line_voltage, voltage_unbalance, no_control_voltage,
    contactor_coil_open, contactor_contacts_worn, compressor_capacitor_weak,
    compressor_capacitor_failed, fan_capacitor_weak, fan_capacitor_failed, winding_open_run,
    winding_open_start, winding_open_common, overload_open, winding_shorted, winding_grounded,
    insulation_weak, compressor_lead_open, locked_rotor, fan_motor_overloaded, fan_motor_failed,
    fan_motor_grounded, blower_motor_overloaded, no_call_for_cooling, transformer_failed,
    control_fuse_open, float_switch_open, high_pressure_switch_open, low_pressure_switch_open,
    contactor_stuck_open, contactor_pole_open, contactor_welded, supply_connection_bad, phase_lost,
    rotation_reversed, winding_open_phase, compressor_tight, blower_motor_failed,
    blower_capacitor_weak, blower_capacitor_failed, ecm_module_failed, filter_blocked,
    evaporator_dirty, evaporator_iced, drain_blocked, reversing_valve_leaking)}
# The machine is down or will be within the day; the others are for watching or repairing soon.
STOPS = {"no_line_power", "no_control_voltage", "contactor_coil_open", "winding_open_run",
         "compressor_capacitor_failed", "winding_open_start", "winding_open_common",
         "overload_open", "winding_shorted", "winding_grounded", "compressor_lead_open",
         "locked_rotor", "fan_motor_failed", "fan_capacitor_failed", "fan_motor_grounded",
         "no_call_for_cooling", "transformer_failed", "control_fuse_open", "float_switch_open",
         "high_pressure_switch_open", "low_pressure_switch_open", "contactor_stuck_open",
         "contactor_pole_open", "phase_lost", "winding_open_phase", "blower_motor_failed",
         "blower_capacitor_failed", "ecm_module_failed", "evaporator_iced", "drain_blocked"}


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
        if SOUND_OHMS[0] in r and fault in ("overload_open", "compressor_lead_open"):
            _three_ohms(b, r, *(r[key] for key in SOUND_OHMS))
        for key in SOUND_OHMS:
            r.pop(key, None)
    groups = {}
    taken = {}
    for key, value in r.items():
        # Windings are measured all three or not at all; so are phases, and what is compared.
        ohms = key in SOUND_OHMS or key in ("winding_ab", "winding_bc", "winding_ca")
        group = "ohms" if ohms else key[:-1] if key.startswith("amps_") else (
            "phases" if key.startswith("line_voltage_") and len(key) == 15 else
            "valve" if key.startswith("reversing_valve_") else
            "transformer" if key.startswith("transformer_") else key)
        if group not in groups:
            # Where one look is all that tells, a call without it is not about that fault.
            chance = 1.0 if telling == (key,) else 0.96 if key in telling else keep
            groups[group] = rng.random() < chance
        if groups[group]:
            taken[key] = value
    if fault in SINGLE_ONLY and SOUND_OHMS[0] in taken and rng.random() < 0.15:
        names = ["terminal_12", "terminal_23", "terminal_31"]
        rng.shuffle(names)
        for name, key in zip(names, SOUND_OHMS):
            taken[name] = taken.pop(key)
    return b, system(rng, b, fault), taken, r["compressor_state"] == "runs"
