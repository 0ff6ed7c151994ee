"""Flights in wind on slopes, in a frame that stays level, by an eighth-order method and SciPy's own root finders."""

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar, root

SOURCE = "SciPy 1.17.1, solve_ivp DOP853 rtol 1e-12"
CASES = 200
TOLERANCE = {
    "elevationRad": 2e-9,
    "timeS": 5e-10,
    "heightM": 5e-9,
    "rightM": 5e-10,
    "speedMPerS": 1e-10,
    "placeM": 5e-9,
    "againstWindRad": 5e-9,
    "windowM": 5e-9,
    "driftM": 3e-9,
    "highestM": 2e-9,
    "markM": 1e-8,
    "pointOnM": 3e-10,
    "farthestM": 5e-10,
    "farthestRad": 3e-5,
}
SCALE = {"heightM": 1.0, "rightM": 1.0, "placeM": 1.0, "driftM": 1.0, "highestM": 1.0, "againstWindRad": 0.01, "markM": 0.01}


class Shot:
    """A flight in level coordinates: away, up, right."""

    def __init__(self, given, elevation, azimuth=0.0, crosswind=0.0, place=None):
        slope = given["slopeRad"]
        self.sight_line = np.array([np.cos(slope), np.sin(slope), 0.0])
        self.over = np.array([-np.sin(slope), np.cos(slope), 0.0])
        right = np.array([0.0, 0.0, 1.0])
        ahead = np.cos(azimuth) * self.sight_line + np.sin(azimuth) * right
        arrow = np.cos(elevation) * ahead + np.sin(elevation) * self.over
        above = np.cos(elevation) * self.over - np.sin(elevation) * ahead
        if place is None:
            place = given["launchAheadM"] * arrow - given["peepHeightM"] * above
        self.start = np.concatenate([place, given["speedMPerS"] * arrow])
        self.gravity = np.array([0.0, -given["gravityMPerS2"], 0.0])
        self.wind = np.array(given["windMPerS"]) + np.array([0.0, 0.0, crosswind])
        self.drag = given["drag"]

    def rate(self, _, state):
        through = state[3:] - self.wind
        airspeed = np.linalg.norm(through)
        k = self.drag[0] + self.drag[1] / np.sqrt(airspeed)
        return np.concatenate([state[3:], self.gravity - k * airspeed * through])

    def until(self, event, longest=60.0, direction=0.0, dense=False):
        """Time and state where event(state) is first zero."""
        stop = lambda _, state: event(state)
        stop.terminal, stop.direction = True, direction
        options = {"method": "DOP853", "rtol": 1e-12, "atol": 1e-13}
        path = solve_ivp(self.rate, (0.0, longest), self.start, events=stop, dense_output=dense, **options)
        return path.t_events[0][0], path.y_events[0][0], path.sol

    def at(self, distance):
        time, state, _ = self.until(lambda state: state[:3] @ self.sight_line - distance)
        return time, state

    def height(self, state):
        return state[:3] @ self.over


def aim(given, distance):
    def miss(elevation):
        shot = Shot(given, elevation)
        return shot.height(shot.at(distance)[1])

    highest = min(0.9, 1.4 - given["slopeRad"])
    upper = next(angle for angle in np.arange(0.02, highest, 0.02) if miss(angle) > 0)
    return brentq(miss, upper - 0.02 - 0.2 * (upper < 0.03), upper, xtol=1e-14)


def aim_against_wind(given, distance, elevation):
    def miss(angles):
        shot = Shot(given, *angles)
        state = shot.at(distance)[1]
        return shot.height(state), state[2]

    return root(miss, [elevation, 0.0], tol=1e-13).x


def window(given, judged, elevation):
    """The stretch about the judged distance in which the height stays within half the zone."""
    shot, radius = Shot(given, elevation), given["zoneM"] / 2
    end, _, sol = shot.until(lambda state: shot.height(state) + 1.0 + radius, direction=-1.0, dense=True)
    spare = lambda time: radius - abs(shot.height(sol(time)))
    along = lambda time: sol(time)[:3] @ shot.sight_line
    grid = np.linspace(0.0, end, 4001)
    inside = np.array([spare(time) > 0 for time in grid])
    here = np.searchsorted(grid, shot.at(judged)[0])
    before = np.flatnonzero(~inside[:here])
    after = here + np.flatnonzero(~inside[here:])[0]
    edge = lambda step: along(brentq(spare, grid[step], grid[step + 1], xtol=1e-14))
    return [edge(before[-1]) if len(before) else along(0.0), edge(after - 1)]


def highest(given, distance, elevation):
    shot = Shot(given, elevation)
    end, _, sol = shot.until(lambda state: state[:3] @ shot.sight_line - distance, dense=True)
    return max(shot.height(sol(end)), -minimize_scalar(lambda t: -shot.height(sol(t)), (0, end), bounds=(0, end)).fun)


def comes_down(shot):
    _, state, _ = shot.until(shot.height, direction=-1.0)
    return state[:3] @ shot.sight_line


def farthest(given):
    place = given["launchHeightM"] * Shot(given, 0.0).over + 0.0
    lost = lambda elevation: -comes_down(Shot(given, elevation, place=place))
    found = minimize_scalar(lost, bounds=(0.1, 1.4 - max(given["slopeRad"], 0.0)), options={"xatol": 1e-7})
    return -found.fun, found.x


def solve(given):
    d = given["distanceM"]
    elevation, half = aim(given, d), aim(given, d / 2)
    shot = Shot(given, elevation)
    passing = [shot.at(share * d) for share in (0.3, 0.7, 1.0, 1.2)]
    times = [0.1, 0.5, 2.0]
    timed = solve_ivp(shot.rate, (0, 2.0), shot.start, "DOP853", times, rtol=1e-12, atol=1e-13).y.T
    carried = Shot(given, elevation, crosswind=given["crosswindMPerS"]).at(d)[1]
    aimed = passing[2][1]
    over_point = np.arctan(given["peepHeightM"] / given["arrowLengthM"])
    distance, angle = farthest(given)
    return {
        "elevationRad": elevation,
        "timeS": [time for time, _ in passing],
        "heightM": [shot.height(state) for _, state in passing],
        "rightM": [state[2] for _, state in passing],
        "speedMPerS": [np.linalg.norm(state[3:]) for _, state in passing],
        "placeM": [part for state in timed for part in (state[:3] @ shot.sight_line, shot.height(state), state[2])],
        "againstWindRad": aim_against_wind(given, d, elevation),
        "windowM": window(given, d, elevation),
        "driftM": [carried[2] - aimed[2], shot.height(carried) - shot.height(aimed)],
        "highestM": highest(given, d, elevation),
        "markM": given["sightRadiusM"] * (np.tan(elevation) - np.tan(half)),
        "pointOnM": comes_down(Shot(given, over_point)),
        "farthestM": distance,
        "farthestRad": angle,
    }
