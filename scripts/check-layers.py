"""Fails when a crate depends on one that it must not use.

    cargo metadata --locked --no-deps --format-version 1 | python3 scripts/check-layers.py
"""

import json
import sys

PREFIX = "clothyard-"

# From the innermost layer out: a crate may use those above it and the external crates listed beside it.
# None: any external crate.
LAYERS = {
    "mechanics": {"libm"},
    "core": {"serde", "serde_json", "proptest"},
    "studies": {"serde"},
    "tools": {"serde", "serde_json"},
    "web": None,
    "app": None,
    "views": None,
    "npm": None,
    "bindgen": {"wasm-bindgen-cli"},
}
ALONE = {"bindgen"}  # uses no crate of this project
NOT_USED = {"tools", "app", "views", "npm", "bindgen"}  # no crate of this project uses these


def faults(name, dependencies):
    if name not in LAYERS:
        yield f"{name} has no place in the layers"
        return
    order = list(LAYERS)
    inner = set() if name in ALONE else {PREFIX + other for other in order[: order.index(name)]} - {
        PREFIX + other for other in NOT_USED
    }
    for dependency in dependencies:
        used, for_tests = dependency["name"], dependency["kind"] == "dev"
        if used.startswith(PREFIX):
            if used not in inner:
                yield f"{name} must not use {used}"
        elif not for_tests and LAYERS[name] is not None and used not in LAYERS[name]:
            yield f"{name} must not use {used} outside its tests"


def main():
    packages = json.load(sys.stdin)["packages"]
    named = {package["name"].removeprefix(PREFIX): package["dependencies"] for package in packages}
    found = [fault for name, dependencies in sorted(named.items()) for fault in faults(name, dependencies)]
    found += [f"{name} is missing" for name in LAYERS if name not in named]
    for fault in found:
        print(fault, file=sys.stderr)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
