"""Gives a wasm's imports and exports the short names that wasm-opt chose for them, in its JavaScript.

    wasm-opt --minify-imports-and-exports-and-modules ... > NAMES && python3 scripts/shorten.py NAMES GLUE.js

The long names, each with a hash, do not compress: without them wasm and JavaScript are 4 KB less.
"""

import json
import re
import sys
from pathlib import Path


def replace(pattern, names, text, what):
    """Replaces the names that a pattern finds; a name that wasm-opt does not know would fail in the browser."""
    found = {match[1] for match in re.finditer(pattern, text)}
    if found - names.keys():
        raise SystemExit(f"{what} without a short name: {', '.join(sorted(found - names.keys()))}")
    return re.sub(pattern, lambda match: match[0].replace(match[1], names[match[1]]), text)


def main(names, glue):
    names, path = json.loads(Path(names).read_text()), Path(glue)
    modules = {module for module, _, _ in names["imports"]}
    if len(modules) != 1:
        raise SystemExit(f"{glue}: imports from {modules}, expected one module")
    imports = {long: short for _, long, short in names["imports"]}
    text = replace(r"(?m)^        (\w+): function\(", imports, path.read_text(), f"{glue}: imports")
    text = replace(r"\bwasm\.(\w+)", dict(names["exports"]), text, f"{glue}: exports")
    path.write_text(text.replace(f'"{modules.pop()}":', '"a":'))


if __name__ == "__main__":
    main(*sys.argv[1:])
