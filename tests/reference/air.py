"""Air: the standard atmosphere from a library, moist air by CIPM-2007 written from the paper's equations."""

from math import exp

from ambiance import Atmosphere

SOURCE = "ambiance 1.3.1 by geometric height; an independent CIPM-2007"
CASES = 300
# Below sea level ambiance starts from a pressure rounded to 6 digits.
TOLERANCE = {"moistDensity": 1e-14, "temperatureK": 1e-14, "pressurePa": 1e-6, "standardDensity": 1e-6, "viscosity": 1e-13}

# Picard et al., Metrologia 45 (2008) 149: appendix A1, and the molar masses and gas constant of its section 2.
COEFFICIENTS = [[1.58123e-6, -2.9331e-8, 1.1043e-10], [5.707e-6, -2.051e-8], [1.9898e-4, -2.376e-6]]


def solve(given):
    standard = Atmosphere(given["altitudeM"])
    return {
        "moistDensity": moist(given["temperatureK"], given["humidity"], given["pressurePa"]),
        "temperatureK": standard.temperature[0],
        "pressurePa": standard.pressure[0],
        "standardDensity": standard.density[0],
        "viscosity": standard.dynamic_viscosity[0],
    }


def moist(kelvin, humidity, pressure):
    celsius = kelvin - 273.15
    saturated = exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)
    vapour = humidity * (1.00062 + 3.14e-8 * pressure + 5.6e-7 * celsius**2) * saturated / pressure
    virial = sum(
        coefficient * celsius**power * vapour**order
        for order, row in enumerate(COEFFICIENTS)
        for power, coefficient in enumerate(row)
    )
    compressibility = 1 - pressure / kelvin * virial + (pressure / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * vapour**2)
    return 3.483740e-3 * pressure / (compressibility * kelvin) * (1 - 0.3780 * vapour)
