"""Assembles the npm package: the compiled calculator with its types and README.

    python3 scripts/package.py GLUE DIST

GLUE holds the compiled wasm and its JavaScript. Writes DIST/npm. Standard library only.
"""

import json
import re
import shutil
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
HAND_WRITTEN = ROOT / "crates/npm/package"
COMPILED = ("clothyard_npm.js", "clothyard_npm_bg.wasm")
LICENSES = ("LICENSE-APACHE", "LICENSE-MIT")


def main(glue, dist):
    folder = Path(dist, "npm")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    sources = [*sorted(HAND_WRITTEN.iterdir()), *(Path(glue, name) for name in COMPILED), *(ROOT / name for name in LICENSES)]
    for source in sources:
        shutil.copy(source, folder / source.name)
    described = description([source.name for source in sources])
    (folder / "package.json").write_text(json.dumps(described, indent=2) + "\n")


def description(files):
    facts = dict(re.findall(r'^(version|license) = "(.*)"$', (ROOT / "Cargo.toml").read_text(), flags=re.MULTILINE))
    return {
        "name": "clothyard",
        "version": facts["version"],
        "description": "Match an arrow to a bow: a setup in, its full report out",
        "license": facts["license"],
        "type": "module",
        "exports": {".": {"types": "./index.d.ts", "node": "./node.js", "default": "./browser.js"}},
        "types": "./index.d.ts",
        "files": files,
        "engines": {"node": ">=20.19"},
    }


if __name__ == "__main__":
    main(*sys.argv[1:])
