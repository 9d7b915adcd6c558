"""Saturation of the program's refrigerants from the reference library, CoolProp.

Shared by generate_refrigerants.py, which fits the program's tables to it, and
by the benchmark.  Temperatures in degrees Fahrenheit, pressures in psia,
densities in lb/ft3.

Which of CoolProp's models stands for which refrigerant:

* The pure ones: their Helmholtz equations of state.
* R-410A, R-407C, R-404A, R-507A: CoolProp's pseudo-pure fluids of that name
  (Lemmon 2003), which is what its interface gives for "R410A" and so on.
* R-454B: the mixture of R-32 and R-1234yf, 68.9/31.1 % by mass, with CoolProp's
  Helmholtz mixing model for the pair (Bell 2023).  CoolProp's own dew- and
  bubble-point search fails at some temperatures (134 to 137 F, and most of the
  last 10 F below critical), so the phase equilibrium is solved here on
  CoolProp's equation of state: equal fugacities and equal pressure, by
  Newton's method, going up from a temperature where CoolProp succeeds.
  generate_refrigerants.py checks the two against each other where both answer.
"""

import math

import CoolProp
import numpy
from CoolProp import AbstractState

LOWEST_F = -40.0
BELOW_CRITICAL_F = 5.0
PA_PER_PSI = 6894.757293168361
KG_M3_PER_LB_FT3 = 16.018463373960142

# The program's name, CoolProp's name.
MODELS = {
    "R-22": "R22",
    "R-410A": "R410A",
    "R-32": "R32",
    "R-454B": "R454B.mix",
    "R-134a": "R134a",
    "R-407C": "R407C",
    "R-404A": "R404A",
    "R-507A": "R507A",
    "R-290": "R290",
    "R-1234yf": "R1234yf",
}

# Those whose dew and bubble lines differ.
BLENDS = {"R-410A", "R-454B", "R-407C", "R-404A", "R-507A"}

BUBBLE, DEW = 0, 1


def kelvin(temp_f):
    return (temp_f + 459.67) / 1.8


def fahrenheit(temp_k):
    return temp_k * 1.8 - 459.67


class Fluid:
    """A pure or pseudo-pure fluid: CoolProp's answers as they are."""

    def __init__(self, model):
        self.state = AbstractState("HEOS", model)
        self.critical_f = fahrenheit(self.state.T_critical())
        self.highest_f = self.critical_f - BELOW_CRITICAL_F

    def at(self, temp_f, line):
        """(pressure, density of the saturated phase) on the bubble or dew line."""
        self.state.update(CoolProp.QT_INPUTS, line, kelvin(temp_f))
        return self.state.p() / PA_PER_PSI, self.state.rhomass() / KG_M3_PER_LB_FT3

    def pressure(self, temp_f, line):
        return self.at(temp_f, line)[0]

    def liquid_density(self, temp_f):
        return self.at(temp_f, BUBBLE)[1]


class BinaryBlend(Fluid):
    """A mixture of two, whose phase equilibrium is solved here."""

    STEP_K = 0.5

    def __init__(self, model):
        self.mixture = AbstractState("HEOS", model)
        self.feed = list(self.mixture.get_mole_fractions())
        names = "&".join(self.mixture.fluid_names())
        self.liquid = AbstractState("HEOS", names)
        self.vapour = AbstractState("HEOS", names)
        self.liquid.specify_phase(CoolProp.iphase_liquid)
        self.vapour.specify_phase(CoolProp.iphase_gas)
        stable = [c for c in self.mixture.all_critical_points() if c.stable]
        if len(stable) != 1:
            raise ValueError(f"{model}: {len(stable)} stable critical points")
        self.critical_f = fahrenheit(stable[0].T)
        self.highest_f = self.critical_f - BELOW_CRITICAL_F
        self.path = {line: self._follow(line) for line in (BUBBLE, DEW)}

    def _residual(self, unknowns, temp_k, line):
        """ln f of each component and ln p, liquid less vapour."""
        ln_liquid, ln_vapour, other = unknowns
        feed, shadow = self.feed, [other, 1.0 - other]
        for state, fractions, ln_density in (
            (self.liquid, feed if line == BUBBLE else shadow, ln_liquid),
            (self.vapour, shadow if line == BUBBLE else feed, ln_vapour),
        ):
            state.set_mole_fractions(fractions)
            state.update(CoolProp.DmolarT_INPUTS, math.exp(ln_density), temp_k)
        return numpy.array(
            [math.log(self.liquid.fugacity(i) / self.vapour.fugacity(i)) for i in (0, 1)]
            + [(self.liquid.p() - self.vapour.p()) / self.vapour.p()]
        )

    def _solve(self, start, temp_k, line):
        unknowns = numpy.array(start)
        for _ in range(50):
            residual = self._residual(unknowns, temp_k, line)
            jacobian = numpy.empty((3, 3))
            for i in range(3):
                nudge = numpy.zeros(3)
                nudge[i] = 1e-6
                jacobian[:, i] = (
                    self._residual(unknowns + nudge, temp_k, line)
                    - self._residual(unknowns - nudge, temp_k, line)
                ) / 2e-6
            step = numpy.linalg.solve(jacobian, -residual)
            unknowns = unknowns + step
            if numpy.max(numpy.abs(step)) < 1e-11:
                break
        residual = self._residual(unknowns, temp_k, line)
        if numpy.max(numpy.abs(residual)) > 1e-8 or unknowns[0] - unknowns[1] < 0.05:
            raise ValueError(f"no phase equilibrium at {temp_k} K")
        return unknowns

    def _follow(self, line):
        """The unknowns at every STEP_K, from the lowest temperature up."""
        start_k = kelvin(LOWEST_F)
        self.mixture.update(CoolProp.QT_INPUTS, line, start_k)
        other = (
            self.mixture.mole_fractions_vapor()
            if line == BUBBLE
            else self.mixture.mole_fractions_liquid()
        )
        unknowns = numpy.array([
            math.log(self.mixture.saturated_liquid_keyed_output(CoolProp.iDmolar)),
            math.log(self.mixture.saturated_vapor_keyed_output(CoolProp.iDmolar)),
            other[0],
        ])
        path, before = [], unknowns
        for i in range(int((kelvin(self.highest_f) - start_k) / self.STEP_K) + 2):
            guess = 2.0 * unknowns - before if i > 1 else unknowns
            before, unknowns = unknowns, self._solve(guess, start_k + i * self.STEP_K, line)
            path.append(unknowns)
        return path

    def at(self, temp_f, line):
        temp_k = kelvin(temp_f)
        nearest = round((temp_k - kelvin(LOWEST_F)) / self.STEP_K)
        self._solve(self.path[line][nearest], temp_k, line)
        saturated = self.liquid if line == BUBBLE else self.vapour
        return self.vapour.p() / PA_PER_PSI, saturated.rhomass() / KG_M3_PER_LB_FT3

    def library_at(self, temp_f, line):
        """CoolProp's own search; raises ValueError where that fails."""
        self.mixture.update(CoolProp.QT_INPUTS, line, kelvin(temp_f))
        return self.mixture.p() / PA_PER_PSI, self.mixture.rhomass() / KG_M3_PER_LB_FT3


def fluid(name):
    """The fluid by the program's name."""
    model = MODELS[name]
    return BinaryBlend(model) if model.endswith(".mix") else Fluid(model)
