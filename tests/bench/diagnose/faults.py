"""Refrigerant and air faults as changes to the parts of a machine, never to a reading.

FAULTS: id -> (least severity, greatest severity, change).  A change takes the conditions c, the
machine m and an array of severities (0 where the machine does not have the fault) and alters c.
"""

import numpy as np

import machine


def _undercharge(c, m, s):
    c["charge"] = c["charge"] * (1.0 - s)


def _overcharge(c, m, s):
    c["charge"] = c["charge"] * (1.0 + s)


def _metering_clogged(c, m, s):
    """A clogged screen or orifice, a valve that has lost bulb charge."""
    c["opening"] = c["opening"] * (1.0 - s)


def _line_restricted(c, m, s):
    """A clogged drier or a kinked liquid line: pressure lost ahead of the metering device."""
    c["restriction"] = c["restriction"] + s * m["design_lift"]


def _metering_overfeed(c, m, s):
    """A wrong or worn orifice; a valve stuck open or with its bulb off the line."""
    has = s > 0.0
    c["opening"] = np.where(has & ~m["is_valve"], c["opening"] * (1.0 + s), c["opening"])
    c["stuck_opening"] = np.where(has & m["is_valve"], m["opening"] * (1.0 + s),
                                  c["stuck_opening"])


def _noncondensables(c, m, s):
    """Air shut in the condenser: its partial pressure, and gas in the way of condensing vapour."""
    warm = (c["outdoor"] + 288.0) / 323.0
    c["foreign_gas"] = c["foreign_gas"] + s * m["design_head"] * warm
    c["condenser_clean"] = c["condenser_clean"] * (1.0 - 0.5 * s)


def _compressor_inefficient(c, m, s):
    c["leak"] = np.maximum(c["leak"], s)


def _low_indoor_airflow(c, m, s):
    c["indoor_mass"] = c["indoor_mass"] * (1.0 - s)


def _high_indoor_airflow(c, m, s):
    c["indoor_mass"] = c["indoor_mass"] * (1.0 + s)


def _low_outdoor_airflow(c, m, s):
    """A blocked condenser, a slow fan, hot air drawn in again."""
    c["outdoor_flow"] = c["outdoor_flow"] * (1.0 - s)


FAULTS = {
    "undercharge": (0.08, 0.50, _undercharge),
    "overcharge": (0.08, 0.50, _overcharge),
    "metering_clogged": (0.12, 0.65, _metering_clogged),
    "line_restricted": (0.10, 0.80, _line_restricted),
    "metering_overfeed": (0.15, 1.20, _metering_overfeed),
    "noncondensables": (0.04, 0.26, _noncondensables),
    "compressor_inefficient": (0.10, 0.65, _compressor_inefficient),
    "low_indoor_airflow": (0.18, 0.68, _low_indoor_airflow),
    "high_indoor_airflow": (0.25, 0.60, _high_indoor_airflow),
    "low_outdoor_airflow": (0.20, 0.70, _low_outdoor_airflow),
}

# A valve makes up for the lighter half of these by opening further: nothing can be seen of them.
VALVE_LEAST = {"metering_clogged": 0.40, "line_restricted": 0.50, "undercharge": 0.12}

# Two ways of one named fault.
NAMED = {"metering_clogged": "liquid_restriction", "line_restricted": "liquid_restriction"}

# What occurs together: each of these with each other, but for the charge with itself.
PAIRED = ("undercharge", "overcharge", "low_indoor_airflow", "low_outdoor_airflow",
          "line_restricted", "compressor_inefficient", "noncondensables")
PAIRS = tuple((a, b) for i, a in enumerate(PAIRED) for b in PAIRED[i + 1:]
              if (a, b) != ("undercharge", "overcharge"))


def named(fault):
    return NAMED.get(fault, fault)


def apply(c, m, severities):
    """Conditions with faults: severities maps id -> array."""
    c = dict(c)
    for fault, s in severities.items():
        if np.any(s > 0.0):
            FAULTS[fault][2](c, m, s)
    return c


def solve(ref, m, healthy, severities, start):
    """Solve with faults, approached in three strides so that the search never has far to go."""
    x = start
    for share in (0.35, 0.7, 1.0):
        c = apply(healthy, m, {k: v * share for k, v in severities.items()})
        got, good, x = machine.solve(ref, m, c, x)
    return got, good, c
