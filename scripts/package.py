"""Puts the calculator together as a package for other programs, in the shape npm takes.

    python3 scripts/package.py GLUE DIST

GLUE holds the compiled wasm and its JavaScript. Writes DIST/npm. Standard library only.
"""

import json
import re
import shutil
import sys
from pathlib import Path


def main(glue, dist):
    folder = Path(dist, "npm")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    names = [f"clothyard_npm{ending}" for ending in (".js", ".d.ts", "_bg.wasm", "_bg.wasm.d.ts")]
    for name in names:
        shutil.copy(Path(glue, name), folder / name)
    root = Path(__file__).parent.parent
    for name in ("LICENSE-APACHE", "LICENSE-MIT"):
        shutil.copy(root / name, folder / name)
    facts = dict(re.findall(r'^(version|license) = "(.*)"$', (root / "Cargo.toml").read_text(), flags=re.MULTILINE))
    described = {
        "name": "clothyard",
        "version": facts["version"],
        "description": "Match an arrow to a bow: a saved build in, its full report out",
        "license": facts["license"],
        "type": "module",
        "main": names[0],
        "types": names[1],
        "files": names,
    }
    (folder / "package.json").write_text(json.dumps(described, indent=2) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
