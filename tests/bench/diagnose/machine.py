"""A split air conditioner in steady state, from first principles.

Four parts and a charge close the cycle, for an array of machines at a time:

  compressor   displacement × volumetric efficiency × suction gas density (the motor heats the gas
               first); work along p·v^n over an efficiency that falls off its best pressure ratio
  condenser    three zones (vapour, two-phase, liquid) that share the face: their fractions sum to 1
  metering     a choked restrictor (flow from upstream pressure over flash pressure); a valve is the
               same restrictor with an opening that follows evaporator superheat
  evaporator   a two-phase part (air to a wet or dry surface by bypass factor, surface to
               refrigerant by a conductance) and a superheating part
  charge       mass in the zones (Zivi's void fraction in two-phase), liquid and suction lines

Unknowns: evaporating and condensing dew temperature, and the evaporator's outlet enthalpy above the
dew line (below zero: liquid comes back).  Equations: the metering passes what the compressor pumps;
the evaporator gives the heat the refrigerant takes; the charge in the parts is the charge put in.
A fault changes a part, never a reading.

SI units: °C, Pa, kg, W, J/kg.  No part of the program under test is used here.
"""

import numpy as np

import air

TON = 3516.85
SEA_LEVEL = 101325.0
CFM = 0.000471947           # m3/s
STANDARD_AIR = 1.2          # kg/m3, what a "standard cfm" is counted in

# Gauss-Legendre points on 0..1 for means over quality.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(6)
_NODES, _WEIGHTS = 0.5 * (_NODES + 1.0), 0.5 * _WEIGHTS

RATING = {"return_temp": 26.667, "return_wet_bulb": 19.444, "outdoor": 35.0}


def two_phase_density(quality_a, quality_b, vapour, liquid, slip_power):
    """Mean density over an even spread of quality; void fraction with slip (rho_l/rho_v)^power
    (Zivi 1964: power 1/3)."""
    total = 0.0
    for node, weight in zip(_NODES, _WEIGHTS):
        x = np.clip(quality_a + (quality_b - quality_a) * node, 1e-4, 1.0)
        slip = (liquid / vapour) ** slip_power
        void = 1.0 / (1.0 + (1.0 - x) / x * slip * vapour / liquid)
        total = total + weight * (void * vapour + (1.0 - void) * liquid)
    return total


def restrictor_flow(ref, m, pressure, enthalpy, downstream):
    """kg/s per unit opening: sqrt(2·rho·(p − p_flash)), p_flash a share of the saturation
    pressure of the arriving liquid (short tubes choke where the liquid flashes); bubbles at the
    inlet choke it by their volume."""
    bubble = ref.bubble_temp(pressure)
    saturated = ref.liquid_enthalpy(bubble)
    temp = ref.liquid_temp(np.minimum(enthalpy, saturated))
    flash = np.maximum(m["flash_share"] * ref.bubble_pressure(temp), downstream)
    sat = ref.saturation(ref.dew_temp(pressure))
    x = np.clip((enthalpy - saturated) / (sat["vapour_enthalpy"] - saturated), 0.0, 1.0)
    liquid = ref.liquid_density(temp)
    volume = x / sat["vapour_density"] + (1.0 - x) / liquid
    return np.sqrt(2.0 * np.maximum(pressure - flash, 1e3) / volume), x


def surface_temp(ref_temp, conductance, flow, bypass, temp_in, ratio_in, pressure):
    """Coil surface where what the air gives is what the refrigerant side passes, and the heats."""
    low, high = ref_temp + 0.0, np.maximum(temp_in, ref_temp + 0.1)
    contact = flow * (1.0 - bypass)
    for _ in range(26):
        mid = 0.5 * (low + high)
        sensible = contact * (air.CP_AIR + ratio_in * air.CP_VAPOUR) * (temp_in - mid)
        latent = contact * 2.45e6 * np.maximum(ratio_in - air.saturation_ratio(mid, pressure), 0.0)
        more = sensible + latent > conductance * (mid - ref_temp)
        low = np.where(more, mid, low)
        high = np.where(more, high, mid)
    return mid, sensible, latent


