"""Compares this program with others on seeded cases.

    python3 tests/reference/run.py PROGRAM [--write] [SUBJECT...]

PROGRAM prints the cases of a subject with this program's results (crates/tools, binary `reference`). Each subject is a
file beside this one with SOURCE, CASES, TOLERANCE (relative, by quantity; SCALE gives the smallest size a difference is
divided by) and solve(given). Prints a Markdown table; --write also puts the rows of these subjects into
tests/accuracy.md.

Fails when
- a difference is over its tolerance;
- a tolerance is over a thousand times the difference seen, because it would hide a regression;
- the table in tests/accuracy.md lists other subjects, quantities, cases, tolerances or sources. The differences seen
  may differ in the last digit between machines and are not compared.
"""

import importlib
import json
import subprocess
import sys
from pathlib import Path

FOLDER = Path(__file__).parent
ROUNDING = 1e-13  # a tolerance this tight is never called too wide

PAGE = FOLDER.parent / "accuracy.md"
MARKS = "<!-- reference -->\n", "<!-- /reference -->"
HEADING = [
    "| Subject | Quantity | Cases | Mean difference | Largest | Allowed | Compared with |",
    "|---|---|---|---|---|---|---|",
]
SEEN = (4, 5)  # the cells with the differences seen


def main(program, *words):
    known = sorted(path.stem for path in FOLDER.glob("*.py") if path.stem != "run")
    wanted = [word for word in words if word != "--write"] or known
    faults, fresh = [], {}
    for subject in wanted:
        fresh[subject], found = table_rows(program, subject)
        faults += found
    print("\n".join(HEADING + [row for rows in fresh.values() for row in rows]))
    if "--write" in words:
        write(fresh, known)
    else:
        faults += stale(fresh, known)
    for fault in faults:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


def table_rows(program, subject):
    """The subject's rows of the table, and what is wrong with its differences."""
    module = importlib.import_module(subject)
    rows, faults = [], []
    for name, (mean, largest) in compare(module, cases(program, subject, module.CASES)).items():
        allowed = module.TOLERANCE[name]
        seen = f"{mean:.0e} | {largest:.0e} | {allowed:.0e}"
        rows.append(f"| {subject} | {name} | {module.CASES} | {seen} | {module.SOURCE} |")
        faults += judge(f"{subject}, {name}", largest, allowed)
    return rows, faults


def written():
    """The rows in tests/accuracy.md, by subject."""
    rows = {}
    for line in PAGE.read_text().split(MARKS[0])[1].split(MARKS[1])[0].splitlines()[len(HEADING) :]:
        rows.setdefault(line.split("|")[1].strip(), []).append(line)
    return rows


def write(fresh, known):
    rows = written() | fresh
    before, rest = PAGE.read_text().split(MARKS[0])
    table = HEADING + [row for subject in known for row in rows.get(subject, [])]
    PAGE.write_text(before + MARKS[0] + "\n".join(table) + "\n" + MARKS[1] + rest.split(MARKS[1])[1])


def stale(fresh, known):
    rows = written()
    names = [name for name in known if name not in rows] + [name for name in rows if name not in known]
    names += [name for name in fresh if name in rows and settled(fresh[name]) != settled(rows[name])]
    for name in names:
        yield f"tests/accuracy.md is stale for {name}: run scripts/accuracy --write {name}"


def settled(rows):
    """The rows without the differences seen."""
    return [[cell for place, cell in enumerate(row.split("|")) if place not in SEEN] for row in rows]


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
            smallest = getattr(module, "SCALE", {}).get(name, 0.0)
            seen[name] += differences(ours, theirs[name], smallest)
    return {name: (sum(each) / len(each), max(each)) for name, each in seen.items()}


def differences(ours, theirs, smallest):
    if isinstance(ours, list):
        if len(ours) != len(theirs):
            return [float("inf")]
        return [difference for pair in zip(ours, theirs) for difference in differences(*pair, smallest)]
    size = max(abs(float(theirs)), smallest)
    return [abs(ours - float(theirs)) / size if size else abs(ours)]


def judge(name, largest, tolerance):
    if not largest <= tolerance:
        yield f"{name}: off by {largest:.2e}, allowed {tolerance:.0e}"
    elif tolerance > max(1000 * largest, ROUNDING):
        yield f"{name}: the tolerance {tolerance:.0e} is over a thousand times the {largest:.2e} seen"


if __name__ == "__main__":
    sys.path.insert(0, str(FOLDER))
    sys.exit(main(*sys.argv[1:]))
