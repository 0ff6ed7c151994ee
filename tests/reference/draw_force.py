"""A measured draw-force curve: SciPy's rules of quadrature, its interpolation and numerical derivatives."""

import numpy as np
from scipy.integrate import trapezoid
from scipy.interpolate import interp1d
from scipy.optimize import approx_fprime, brentq

SOURCE = "SciPy 1.17.1, trapezoid, interp1d, approx_fprime, brentq; NumPy polyfit through every three points"
CASES = 200
TOLERANCE = {
    "energyJ": 1e-13,
    "energyFraction": 1e-13,
    "peakN": 1e-15,
    "peakAtM": 1e-15,
    "letOff": 1e-13,
    "valleyWidthM": 1e-14,
    "setbackN": 1e-13,
    "fromStepsJ": 3e-9,
    "atMostJ": 3e-9,
    "betweenJ": 3e-13,
    "shorterEnergyJ": 1e-13,
    "threeQuartersAt": 1e-13,
    "pushFactor": 1e-13,
    "forcesN": 1e-13,
}
SCALE = {"letOff": 0.1, "valleyWidthM": 0.1, "setbackN": 1.0, "betweenJ": 0.1, "forcesN": 1.0}


def solve(given):
    order = np.argsort(given["drawM"])
    x = np.concatenate([[given["braceM"]], np.array(given["drawM"])[order]])
    force = np.concatenate([[0.0], np.array(given["forceN"])[order]])
    peak = int(np.argmax(force))
    energy = trapezoid(force, x)
    steps, most = uncertainty(x, force, given["ruleM"], given["scaleN"])
    line = interp1d(x, force, bounds_error=False, fill_value=(0.0, force[-1]))
    # A reading within 0.1 mm of the end counts as at the end.
    kept = np.append(x[x < given["endM"] - 1e-4], given["endM"])
    early = three_quarters(x, force, line)
    return {
        "energyJ": energy,
        "energyFraction": energy / (force[peak] * (x[-1] - x[0])),
        "peakN": force[peak],
        "peakAtM": x[peak],
        "letOff": 1 - force[peak:].min() / force[peak],
        "valleyWidthM": valley(x[peak:], force[peak:]),
        "setbackN": (np.maximum.accumulate(force[: peak + 1]) - force[: peak + 1]).max(),
        "fromStepsJ": steps,
        "atMostJ": most,
        "betweenJ": between(x, force),
        "shorterEnergyJ": trapezoid(line(kept), kept),
        "threeQuartersAt": early,
        "pushFactor": push_factor(2 * early, 1 - force[-1] / force[peak]),
        "forcesN": line(given["placesM"]).tolist(),
    }


def three_quarters(x, force, line):
    """Share of the stroke at which the force first comes to three quarters of its peak."""
    level = 0.75 * force.max()
    first = int(np.argmax(force >= level))
    at = brentq(lambda draw: line(draw) - level, x[first - 1], x[first], xtol=1e-16, rtol=1e-15)
    return (at - x[0]) / (x[-1] - x[0])


def push_factor(rise, let_off):
    """What a compound's curve makes of the column load: 1 at a rise of 0.35 and a let-off of 80 %."""
    percent = 100 * np.clip(let_off, 0, 0.99)
    return (1 + 0.0033 * (80 - percent)) * (1 + (0.35 - np.clip(rise, 0.10, 0.60)) / 3)


def valley(x, force):
    """Length over which the line through the readings is at most a tenth of the fall above its least."""
    if len(x) < 2:
        return 0.0
    level = force.min() + 0.1 * (force[0] - force.min())
    # The line split where it crosses the level: each piece then is wholly above or below.
    cross = [
        a + (level - f) / (g - f) * (b - a)
        for a, b, f, g in zip(x, x[1:], force, force[1:])
        if (f - level) * (g - level) < 0
    ]
    pieces = np.sort(np.concatenate([x, cross]))
    middle = interp1d(x, force)((pieces[1:] + pieces[:-1]) / 2)
    return np.diff(pieces)[middle <= level].sum()


def uncertainty(x, force, rule, scale):
    count = len(x)
    # The rule is linear in each reading, so that a difference over any step is its slope.
    energy = lambda v: trapezoid(v[count:], v[:count])
    slopes = approx_fprime(np.concatenate([x, force]), energy, 1e-3)
    steps = np.concatenate([np.full(count, rule), np.full(count, scale)])
    steps[count] = 0.0  # the string at rest pulls nothing
    return np.sqrt(((slopes * steps) ** 2 / 12).sum()), abs(slopes * steps).sum() / 2


def between(x, force):
    """-h^3 F'' / 12 over all intervals, F'' that of the parabolas through the three readings about each end."""
    bend = {}
    for i in range(1, len(x) - 1):
        near = slice(i - 1, i + 2)
        bend[i] = 2 * np.polyfit(x[near] - x[i], force[near], 2)[0]
    total = 0.0
    for i, h in enumerate(np.diff(x)):
        ends = [bend[end] for end in (i, i + 1) if end in bend]
        total -= h**3 * np.mean(ends) / 12
    return total
