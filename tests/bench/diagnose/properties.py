"""Refrigerant properties as quick tables, with CoolProp as the source.

A cycle is solved some hundred times for each of thousands of machines, which is
far too often to call CoolProp.  Everything the machine model asks for is
therefore laid out once on uniform grids and read off by linear interpolation
(grid steps chosen so that the error stays under 0.1 K and 0.3 % of a density),
a whole array of machines at a time.

SI units: degrees Celsius, Pa, J/kg, kg/m3.  "Dew" and "bubble" are kept apart so
that zeotropes come out right.
"""

import pathlib

import numpy as np

# Our name -> CoolProp fluid.  R-454B is a predefined mixture (R-32/R-1234yf 68.9/31.1 % by mass).
FLUIDS = {
    "R-410A": "R410A",
    "R-22": "R22",
    "R-32": "R32",
    "R-407C": "R407C",
    "R-134a": "R134a",
    "R-454B": "R454B.mix",
}

LOWEST = -40.0          # saturation grid, °C
STEP = 1.0              # K
BELOW_CRITICAL = 3.0    # K
RISE_MAX = 150.0        # superheat grid, K
RISE_STEP = 7.5
ENTHALPY_COLUMNS = 41   # vapour grid in enthalpy above the dew line, J/kg
ENTHALPY_STEP = 4000.0

DEW_COLUMNS = ("pressure", "bubble_temp", "liquid_enthalpy", "vapour_enthalpy",
               "liquid_density", "vapour_density", "slope")


def _tabulate(name):
    """All grids of one refrigerant, straight from CoolProp."""
    import CoolProp
    from CoolProp.CoolProp import AbstractState

    state = AbstractState("HEOS", FLUIDS[name])
    try:
        critical = state.T_critical() - 273.15
    except ValueError:
        critical = 78.1 if name == "R-454B" else 70.0
    dew = np.arange(LOWEST, critical - BELOW_CRITICAL, STEP)
    rows = np.zeros((dew.size, len(DEW_COLUMNS)))
    boiling = []    # log pressure, temperature, enthalpy, density
    rise = np.arange(0.0, RISE_MAX + 0.1, RISE_STEP)
    above = np.arange(ENTHALPY_COLUMNS) * ENTHALPY_STEP
    sh = np.zeros((dew.size, above.size))
    rho = np.zeros((dew.size, above.size))
    for i, t in enumerate(dew):
        state.unspecify_phase()
        try:
            state.update(CoolProp.QT_INPUTS, 1.0, t + 273.15)
        except ValueError:
            break   # R-454B's dew point stops converging at 63 °C: its table ends there
        p, hg, rg = state.p(), state.hmass(), state.rhomass()
        try:
            state.update(CoolProp.QT_INPUTS, 0.0, t + 273.15)
            boiling.append((np.log(state.p()), t, state.hmass(), state.rhomass()))
        except ValueError:
            pass    # a mixture's bubble point now and then does not converge: bridged below
        rows[i, [0, 3, 5]] = (p, hg, rg)
        state.specify_phase(CoolProp.iphase_gas)
        h = np.zeros(rise.size)
        r = np.zeros(rise.size)
        h[0], r[0] = hg, rg
        for j in range(1, rise.size):
            state.update(CoolProp.PT_INPUTS, p, t + 273.15 + rise[j])
            h[j], r[j] = state.hmass(), state.rhomass()
        sh[i] = np.interp(above, h - hg, rise)
        rho[i] = 1.0 / np.interp(above, h - hg, 1.0 / r)
    else:
        i += 1
    dew, rows, sh, rho = dew[:i], rows[:i], sh[:i], rho[:i]
    # The bubble line at the dew line's pressures.
    boiling = np.array(boiling)
    for column, source in ((1, 1), (2, 2), (4, 3)):
        rows[:, column] = np.interp(np.log(rows[:, 0]), boiling[:, 0], boiling[:, source],
                                    left=boiling[0, source])
    rows[:, 6] = np.gradient(rows[:, 0], dew)
    # The same saturated liquid, by bubble temperature on its own uniform grid.
    bubble = np.arange(LOWEST, rows[-1, 1], STEP)
    liquid = np.stack([np.interp(bubble, rows[:, 1], rows[:, c]) for c in (0, 2, 4)], axis=1)
    liquid[:, 0] = np.exp(np.interp(bubble, rows[:, 1], np.log(rows[:, 0])))
    # One isentropic exponent p·v^n for the gas a compressor meets: from 18 °C at a 7 °C dew
    # point up to a 45 °C dew point.
    state.update(CoolProp.PT_INPUTS, np.interp(7.0, dew, rows[:, 0]), 291.15)
    entropy, density, low = state.smass(), state.rhomass(), state.p()
    high = np.interp(45.0, dew, rows[:, 0])
    hot = [320.0, 380.0]
    for _ in range(40):     # bisection on temperature: mixtures take no pressure-entropy call
        middle = 0.5 * (hot[0] + hot[1])
        state.update(CoolProp.PT_INPUTS, high, middle)
        hot[state.smass() > entropy] = middle
    exponent = np.log(high / low) / np.log(state.rhomass() / density)
    return {"rows": rows, "sh": sh, "rho": rho, "liquid": liquid, "exponent": exponent}


