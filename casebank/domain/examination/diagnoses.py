"""Finds a diagnosis by the words a student types; the list is the same for every case."""

from __future__ import annotations

from collections.abc import Iterator

from rapidfuzz import fuzz, process

from casebank.domain.examination.model import Catalogue, Diagnosis

CLOSE = 88.0


def find_diagnosis(text: str, catalogue: Catalogue) -> Diagnosis | None:
    """The diagnosis of exactly that name or synonym, or the one clearly closest; else None."""
    words = text.strip().lower()
    names = dict(_names(catalogue))
    if words in names:
        return catalogue.diagnoses[names[words]]
    best = process.extract(words, names.keys(), scorer=fuzz.ratio, limit=2, score_cutoff=CLOSE)
    slugs = {names[name] for name, _, _ in best}
    return catalogue.diagnoses[slugs.pop()] if len(slugs) == 1 else None


def suggest_diagnoses(text: str, catalogue: Catalogue, limit: int = 8) -> list[Diagnosis]:
    """Diagnoses whose name or synonym holds these letters, best first."""
    words = text.strip().lower()
    if len(words) < 2:
        return []
    names = dict(_names(catalogue))
    starts = [slug for name, slug in names.items() if name.startswith(words)]
    holds = [slug for name, slug in names.items() if words in name]
    near = process.extract(words, names.keys(), scorer=fuzz.WRatio, limit=limit, score_cutoff=75)
    slugs = dict.fromkeys([*starts, *holds, *(names[name] for name, _, _ in near)])
    return [catalogue.diagnoses[slug] for slug in slugs][:limit]


def _names(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for diagnosis in catalogue.diagnoses.values():
        for name in (diagnosis.label, diagnosis.slug.replace("-", " "), *diagnosis.synonyms):
            yield name.lower(), diagnosis.slug