def _compress(ref, m, c, suction_dew, suction_pressure, head, above):
    """Mass flow, power and discharge enthalpy for gas at `above` the suction dew line."""
    sat = ref.saturation(suction_dew)
    latent = sat["vapour_enthalpy"] - sat["liquid_enthalpy"]

    def density(z):
        x = np.clip(1.0 + z / latent, 0.2, 1.0)
        vapour = ref.vapour_density(suction_dew, np.maximum(z, 0.0))
        return 1.0 / (x / vapour + (1.0 - x) / sat["liquid_density"])

    ratio = head / suction_pressure
    n = ref.exponent
    rise = n / (n - 1.0) * suction_pressure * (ratio ** ((n - 1.0) / n) - 1.0)
    efficiency = np.maximum(m["best_efficiency"] * (1.0 - m["efficiency_fall"]
                            * (ratio - m["best_ratio"]) ** 2), 0.30)
    first = rise / density(above) / efficiency
    gas = density(above + m["motor_heat"] * first)
    ideal = m["displacement"] * gas * (m["fill"] - m["fill_fall"] * (ratio - 1.0))
    flow = ideal * (1.0 - c["leak"])
    # Gas that slips back was compressed, and is again: most of its work is lost with it.
    power = ideal * rise / gas / efficiency * (1.0 - m["leak_saved"] * c["leak"])
    discharge = sat["vapour_enthalpy"] + above + power * (1.0 - m["shell_loss"]) / flow
    return flow, power, discharge, ratio


def _condense(ref, m, c, dew, co, flow, discharge):
    """Zone fractions, outlet enthalpy and temperature, refrigerant held."""
    out = c["outdoor"]
    capacity = m["condenser_air"] * c["outdoor_flow"] * c["outdoor_density"] / 1.146
    relative = np.maximum(flow / m["design_flow"], 0.05)
    air_side = m["condenser_air_share"] / (c["outdoor_flow"] ** m["condenser_air_power"])

    def give(conductance, power):
        ua = conductance / (air_side + (1.0 - m["condenser_air_share"]) / relative ** power)
        return capacity * (1.0 - np.exp(-ua / capacity))

    g_two = give(m["condenser_ua"], 0.4) * c["condenser_clean"]
    g_gas = give(m["condenser_ua"] * m["gas_share"], 0.8)
    g_liquid = give(m["condenser_ua"] * m["liquid_share"], 0.8)
    latent = co["vapour_enthalpy"] - co["liquid_enthalpy"]
    above = np.maximum(discharge - co["vapour_enthalpy"], 0.0)
    x_in = np.clip((discharge - co["liquid_enthalpy"]) / latent, 0.3, 1.0)
    rise = ref.superheat(dew, above)
    hot = np.maximum(dew - out, 0.2)
    gas = np.where(rise > 0.01, flow * above / np.maximum(rise, 0.01) / g_gas
                   * np.log((hot + rise) / hot), 0.0)
    gas = np.minimum(gas, 0.9)
    bubble = co["bubble_temp"]
    middle = np.maximum(0.5 * (dew + bubble) - out, 0.2)
    need = flow * latent * x_in / (g_two * middle)
    rest = 1.0 - gas
    two = np.minimum(need, rest)
    liquid = np.maximum(rest - need, 0.0)
    x_out = np.where(need > rest, x_in * (1.0 - rest / need), 0.0)
    cp = (ref.liquid_enthalpy(bubble) - ref.liquid_enthalpy(bubble - 5.0)) / 5.0
    # The liquid passes often lie behind two-phase rows, in air already warmed.
    met = out + m["preheat"] * g_two / capacity * np.maximum(bubble - out, 0.0)
    cool = np.maximum(bubble - met, 0.0) * np.exp(-g_liquid * liquid / (flow * cp))
    temp = np.where(bubble > met, met + cool, bubble)
    enthalpy = np.where(x_out > 0.0, co["liquid_enthalpy"] + x_out * latent,
                        ref.liquid_enthalpy(temp))
    density = two_phase_density(x_out, x_in, co["vapour_density"], co["liquid_density"],
                                m["slip_power"])
    held = m["condenser_volume"] * (
        gas * ref.vapour_density(dew, 0.5 * above) + two * density
        + liquid * ref.liquid_density(0.5 * (temp + bubble)))
    return {"enthalpy": enthalpy, "temp": temp, "held": held, "rise": rise,
            "liquid_fraction": liquid, "x_out": x_out}


