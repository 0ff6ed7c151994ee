"""Answers every seeded case anew by other means, and compares.

    python3 tests/reference/run.py PROGRAM [--write] [SUBJECT...]

PROGRAM prints the cases of a subject with this project's answers (crates/commands, bin reference). Each subject is a
file beside this one with SOURCE, CASES, TOLERANCE (relative, by quantity; SCALE gives the least size a difference is
measured against) and solve(given). Prints a Markdown table; with --write it goes into the README too.

Fails where a difference is over its tolerance; where a tolerance is a thousand times wider than what was seen, as it
would then hide a change for the worse; and where the README's table is of other subjects, cases or tolerances. What
was seen differs by a last digit from machine to machine, and may.
"""

import importlib
import json
import subprocess
import sys
from pathlib import Path

FOLDER = Path(__file__).parent
ROUNDING = 1e-13  # a tolerance this tight is never too wide


HEADING = "| Subject | Quantity | Cases | Mean difference | Largest | Allowed | Against |\n|---|---|---|---|---|---|---|\n"
README = FOLDER.parent.parent / "README.md"
MARKS = "<!-- reference -->\n", "<!-- /reference -->"


def main(program, *words):
    wanted = [word for word in words if word != "--write"]
    found = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "run")
    faults, rows = [], []
    for subject in wanted or found:
        module = importlib.import_module(subject)
        for name, (mean, most) in compare(module, cases(program, subject, module.CASES)).items():
            allowed = module.TOLERANCE[name]
            seen = f"{mean:.0e} | {most:.0e} | {allowed:.0e}"
            rows.append(f"| {subject} | {name} | {module.CASES} | {seen} | {module.SOURCE} |\n")
            faults += judge(f"{subject}, {name}", most, allowed)
    table = HEADING + "".join(rows)
    print(table, end="")
    if "--write" in words:
        write(table)
    elif not wanted and settled(table) != settled(between(README.read_text())):
        faults.append("README.md: its table of other programs is stale: run scripts/accuracy --write")
    for fault in faults:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


def between(text):
    return text.split(MARKS[0])[1].split(MARKS[1])[0]


def write(table):
    before, rest = README.read_text().split(MARKS[0])
    README.write_text(before + MARKS[0] + table + MARKS[1] + rest.split(MARKS[1])[1])


def settled(table):
    """The table without what was seen."""
    return [[cell for place, cell in enumerate(line.split("|")) if place not in (4, 5)] for line in table.splitlines()]


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
