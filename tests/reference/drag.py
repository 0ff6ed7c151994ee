"""Drag: layers on a thin cylinder by other means than the fits used, the build-up written independently, the flight by SciPy.

The laminar layer is solved: Prandtl's equations on a cylinder, marched along it by finite differences. The turbulent
one is von Karman's momentum balance with the local friction law of Ali & Dey, J. Fluid Mech., October 2023, begun where
the laminar layer's momentum thickness reaches 320. What the two differ from the fits is what the fits are worth.
"""

from functools import cache
from math import pi, sin, sqrt

import numpy as np
from scipy.integrate import cumulative_trapezoid, quad, solve_ivp
from scipy.linalg import solve_banded

SOURCE = "boundary layers integrated along the shaft with NumPy; SciPy 1.17.1, solve_ivp and quad"
CASES = 60
TOLERANCE = {
    "laminarShaft": 1e-3,
    "turbulentShaft": 0.1,
    "coefficient": 1e-13,
    # The law has corners where layers turn turbulent, and fixed steps go over them.
    "speedLeft": 2e-7,
    "measuredFactor": 1e-5,
}


def solve(given):
    given = {**given, "area": pi / 4 * given["diameterM"] ** 2}
    speed, mass, way = given["speed"], given["massKg"], given["wayM"]
    slowing = given["density"] * given["area"] / (2 * mass)

    def slope(_, v):
        return [-slowing * coefficient(given, v[0]) * v[0]]

    left = solve_ivp(slope, [0, way], [speed], method="DOP853", rtol=1e-11, atol=1e-11).y[0, -1]
    lost = quad(lambda v: 1 / (v * coefficient(given, v)), given["downrange"], speed, epsabs=0, epsrel=1e-9, limit=400)[0]
    to_area = 4 * given["lengthM"] / given["diameterM"]
    return {
        "laminarShaft": solved_laminar(given, speed) * to_area,
        "turbulentShaft": solved_turbulent(given, speed) * to_area,
        "coefficient": coefficient(given, speed),
        "speedLeft": left,
        "measuredFactor": lost / (slowing * way),
    }


# The build-up, from the equations.


def coefficient(given, speed):
    viscosity = given["viscosity"] / given["density"]
    length, diameter = given["lengthM"], given["diameterM"]
    reynolds = speed / viscosity  # per meter
    share = given["turbulentShare"] if given["turbulentShare"] is not None else changing(given, reynolds * diameter)
    start = (320 / 0.664) ** 2 / reynolds  # where a layer can be turbulent, m

    def cylinder_turbulent(x):
        return 0.0015 + (0.30 + 0.015 * (2 * x / diameter) ** 0.4) * (x * reynolds) ** (-1 / 3)

    def cylinder_laminar(x):
        s = 2 * sqrt(x / reynolds) / diameter
        b = 4 * 0.656578 / 0.694322 * s
        folded = 2 * (((1 + b) ** 1.75 - 1) / 1.75 - ((1 + b) ** 0.75 - 1) / 0.75) / b**2
        return 2 * (2 * 0.332057 / s + 0.694322 * folded) / (reynolds * diameter / 2)

    def friction(x, laminar, turbulent):
        begun = min(x, start)
        late = (x * turbulent(x) - begun * turbulent(begun) + begun * laminar(begun)) / x
        return (1 - share) * laminar(x) + share * late

    def plates(count, root, tip, height, sweep, thick, square):
        if count == 0:
            return 0.0
        chord = (root + tip) / 2
        rubbed = friction(chord, lambda x: 1.328228 * (x * reynolds) ** -0.5, lambda x: 0.074 * (x * reynolds) ** -0.2)
        edges = 0.12 + square * 0.85 * height**2 / (height**2 + sweep**2)
        return count * height * (2 * chord * rubbed * (1 + 2 * thick / chord) + edges * thick) / given["area"]

    shaft = friction(length, cylinder_laminar, cylinder_turbulent) * 4 * length / diameter
    point = 0.8 * sin(given["pointHalfAngle"]) ** 2
    return shaft + plates(*given["vanes"]) + plates(*given["blades"]) + point + 0.029 * shaft**-0.5


def changing(given, reynolds):
    """Share of the layer that is turbulent, where point and Reynolds number on the diameter decide."""
    if given["pointHalfAngle"] >= pi / 4 or given["blades"][0] > 0:
        return 1.0
    return SMOOTH_STEP(min(max(reynolds / 12_000 - 1, 0), 1)) / SMOOTH_STEP(1)