def _evaporate(ref, m, c, dew, ev, flow, enthalpy_in, above):
    """Heat the evaporator can give with outlet enthalpy `above` the dew line, and its holdings."""
    latent = ev["vapour_enthalpy"] - ev["liquid_enthalpy"]
    x_in = np.clip((enthalpy_in - ev["liquid_enthalpy"]) / latent, 0.0, 0.95)
    x_out = np.clip(1.0 + above / latent, 0.15, 1.0)
    glide = dew - ev["bubble_temp"]
    middle = dew - glide * (1.0 - 0.5 * (x_in + x_out))
    rise = ref.superheat(dew, np.maximum(above, 0.0))
    relative = np.maximum(flow / m["design_flow"], 0.05)
    mass = c["indoor_mass"]
    cp = air.CP_AIR + c["return_ratio"] * air.CP_VAPOUR
    # Superheating part.
    speed = mass / m["design_air"]
    ua = m["evaporator_ua"] * m["superheat_share"] * relative ** 0.8
    capacity = mass * cp
    g = capacity * (1.0 - np.exp(-ua / capacity))
    head = np.maximum(c["return_temp"] - dew, 0.5)
    left = np.maximum(head - rise, 0.03 * head)
    gas = np.where(rise > 0.01, flow * np.maximum(above, 0.0) / np.maximum(rise, 0.01) / g
                   * np.log(head / left), 0.0)
    gas_heat = flow * np.maximum(above, 0.0)
    two = np.maximum(1.0 - gas, 0.03)
    # Two-phase part.
    bypass = np.exp(-m["evaporator_ntu"] * speed ** (m["evaporator_air_power"] - 1.0))
    surface, sensible, moisture = surface_temp(
        middle, m["evaporator_ua"] * relative ** 0.45, mass, bypass, c["return_temp"],
        c["return_ratio"], c["barometric"])
    density = two_phase_density(x_in, x_out, ev["vapour_density"], ev["liquid_density"],
                                m["slip_power"])
    vapour = ref.vapour_density(dew, 0.5 * np.maximum(above, 0.0))
    held = m["evaporator_volume"] * (two * density + (1.0 - two) * vapour)
    return {"heat": two * (sensible + moisture) + gas_heat, "held": held, "surface": surface,
            "sensible": two * sensible + gas_heat, "latent": two * moisture, "rise": rise,
            "gas_fraction": gas}


def _opening(m, c, rise):
    """How far the metering is open: constant, or a valve following evaporator superheat."""
    valve = m["open_max"] * np.clip((rise - m["static_superheat"]) / m["superheat_span"], 0.04, 1.0)
    opening = np.where(m["is_valve"], valve, m["opening"]) * c["opening"]
    return np.where(c["stuck_opening"] > 0.0, c["stuck_opening"], opening)