def _at(table, start, step, x):
    """Linear interpolation on a uniform grid; held at the ends."""
    place = np.clip((x - start) / step, 0.0, table.shape[0] - 1.000001)
    low = place.astype(int)
    part = place - low
    if table.ndim == 2:
        part = part[..., None]
    return table[low] * (1.0 - part) + table[low + 1] * part


class Refrigerant:
    """One refrigerant's tables and the questions the model puts to them."""

    def __init__(self, name, cache):
        path = pathlib.Path(cache) / f"{name}.npz"
        if path.exists():
            grids = dict(np.load(path))
        else:
            grids = _tabulate(name)
            path.parent.mkdir(parents=True, exist_ok=True)
            np.savez(path, **grids)
        self.name = name
        self.rows = grids["rows"]
        self.sh = grids["sh"]
        self.rho = grids["rho"]
        self.liquid = grids["liquid"]
        self.exponent = float(grids["exponent"])
        self.dew = LOWEST + STEP * np.arange(self.rows.shape[0])
        self.highest = self.dew[-1]
        self.log_pressure = np.log(self.rows[:, 0])

    def saturation(self, dew):
        """dict of the DEW_COLUMNS at a dew temperature."""
        values = _at(self.rows, LOWEST, STEP, dew)
        return {key: values[..., i] for i, key in enumerate(DEW_COLUMNS)}

    def dew_temp(self, pressure):
        return np.interp(np.log(pressure), self.log_pressure, self.dew)

    def dew_pressure(self, temp):
        return np.exp(np.interp(temp, self.dew, self.log_pressure))

    def bubble_temp(self, pressure):
        return np.interp(np.log(pressure), self.log_pressure, self.rows[:, 1])

    def bubble_pressure(self, temp):
        return _at(self.liquid[:, 0], LOWEST, STEP, temp)

    def liquid_enthalpy(self, temp):
        return _at(self.liquid[:, 1], LOWEST, STEP, temp)

    def liquid_density(self, temp):
        return _at(self.liquid[:, 2], LOWEST, STEP, temp)

    def liquid_temp(self, enthalpy):
        grid = LOWEST + STEP * np.arange(self.liquid.shape[0])
        return np.interp(enthalpy, self.liquid[:, 1], grid)

    def _vapour(self, table, dew, above):
        """Bilinear read of a vapour grid at (dew temperature, enthalpy above the dew line)."""
        row = np.clip((dew - LOWEST) / STEP, 0.0, table.shape[0] - 1.000001)
        col = np.clip(above / ENTHALPY_STEP, 0.0, table.shape[1] - 1.000001)
        i, j = row.astype(int), col.astype(int)
        a, b = row - i, col - j
        return ((table[i, j] * (1 - b) + table[i, j + 1] * b) * (1 - a)
                + (table[i + 1, j] * (1 - b) + table[i + 1, j + 1] * b) * a)

    def superheat(self, dew, above):
        return self._vapour(self.sh, dew, above)

    def vapour_density(self, dew, above):
        return self._vapour(self.rho, dew, above)

    def enthalpy_above(self, dew, superheat):
        """Enthalpy above the dew line at a superheat (secant on the grid)."""
        above = superheat * 1000.0
        for _ in range(6):
            slope = (self.superheat(dew, above + 500.0) - self.superheat(dew, above - 0.0)) / 500.0
            above = np.maximum(above + (superheat - self.superheat(dew, above)) / slope, 0.0)
        return above
