"""Type-ahead over labels and synonyms of the catalogue; knows nothing of any case."""

from __future__ import annotations

from casebank.domain.examination.model import Catalogue
from casebank.domain.examination.resolution import Suggestion
from casebank.domain.examination.tokens import plain_words


class Suggester:
    """All names of all steps, by the first letters of their words."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._names: list[tuple[str, str, tuple[str, ...], bool]] = []
        self._by_start: dict[str, list[int]] = {}
        for slug in sorted(catalogue.steps):
            step = catalogue.steps[slug]
            for place, text in enumerate(dict.fromkeys((step.label, *step.synonyms))):
                self._add(slug, text, is_label=place == 0)

    def _add(self, slug: str, text: str, *, is_label: bool) -> None:
        words = tuple(plain_words(text))
        number = len(self._names)
        self._names.append((slug, text, words, is_label))
        for start in sorted({word[:length] for word in words for length in (1, 2, 3)}):
            self._by_start.setdefault(start, []).append(number)

    def suggest(self, prefix: str, limit: int = 8) -> tuple[Suggestion, ...]:
        """Up to ``limit`` steps of which every typed word begins a word, one line for each."""
        typed = plain_words(prefix[:100])
        if not typed or limit < 1:
            return ()
        numbers = set.intersection(*(set(self._by_start.get(word[:3], ())) for word in typed))
        found = sorted(
            rank for number in numbers if (rank := self._rank(number, typed)) is not None
        )
        best: dict[str, str] = {}
        for *_, number in found:
            slug, text, _, _ = self._names[number]
            best.setdefault(slug, text)
            if len(best) == limit:
                break
        return tuple(Suggestion(slug, text) for slug, text in best.items())

    def _rank(self, number: int, typed: list[str]) -> tuple[bool, bool, int, str, int] | None:
        _, text, words, is_label = self._names[number]
        if not all(any(word.startswith(one) for word in words) for one in typed):
            return None
        begins = words[0].startswith(typed[0])
        return (not begins, not is_label, len(text), text, number)
