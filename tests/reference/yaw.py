"""The swing of a yawed arrow: its motion in time, slowing down, integrated by SciPy and read off at its zeros.

Outlines are integrated by quadrature, and so is the shaft, strip by strip; inertia is summed from the parts.
"""

import numpy as np
from scipy.integrate import quad, solve_ivp

SOURCE = "SciPy 1.17.1, quad, and solve_ivp DOP853 rtol 1e-12 in time"
CASES = 120
TOLERANCE = {
    "inertia": 1e-14,
    "pullM2": 1e-14,
    "centreM": 1e-14,
    "wavelengthM": 5e-12,
    "halfDistanceM": 5e-11,
    "dampingRatio": 5e-11,
}
YAW = 0.05
OUTLINES = {  # height by the share of the base from the rear, and where its pieces join
    "Parabola": (lambda u: 1 - ((0.3 - u) / 0.3) ** 2 if u < 0.3 else 1 - ((u - 0.3) / 0.7) ** 2, [0.3]),
    "Shield": (lambda u: (u / 0.2) ** 2 if u < 0.2 else 1 - ((u - 0.2) / 0.8) ** 2, [0.2]),
    "StraightCut": (lambda u: min(1, (1 - u) / 0.6), [0.4]),
    "LowProfile": (lambda u: min(1, u / 0.15, (1 - u) / 0.5), [0.15, 0.5]),
}


def solve(given):
    mass, balance, inertia = weigh(given)
    pulls = list(elements(given["shape"]))
    moments = [sum(pull(k, balance) for pull in pulls) for k in range(3)]
    answer = {"inertia": inertia, "pullM2": moments[0], "centreM": balance - moments[1] / moments[0]}
    return answer | swing(given["density"], given["dragAreaM2"], mass, inertia, moments)


def weigh(given):
    # Moments about the nock groove: of lumps, of uniform stretches about their own middles, then moved to the balance.
    uniform = lambda k: given["massPerLength"] * (given["lengthM"] ** (k + 1) - 0.014 ** (k + 1)) / (k + 1)
    own = sum(part[0] * (part[3] - part[2]) ** 2 / 12 for part in given["parts"])
    mass, first, second = [uniform(k) + sum(part[0] * part[1] ** k for part in given["parts"]) for k in range(3)]
    balance = first / mass
    inertia = second + own - mass * balance**2
    return mass, balance, inertia


def elements(shape):
    """Each part as a function of k and the balance: the integral of its pull times (distance behind balance)^k."""
    radius, tip, nose = shape["diameterM"] / 2, shape["tipM"], shape["noseM"]
    at = lambda area, place: lambda k, balance: area * (balance - place) ** k
    for fins in (vane(shape["vanes"], radius), blade(shape["blades"], radius)):
        yield at(*fins)

    def along(k, balance):
        # Cross-flow on each strip of the side-on outline; the nose's own lift goes by the growth of its section.
        width = lambda x: 2 * radius * min(1.0, (tip - x) / nose)
        strip = lambda x: 1.1 * np.sin(YAW) ** 2 / YAW * width(x) * (balance - x) ** k
        growth = lambda x: 2 * 2 * np.pi * radius**2 * (tip - x) / nose**2 * (balance - x) ** k
        exact = {"epsabs": 0, "epsrel": 1e-13}
        head = quad(lambda x: strip(x) + growth(x), tip - nose, tip, **exact)[0]
        return quad(strip, 0, tip - nose, **exact)[0] + head

    yield along


def vane(vanes, radius):
    height, joints = OUTLINES[vanes["outline"]]
    share = quad(height, 0, 1, points=joints, epsabs=1e-15)[0]
    center = quad(lambda u: u * height(u), 0, 1, points=joints, epsabs=1e-15)[0] / share
    return trapezoid(vanes, radius, vanes["heightM"], 2 * share - 1, 1 - center, vanes["rearM"] + vanes["lengthM"])


def blade(blades, radius):
    # A triangle's center of area is two thirds back when its leading edge runs the whole length.
    return trapezoid(blades, radius, blades["widthM"] / 2 - radius, 0.0, 2 / 3, blades["frontM"])


def trapezoid(fins, radius, span, taper, center, front):
    """Pull and its place, by strips: the quarter chord of each, weighted by its chord."""
    chord = lambda y: 1 + (taper - 1) * y
    area = quad(chord, 0, 1)[0]
    # Leading edge at sweep y: the sweep that puts the center of area where it is.
    sweep = (center * area - quad(lambda y: chord(y) ** 2 / 2, 0, 1)[0]) / quad(lambda y: chord(y) * y, 0, 1)[0]
    quarter = quad(lambda y: chord(y) * (sweep * y + chord(y) / 4), 0, 1)[0] / area
    length = fins["lengthM"]
    aspect = 2 * span / (area * length)  # of the fin and its mirror image
    middle = np.arctan2((sweep + (taper - 1) / 2) * length, span)
    slope = 2 * np.pi * aspect / (2 + np.sqrt(4 + (aspect / np.cos(middle)) ** 2))  # Diederich, on the fin's area
    body = 1 + radius / (span + radius)
    return fins["count"] / 2 * body * slope * area * length * span, front - quarter * length


def swing(density, drag, mass, inertia, moments):
    s0, s1, s2 = moments

    def motion(_, state):
        shaft, path, turning, speed, _ = state
        pressure = density * speed**2 / 2
        yaw, rate = shaft - path, turning / speed
        return [
            turning,
            pressure * ((s0 - drag) * yaw + s1 * rate) / (mass * speed),
            -pressure * (s1 * yaw + s2 * rate) / inertia,
            -pressure * drag / mass,
            speed,
        ]

    level = lambda _, state: state[0] - state[1]
    level.terminal = 4
    run = solve_ivp(motion, (0, 1e3), [0, 0, 3.0, 60, 0], method="DOP853", rtol=1e-12, atol=1e-15, events=level)
    first, last = run.y_events[0][1], run.y_events[0][3]  # a swing apart; the start is a zero too
    steep = lambda state: state[2] / state[3] - density * s1 * state[2] / state[3] / (2 * mass)
    wave, decay = last[4] - first[4], np.log(steep(first) / steep(last))
    number = 2 * np.pi / wave
    return {
        "wavelengthM": wave,
        "halfDistanceM": np.log(2) * wave / decay,
        "dampingRatio": decay / wave / np.hypot(number, decay / wave),
    }
