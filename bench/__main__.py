"""Runs every bench in turn: ``python -m bench [name ...]``; 1 where any misses its goal."""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

NOT_BENCHES = {"__init__", "__main__", "floor", "floor_settings", "floor_wsgi", "load", "beds"}


def main(names: list[str]) -> int:
    """Run the named benches, or all."""
    known = sorted({path.stem for path in Path(__file__).parent.glob("*.py")} - NOT_BENCHES)
    unknown = set(names) - set(known)
    if unknown:
        print(f"No bench {', '.join(sorted(unknown))}; there are {', '.join(known)}.")
        return 2
    missed = 0
    for name in names or known:
        print(f"\n== {name}")
        missed |= int(import_module(f"bench.{name}").main() or 0)
    return missed


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
