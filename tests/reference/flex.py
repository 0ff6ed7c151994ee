"""The shot in time, with global modes in place of elements and an adaptive rule in place of fixed steps.

The arrow's lowest free modes are found on Legendre polynomials over its whole length; the deflection is its own bow and
a sum of them. String and rest hold it by multipliers, found at each instant from the constraints differentiated twice,
the rest's place along the arrow being a function of time.
"""

import numpy as np
from numpy.polynomial import legendre
from scipy.integrate import solve_ivp
from scipy.linalg import eigh

SOURCE = "SciPy 1.17.1, solve_ivp DOP853 rtol 1e-9 on 16 global modes"
CASES = 12
TOLERANCE = {
    "timeOnStringS": 1e-9,
    "exitSpeedMPerS": 2e-8,
    "magnification": 5e-4,
    "freeHz": 1e-4,
    "pivotedHz": 1e-4,
    "tipOverBow": 5e-3,
}
SCALE = {"tipOverBow": 1.0}
TERMS, MODES = 28, 16


class Arrow:
    def __init__(self, given):
        self.length, self.bow, self.rest = given["lengthM"], given["shaftBowM"], given["restM"]
        parts, start = given["parts"], given["shaftFromM"]
        self.mass = given["massPerLength"] * (self.length - start) + sum(mass for mass, _ in parts)
        self.terms = [self.derivative(order) for order in range(3)]
        m, k, g = self.matrices(given, parts, start)
        squares, shapes = eigh(k, m)
        self.free_hz = np.sqrt(squares[2:5]) / (2 * np.pi)
        # Pivoted: only what does not move the nock.
        still = np.linalg.svd(self.rows(0.0, self.terms[0])[None])[2][1:].T
        self.pivoted_hz = np.sqrt(eigh(still.T @ k @ still, still.T @ m @ still, eigvals_only=True)[1:4]) / (2 * np.pi)
        self.squares = np.maximum(squares[:MODES], 0)
        self.modes = [terms @ shapes[:, :MODES] for terms in self.terms]
        self.press = shapes[:, :MODES].T @ g @ shapes[:, :MODES]
        self.press_own = shapes[:, :MODES].T @ self.own_press

    def derivative(self, order):
        terms = np.eye(TERMS)
        for _ in range(order):
            terms = np.vstack([legendre.legder(terms) * 2 / self.length, np.zeros((1, TERMS))])
        return terms

    def rows(self, x, terms):
        return legendre.legval(2 * x / self.length - 1, terms).T

    def own(self, x):
        """The shaft's own bow, straight between string and rest: deflection, slope, curvature."""
        wave = np.pi / self.length
        tilt = np.sin(wave * self.rest) / self.rest
        sine, cosine = np.sin(wave * x), np.cos(wave * x)
        return self.bow * (sine - tilt * x), self.bow * (wave * cosine - tilt), -self.bow * wave**2 * sine

    def matrices(self, given, parts, start):
        cuts = sorted({0.0, start, self.length} | {x for _, x in parts if 0 < x < self.length})
        m, k, g = (np.zeros((TERMS, TERMS)) for _ in range(3))
        self.own_press = np.zeros(TERMS)
        roots, weights = legendre.leggauss(TERMS + 2)
        for a, b in zip(cuts, cuts[1:]):
            x, w = (a + b) / 2 + (b - a) / 2 * roots, (b - a) / 2 * weights
            density = given["massPerLength"] if a >= start else 0.0
            ahead = given["massPerLength"] * (self.length - np.maximum(x, start)) + sum(m for m, c in parts if c > a)
            value, slope, curve = (self.rows(x, terms) for terms in self.terms)
            m += density * value.T @ (w[:, None] * value)
            k += given["stiffness"] * curve.T @ (w[:, None] * curve)
            g += slope.T @ ((w * ahead)[:, None] * slope)
            self.own_press += slope.T @ (w * ahead * self.own(x)[1])
        end, turn = (self.rows(self.length, terms) for terms in self.terms[:2])
        for mass, x in parts:
            row = self.rows(x, self.terms[0]) if x <= self.length else end + (x - self.length) * turn
            m += mass * np.outer(row, row)
            if x > self.length:
                g += mass * (x - self.length) * np.outer(turn, turn)
                self.own_press += mass * (x - self.length) * turn * self.own(self.length)[1]
        return m, k, g

    def place(self, x):
        """Rows of the modes at a place, and the shaft's own part: deflection, slope, curvature."""
        return [self.rows(x, modes) for modes in self.modes], self.own(x)

    def deflection(self, x, q):
        return self.rows(x, self.modes[0]) @ q + self.own(x)[0]


