"""Reads the catalogue's TOML texts into one checked, immutable Catalogue.

Takes texts, not paths: opening files is ``casebank.core.fixtures``'s job.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from casebank.domain.examination.model import (
    SLOTS,
    Catalogue,
    Diagnosis,
    Method,
    Need,
    NormalFinding,
    SlotValue,
    Step,
    StepSlot,
)
from casebank.domain.examination.vocabulary import Vocabulary
from casebank.domain.examination.vocabulary_text import vocabulary_of, vocabulary_problems

AGES = range(111)
SEXES = ("female", "male")


class CatalogueError(ValueError):
    """The catalogue's texts contradict themselves; the message lists every place."""


def parse_catalogue(texts: Mapping[str, str]) -> Catalogue:
    """Build the catalogue from ``{file name: TOML text}``.

    Raises CatalogueError listing every problem with its file or step.
    """
    files = {name: _parse_toml(name, text) for name, text in sorted(texts.items())}
    values = {(value.slot, value.slug): value for value in _values(files)}
    catalogue = Catalogue(
        steps={step.slug: step for step in _steps(files)},
        values=values,
        diagnoses={found.slug: found for found in _diagnoses(files)},
        checksum=checksum(files),
        systems=tuple(dict.fromkeys(data["system"] for data in files.values() if "system" in data)),
        vocabulary=_vocabulary(files, values),
    )
    problems = [*_duplicates(files), *catalogue_problems(catalogue)]
    if problems:
        raise CatalogueError("\n".join(problems))
    return catalogue


def checksum(files: Mapping[str, Any]) -> str:
    """SHA-256 of the canonical JSON of the parsed files."""
    canonical = json.dumps(files, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()


def _parse_toml(name: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise CatalogueError(f"{name}: not valid TOML: {error}") from error


def _steps(files: Mapping[str, dict[str, Any]]) -> Iterator[Step]:
    for name, data in files.items():
        for raw in data.get("step", []):
            try:
                yield _step(data["system"], raw)
            except (KeyError, TypeError, ValueError) as error:
                place = raw.get("slug", "a step without slug")
                raise CatalogueError(f"{name}: {place}: {error!r}") from error


def _step(system: str, raw: dict[str, Any]) -> Step:
    return Step(
        slug=raw["slug"],
        label=raw["label"],
        system=raw.get("system", system),
        region=raw["region"],
        method=Method(raw["method"]),
        minutes=float(raw["minutes"]),
        discomfort=int(raw.get("discomfort", 0)),
        resource=float(raw.get("resource", 0)),
        looks_for=raw["looks_for"],
        how=raw["how"],
        synonyms=tuple(raw["synonyms"]),
        normal=tuple(NormalFinding(**normal) for normal in raw.get("normal", [])),
        slots=tuple(
            StepSlot(slot, tuple(values), values[0])
            for slot, values in raw.get("technique", {}).items()
        ),
        needs=frozenset(Need(need) for need in raw.get("needs", [])),
        provides=Need(raw["provides"]) if "provides" in raw else None,
        cautions=raw.get("cautions", ""),
        parts=tuple(raw.get("parts", [])),
    )


def _values(files: Mapping[str, dict[str, Any]]) -> Iterator[SlotValue]:
    for data in files.values():
        for raw in data.get("value", []):
            yield SlotValue(
                slot=raw["slot"],
                slug=raw["slug"],
                label=raw["label"],
                phrases=tuple(raw.get("phrases", [])),
                rank=raw.get("rank"),
            )


def _diagnoses(files: Mapping[str, dict[str, Any]]) -> Iterator[Diagnosis]:
    for data in files.values():
        for raw in data.get("diagnosis", []):
            yield Diagnosis(raw["slug"], raw["label"], tuple(raw.get("synonyms", [])))


def _vocabulary(
    files: Mapping[str, dict[str, Any]], values: Mapping[tuple[str, str], SlotValue]
) -> Vocabulary:
    try:
        return vocabulary_of(files, values)
    except (KeyError, TypeError, ValueError) as error:
        raise CatalogueError(f"the vocabulary of signs: {error!r}") from error


def _duplicates(files: Mapping[str, dict[str, Any]]) -> Iterator[str]:
    seen: dict[tuple[str, ...], str] = {}
    for name, data in files.items():
        for kind in ("step", "value", "diagnosis", "family", "feature", "sign"):
            for raw in data.get(kind, []):
                key = (kind, raw.get("slot", ""), raw["slug"])
                if key in seen:
                    yield f"{name}: {kind} {raw['slug']} already stands in {seen[key]}"
                seen[key] = name


def catalogue_problems(catalogue: Catalogue) -> Iterator[str]:
    """Everything wrong with the catalogue, a sentence each."""
    for slot, slug in catalogue.values:
        if slot not in SLOTS:
            yield f"value {slug}: there is no slot {slot!r}"
    yield from vocabulary_problems(catalogue.vocabulary)
    for step in catalogue.steps.values():
        yield from (f"{step.slug}: {problem}" for problem in _step_problems(step, catalogue))


def _step_problems(step: Step, catalogue: Catalogue) -> Iterator[str]:
    if len(set(step.synonyms)) < 6:
        yield "needs at least 6 different synonyms"
    if not 0 <= step.discomfort <= 3:
        yield "discomfort must be 0 to 3"
    if step.minutes <= 0:
        yield "minutes must be above 0"
    if not (step.label and step.how and step.looks_for):
        yield "label, how and looks_for must be written"
    yield from _unknown_names(step, catalogue)
    if not step.parts:
        yield from _normal_gaps(step)


def _unknown_names(step: Step, catalogue: Catalogue) -> Iterator[str]:
    for part in step.parts:
        if part not in catalogue.steps or catalogue.steps[part].parts:
            yield f"part {part!r} is not a simple step of the catalogue"
    for slot in step.slots:
        for value in slot.values:
            if (slot.slot, value) not in catalogue.values:
                yield f"{slot.slot} value {value!r} is not in the lexicon"


def _normal_gaps(step: Step) -> Iterator[str]:
    for sex in SEXES:
        missing = [age for age in AGES if not any(n.fits(age, sex) for n in step.normal)]
        if missing:
            yield f"no normal finding for {sex} aged {missing[0]}"
