"""Energy and virtual mass from chronograph readings: least squares in speed, and Grubbs's test of each residual."""

import numpy as np
from scipy.optimize import curve_fit, root
from scipy.stats import t as student

SOURCE = "SciPy 1.17.1, curve_fit refined by root, leave-one-out, stats.t"
CASES = 200
# What is left when a wild reading is left out of few is a small difference of large sums: its digits count for less.
TOLERANCE = {
    "energyJ": 1e-12,
    "virtualMassKg": 4e-12,
    "deviationMPerS": 4e-12,
    "energyErrorJ": 4e-12,
    "virtualMassErrorKg": 4e-12,
    "suspect": 1e-15,
    "studentized": 3e-8,
    "chance": 3e-8,
}
# A chance far below the 5 % that decides keeps its size, not its digits.
SCALE = {"suspect": 1.0, "virtualMassErrorKg": 1e-6, "chance": 1e-3}


def solve(given):
    masses, speeds = np.array(given["massesKg"]), np.array(given["speedsMPerS"])
    fitted, assumed = max(masses) >= 1.05 * min(masses), given["assumedVirtualMassKg"]

    # In joules and grams both unknowns are of a size.
    def model(m, energy, grams=1e3 * assumed):
        return np.sqrt(2 * energy / (m + 1e-3 * grams))

    def slopes_at(m, energy, grams=1e3 * assumed):
        speed = model(m, energy, grams)
        columns = [speed / (2 * energy)] + ([-1e-3 * speed / (2 * (m + 1e-3 * grams))] if fitted else [])
        return np.column_stack(columns)

    start = [50.0, 5.0] if fitted else [50.0]
    options = dict(p0=start, jac=slopes_at, method="lm", ftol=1e-15, xtol=1e-15, gtol=1e-15)
    found, _ = curve_fit(model, masses, speeds, **options)
    # Where the sum of squares is too flat to go on by, its slope still shows the way.
    slope = lambda p: slopes_at(masses, *p).T @ (speeds - model(masses, *p))
    found = root(slope, found, tol=1e-15).x
    residuals = speeds - model(masses, *found)
    left = len(speeds) - len(found)
    slopes = slopes_at(masses, *found)
    variance = residuals @ residuals / left
    errors = np.sqrt(np.diag(np.linalg.inv(slopes.T @ slopes)) * variance)
    leverage = np.diag(slopes @ np.linalg.pinv(slopes))
    studentized = np.array([left_out(residuals, slopes, leverage, i, left) for i in range(len(speeds))])
    worst = int(np.argmax(abs(studentized)))
    chance = min(1.0, len(speeds) * 2 * student.sf(abs(studentized[worst]), left - 1))
    named = chance < 0.05
    return {
        "energyJ": found[0],
        "virtualMassKg": 1e-3 * found[1] if fitted else assumed,
        "deviationMPerS": np.sqrt(variance),
        "energyErrorJ": errors[0],
        "virtualMassErrorKg": 1e-3 * errors[1] if fitted else 0.0,
        "suspect": worst if named else -1,
        "studentized": studentized[worst] if named else 0.0,
        "chance": chance if named else 1.0,
    }


def left_out(residuals, slopes, leverage, index, left):
    """The residual of a reading over its error, by a linear fit to the residuals of all others."""
    keep = np.arange(len(residuals)) != index
    change = np.linalg.lstsq(slopes[keep], residuals[keep], rcond=None)[0]
    rest = residuals[keep] - slopes[keep] @ change
    return residuals[index] / (np.sqrt(rest @ rest / (left - 1)) * np.sqrt(1 - leverage[index]))
