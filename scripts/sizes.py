"""Prints the sizes of the built page and the SHA-256 of the single file; with --budget, fails over the budget.

    python3 scripts/sizes.py DIST [--budget]

The budgets are for a phone on a weak signal. 1 KB is 1000 bytes, the stricter definition.
"""

import gzip
import hashlib
import sys
from pathlib import Path

# The first load is what the first answer needs. "more" follows by itself, the views when a tool is opened.
BUDGET_GZIPPED = {"wasm": 122_500, "views wasm": 470_000, "first load": 138_500, "more": 10_000}
AFTER_FIRST_LOAD = {
    "keep.js", "offline.js", "sw.js", "clothyard.html", "more.html", "more.css", "tools.html", "tools.css",
    "clothyard_views.js", "clothyard_views_bg.wasm", "views-worker.js"
}


def first_load(site):
    kinds = {".html", ".css", ".js", ".wasm"}
    return [path for path in sorted(site.iterdir()) if path.suffix in kinds and path.name not in AFTER_FIRST_LOAD]


def weight(paths):
    """Total bytes raw, and compressed file by file as a server sends them."""
    contents = [path.read_bytes() for path in paths]
    return sum(map(len, contents)), sum(len(gzip.compress(content, 9)) for content in contents)


def main(dist, *options):
    site, single = Path(dist, "site"), Path(dist, "clothyard.html")
    weighed = {
        "wasm": weight([site / "clothyard_bg.wasm"]),
        "views wasm": weight([site / "clothyard_views_bg.wasm"]),
        "first load": weight(first_load(site)),
        "more": weight([site / "more.html", site / "more.css"]),
        "single file": weight([single]),
    }
    for name, (raw, gzipped) in weighed.items():
        print(f"{name:12} {raw:9,} bytes {gzipped:9,} with gzip -9")
    print(f"SHA-256 of {single}: {hashlib.sha256(single.read_bytes()).hexdigest()}")
    if "--budget" in options:
        over = [name for name, most in BUDGET_GZIPPED.items() if weighed[name][1] > most]
        for name in over:
            print(f"{name} is over its budget of {BUDGET_GZIPPED[name]:,} bytes with gzip -9", file=sys.stderr)
        return 1 if over else 0
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
