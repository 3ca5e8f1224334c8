"""Looks through the newest catalogue for the pages and the API; holds no rules of access."""

from __future__ import annotations

from collections.abc import Iterable

from casebank.cases.library import resolver_for
from casebank.domain.examination.browse import by_label, shelf_slug
from casebank.domain.examination.model import Catalogue, Step

MOST_FOUND = 60


def names_found(catalogue: Catalogue, words: str) -> tuple[tuple[Step, str], ...]:
    """Steps with the name of which every typed word begins a word, the likeliest first."""
    suggestions = resolver_for(catalogue).suggest(words[:100], limit=MOST_FOUND)
    return tuple((catalogue.steps[one.step], one.text) for one in suggestions)


def found_by_words(catalogue: Catalogue, words: str) -> tuple[Step, ...]:
    """The same steps without the names."""
    return tuple(step for step, _ in names_found(catalogue, words))


def steps_matching(
    catalogue: Catalogue, *, system: str = "", region: str = "", words: str = ""
) -> tuple[Step, ...]:
    """Steps that pass every filter given; by label, or by likeness where words are given."""
    steps: Iterable[Step] = catalogue.steps.values()
    ordered = found_by_words(catalogue, words) if words.strip() else by_label(steps)
    return tuple(
        step
        for step in ordered
        if system in ("", shelf_slug(step.system)) and region in ("", shelf_slug(step.region))
    )
