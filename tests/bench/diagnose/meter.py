"""What instruments make of the truth: bias for the call, error for the reading, rounding.

All figures are two standard deviations: gauges 1 % of reading or 1 psi, thermometers 1 °F, wet
bulb 1 °F, humidity 3 %, clamp 2 % + 0.2 A, capacitance 2 %, volts 1 %, ohms 2 % + 0.05, insulation
10 %, static pressure 2 % + 0.01.  Thermometers of one kind (pipe clamps; air probes) share half of
their error variance for the call.
"""

PIPES = ("suction_line_temp", "liquid_line_temp", "discharge_line_temp", "drier_in_temp",
         "drier_out_temp", "condenser_bend_temp", "reversing_valve_in_temp",
         "reversing_valve_out_temp")
PROBES = ("outdoor_db", "return_db", "supply_db", "standing_temp", "condenser_leaving_db")
BULBS = ("return_wb", "supply_wb")

# key -> (share of reading, fixed part, decimals)
SPREAD = {
    "suction_pressure": (0.01, 0.0, 1), "liquid_pressure": (0.01, 0.0, 1),
    "standing_pressure": (0.01, 0.0, 1),
    "return_rh": (0.0, 3.0, 0), "supply_rh": (0.0, 3.0, 0),
    "return_static": (0.02, 0.01, 2), "supply_static": (0.02, 0.01, 2),
    "filter_drop": (0.02, 0.01, 2), "coil_drop": (0.02, 0.01, 2),
    "airflow": (0.06, 0.0, 0), "starting_seconds": (0.05, 0.1, 1),
    "contactor_drop": (0.02, 0.02, 2),
    "compressor_ground_resistance": (0.10, 0.0, 2), "fan_ground_resistance": (0.10, 0.0, 2),
    "winding_temp": (0.0, 3.0, 0), "shell_temp": (0.0, 3.0, 0), "running_minutes": (0.0, 0.0, 0),
    "compressor_capacitance": (0.02, 0.05, 1), "fan_capacitance": (0.02, 0.05, 1),
    "blower_capacitance": (0.02, 0.05, 1), "transformer_primary": (0.01, 0.0, 1),
    "transformer_secondary": (0.01, 0.2, 1),
    "fan_amps": (0.02, 0.04, 2), "blower_amps": (0.02, 0.04, 2), "power_factor": (0.02, 0.0, 2),
}
BY_ENDING = (("winding_ab", (0.02, 0.05, 2)), ("winding_bc", (0.02, 0.05, 2)),
             ("winding_ca", (0.02, 0.05, 2)), ("_amps", (0.02, 0.2, 1)), ("_a", (0.02, 0.2, 1)), ("_b", (0.02, 0.2, 1)),
             ("_c", (0.02, 0.2, 1)), ("voltage", (0.01, 0.0, 1)), ("_volts", (0.01, 0.0, 0)),
             ("_ab", (0.01, 0.0, 1)), ("_bc", (0.01, 0.0, 1)), ("_ca", (0.01, 0.0, 1)),
             ("resistance", (0.02, 0.05, 2)), ("terminal_12", (0.02, 0.05, 2)),
             ("terminal_23", (0.02, 0.05, 2)), ("terminal_31", (0.02, 0.05, 2)))
# One meter, one bias: three-phase voltages and winding readings are compared with each other.
SHARED = ("line_voltage", "resistance", "terminal_", "amps")


def spread(key):
    if key in SPREAD:
        return SPREAD[key]
    if key.startswith("line_voltage_"):
        return (0.01, 0.0, 1)
    for ending, values in BY_ENDING:
        if key.endswith(ending):
            return values
    raise KeyError(key)


def take(rng, truth):
    """Readings as an instrument would give them; words pass unchanged."""
    half = 0.5 ** 0.5
    bias = {kind: rng.normal() for kind in ("pipe", "probe", "bulb") + SHARED}
    out = {}
    for key, value in truth.items():
        if isinstance(value, (str, bool)):
            out[key] = value
            continue
        value = float(value)
        group = ("pipe" if key in PIPES else "probe" if key in PROBES
                 else "bulb" if key in BULBS
                 else next((s for s in SHARED if s in key), None))
        error = half * rng.normal() + half * bias[group] if group else rng.normal()
        if group in ("pipe", "probe", "bulb"):
            out[key] = round(value + 0.5 * error, 1)
            continue
        share, fixed, decimals = spread(key)
        sigma = 0.5 * (share * abs(value) + fixed)
        if key.endswith("_pressure"):
            sigma = 0.5 * max(0.01 * abs(value), 1.0)
        read = value + sigma * error
        if not key.endswith(("_static", "filter_drop", "coil_drop", "_pressure")):
            read = max(read, 0.0)
        if key.endswith("_rh"):
            read = min(read, 100.0)
        out[key] = round(read, decimals)
    return out
