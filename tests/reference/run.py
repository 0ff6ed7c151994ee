"""Answers every seeded case anew by other means, and compares.

    python3 tests/reference/run.py PROGRAM [SUBJECT...]

PROGRAM prints the cases of a subject with this project's answers (crates/commands, bin reference). Each subject is a
file beside this one with SOURCE, CASES, TOLERANCE (relative, by quantity; SCALE gives the least size a difference is
measured against) and solve(given). Prints a Markdown table. Fails where a difference is over its tolerance, and where
a tolerance is a thousand times wider than what was seen: it would then hide a change for the worse.
"""

import importlib
import json
import subprocess
import sys
from pathlib import Path

FOLDER = Path(__file__).parent
ROUNDING = 1e-13  # a tolerance this tight is never too wide


def main(program, *wanted):
    found = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "run")
    faults, rows = [], []
    for subject in wanted or found:
        module = importlib.import_module(subject)
        for name, (mean, most) in compare(module, cases(program, subject, module.CASES)).items():
            rows.append(f"| {subject} | {name} | {module.CASES} | {mean:.0e} | {most:.0e} | {module.SOURCE} |")
            faults += judge(f"{subject}, {name}", most, module.TOLERANCE[name])
    print("| Subject | Quantity | Cases | Mean difference | Largest | Against |\n|---|---|---|---|---|---|")
    print("\n".join(rows))
    for fault in faults:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


def cases(program, subject, count):
    return json.loads(subprocess.run([program, subject, str(count)], check=True, capture_output=True, text=True).stdout)


def compare(module, cases):
    """Mean and largest relative difference of each quantity."""
    seen = {name: [] for name in module.TOLERANCE}
    for case in cases:
        theirs = module.solve(case["given"])
        if theirs.keys() != case["ours"].keys() or theirs.keys() != seen.keys():
            raise SystemExit(f"{module.__name__}: {sorted(theirs)} against {sorted(case['ours'])}")
        for name, ours in case["ours"].items():
            least = getattr(module, "SCALE", {}).get(name, 0.0)
            seen[name] += differences(ours, theirs[name], least)
    return {name: (sum(all_of) / len(all_of), max(all_of)) for name, all_of in seen.items()}


def differences(ours, theirs, least):
    if isinstance(ours, list):
        if len(ours) != len(theirs):
            return [float("inf")]
        return [difference for pair in zip(ours, theirs) for difference in differences(*pair, least)]
    size = max(abs(float(theirs)), least)
    return [abs(ours - float(theirs)) / size if size else abs(ours)]


def judge(name, most, tolerance):
    if not most <= tolerance:
        yield f"{name}: off by {most:.2e}, allowed {tolerance:.0e}"
    elif tolerance > max(1000 * most, ROUNDING):
        yield f"{name}: the tolerance {tolerance:.0e} is far wider than the {most:.2e} seen"


if __name__ == "__main__":
    sys.path.insert(0, str(FOLDER))
    sys.exit(main(*sys.argv[1:]))