def evaluate(ref, m, c, x):
    """Everything about the cycle at a guess x = (evaporating dew, condensing dew, above)."""
    evap, cond, above = x
    ev, co = ref.saturation(evap), ref.saturation(cond)
    rise = ref.superheat(evap, np.maximum(above, 0.0))
    # Suction line: pressure drop and heat from outdoors.
    relative = ev["vapour_density"] / m["design_suction_density"] * (1.0 - c["leak"])
    suction = ev["pressure"] - m["suction_drop"] * relative ** 2 / np.maximum(
        ev["vapour_density"] / m["design_suction_density"], 0.1)
    suction_dew = ref.dew_temp(suction)
    ss = ref.saturation(suction_dew)
    gain = m["suction_gain"] * (c["outdoor"] - evap - 0.7 * rise) / (relative * m["design_flow"])
    gas = ev["vapour_enthalpy"] + above + np.maximum(gain, -2000.0) - ss["vapour_enthalpy"]
    head = co["pressure"] + c["foreign_gas"]
    flow, power, discharge, ratio = _compress(ref, m, c, suction_dew, suction, head, gas)
    con = _condense(ref, m, c, cond, co, flow, discharge)
    # Liquid line, restriction, metering.
    relative = flow / m["design_flow"]
    before = head - m["liquid_drop"] * relative ** 2
    after = np.maximum(before - c["restriction"] * relative ** 2, 1.05 * ev["pressure"])
    rate, bubbles = restrictor_flow(ref, m, after, con["enthalpy"], ev["pressure"])
    passed = _opening(m, c, rise) * rate
    eva = _evaporate(ref, m, c, evap, ev, flow, con["enthalpy"], above)
    taken = flow * (ev["vapour_enthalpy"] + above - con["enthalpy"])
    line = np.where(con["x_out"] > 0.0, 1.0 / (con["x_out"] / co["vapour_density"]
                    + (1.0 - con["x_out"]) / co["liquid_density"]), ref.liquid_density(con["temp"]))
    # Liquid that comes back lies in the compressor shell or accumulator until it boils off.
    wet = np.clip(-gas / (ss["vapour_enthalpy"] - ss["liquid_enthalpy"]), 0.0, 1.0)
    charge = (con["held"] + eva["held"] + m["line_volume"] * line
              + m["gas_volume"] * ss["vapour_density"]
              + m["shell_store"] * m["design_charge"] * (1.0 - np.exp(-wet / 0.04)))
    residual = np.stack([(passed - flow) / m["design_flow"],
                         (eva["heat"] - taken) / m["nominal"],
                         (charge - c["charge"]) / m["design_charge"]])
    return {"residual": residual, "evap": evap, "cond": cond, "above": above, "flow": flow,
            "power": power, "discharge": discharge, "ratio": ratio, "condenser": con,
            "evaporator": eva, "taken": taken, "charge": charge, "suction": suction,
            "suction_dew": suction_dew, "gas": gas, "head": head, "after": after,
            "bubbles": bubbles, "rise": rise, "opening": passed / rate, "rate": rate,
            "bubble": co["bubble_temp"], "suction_latent": ss["vapour_enthalpy"]
            - ss["liquid_enthalpy"], "suction_glide": suction_dew - ss["bubble_temp"],
            "barometric": c["barometric"]}


STEPS = np.array([0.05, 0.05, 60.0])
LIMITS = np.array([4.0, 4.0, 5000.0])


def _bounds(ref, c, x):
    evap = np.clip(x[0], -33.0, c["return_temp"] - 3.0)
    cond = np.clip(x[1], np.maximum(c["outdoor"] + 0.5, evap + 6.0), ref.highest - 0.1)
    room = np.maximum(c["return_temp"] - evap, 3.0)
    above = np.clip(x[2], -120e3, 1000.0 * room * 0.97)
    return np.stack([evap, cond, above])


