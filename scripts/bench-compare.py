"""Prints running times native, as wasm and in SciPy, one line a task, with ratios.

    python bench-compare.py NATIVE WASM     commands that print lines of name, tab, microseconds
"""

import shlex
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp

sys.path.append(str(Path(__file__).parent.parent / "tests/reference"))
import column
import flex

# The same arrow, bow and flight as in crates/tools/src/bin/bench.rs.
PARTS = [[0.0022, 0.05, 0.05, 0.05, 0.0], [0.0078, 0.72, 0.72, 0.72, 0.0]]
ARROW = {"lengthM": 0.7112, "shaftFromM": 0.014, "massPerLength": 0.018, "stiffness": 6.37, "restM": 0.68}
CURVE = ["let-off", 0.35, 0.25, 0.80]
BOW = {"peakForceN": 267.0, "strokeM": 0.508, "virtualMassKg": 0.0071, "curve": CURVE, "restShare": 1.0}
SHOT = {"shaftBowM": 1e-4, "fingers": [0.0, 0.05], "deliveredEnergyJ": 267.0 * 0.508 * flex.stored(CURVE)}


def column_load():
    column.critical({**ARROW, "parts": PARTS}, 0.7112, 0.014, 0.68, elements=16)


def shot():
    flex.shoot({**ARROW, **BOW, **SHOT, "parts": [part[:2] for part in PARTS]}, until=0.04, rtol=1e-6)


def trajectory():
    def rate(_, state):
        through = state[3:] - np.array([0.0, 0.0, 3.0])
        airspeed = np.sqrt(through @ through)
        slowing = -(0.001 + 0.004 / np.sqrt(airspeed)) * airspeed
        return np.concatenate([state[3:], slowing * through - np.array([0.0, 9.80665, 0.0])])

    def there(_, state):
        return state[0] - 100.0

    there.terminal = True
    start = [0.5, -0.11, 0.0, 79.6, 7.5, 0.0]
    assert len(solve_ivp(rate, (0.0, 10.0), start, "RK45", rtol=1e-8, atol=1e-8, events=there).t_events[0]) == 1


IN_SCIPY = {
    "column load": ("eigh", column_load),
    "one shot in time": ("DOP853", shot),
    "trajectory of 100 m": ("RK45", trajectory),
}


def microseconds(call):
    """Microseconds of one call: the shortest of several rounds of about 0.1 s, for one second in all."""
    least, begun = float("inf"), time.perf_counter()
    while time.perf_counter() - begun < 1.0:
        start, calls = time.perf_counter(), 0
        while time.perf_counter() - start < 0.1:
            call()
            calls += 1
        least = min(least, (time.perf_counter() - start) * 1e6 / calls)
    return least


def measured(command):
    lines = subprocess.run(shlex.split(command), check=True, capture_output=True, text=True).stdout.splitlines()
    return {name: float(time) for name, time in (line.split("\t") for line in lines)}


def main(native, wasm):
    native, wasm = measured(native), measured(wasm)
    for name, ours in native.items():
        line = f"{name}, us: native {ours:.4g}, wasm {wasm[name]:.4g} ({wasm[name] / ours:.1f} times)"
        if name in IN_SCIPY:
            method, call = IN_SCIPY[name]
            theirs = microseconds(call)
            line += f", SciPy {method} {theirs:.4g} ({theirs / ours:.0f} times)"
        print(line)


main(*sys.argv[1:])
