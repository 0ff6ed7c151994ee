"""Fails when a crate depends on one that it must not use.

    cargo metadata --locked --no-deps --format-version 1 | python3 scripts/check-layers.py
"""

import json
import sys

PREFIX = "clothyard-"
ANY = None

# By crate: the crates of this project it may use, and the external crates it may use outside its tests.
USES = {
    "mechanics": (set(), {"libm"}),
    "core": ({"mechanics"}, {"serde", "serde_json", "proptest"}),
    "studies": ({"mechanics", "core"}, {"serde"}),
    "web": ({"core"}, ANY),
    "app": ({"core", "web"}, ANY),
    "views": ({"core", "studies", "web"}, ANY),
    "npm": ({"core", "studies", "web"}, ANY),
    "tools": ({"mechanics", "core", "studies"}, {"serde", "serde_json"}),
    "bindgen": (set(), {"wasm-bindgen-cli", "wasm-bindgen-cli-support"}),
}


def faults(name, dependencies):
    if name not in USES:
        yield f"{name} is missing from scripts/check-layers.py"
        return
    own, external = USES[name]
    for dependency in dependencies:
        used, for_tests = dependency["name"], dependency["kind"] == "dev"
        if used.startswith(PREFIX):
            if used.removeprefix(PREFIX) not in own:
                yield f"{name} must not use {used}"
        elif not for_tests and external is not ANY and used not in external:
            yield f"{name} must not use {used} outside its tests"


def main():
    packages = json.load(sys.stdin)["packages"]
    named = {package["name"].removeprefix(PREFIX): package["dependencies"] for package in packages}
    found = [fault for name, dependencies in sorted(named.items()) for fault in faults(name, dependencies)]
    found += [f"the crate {name} does not exist" for name in USES if name not in named]
    for fault in found:
        print(fault, file=sys.stderr)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
