"""The shot off the fingers: global modes, an adaptive rule, the rest as a spring that can only push.

Until the string has traveled `slipM` the fingertips lead the nock aside, in proportion to its travel. From there the
string's own sideways mass rides on the nock, and the string pulls the nock toward the string's place at brace: force
over way.
The rest, `restOffsetM` aside of the string's plane, pushes with `restStiffness` times how far the shaft presses it.
"""

import numpy as np
from flex import MODES, Arrow, force, stored
from scipy.integrate import solve_ivp

SOURCE = "SciPy 1.17.1, solve_ivp DOP853 rtol 1e-8 on 16 global modes"
CASES = 12
TOLERANCE = {
    "timeOnStringS": 1e-9,
    "exitSpeedMPerS": 2e-8,
    "nockM": 2e-4,
    "middleM": 2e-4,
    "inFlightM": 3e-3,  # after a bounce
    "nockExitM": 2e-4,
    "restLeftS": 5e-4,  # both look every few microseconds
}
SCALE = {"nockM": 0.02, "middleM": 0.02, "inFlightM": 0.02, "nockExitM": 0.02, "restLeftS": 0.015}
LEAST_SHARE = 1e-3
LONGEST_STEP_S = 5e-5  # no touch of the rest is stepped over


def shoot(given, until, rtol=1e-8):
    arrow, stroke, curve = Arrow(given), given["strokeM"], given["curve"]
    peak_force = given["deliveredEnergyJ"] / (stroke * stored(curve))
    whole = arrow.mass + given["virtualMassKg"]
    nock = arrow.rows(0.0, arrow.modes[0])
    aside, string = given["asideM"] / given["slipM"], given["stringMassKg"]

    def side_stiffness(way):
        share = max(1 - way / stroke, LEAST_SHARE)
        return peak_force * force(curve, share) / (share * stroke)

    def rest_push(q, way):
        place = given["restM"] - way
        row = arrow.rows(place, arrow.modes[0])
        pressed = given["restOffsetM"] - row @ q if place > 0 else 0.0
        return given["restStiffness"] * max(pressed, 0.0), row

    def rates(phase):
        def of(_, state):
            q, v, (way, speed) = state[:MODES], state[MODES:-2], state[-2:]
            a = peak_force * force(curve, 1 - way / stroke) / whole if phase != "free" else 0.0
            push, row = rest_push(q, way)
            pull = a * (arrow.press @ q) - arrow.squares * q + push * row
            if phase == "fingers":
                pull = pull + nock * (aside * a - nock @ pull) / (nock @ nock)
            if phase == "string":
                pull = pull - side_stiffness(way) * (nock @ q) * nock
                pull = pull - nock * string * (nock @ pull) / (1 + string * (nock @ nock))
            return np.concatenate([v, pull, [speed, a]])

        return of

    # Straight from the nock in the string's plane to the rest.
    places = np.linspace(0, arrow.length, 2 * MODES)
    tilt = given["restOffsetM"] / given["restM"]
    lies = np.linalg.lstsq(arrow.rows(places, arrow.modes[0]), tilt * places, rcond=None)[0]
    state, time, pieces = np.concatenate([lies, np.zeros(MODES + 2)]), 0.0, []
    for phase, end in (("fingers", given["slipM"]), ("string", stroke), ("free", None)):
        reached = None
        if end is not None:
            reached = lambda _, state, end=end: state[-2] - end
            reached.terminal = True
        span = (time, 1.0 if reached else until)
        options = {"rtol": rtol, "atol": 1e-12, "max_step": LONGEST_STEP_S}
        run = solve_ivp(rates(phase), span, state, "DOP853", events=reached, dense_output=True, **options)
        pieces.append((run.t[-1], run.sol))
        time, state = run.t[-1], run.y[:, -1]
        if phase == "string":
            left = time, state
    at = lambda t: next(sol(t) for end, sol in pieces if t <= end)
    return arrow, left, at, lambda state: rest_push(state[:MODES], state[-2])[0]


def solve(given):
    arrow, (time, state), at, push = shoot(given, given["timesS"][-1])
    rows = {x: arrow.rows(x * arrow.length, arrow.modes[0]) for x in (0.0, 0.5, 1.0)}
    deflection = lambda x, t: rows[x] @ at(t)[:MODES]
    grid = np.linspace(0, time, 6001)
    pressed = [t for t in grid if push(at(t)) > 0]
    middle = lambda t: deflection(0.5, t) - (deflection(0.0, t) + deflection(1.0, t)) / 2
    *on_string, in_flight = given["timesS"]
    return {
        "timeOnStringS": time,
        "exitSpeedMPerS": state[-1],
        "nockM": [deflection(0.0, t) for t in on_string],
        "middleM": [middle(t) for t in on_string],
        "inFlightM": [deflection(0.0, in_flight), middle(in_flight)],
        "nockExitM": rows[0.0] @ state[:MODES],
        "restLeftS": pressed[-1] if pressed else 0.0,
    }
