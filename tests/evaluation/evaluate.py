"""Measures how well the resolver reads phrasings that were written without its synonyms.

Owns the command line and the counts: ``python -m tests.evaluation.evaluate``. Single errors are shown
of ``tune`` only, so that ``report``, the batches that are only counted, stays unseen by whoever improves
the resolver.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterable, Sequence

from casebank.core.fixtures import load_resolver
from casebank.domain.examination.resolve import Resolver
from tests.evaluation.entries import HALVES, Phrasing, Wanted, load_phrasings
from tests.evaluation.grading import Grade, Request, grade

WORST = 20
Row = tuple[Phrasing, Grade, str]


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the counts of the halves asked for; 0 always: this measures, it does not judge."""
    options = _options(arguments)
    resolver = load_resolver()
    chosen = [options.half] if options.half else list(HALVES)
    phrasings = [one for one in load_phrasings() if options.batch in ("", one.batch)]
    for half in chosen:
        rows = [read(resolver, each) for each in phrasings if each.half == half]
        _say(f"== half {half}: {len(rows)} texts")
        report(rows)
        if options.show_errors and half == "tune":
            show_errors(rows)
    return 0


def read(resolver: Resolver, phrasing: Phrasing) -> Row:
    """The phrasing with its grade and a line of what came back."""
    found = resolver.resolve(phrasing.text, previous=phrasing.after)
    given, others = list(found.requests), list(found.alternatives)
    status = str(found.status.value)
    shown = ", ".join(_shown(each) for each in given or others[:3])
    return phrasing, grade(phrasing, status, [*given], [*others]), f"{status}: {shown}"


def report(rows: list[Row]) -> None:
    """Print every count of one half."""
    clear = [row for row in rows if not row[0].outside and not row[0].ambiguous]
    _clear_counts(clear)
    _special_counts(rows)
    _by_kind(clear)
    _pairs(rows)


def _clear_counts(rows: list[Row]) -> None:
    grades = [row[1] for row in rows]
    answered = [each for each in grades if each.answered]
    said = [row[1] for row in rows if row[1].answered and row[0].requests[0].technique]
    _say(f"decidable texts within the catalogue: {len(grades)}")
    _line("right step, of all", grades, "step_right")
    _line("right step and technique, of all", grades, "technique_right")
    _line("right step, where it answers", answered, "step_right")
    _line("right step and technique, where it answers", answered, "technique_right")
    _line("  the same, where the text says a technique", said, "technique_right")
    _line("asked back", grades, "asked_back")
    _line("  with a right step among those offered", grades, "offered")
    _line("not understood", grades, "not_understood")
    _say(f"  wrong side: {sum(g.wrong_side for g in grades)} texts")
    _say(f"  side said but lost: {sum(g.lost_side for g in grades)} texts")


def _special_counts(rows: list[Row]) -> None:
    outside = [grade for phrasing, grade, _ in rows if phrasing.outside]
    doubt = [grade for phrasing, grade, _ in rows if phrasing.ambiguous]
    _line("outside the catalogue: rightly not understood", outside, "not_understood")
    _line("outside the catalogue: answered all the same", outside, "answered")
    _line("ambiguous: asked back with a fair choice", doubt, "offered")
    _line("ambiguous: answered with a fair step", doubt, "step_right")


def _by_kind(rows: list[Row]) -> None:
    _say("right step / right step and technique / asked back / not understood, by file:")
    for kind in sorted({phrasing.kind for phrasing, _, _ in rows}):
        grades = [grade for phrasing, grade, _ in rows if phrasing.kind == kind]
        shares = [
            _share(grades, name)
            for name in ("step_right", "technique_right", "asked_back", "not_understood")
        ]
        _say(f"  {kind:20} {len(grades):4}  " + " ".join(f"{share:6.1%}" for share in shares))


def _pairs(rows: list[Row]) -> None:
    counted = Counter(pair for _, grade, _ in rows for pair in grade.pairs)
    _say(f"worst confused pairs (wanted -> got), {min(WORST, len(counted))} of {len(counted)}:")
    for (wanted, got), count in counted.most_common(WORST):
        _say(f"  {count:3}  {wanted} -> {got}")


def show_errors(rows: Iterable[Row]) -> None:
    """Print each text that was not read rightly, with what was wanted and what came back."""
    for phrasing, found, shown in rows:
        if not is_right(phrasing, found):
            wanted = ", ".join(_shown(each) for each in phrasing.requests) or "(nothing)"
            _say(f"  [{phrasing.kind}] {phrasing.text!r}\n      wanted {wanted}\n      {shown}")


def is_right(phrasing: Phrasing, grade: Grade) -> bool:
    """Whether a fair colleague would have nothing to mend."""
    if phrasing.outside:
        return grade.not_understood
    return grade.technique_right or (phrasing.ambiguous and grade.offered)


def _shown(request: Wanted | Request) -> str:
    return f"{request.step} {dict(request.technique) or ''}".strip()


def _share(grades: list[Grade], name: str) -> float:
    return sum(getattr(grade, name) for grade in grades) / len(grades) if grades else 0.0


def _line(label: str, grades: list[Grade], name: str) -> None:
    count = sum(getattr(grade, name) for grade in grades)
    _say(f"  {label}: {_share(grades, name):.1%} ({count} of {len(grades)})")


def _say(line: str) -> None:
    sys.stdout.write(line + "\n")


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Measure the resolver on independent phrasings.")
    parser.add_argument("--half", choices=HALVES, help="tune or report only; both without it")
    parser.add_argument("--batch", default="", help="one folder of phrasings only")
    parser.add_argument("--show-errors", action="store_true", help="list the errors of tune")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    raise SystemExit(main())