def newton(equations, ref, c, x, rounds=60):
    """Damped Newton on three equations, every machine with its own step length."""
    x = _bounds(ref, c, x)
    f = equations(x)
    norm = np.abs(f).max(axis=0)
    for turn in range(rounds):
        # The last few in a hundred that do not close are left out by the caller.
        if (norm < 1e-5).all() or turn >= 12 and (norm < 1e-4).mean() > 0.97:
            break
        jac = np.empty((x.shape[1], 3, 3))
        for k in range(3):
            moved = x.copy()
            moved[k] += STEPS[k]
            jac[:, :, k] = ((equations(moved) - f) / STEPS[k]).T
        jac += 1e-12 * np.eye(3)
        scale = jac * LIMITS
        # Levenberg: a little damping keeps kinks (saturation, valve limits) from throwing it.
        normal = np.einsum("nij,nik->njk", scale, scale) + 1e-7 * np.eye(3)
        step = -np.linalg.solve(normal, np.einsum("nij,in->nj", scale, f)[..., None])[..., 0].T
        step = step / np.maximum(np.abs(step).max(axis=0), 1.0) * LIMITS[:, None]
        length = np.ones(x.shape[1])
        best_x, best_f, best = x, f, norm
        done = norm < 1e-5
        for _ in range(7):
            trial = _bounds(ref, c, x + length * step)
            ft = equations(trial)
            nt = np.abs(ft).max(axis=0)
            better = ~done & (nt < best * 0.999)
            best_x = np.where(better, trial, best_x)
            best_f = np.where(better, ft, best_f)
            best = np.where(better, nt, best)
            done = done | better
            if done.all():
                break
            length = np.where(done, length, length * 0.4)
        stuck = ~done
        # A machine that cannot go down takes a small step anyway, to leave a kink.
        best_x = np.where(stuck, _bounds(ref, c, x + 0.15 * step), best_x)
        x = best_x
        f = np.where(stuck, equations(best_x), best_f) if stuck.any() else best_f
        norm = np.abs(f).max(axis=0)
    return x, norm


def design(ref, d):
    """Size the parts of machines so that at the rating point they do what d asks.

    d: arrays nominal (W), evap, approach, superheat (at the evaporator outlet), subcooling (K),
    and the constants of the parts.  Returns m.
    """
    m = dict(d)
    evap, cond = d["evap"], RATING["outdoor"] + d["approach"]
    ev, co = ref.saturation(evap), ref.saturation(cond)
    above = ref.enthalpy_above(evap, d["superheat"])
    liquid_temp = co["bubble_temp"] - d["subcooling"]
    liquid = ref.liquid_enthalpy(liquid_temp)
    flow = d["nominal"] / (ev["vapour_enthalpy"] + above - liquid)
    m["design_flow"] = flow
    m["design_suction_density"] = ev["vapour_density"]
    c = {"leak": 0.0}
    suction = ev["pressure"] - d["suction_drop"]
    suction_dew = ref.dew_temp(suction)
    ss = ref.saturation(suction_dew)
    m["suction_gain"] = d["line_rise"] * 1000.0 * flow / (RATING["outdoor"] - evap)
    gain = m["suction_gain"] * (RATING["outdoor"] - evap - 0.7 * d["superheat"]) / flow
    gas = ev["vapour_enthalpy"] + above + gain - ss["vapour_enthalpy"]
    m["displacement"] = np.ones_like(flow)
    unit_flow = _compress(ref, m, c, suction_dew, suction, co["pressure"], gas)[0]
    m["displacement"] = flow / unit_flow
    _, power, discharge, _ = _compress(ref, m, c, suction_dew, suction, co["pressure"], gas)
    m["design_power"] = power
    # Condenser: air by its temperature rise, conductance by bisection.
    rejected = flow * (discharge - liquid)
    m["condenser_air"] = rejected / (d["approach"] * d["condenser_effect"])
    weather = {"outdoor": RATING["outdoor"] + 0.0 * flow, "outdoor_flow": 1.0,
               "outdoor_density": 1.146, "condenser_clean": 1.0}
    low, high = m["condenser_air"] * 0.05, m["condenser_air"] * 40.0
    for _ in range(60):
        m["condenser_ua"] = np.sqrt(low * high)
        got = _condense(ref, m, weather, cond, co, flow, discharge)
        short = (got["x_out"] > 0.0) | (got["temp"] > liquid_temp)
        low = np.where(short, m["condenser_ua"], low)
        high = np.where(short, high, m["condenser_ua"])
    # Evaporator.
    m["design_air"] = d["nominal"] / TON * 400.0 * CFM * STANDARD_AIR
    ratio = air.ratio_from_wet_bulb(RATING["return_temp"], RATING["return_wet_bulb"], SEA_LEVEL)
    indoors = {"indoor_mass": m["design_air"], "return_temp": RATING["return_temp"] + 0.0 * flow,
               "return_ratio": ratio, "barometric": SEA_LEVEL}
    low, high = d["nominal"] / 40.0, d["nominal"] * 4.0
    for _ in range(60):
        m["evaporator_ua"] = np.sqrt(low * high)
        heat = _evaporate(ref, m, indoors, evap, ev, flow, liquid, above)["heat"]
        low = np.where(heat < d["nominal"], m["evaporator_ua"], low)
        high = np.where(heat < d["nominal"], high, m["evaporator_ua"])
    rate, _ = restrictor_flow(ref, m, co["pressure"] - d["liquid_drop"], liquid, ev["pressure"])
    m["opening"] = flow / rate
    m["open_max"] = m["opening"] / d["open_share"]
    m["static_superheat"] = d["superheat"] - d["open_share"] * d["superheat_span"]
    m["design_head"] = co["pressure"]
    m["design_lift"] = co["pressure"] - ev["pressure"]
    m["design_charge"] = 0.12 * d["nominal"] / 500.0    # a first scale, until it is charged
    m["design_x"] = np.stack([evap, cond, above])
    return m


