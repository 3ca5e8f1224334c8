"""Reads the vocabulary of signs from the catalogue's parsed TOML, and lists what is wrong in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from casebank.domain.examination.model import SlotValue
from casebank.domain.examination.vocabulary import SIGN, Feature, SignName, Term, Vocabulary

Files = Mapping[str, dict[str, Any]]
Values = Mapping[tuple[str, str], SlotValue]


def vocabulary_of(files: Files, values: Values) -> Vocabulary:
    """The vocabulary of these files; terms that ``take`` slot values find them in ``values``.

    Raises KeyError or TypeError where a field is missing or unknown.
    """
    raw_signs = [raw for data in files.values() for raw in data.get("sign", [])]
    features = [_feature(raw, values) for data in files.values() for raw in data.get("feature", [])]
    families = {
        raw["slug"]: raw["label"] for data in files.values() for raw in data.get("family", [])
    }
    if raw_signs:
        features.append(_names(raw_signs, tuple(families)))
    return Vocabulary(
        families=families,
        features={feature.slug: feature for feature in features},
        signs={raw["slug"]: _sign(raw) for raw in raw_signs},
    )


def _feature(raw: Mapping[str, Any], values: Values) -> Feature:
    taken = (values[raw["slot"], slug] for slug in raw.get("take", []))
    terms = [
        *(Term(value.slug, value.label, value.phrases) for value in taken),
        *(_term(term) for term in raw.get("term", [])),
    ]
    return Feature(
        slug=raw["slug"],
        label=raw["label"],
        families=tuple(raw["families"]),
        terms={term.slug: term for term in terms},
        cues=tuple(raw.get("cues", [])),
        within=int(raw.get("within", 0)),
    )


def _term(raw: Mapping[str, Any]) -> Term:
    return Term(**{**raw, "phrases": tuple(raw.get("phrases", ()))})


def _names(raw_signs: list[dict[str, Any]], families: tuple[str, ...]) -> Feature:
    terms = (
        Term(raw["slug"], raw["label"], tuple(raw.get("synonyms", [])), raw.get("broader"))
        for raw in raw_signs
    )
    return Feature(SIGN, "Sign", families, {term.slug: term for term in terms})


def _sign(raw: Mapping[str, Any]) -> SignName:
    implies = dict(raw.get("implies", {}))
    return SignName(
        slug=raw["slug"],
        label=raw["label"],
        family=raw["family"],
        implies=implies,
        made_of=dict(raw.get("made_of", implies)),
    )


def vocabulary_problems(vocabulary: Vocabulary) -> Iterator[str]:
    """Everything wrong with the vocabulary, a sentence each."""
    for feature in vocabulary.features.values():
        yield from _feature_problems(feature, vocabulary)
    for sign in vocabulary.signs.values():
        yield from _sign_problems(sign, vocabulary)


def _feature_problems(feature: Feature, vocabulary: Vocabulary) -> Iterator[str]:
    for family in feature.families:
        if family not in vocabulary.families:
            yield f"feature {feature.slug}: there is no family {family!r}"
    for term in feature.terms.values():
        if term.broader is not None and term.broader not in feature.terms:
            yield f"{feature.slug} {term.slug}: there is no broader {term.broader!r}"
        elif _goes_in_a_circle(feature, term):
            yield f"{feature.slug} {term.slug}: is broader than itself"
        if feature.within and term.rank is None:
            yield f"{feature.slug} {term.slug}: a graded term needs a rank"


def _goes_in_a_circle(feature: Feature, term: Term) -> bool:
    seen: set[str] = set()
    at: str | None = term.slug
    while at is not None and at in feature.terms:
        if at in seen:
            return True
        seen.add(at)
        at = feature.terms[at].broader
    return False


def _sign_problems(sign: SignName, vocabulary: Vocabulary) -> Iterator[str]:
    if sign.family not in vocabulary.families:
        yield f"sign {sign.slug}: there is no family {sign.family!r}"
    for feature, value in (*sign.implies.items(), *sign.made_of.items()):
        known = vocabulary.features.get(feature)
        if known is None or feature == SIGN:
            yield f"sign {sign.slug}: there is no feature {feature!r}"
        elif value not in known.terms:
            yield f"sign {sign.slug}: {feature} has no value {value!r}"
        elif sign.family not in known.families:
            yield f"sign {sign.slug}: its family has no {feature}"
