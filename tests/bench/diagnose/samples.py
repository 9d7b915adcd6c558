"""Units in the coordinates in which the circuit is judged (`struct circuit`'s table).

COORDINATES, all in °F unless said: suction saturation; superheat, running on below zero where
liquid comes back; condensing (bubble) over outdoor; subcooling; discharge beyond what the cycle
formula of the program gives from the others; return less supply; amps, 100 × ln of their share of
RLA; airflow, 100 × ln of its share of 400 cfm a ton; enthalpy drop of the air, Btu/lb; drop over
the drier; return bend less the middle of condensing at the gauge; standing saturation less standing
temperature; condenser leaving less outdoor.
"""

import numpy as np

import air
import faults
import fleet
import generate
import machine

F = 1.8
COORDINATES = ("suction", "superheat", "condensing", "subcooling", "discharge", "split", "amps",
               "airflow", "enthalpy", "drier", "bend", "standing", "leaving")
WEATHER = ("outdoor", "return", "wet_bulb", "altitude", "seer", "target")

# Discharge over condensing at a lift of 70 °F and 10 °F superheat, and more a degree of lift and of
# superheat: src/diagnose/expected.c holds the same and says where they come from.
DISCHARGE = {"R-22": (64.4, 0.66, 1.08), "R-410A": (59.2, 0.60, 1.09), "R-32": (90.1, 1.08, 1.22),
             "R-454B": (70.0, 0.78, 1.13), "R-407C": (49.6, 0.45, 1.04), "R-134a": (35.7, 0.24, 1.01)}


class Fleet:
    """n units of one refrigerant in some weather, and what they show with faults."""

    def __init__(self, rng, name, tables, n, split, metering, odd=False):
        self.rng, self.name, self.n = rng, name, n
        self.ref = fleet.refrigerant(name, tables)
        self.m, self.info, self.good = fleet.draw(rng, self.ref, n, split, metering, odd)
        # Amps on the nameplate stand at 1.2 to 1.75 times the rated point's.
        self.rla = rng.uniform(1.20, 1.75, n)
        self.loss = rng.uniform(0.04, 0.14, n)
        self.blower = rng.uniform(0.30, 0.50, n)
        self.extra = generate.draw_extra(rng, n)
        self.new_weather()

    def new_weather(self, other_day=False):
        """Draws weather; on another day filter, condenser and probes are no more quite the same."""
        if other_day:
            self.extra = generate.draw_extra(self.rng, self.n)
            c = generate.other_day(self.rng, self.m, self.info, self.altitude)
        else:
            c, self.altitude, _ = generate._weather(self.rng, self.m, self.info,
                                                    np.zeros(self.n, bool))
        self.healthy = c
        self.base, ok, self.x = machine.solve(self.ref, self.m, c)
        self.ok = self.fits(self.base, c) & ok & self.good

    def fits(self, got, c):
        head = (got["head"] - c["barometric"]) / generate.PSI
        return ((head < generate.CUTOUT_PSIG[self.name]) & (got["cond"] < self.ref.highest - 0.5)
                & (got["evap"] > -22.0) & (got["evaporator"]["surface"] > -8.0))

    def weather(self):
        """Columns of WEATHER."""
        c = self.healthy
        wet = air.wet_bulb(c["return_temp"], c["return_ratio"], c["barometric"])
        return np.stack([c["outdoor"] * F + 32.0, c["return_temp"] * F + 32.0, wet * F + 32.0,
                         self.altitude, self.info["seer"], self.info["nameplate_subcooling"]], 1)

    def coordinates(self, got, c):
        ref, m = self.ref, self.m
        watts = c["indoor_mass"] / 1.2 / machine.CFM * self.blower
        r = machine.readings(ref, got)
        supply, ratio = generate._air_leaving(c, got, watts)
        gas = got["gas"]
        superheat = np.where(gas > 0.0, r["superheat"], gas / 1000.0) * F
        suction, head = got["suction_dew"] * F + 32.0, ref.bubble_temp(got["head"]) * F + 32.0
        at, by_lift, by_superheat = DISCHARGE[self.name]
        discharge = r["discharge"] - self.loss * (r["discharge"] - c["outdoor"])
        formula = (head + at + by_lift * (head - suction - 70.0)
                   + by_superheat * (superheat - 10.0))
        drop = (air.enthalpy(c["return_temp"], c["return_ratio"])
                - air.enthalpy(supply, ratio)) / 2326.0
        density = air.density(c["return_temp"], c["return_ratio"], c["barometric"])
        cfm = c["indoor_mass"] / density / machine.CFM
        mid = 0.5 * (ref.dew_temp(got["head"]) + ref.bubble_temp(got["head"]))
        bend = 0.5 * (got["cond"] + got["bubble"]) + self.extra["bend"] - mid
        standing = (ref.dew_pressure(c["outdoor"] + self.extra["rest"])
                    + self.extra["gathered"] * c["foreign_gas"])
        leaving = generate.condenser_leaving(m, c, got) + self.extra["leaving"] - c["outdoor"]
        return np.stack([
            suction, superheat, head - (c["outdoor"] * F + 32.0), r["subcooling"] * F,
            discharge * F + 32.0 - formula, (c["return_temp"] - supply) * F,
            100.0 * np.log(got["power"] / m["design_power"] / self.rla),
            100.0 * np.log(cfm / (400.0 * self.info["tons"])), drop,
            (r["liquid_line"] - r["drier_out"]) * F, bend * F,
            (ref.dew_temp(standing) - c["outdoor"]) * F, leaving * F], 1)

    def fault(self, severities):
        """Solves with faults: (coordinates, capacity loss, efficiency loss, mask)."""
        got, ok, c = faults.solve(self.ref, self.m, self.healthy, severities, self.x)
        capacity = 1.0 - got["taken"] / self.base["taken"]
        efficiency = 1.0 - got["taken"] / got["power"] * self.base["power"] / self.base["taken"]
        return (self.coordinates(got, c), capacity, efficiency,
                self.ok & ok & self.fits(got, c))
