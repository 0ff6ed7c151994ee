"""A bow's energy and virtual mass from priors, a rated speed and chronograph readings, by SciPy's least squares.

Unknown are the logarithms of both and the chronograph's scale; the program proper eliminates the scale. The scatter of
a shot is estimated as there, in two passes.
"""

import numpy as np
from scipy.optimize import least_squares, root

SOURCE = "SciPy 1.17.1, least_squares with three unknowns, refined by root and lstsq"
CASES = 200
TOLERANCE = {
    "energyJ": 1e-12,
    "virtualMassKg": 4e-12,
    "logErrors": 2e-12,
    "scatterMPerS": 1e-12,
    "speedMPerS": 1e-13,
    "speedLogError": 1e-12,
    "excess": 2e-11,
}
SCALE = {"excess": 1.0}  # the difference of two logarithms, near zero for usual bows

USUAL_SCATTER, COUNTS = 1.5 * 0.3048, 3
RATED_ERROR, SCALE_ERROR = 0.03, 0.005


def solve(given):
    means = np.log([given["priorEnergyJ"], given["priorVirtualMassKg"]])
    errors = np.array([given["priorEnergyLogError"], given["priorVirtualMassLogError"]])
    x, spread, scatter = fit(given, means, errors)
    speed, along = model(x, given["askedMassKg"], 1.0)
    stored = np.log(given["storedEnergyJ"])
    alone, unsure, _ = fit(given, np.array([stored, means[1]]), np.array([1e3, errors[1]]))
    read = given["shots"] or given["rated"]
    return {
        "energyJ": np.exp(x[0]),
        "virtualMassKg": np.exp(x[1]),
        "logErrors": list(np.sqrt(np.diag(spread))),
        "scatterMPerS": scatter,
        "speedMPerS": np.exp(speed),
        "speedLogError": np.sqrt(along @ spread @ along),
        "excess": (alone[0] - stored) / np.hypot(np.sqrt(unsure[0, 0]), given["storedLogError"]) if read else 0.0,
    }


def model(log, mass, ratio):
    """Logarithm of a speed, and its slopes in those of energy and virtual mass."""
    virtual = np.exp(log[1])
    value = 0.5 * (np.log(2 * ratio) + log[0] - np.log(mass + virtual))
    return value, np.array([0.5, -0.5 * virtual / (mass + virtual)])


def fit(given, means, errors):
    shots = given["shots"]
    x, spread = settled(given, means, errors, USUAL_SCATTER)
    if not shots:
        return x[:2], spread, USUAL_SCATTER
    off = [speed - np.exp(model(x[:2], mass, given["energyRatio"])[0] + x[2]) for speed, mass in hung(given)]
    squares = COUNTS * USUAL_SCATTER**2 + np.dot(off, off)
    scatter = np.sqrt(squares / (COUNTS + len(shots) - 1) + given["resolutionMPerS"] ** 2 / 12)
    x, spread = settled(given, means, errors, scatter)
    return x[:2], spread, scatter


def hung(given):
    return [(speed, mass + given["hungMassKg"]) for speed, mass in given["shots"]]


def settled(given, means, errors, scatter):
    def rows(x):
        for i in range(2):
            yield (x[i] - means[i]) / errors[i], np.eye(3)[i] / errors[i]
        yield x[2] / SCALE_ERROR, np.array([0, 0, 1 / SCALE_ERROR])
        for speed, mass, ratio in given["rated"]:
            value, along = model(x[:2], mass, ratio)
            yield (value - np.log(speed)) / RATED_ERROR, np.append(along, 0) / RATED_ERROR
        for speed, mass in hung(given):
            value, along = model(x[:2], mass, given["energyRatio"])
            yield (value + x[2] - np.log(speed)) * speed / scatter, np.append(along, 1) * speed / scatter

    misses = lambda x: np.array([miss for miss, _ in rows(x)])
    slopes = lambda x: np.array([slope for _, slope in rows(x)])
    start = np.append(means, 0.0)
    x = least_squares(misses, start, slopes, xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale="jac", max_nfev=2000).x
    # Where the sum of squares is too flat to go on by, its slope still shows the way.
    x = root(lambda x: slopes(x).T @ misses(x), x, tol=1e-14).x
    # The slope has the square of the condition number: where root ends depends on the last bits. These steps do not.
    for _ in range(5):
        x = x - np.linalg.lstsq(slopes(x), misses(x), rcond=None)[0]
    return x, np.linalg.inv(slopes(x).T @ slopes(x))[:2, :2]
