"""Measures reading of the catalogue and of free words: loading (s), one text (median, p95 in ms).

Run with ``python -m bench.resolve``. Texts: every eighth phrasing of the tests' evaluation set.
The limits are those of the product's own design: 0.5 s to compile, 5 ms a text at the median.
"""

from __future__ import annotations

import statistics
import time
import tomllib
from pathlib import Path

from casebank.core.fixtures import load_catalogue, load_word_table
from casebank.domain.examination.resolve import Resolver

PHRASINGS = Path(__file__).parents[1] / "tests" / "evaluation" / "phrasings"
COMPILE_LIMIT, TEXT_LIMIT = 0.5, 5.0
EVERY = 8


def texts() -> list[str]:
    """What to read: phrasings of all batches and kinds, long ones among them."""
    said = [
        phrasing["text"]
        for path in sorted(PHRASINGS.rglob("*.toml"))
        for phrasing in tomllib.loads(path.read_text(encoding="utf-8"))["phrasing"]
    ]
    return said[::EVERY]


def main() -> int:
    """Print the figures; 1 where a limit is passed."""
    start = time.perf_counter()
    catalogue = load_catalogue()
    read = time.perf_counter() - start
    compiled = []
    for _ in range(3):
        load_word_table.cache_clear()
        start = time.process_time()
        resolver = Resolver(catalogue, load_word_table())
        compiled.append(time.process_time() - start)
    spent = sorted(_milliseconds(resolver, text) for text in texts())
    median, high = statistics.median(spent), spent[int(0.95 * len(spent))]
    print(f"steps {len(catalogue.steps)}; catalogue read and checked in {read:.3f} s")
    print(f"resolver compiled in {min(compiled):.3f} s of processor time (limit {COMPILE_LIMIT})")
    print(f"{len(spent)} texts: median {median:.2f} ms, p95 {high:.2f} ms, most {spent[-1]:.2f} ms")
    return int(min(compiled) > COMPILE_LIMIT or median > TEXT_LIMIT)


def _milliseconds(resolver: Resolver, text: str) -> float:
    start = time.process_time()
    resolver.resolve(text)
    return 1000 * (time.process_time() - start)


if __name__ == "__main__":
    raise SystemExit(main())
