"""What is stated of one sign: values by feature, completed by what its name says by itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from casebank.domain.examination.vocabulary import SIGN, SignName, Vocabulary

Said = dict[str, dict[str, None]]
"""Feature to its values in the order said, while a statement is put together."""


@dataclass(frozen=True)
class Stated:
    """Values by feature (the name under ``sign``) of one sign."""

    features: Mapping[str, Sequence[str]]

    @property
    def signs(self) -> Sequence[str]:
        """The names given to it."""
        return self.features.get(SIGN, ())


def completed(said: Said, vocabulary: Vocabulary) -> Stated:
    """The statement with broad names made exact where it describes them, and what names imply.

    What was said outright stands, unless the name says the same more exactly.
    """
    names = [_exact(name, said, vocabulary) for name in said.get(SIGN, {})]
    features = {name: tuple(values) for name, values in said.items() if name != SIGN}
    for name in names:
        for feature, value in vocabulary.signs[name].implies.items():
            features[feature] = _with_implied(feature, features.get(feature), value, vocabulary)
    if names:
        features = {SIGN: tuple(dict.fromkeys(names)), **features}
    return Stated(features)


def _with_implied(
    feature: str, said: tuple[str, ...] | None, implied: str, vocabulary: Vocabulary
) -> tuple[str, ...]:
    if not said:
        return (implied,)
    kept = (implied if vocabulary.is_kind_of(feature, implied, value) else value for value in said)
    return tuple(dict.fromkeys(kept))


def _exact(name: str, said: Said, vocabulary: Vocabulary) -> str:
    """The narrowest sign of this name that the features said describe; itself if several do."""
    described = [
        sign
        for sign in vocabulary.signs.values()
        if sign.slug != name
        and sign.made_of
        and vocabulary.is_kind_of(SIGN, sign.slug, name)
        and _is_described(sign, name, said, vocabulary)
    ]
    most = max((len(sign.made_of) for sign in described), default=0)
    best = [sign.slug for sign in described if len(sign.made_of) == most]
    deepest = [
        slug
        for slug in best
        if not any(o != slug and vocabulary.is_kind_of(SIGN, o, slug) for o in best)
    ]
    return deepest[0] if len(deepest) == 1 else name


def _is_described(sign: SignName, name: str, said: Said, vocabulary: Vocabulary) -> bool:
    implied = vocabulary.signs[name].implies
    return all(
        any(
            vocabulary.is_kind_of(feature, value, wanted)
            for value in said.get(feature) or [implied[at] for at in (feature,) if at in implied]
        )
        for feature, wanted in sign.made_of.items()
    )


def told(stated: Stated, vocabulary: Vocabulary) -> str:
    """The statement in one line: its name, then each feature with its label."""
    names = [vocabulary.label(SIGN, name) for name in stated.signs]
    rest = [
        _feature(vocabulary.features[feature].label.lower(), _joined(feature, values, vocabulary))
        for feature, values in stated.features.items()
        if feature != SIGN
    ]
    return "; ".join([*names, *rest])


def _feature(label: str, values: str) -> str:
    """The label before its values, unless they begin with it: *grade 3 of 6*."""
    return values if values.lower().startswith(f"{label} ") else f"{label} {values}"


def _joined(feature: str, values: Sequence[str], vocabulary: Vocabulary) -> str:
    return " and ".join(vocabulary.label(feature, value) for value in values)
