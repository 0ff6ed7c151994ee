"""Spin by strips: each strip of vane or blade pushes by its own incidence, and SciPy integrates the turning in time.

The body's part in the drive is RocketPy's factor; its part in the damping is integrated here.
"""

import numpy as np
from rocketpy.rocket.aero_surface import TrapezoidalFins
from scipy.integrate import quad, solve_ivp
from yaw import OUTLINES

SOURCE = "SciPy 1.17.1, quad, and solve_ivp DOP853 rtol 1e-12; RocketPy 1.13.0 for the drive's interference"
CASES = 120
TOLERANCE = {"settled": 1e-11, "settlingM": 2e-8, "turning": 1e-12, "turned": 1e-12}
SPEED, LONG_M = 60.0, 3000.0


def solve(given):
    shape = given["shape"]
    radius, vanes, blades = shape["diameterM"] / 2, shape["vanes"], shape["blades"]
    drive, damping = rolling(vanes["count"], *as_trapezoid(vanes), vanes["heightM"], radius)
    straight = rolling(
        blades["count"], blades["lengthM"], 0.0, blades["lengthM"], blades["widthM"] / 2 - radius, radius
    )[1]
    pressure = given["density"] * SPEED**2 / 2

    def motion(_, state):
        moment = drive * vanes["offsetRad"] - (damping + straight) * state[0] / SPEED
        return [pressure * moment / given["inertia"], state[0], SPEED]

    def over(way):
        run = solve_ivp(motion, (0, way / SPEED), [0, 0, 0], method="DOP853", rtol=1e-12, atol=1e-13, dense_output=True)
        return run.sol, run.y[:, -1]

    at = [over(way)[1] for way in (3.0, 18.0)]
    path, end = over(LONG_M)
    settled = end[0] / SPEED
    return {
        "settled": settled,
        "settlingM": (LONG_M * settled - end[1]) / settled,  # how far the spin lags, once settled
        "turning": [state[0] / SPEED for state in at],
        "turned": [state[1] for state in at],
    }


def as_trapezoid(vanes):
    height, joints = OUTLINES[vanes["outline"]]
    share = quad(height, 0, 1, points=joints, epsabs=1e-15)[0]
    center = 1 - quad(lambda u: u * height(u), 0, 1, points=joints, epsabs=1e-15)[0] / share
    root, tip = vanes["lengthM"], (2 * share - 1) * vanes["lengthM"]
    chord = lambda y: root + (tip - root) * y
    own = quad(lambda y: chord(y) ** 2 / 2, 0, 1)[0]
    sweep = (center * root * (root + tip) / 2 - own) / quad(lambda y: chord(y) * y, 0, 1)[0]
    return root, tip, sweep


def rolling(count, root, tip, sweep, span, radius):
    """Moments over dynamic pressure, for an offset of 1 rad and for a turning of 1 rad/m."""
    chord = lambda y: root + (tip - root) * (y - radius) / span
    over = lambda f: quad(f, radius, radius + span, epsabs=0, epsrel=1e-13)[0]
    aspect = 2 * span / ((root + tip) / 2)
    middle = np.arctan2(sweep + (tip - root) / 2, span)
    slope = 2 * np.pi * aspect / (2 + np.sqrt(4 + (aspect / np.cos(middle)) ** 2))
    image = 1 + over(lambda y: chord(y) * (radius / y) ** 2) / over(lambda y: chord(y) * y / radius)
    fins = TrapezoidalFins(count, root, tip, span, radius, sweep_length=sweep)
    drive = count * slope * fins.roll_forcing_interference_factor * over(lambda y: chord(y) * y)
    return drive, count * slope * image * over(lambda y: chord(y) * y * y)
