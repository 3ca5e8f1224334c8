"""The names of perceived signs and the features of a full reading: the types and their kinship.

Owns what is broader than what. Does not read files (``vocabulary_text``) or words (``readings``).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

SIGN = "sign"
"""The feature under which the name of the sign itself stands."""


@dataclass(frozen=True)
class Term:
    """One value a feature can take; ``rank`` orders graded features, ``broader`` is less exact."""

    slug: str
    label: str
    phrases: tuple[str, ...] = ()
    broader: str | None = None
    rank: int | None = None


@dataclass(frozen=True)
class Feature:
    """One thing a reading may say of a sign.

    ``cues`` are words that announce this feature where another shares its terms. Values at most
    ``within`` ranks away from one another count as the same.
    """

    slug: str
    label: str
    families: tuple[str, ...]
    terms: Mapping[str, Term]
    cues: tuple[str, ...] = ()
    within: int = 0


@dataclass(frozen=True)
class SignName:
    """A sign with the features its name says (``implies``) and those that make it of a broader."""

    slug: str
    label: str
    family: str
    implies: Mapping[str, str] = field(default_factory=dict)
    made_of: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Vocabulary:
    """All names of signs and features of one release; ``features`` holds the names too."""

    families: Mapping[str, str] = field(default_factory=dict)
    features: Mapping[str, Feature] = field(default_factory=dict)
    signs: Mapping[str, SignName] = field(default_factory=dict)

    def label(self, feature: str, value: str) -> str:
        """The term's label; KeyError for what the vocabulary does not hold."""
        return self.features[feature].terms[value].label

    def kinds_of(self, feature: str, value: str) -> Iterator[str]:
        """The value and everything broader than it, nearest first."""
        terms = self.features[feature].terms
        at: str | None = value
        while at is not None:
            yield at
            at = terms[at].broader

    def is_kind_of(self, feature: str, value: str, kind: str) -> bool:
        """Whether the value is that kind, or a narrower one."""
        return kind in self.kinds_of(feature, value)

    def is_near(self, feature: str, value: str, other: str) -> bool:
        """Whether two values of a graded feature lie within its tolerance."""
        found = self.features[feature]
        one, two = found.terms[value].rank, found.terms[other].rank
        return one is not None and two is not None and abs(one - two) <= found.within
