"""Mass, balance and critical acceleration: sums, and a column of 300 cubic elements solved by SciPy."""

import numpy as np
from scipy.linalg import eigh

SOURCE = "SciPy 1.17.1, eigh of an independent column of 300 elements"
CASES = 60
TOLERANCE = {"massKg": 1e-14, "balanceM": 1e-14, "criticalAcceleration": 1e-6}


def solve(given):
    length, start, rest = given["lengthM"], given["shaftFromM"], given["restM"]
    per_length, parts = given["massPerLength"], given["parts"]
    mass = per_length * (length - start) + sum(part[0] for part in parts)
    moment = per_length * (length**2 - start**2) / 2 + sum(part[0] * part[1] for part in parts)
    return {"massKg": mass, "balanceM": moment / mass, "criticalAcceleration": critical(given, length, start, rest)}


def critical(given, length, start, rest, elements=300):
    breaks = {0.0, start, rest, length} | {x for part in given["parts"] for x in part[1:4] if 0 < x < length}
    nodes = refined(sorted(breaks), elements)
    size = 2 * len(nodes)
    stiffness, geometric = np.zeros((size, size)), np.zeros((size, size))
    for place, (left, right) in enumerate(zip(nodes, nodes[1:])):
        at = slice(2 * place, 2 * place + 4)
        k, g = element(given, left, right, length, start)
        stiffness[at, at] += k
        geometric[at, at] += g
    # A mass ahead of the shaft turns with its end.
    geometric[-1, -1] += sum(part[0] * max(part[1] - length, 0.0) for part in given["parts"])
    held = {0, 2 * int(np.argmin(abs(np.array(nodes) - rest)))}
    free = [row for row in range(size) if row not in held]
    pick = np.ix_(free, free)
    # The largest of 1/a is the best conditioned.
    return 1.0 / eigh(geometric[pick], stiffness[pick], eigvals_only=True)[-1]


def refined(breaks, count):
    nodes = [breaks[0]]
    for left, right in zip(breaks, breaks[1:]):
        parts = max(1, round(count * (right - left) / breaks[-1]))
        nodes += [left + (right - left) * step / parts for step in range(1, parts + 1)]
    return nodes


def element(given, left, right, length, start):
    h, middle = right - left, (left + right) / 2
    bending = given["stiffness"] + sum(part[4] for part in given["parts"] if part[2] <= middle <= part[3])
    k = bending / h**3 * np.array(
        [[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h], [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]]
    )
    g = np.zeros((4, 4))
    for root, weight in zip(*np.polynomial.legendre.leggauss(4)):
        s = (1 + root) / 2
        slope = np.array([(6 * s * s - 6 * s) / h, 1 - 4 * s + 3 * s * s, (6 * s - 6 * s * s) / h, 3 * s * s - 2 * s])
        x = left + h * s
        ahead = given["massPerLength"] * (length - max(x, start)) + sum(part[0] for part in given["parts"] if part[1] > x)
        g += weight * h / 2 * ahead * np.outer(slope, slope)
    return k, g
