"""Moist air for the machine model: ASHRAE Fundamentals, Psychrometrics.

Same equations as the reference library psychrolib (2.5.0), written for arrays;
`check_air.py` compares the two.  SI units: °C, Pa, kg/kg, J/kg of dry air.
"""

import numpy as np

CP_AIR = 1006.0
CP_VAPOUR = 1860.0
LATENT = 2501000.0


def pressure_at(altitude_ft):
    """Standard atmosphere, Pa."""
    return 101325.0 * (1.0 - 2.25577e-5 * altitude_ft * 0.3048) ** 5.2559


def saturation_pressure(t):
    """Over liquid water above 0 °C, over ice below (ASHRAE 2017 ch. 1, eq. 5 and 6)."""
    k = np.asarray(t) + 273.15
    ice = (-5.6745359e3 / k + 6.3925247 - 9.677843e-3 * k + 6.2215701e-7 * k**2
           + 2.0747825e-9 * k**3 - 9.484024e-13 * k**4 + 4.1635019 * np.log(k))
    water = (-5.8002206e3 / k + 1.3914993 - 4.8640239e-2 * k + 4.1764768e-5 * k**2
             - 1.4452093e-8 * k**3 + 6.5459673 * np.log(k))
    return np.exp(np.where(k < 273.16, ice, water))


def saturation_ratio(t, pressure):
    p = saturation_pressure(t)
    return 0.621945 * p / (pressure - p)


def ratio_from_rh(t, rh, pressure):
    p = rh * saturation_pressure(t)
    return 0.621945 * p / (pressure - p)


def ratio_from_wet_bulb(t, wet_bulb, pressure):
    """ASHRAE 2017 ch. 1, eq. 33 (above freezing)."""
    ws = saturation_ratio(wet_bulb, pressure)
    return (((2501.0 - 2.326 * wet_bulb) * ws - 1.006 * (t - wet_bulb))
            / (2501.0 + 1.86 * t - 4.186 * wet_bulb))


def wet_bulb(t, ratio, pressure):
    """Bisection on equation 33."""
    low, high = np.asarray(t) - 40.0, np.asarray(t) + 0.0
    for _ in range(40):
        mid = 0.5 * (low + high)
        over = ratio_from_wet_bulb(t, mid, pressure) > ratio
        high = np.where(over, mid, high)
        low = np.where(over, low, mid)
    return 0.5 * (low + high)


def relative_humidity(t, ratio, pressure):
    return ratio * pressure / (0.621945 + ratio) / saturation_pressure(t)


def enthalpy(t, ratio):
    return CP_AIR * t + ratio * (LATENT + CP_VAPOUR * t)


def density(t, ratio, pressure):
    """kg of dry air per m3."""
    return pressure / (287.042 * (np.asarray(t) + 273.15) * (1.0 + 1.607858 * ratio))
