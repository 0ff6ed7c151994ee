"""The best matched set: every combination there is."""

from itertools import combinations

SOURCE = "Python itertools, every combination of up to 12 shafts"
CASES = 200
TOLERANCE = {"leastCost": 1e-13, "costOfMembers": 1e-13}


def solve(given):
    shafts = list(zip(given["massesKg"], given["sagsM"]))

    def cost(members):
        masses, sags = zip(*(shafts[member] for member in members))
        return given["costPerKg"] * (max(masses) - min(masses)) + given["costPerM"] * (max(sags) - min(sags))

    chosen = given["members"]
    if len(set(chosen)) != given["wanted"]:
        raise SystemExit(f"{chosen} are not {given['wanted']} shafts")
    return {
        "leastCost": min(map(cost, combinations(range(len(shafts)), given["wanted"]))),
        "costOfMembers": cost(chosen),
    }
