"""What was done, as shown: missed steps, technique side by side, surcharges, order."""

from __future__ import annotations

from collections.abc import Iterable

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.debrief.missed import MissedStep, missed_steps
from casebank.domain.debrief.signs import Overlooked, Sign, overlooked
from casebank.domain.debrief.wording import chosen_words, differing_words
from casebank.domain.marking.model import Line, Record
from casebank.encounters.debriefing.hearing import Hearing
from casebank.encounters.debriefing.shapes import (
    DomainShown,
    Missed,
    PairShown,
    SideBySide,
    SignShown,
    SurchargeGroup,
    Unneeded,
)


def missed_shown(case: CompiledCase, record: Record, hearing: Hearing) -> tuple[Missed, ...]:
    """Essential steps not done, the heaviest first."""
    steps = missed_steps(case, record)
    return tuple(_missed(case, one, f"missed-{n}", hearing) for n, one in enumerate(steps, start=1))


def _missed(case: CompiledCase, one: MissedStep, anchor: str, hearing: Hearing) -> Missed:
    return Missed(
        label=case.catalogue.steps[one.item.step].label,
        why=one.item.why,
        signs=tuple(sign.says for sign in one.signs if sign.says),
        minute=one.minute,
        after_seq=one.after_seq,
        bits=one.bits,
        found=tuple(_sign(case, one.item.step, sign, hearing) for sign in one.signs),
        anchor=anchor,
    )


def _sign(case: CompiledCase, step: str, sign: Sign, hearing: Hearing) -> SignShown:
    words = chosen_words(case.catalogue.steps[step], sign.technique, case.catalogue)
    return SignShown(sign.label, words, sign.says, hearing.deciding(sign))


def side_by_side(case: CompiledCase, record: Record, hearing: Hearing) -> tuple[SideBySide, ...]:
    """Signs a technique did not bring out, with the technique that does."""
    found = overlooked(case, record)
    return tuple(_beside(case, one, f"sign-{n}", hearing) for n, one in enumerate(found, start=1))


def _beside(case: CompiledCase, one: Overlooked, anchor: str, hearing: Hearing) -> SideBySide:
    step = case.catalogue.steps[one.step]
    used, deciding = differing_words(step, one.used, one.sign.technique, case.catalogue)
    return SideBySide(
        seq=one.seq,
        step=step.label,
        used=used,
        got=one.got,
        sign=SignShown(one.sign.label, deciding, one.sign.says, hearing.deciding(one.sign)),
        anchor=anchor,
        given=hearing.given(one.seq, one.sign),
    )


def surcharges_shown(case: CompiledCase, record: Record) -> tuple[SurchargeGroup, ...]:
    """Requests with a surcharge, together where the reason is the same; the dearest first."""
    groups: dict[tuple[str, str], list[Unneeded]] = {}
    for line in record.requests():
        if line.payload["charge"]["surcharge"] > 0:
            one = _unneeded(case, line)
            groups.setdefault((one.reason, one.words), []).append(one)
    made = [SurchargeGroup(reason, words, tuple(g)) for (reason, words), g in groups.items()]
    return tuple(sorted(made, key=lambda group: -group.surcharge))


def _unneeded(case: CompiledCase, line: Line) -> Unneeded:
    charge = line.payload["charge"]
    return Unneeded(
        seq=line.seq,
        label=case.catalogue.steps[line.payload["step"]].label,
        reason=charge["reason"],
        bits=charge["information"],
        price=charge["price"],
        surcharge=charge["surcharge"],
        words=charge["words"],
        anchor=f"surcharge-{line.seq}",
    )


def pairs_shown(
    case: CompiledCase, record: Record, domains: Iterable[DomainShown]
) -> tuple[PairShown, ...]:
    """The pairs that the order mark is made of: points with the two entries behind them."""
    label = {
        line.seq: case.catalogue.steps[line.payload["step"]].label for line in record.requests()
    }
    points = (point for domain in domains if domain.slug == "order" for point in domain.points)
    return tuple(
        PairShown(
            words=_pair_words(point.words, label[point.entries[0]], label[point.entries[1]]),
            before_label=label[point.entries[0]],
            after_label=label[point.entries[1]],
            before_seq=point.entries[0],
            after_seq=point.entries[1],
            is_kept=point.earned >= point.possible,
            anchor=f"order-{place}",
        )
        for place, point in enumerate(points, start=1)
        if len(point.entries) == 2 and set(point.entries) <= set(label)
    )


def _pair_words(words: str, before: str, after: str) -> str:
    """The pair as a sentence and its reason; as the mark words it where that is not understood."""
    start = f"{before} before {after.lower()}: "
    if not words.startswith(start):
        return words
    return f"“{before}” comes before “{after}”. {words.removeprefix(start)}"
