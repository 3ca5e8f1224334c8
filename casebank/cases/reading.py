"""A raw document as a person reads it: labels for slugs, percent for chances, words for techniques.

Tolerates drafts: what is missing is left out. Decides nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, get_args

from casebank.cases.forms.names import (
    conditions_in_words,
    diagnosis_label,
    sign_in_words,
    step_label,
)
from casebank.cases.forms.raw import Raw, part, percent_shown, rows, shown, span_shown, words
from casebank.domain.casefile.schema import Domain
from casebank.domain.examination.model import Catalogue


@dataclass(frozen=True)
class ReadRow:
    """One entry of a list: its name, what qualifies it, and the sentences under it."""

    name: str
    detail: str = ""
    lines: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()


@dataclass(frozen=True)
class ReadAnswer:
    """One answer of a finding."""

    technique: str
    strength: str
    says: str
    outcome: str
    sign: str = ""


@dataclass(frozen=True)
class ReadFinding:
    """One finding, with its evidence as sentences or as a table (rows of cells)."""

    place: int
    key: str
    label: str
    step: str
    stages: str
    answers: tuple[ReadAnswer, ...]
    source: str
    group: str
    ratios: str
    table_head: tuple[str, ...]
    table: tuple[tuple[str, ...], ...]
    assumed: str = ""


@dataclass(frozen=True)
class ReadCase:
    """The whole document in words."""

    title: str
    patient: str
    occupation: str
    opening: str
    cautions: tuple[str, ...]
    stages: tuple[ReadRow, ...]
    presentation: str
    hypotheses: tuple[ReadRow, ...]
    findings: tuple[ReadFinding, ...]
    essential: tuple[ReadRow, ...]
    routine: tuple[ReadRow, ...]
    unsafe: tuple[ReadRow, ...]
    order: tuple[ReadRow, ...]
    weights: tuple[tuple[str, str], ...]
    limits: tuple[tuple[str, str], ...]
    summary: str
    points: tuple[str, ...]
    sources: tuple[str, ...]


NOTHING = "Nothing is noticed; the normal finding is given."
_RATIOS = (("positive", "LR+"), ("negative", "LR−"))
_ACCURACIES = (("sensitivity", "sensitivity"), ("specificity", "specificity"))


def read_case(document: Raw, catalogue: Catalogue) -> ReadCase:
    """The document in words."""
    return _Reader(document, catalogue).case()


class _Reader:
    def __init__(self, document: Raw, catalogue: Catalogue) -> None:
        self.document, self.catalogue = document, catalogue
        self.scheme = part(document, "scheme")
        self.stage_labels = {
            shown(s.get("id")): shown(s.get("label")) for s in rows(document, "stages")
        }

    def case(self) -> ReadCase:
        teaching = part(self.document, "teaching")
        patient = part(self.document, "patient")
        return ReadCase(
            title=shown(self.document.get("title")),
            patient=", ".join(filter(None, map(shown, map(patient.get, ("name", "age", "sex"))))),
            occupation=shown(patient.get("occupation")),
            opening=shown(self.document.get("opening")),
            cautions=tuple(words(self.document, "cautions")),
            stages=tuple(self.stage(row) for row in rows(self.document, "stages")),
            presentation=self.presentation(),
            hypotheses=(*self.hypotheses(), *self.together()),
            findings=self.findings(),
            essential=tuple(self.wanted(row) for row in rows(self.scheme, "essential")),
            routine=tuple(self.wanted(row) for row in rows(self.scheme, "routine")),
            unsafe=tuple(self.wanted(row) for row in rows(self.scheme, "unsafe")),
            order=tuple(self.pair(row) for row in rows(self.scheme, "order")),
            weights=self.weights(),
            limits=self.limits(),
            summary=shown(teaching.get("summary")),
            points=tuple(words(teaching, "points")),
            sources=tuple(words(teaching, "sources")),
        )

    def step(self, slug: Any) -> str:
        return step_label(slug, self.catalogue)

    def diagnosis(self, slug: Any) -> str:
        return diagnosis_label(slug, self.catalogue)

    def conditions(self, conditions: Any) -> str:
        return conditions_in_words(conditions, self.catalogue)

    def stage_names(self, row: Raw) -> str:
        return " or ".join(self.stage_labels.get(s) or s for s in words(row, "stages"))

    def stage(self, row: Raw) -> ReadRow:
        moves = tuple(self.move(item) for item in rows(row, "moves"))
        return ReadRow(shown(row.get("label")), shown(row.get("notice")), moves)

    def move(self, row: Raw) -> str:
        to = shown(row.get("to"))
        causes = []
        if row.get("after_minutes") is not None:
            causes.append(f"after {shown(row['after_minutes'])} minutes")
        if row.get("on_step"):
            how = self.conditions(row.get("when"))
            causes.append(f"on “{self.step(row['on_step'])}”{f' ({how})' if how else ''}")
        return f"To “{self.stage_labels.get(to) or to}” {' or '.join(causes)}"

    def hypotheses(self) -> tuple[ReadRow, ...]:
        true = words(self.document, "truth")
        return tuple(
            ReadRow(
                self.diagnosis(row.get("diagnosis")),
                f"{percent_shown(row.get('prior'))} %" if "prior" in row else "",
                marks=(
                    *(("True in this patient",) if shown(row.get("diagnosis")) in true else ()),
                    *(("Must not be missed",) if row.get("must_not_miss") is True else ()),
                ),
            )
            for row in rows(self.document, "hypotheses")
        )

    def presentation(self) -> str:
        given = part(self.document, "presentation")
        names = ("complaint", "setting", "source")
        return "; ".join(shown(given[name]) for name in names if given.get(name))

    def together(self) -> tuple[ReadRow, ...]:
        return tuple(
            ReadRow(
                self.at_once(row),
                f"{percent_shown(row.get('prior'))} %" if "prior" in row else "",
                marks=("At once",),
            )
            for row in rows(self.document, "together")
        )

    def at_once(self, row: Raw) -> str:
        return " with ".join(self.diagnosis(slug) for slug in words(row, "diagnoses"))

    def findings(self) -> tuple[ReadFinding, ...]:
        found = enumerate(rows(self.document, "findings"))
        return tuple(self.finding(place, row) for place, row in found)

    def finding(self, place: int, row: Raw) -> ReadFinding:
        evidence = part(row, "evidence")
        head, table = self.table(evidence)
        return ReadFinding(
            place=place,
            key=shown(row.get("id")),
            label=shown(row.get("label")) or "Not named yet",
            step=self.step(row.get("step")),
            stages=self.stage_names(row),
            answers=tuple(self.answer(answer) for answer in rows(row, "answers")),
            source=shown(evidence.get("source")),
            group=shown(evidence.get("group")),
            ratios=self.two_numbers(evidence),
            assumed=shown(evidence.get("assumed")),
            table_head=head,
            table=table,
        )

    def answer(self, row: Raw) -> ReadAnswer:
        sign = sign_in_words(part(row, "sign"), self.catalogue)
        return ReadAnswer(
            technique=self.conditions(row.get("when")) or "Otherwise, with any technique",
            strength=shown(row.get("strength")),
            says=shown(row.get("says")) or ("" if sign else NOTHING),
            outcome=shown(row.get("outcome")),
            sign=sign,
        )

    def two_numbers(self, evidence: Raw) -> str:
        """The two numbers with their intervals, and for what they speak."""
        ratios, accuracy = part(evidence, "ratios"), part(evidence, "accuracy")
        said = [
            *(_number(ratios, key, name) for key, name in _RATIOS if key in ratios),
            *(_number(accuracy, key, name, percent_shown, " %") for key, name in _ACCURACIES
              if key in accuracy),
        ]  # fmt: skip
        if not (ratios or accuracy):
            return ""
        named = words(ratios, "targets") or words(accuracy, "targets")
        targets = " and ".join(self.diagnosis(slug) for slug in named)
        return f"{', '.join(said)} for {targets or 'nothing yet'}"

    def table(self, evidence: Raw) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
        table = rows(evidence, "table")
        known = [shown(row.get("diagnosis")) for row in rows(self.document, "hypotheses")]
        used = dict.fromkeys(slug for row in table for slug in part(row, "given"))
        named = [slug for slug in known if slug in used] + [s for s in used if s not in known]
        body = tuple(
            (shown(row.get("outcome")), *(percent_shown(part(row, "given").get(s)) for s in named))
            for row in table
        )
        at_once = {shown(r.get("id")): self.at_once(r) for r in rows(self.document, "together")}
        return tuple(at_once.get(slug) or self.diagnosis(slug) for slug in named), body

    def wanted(self, row: Raw) -> ReadRow:
        well = self.conditions(row.get("well"))
        stages = self.stage_names(row)
        again = shown(row.get("again_after"))
        lines = (
            shown(row.get("why")),
            f"Done well: {well}" if well else "",
            f"Stage: {stages}" if stages else "",
            f"Wanted again after {again} minutes" if again else "",
        )
        weight = shown(row.get("weight"))
        return ReadRow(
            self.step(row.get("step")),
            self.conditions(row.get("when")),
            tuple(filter(None, lines)),
            (f"Weight {weight}",) if weight not in ("", "1") else (),
        )

    def pair(self, row: Raw) -> ReadRow:
        steps = {
            shown(item.get("id")): self.step(item.get("step"))
            for kind in ("essential", "routine")
            for item in rows(self.scheme, kind)
        }
        before, after = (shown(row.get(end)) for end in ("before", "after"))
        name = f"{steps.get(before, before)}, then {steps.get(after, after)}"
        return ReadRow(name, lines=tuple(filter(None, (shown(row.get("why")),))))

    def weights(self) -> tuple[tuple[str, str], ...]:
        weights = part(self.scheme, "weights")
        named = (name for name in get_args(Domain) if name in weights)
        return tuple((name.capitalize(), shown(weights[name])) for name in named)

    def limits(self) -> tuple[tuple[str, str], ...]:
        demands = words(self.scheme, "demands") if "demands" in self.scheme else []
        return (
            ("Minutes a careful examiner needs", shown(self.scheme.get("minutes"))),
            ("Surcharge at which economy is 0", shown(self.scheme.get("surcharge_budget"))),
            ("Least information, bits", shown(self.scheme.get("tau", 0.05))),
            ("Demanded before touching", ", ".join(demands) or "nothing"),
        )


def _number(
    pair: Raw, key: str, name: str, one: Callable[[Any], str] = shown, unit: str = ""
) -> str:
    """A number by its name, with the interval it has, e.g. ``LR+ 6.8 (4 to 11.5)``."""
    span = pair.get(f"{key}_interval")
    return f"{name} {one(pair.get(key))}{unit}{f' ({span_shown(span, one)})' if span else ''}"