# The integral of a slope that is a parabola and 0 at both ends.
SMOOTH_STEP = np.polynomial.Polynomial.fromroots([0, 1]).integ()


# The layers, solved.


def solved_laminar(given, speed):
    """Mean friction coefficient of the laminar layer over the shaft."""
    viscosity, radius = given["viscosity"] / given["density"], given["diameterM"] / 2
    s, shear = marched()
    end = sqrt(viscosity * given["lengthM"] / speed) / radius
    # Local friction is 2 nu/(U a) shear/s; the mean over x is that over s^2.
    reach = np.linspace(0, end, 400)
    return 2 * viscosity / (speed * radius) * 2 * np.trapezoid(np.interp(reach, s, shear), reach) / end**2


@cache
def marched(s_most=1.2, steps=240, points=1200, far=40.0):
    """s and f''(0, s): psi = a sqrt(nu U x) f, eta = (r^2 - a^2)/(2 a) sqrt(U/(nu x)), s = sqrt(nu x/U)/a.

    ((1 + 2 s eta) f'')' + f f''/2 = (s/2) (f' df'/ds - f'' df/ds).
    """
    eta = far * np.sinh(3 * np.linspace(0, 1, points)) / np.sinh(3)
    h, s = np.diff(eta), np.linspace(0, s_most, steps + 1)
    wide = h[1:] + h[:-1]
    us, fs, shear = [np.tanh(eta / 3)], [], []
    fs.append(cumulative_trapezoid(us[0], eta, initial=0))
    for step, place in enumerate(s):
        u = us[-1].copy()
        # Backward differences in s, second order from the second step on: (now u + before) / ds.
        if step == 0:
            now, u_before, f_before = 0.0, 0.0 * u, 0.0 * u
        elif step == 1:
            now, u_before, f_before = 1.0, -us[-1], -fs[-1]
        else:
            now, u_before, f_before = 1.5, -2 * us[-1] + us[-2] / 2, -2 * fs[-1] + fs[-2] / 2
        along = place / 2 / s[1]
        across = (1 + place * (eta[1:] + eta[:-1])) / h
        for _ in range(300):
            f = cumulative_trapezoid(u, eta, initial=0)
            sink = (f / 2 + along * (now * f + f_before))[1:-1] / wide
            lower, upper = 2 * across[:-1] / wide, 2 * across[1:] / wide
            bands = np.zeros((3, points))
            bands[2, :-2], bands[0, 2:] = lower - sink, upper + sink
            bands[1, 1:-1] = -lower - upper - along * (2 * now * u + u_before)[1:-1]
            bands[1, [0, -1]] = 1
            right = np.concatenate([[0], -along * now * u[1:-1] ** 2, [1]])
            fresh = solve_banded((1, 1), bands, right)
            change, u = abs(fresh - u).max(), (fresh + u) / 2
            if change < 1e-10:
                break
        else:
            raise SystemExit("the laminar layer did not settle")
        f = cumulative_trapezoid(u, eta, initial=0)
        if step == 0:
            us, fs = [u], [f]
        else:
            us, fs = us[-1:] + [u], fs[-1:] + [f]
        shear.append((u[1] * (h[0] + h[1]) ** 2 - u[2] * h[0] ** 2) / (h[0] * h[1] * (h[0] + h[1])))
    return s, np.array(shear)


def solved_turbulent(given, speed):
    """Mean friction coefficient of a layer that turns turbulent as soon as it can stay so."""
    viscosity, radius, length = given["viscosity"] / given["density"], given["diameterM"] / 2, given["lengthM"]
    start = (320 / 0.664) ** 2 * viscosity / speed
    # Momentum area over 2 pi a^2 for a profile of the power 1/7: 7/72 d + 7/240 d^2, with d = delta/a.
    begun = solved_laminar({**given, "lengthM": start}, speed) * start / (2 * radius)

    def growth(_, momentum):
        thick = (-7 / 72 + sqrt((7 / 72) ** 2 + 4 * 7 / 240 * momentum[0])) / (2 * 7 / 240)
        return [0.0456 / 2 * (speed * radius / viscosity * np.log1p(thick)) ** -0.25 / radius]

    end = solve_ivp(growth, [start, length], [begun], rtol=1e-8, atol=1e-12).y[0, -1]
    return 2 * end * radius / length
