"""Measures the rendering of signs: CPU time a clip against the clip's own length.

Run with ``python -m bench.signs``. The limit is the product's own: sounds at least 50 times faster
than real time on one core. Drawings and curves are printed without a limit.
"""

from __future__ import annotations

import json
import time
from pathlib import Path

from casebank.core.media.encode import to_flac_bytes
from casebank.domain.signs import drawing, parse, render

EXAMPLES = Path(__file__).parents[1] / "fixtures" / "signs"
LIMIT = 50.0
ROUNDS = 5


def cpu(work) -> float:
    """CPU seconds of one call."""
    start = time.process_time()
    work()
    return time.process_time() - start


def fresh(document, seed):
    """The example as another patient, so that nothing is remembered."""
    field = "seed" if document["kind"] == "picture" else "patient"
    value = seed if field == "seed" else document.get("patient", {}) | {"seed": seed}
    return parse(document | {field: value})


def measured(document, technique) -> tuple[float, float, float, float]:
    """Median CPU seconds of a new patient, of the same again, of drawing; seconds of the clip."""
    new, again, drawn, seconds = [], [], [], 0.0
    for seed in range(1000, 1000 + ROUNDS):
        spec = fresh(document, seed)
        new.append(cpu(lambda spec=spec: render(spec, technique)))
        again.append(cpu(lambda spec=spec: render(spec, technique)))
        drawn.append(cpu(lambda spec=spec: drawing(spec, technique)))
        seconds = render(spec, technique).seconds
    middle = ROUNDS // 2
    return sorted(new)[middle], sorted(again)[middle], sorted(drawn)[middle], seconds


def main() -> int:
    """Print the figures; 1 where a sound is slower than the limit."""
    slowest = float("inf")
    print(f"{'example':<12} {'new ms':>8} {'again ms':>9} {'drawn ms':>9} {'x real time':>12}")
    for file in sorted(EXAMPLES.glob("*.json")):
        document = json.loads(file.read_text(encoding="utf-8"))
        new, again, drawn, seconds = measured(document["spec"], document["technique"])
        ratio = seconds / new if seconds else 0.0
        is_sound = document["spec"]["kind"].endswith("-sound")
        slowest = min(slowest, ratio) if is_sound else slowest
        told = f"{ratio:12.0f}" if is_sound else f"{'':>12}"
        print(f"{file.stem:<12} {new * 1e3:8.1f} {again * 1e3:9.1f} {drawn * 1e3:9.1f} {told}")
    _print_encoding()
    print(f"slowest sound: {slowest:.0f} x real time; limit {LIMIT:.0f}")
    return int(slowest < LIMIT)


def _print_encoding() -> None:
    document = json.loads((EXAMPLES / "heart-02.json").read_text(encoding="utf-8"))
    shown = render(parse(document["spec"]), document["technique"])
    seconds = cpu(lambda: to_flac_bytes(shown.samples, shown.rate))
    size = len(to_flac_bytes(shown.samples, shown.rate))
    print(f"FLAC of one clip: {seconds * 1e3:.1f} ms, {size} bytes")


if __name__ == "__main__":
    raise SystemExit(main())