def healthy_conditions(n):
    """Parts as built; the weather is filled in by the caller."""
    one = np.ones(n)
    return {"leak": 0.0 * one, "outdoor_flow": one, "condenser_clean": one,
            "foreign_gas": 0.0 * one, "restriction": 0.0 * one, "opening": one,
            "stuck_opening": 0.0 * one, "charge": one}


def weather(c, m, return_temp, return_ratio, outdoor, barometric, standard_cfm_per_ton):
    """Add weather and indoor airflow; fans move volume, so altitude thins both air streams."""
    c = dict(c)
    c["return_temp"], c["return_ratio"] = return_temp, return_ratio
    c["outdoor"], c["barometric"] = outdoor, barometric
    c["outdoor_density"] = barometric / (287.0 * (outdoor + 273.15))
    dense = air.density(return_temp, return_ratio, barometric)
    c["indoor_mass"] = m["nominal"] / TON * standard_cfm_per_ton * CFM * dense
    return c


def solve(ref, m, c, start=None):
    """The cycle under c.  Returns the state and a mask of machines that closed."""
    x = m["design_x"] if start is None else start

    def equations(v):
        return evaluate(ref, m, c, v)["residual"]

    x, norm = newton(equations, ref, c, x)
    return evaluate(ref, m, c, x), norm < 1e-4, x


def charge_for(ref, m, c, subcooling=None, superheat=None):
    """Charge a machine under c until its subcooling (valve) or its suction-line superheat
    (restrictor) is as asked, as a technician would.  Returns charge and the mask."""

    def equations(v):
        got = evaluate(ref, m, c, v)
        f = got["residual"].copy()
        sub = got["bubble"] - got["condenser"]["temp"]
        sh = readings(ref, got)["superheat"]
        by_valve = (sub - subcooling) / 10.0 - 0.2 * got["condenser"]["x_out"]
        # Wet suction is counted on, so that the search still has a slope there.
        by_line = (np.where(got["gas"] > 0.0, sh, got["gas"] / 1000.0) - superheat) / 10.0
        f[2] = np.where(m["is_valve"], by_valve, by_line)
        return f

    x, norm = newton(equations, ref, c, m["design_x"])
    got = evaluate(ref, m, c, x)
    return got["charge"], norm < 1e-4, x


def readings(ref, got):
    """What gauges and thermometers at the outdoor unit would show without error (SI)."""
    above = np.maximum(got["gas"], 0.0)
    rise = ref.superheat(got["suction_dew"], above)
    wet = np.clip(-got["gas"] / got["suction_latent"], 0.0, 1.0)
    line = got["suction_dew"] + rise - got["suction_glide"] * wet
    after_bubble = np.minimum(ref.bubble_temp(got["after"]), got["condenser"]["temp"])
    return {"suction_line": line, "superheat": line - got["suction_dew"],
            "liquid_line": got["condenser"]["temp"],
            "discharge": got["cond"] + got["condenser"]["rise"],
            "subcooling": ref.bubble_temp(got["head"]) - got["condenser"]["temp"],
            "drier_out": after_bubble}