def force(curve, u):
    u = min(max(u, 0.0), 1.0)
    if curve[0] == "smooth":
        return (1 + curve[1]) * u - curve[1] * u * u
    _, rise, valley, let_off = curve
    if u < rise:
        return 1 - (1 - u / rise) ** 2
    fallen = max(u - 1 + valley, 0) / valley
    return 1 - let_off * fallen**2 * (3 - 2 * fallen)


def stored(curve):
    if curve[0] == "smooth":
        return 0.5 + curve[1] / 6
    return 1 - curve[1] / 3 - curve[2] * curve[3] / 2


def rates(arrow, given, peak, held, on_string):
    nock = arrow.rows(0.0, arrow.modes[0])

    def of(_, state):
        q, v, (s, speed) = state[:MODES], state[MODES:-2], state[-2:]
        a = peak * force(given["curve"], 1 - s / given["strokeM"]) if on_string else 0.0
        pull = a * (arrow.press @ q + arrow.press_own) - arrow.squares * q
        holds, wanted = [], []
        if on_string:
            holds.append(nock)
            wanted.append(0.0)
        if held:
            (value, slope, curve), (_, own_slope, own_curve) = arrow.place(given["restM"] - s)
            holds.append(value)
            wanted.append(2 * speed * slope @ v + a * (slope @ q + own_slope) - speed**2 * (curve @ q + own_curve))
        if holds:
            c = np.array(holds)
            pull = pull + c.T @ np.linalg.solve(c @ c.T, np.array(wanted) - c @ pull)
        return np.concatenate([v, pull, [speed, a]])

    return of


def shoot(given, until=0.05, rtol=1e-9):
    """The arrow, when it leaves the string and in which state, and its state at any time from the release."""
    arrow, stroke = Arrow(given), given["strokeM"]
    share = given["deliveredEnergyJ"] / (given["peakForceN"] * stroke * stored(given["curve"]))
    peak = share * given["peakForceN"] / (arrow.mass + given["virtualMassKg"])
    state, time, pieces = np.zeros(2 * MODES + 2), 0.0, []
    drop = given["restShare"] * stroke
    for end in sorted({drop, stroke}):
        reached = lambda _, state, end=end: state[-2] - end
        reached.terminal, reached.direction = True, 1
        run = integrate(rates(arrow, given, peak, end <= drop, True), time, 1.0, state, rtol, reached)
        pieces.append((run.t[-1], run.sol))
        time, state = run.t[-1], run.y[:, -1]
    flight = integrate(rates(arrow, given, peak, False, False), time, until, state, rtol)
    pieces.append((until, flight.sol))
    return arrow, time, state, lambda t: next(sol(t) for end, sol in pieces if t <= end)


def solve(given):
    arrow, time, state, at = shoot(given)
    return {
        "timeOnStringS": time,
        "exitSpeedMPerS": state[-1],
        "magnification": bend(arrow, at, time) / arrow.bow,
        "freeHz": list(arrow.free_hz),
        "pivotedHz": list(arrow.pivoted_hz),
        "tipOverBow": [arrow.deflection(arrow.length, at(t)[:MODES]) / arrow.bow for t in given["timesS"]],
    }


def integrate(equations, start, end, state, rtol, events=None):
    return solve_ivp(equations, (start, end), state, "DOP853", rtol=rtol, atol=1e-13, events=events, dense_output=True)


def bend(arrow, at, end):
    """The greatest departure from the line between string and rest, on a dense grid of times and places."""
    places = np.linspace(0, arrow.length, 600)
    rows, own, greatest = arrow.rows(places, arrow.modes[0]), arrow.own(places)[0], 0.0
    for time in np.linspace(0, end, 1500):
        state = at(time)
        rest = arrow.rest - state[-2]
        y = rows @ state[:MODES] + own
        away = np.abs(y - y[0] - (arrow.deflection(rest, state[:MODES]) - y[0]) * places / rest)
        greatest = max(greatest, away[places < rest].max())
    return greatest
