"""Rules of perceived signs: they render, a reading is expected of them, and words keep it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from casebank.domain.casefile.problems import Problem, error, unknown, warning
from casebank.domain.casefile.schema import CaseDocument, Sign
from casebank.domain.examination.model import Catalogue, Step
from casebank.domain.examination.vocabulary import SIGN, Term, Vocabulary
from casebank.domain.signs import SignError, alternative, parse

MAX_SPEC = 20_000
FAMILIES = {
    "heart-sound": ("heart-sound", "murmur"),
    "breath-sound": ("breath-sound",),
    "arterial-pulse": ("pulse", "rhythm"),
    "venous-wave": ("venous-wave", "rhythm"),
    "rhythm-strip": ("rhythm",),
    "picture": ("picture",),
}
"""What a sign of each kind can be read as."""
PLACES = frozenset({"site", "side", "radiation"})
"""Features that are places: the student chose where to listen, so naming them tells nothing."""


def families_of(spec: Mapping[str, Any]) -> tuple[str, ...]:
    """The families of names that a sign of this specification can have; none where unknown."""
    return FAMILIES.get(str(spec.get("kind")), ())


def accepted(values: str) -> tuple[str, ...]:
    """The values of one expected feature: ``left-sternal-edge | apex`` as two."""
    return tuple(value.strip() for value in values.split("|"))


def problems(document: CaseDocument, catalogue: Catalogue) -> Iterator[Problem]:
    """Everything wrong with the perceived signs of every finding."""
    vocabulary = catalogue.vocabulary
    for place, finding in enumerate(document.findings):
        step = catalogue.steps.get(finding.step)
        for number, answer in enumerate(finding.answers):
            if answer.sign is not None:
                path = f"findings[{place}].answers[{number}]"
                yield from _spec(f"{path}.sign.spec", answer.sign, step)
                yield from _expects(f"{path}.sign.expects", answer.sign, vocabulary)
                yield from _leaks(f"{path}.says", answer.says, answer.sign, vocabulary)


def _spec(path: str, sign: Sign, step: Step | None) -> Iterator[Problem]:
    text = json.dumps(sign.spec, sort_keys=True)
    if len(text) > MAX_SPEC:
        yield error(path, f"is too large; keep it under {MAX_SPEC:,} characters")
        return
    slot = step.slot("site") if step else None
    refusals = (_refusal(text, site) for site in (slot.values if slot else ("",)))
    refusal = next(filter(None, refusals), "")
    if refusal:
        yield error(path, refusal)


@lru_cache(maxsize=512)
def _refusal(text: str, site: str) -> str:
    """Why this specification cannot be rendered at this site; empty where it can."""
    try:
        alternative(parse(json.loads(text)), {"site": site} if site else {})
    except SignError as refusal:
        return str(refusal)
    return ""


def _expects(path: str, sign: Sign, vocabulary: Vocabulary) -> Iterator[Problem]:
    families = set(families_of(sign.spec)) or set(vocabulary.families)
    for name, values in sign.expects.items():
        feature = vocabulary.features.get(name)
        if feature is None:
            yield unknown(f"{path}.{name}", "feature", name, vocabulary.features)
        elif not families & set(feature.families):
            yield error(f"{path}.{name}", "is no feature of a sign of this kind; remove it")
        else:
            for value in accepted(values):
                yield from _value(f"{path}.{name}", name, value, families, vocabulary)


def _value(
    path: str, name: str, value: str, families: set[str], vocabulary: Vocabulary
) -> Iterator[Problem]:
    terms = vocabulary.features[name].terms
    if value not in terms:
        yield unknown(path, f"{name} called", value, terms)
    elif name == SIGN and vocabulary.signs[value].family not in families:
        yield error(path, f"{value} is not a sign of this kind; name one that it can be")


def _leaks(path: str, says: str, sign: Sign, vocabulary: Vocabulary) -> Iterator[Problem]:
    said = _plain(says)
    for term in _terms(sign, vocabulary):
        for words in (term.label, *term.phrases):
            if _plain(words) in said:
                yield warning(path, f"gives away what is to be named ({words!r}); say it neutrally")
                return


def _terms(sign: Sign, vocabulary: Vocabulary) -> Iterator[Term]:
    for name, values in sign.expects.items():
        feature = vocabulary.features.get(name)
        if feature is not None and name not in PLACES:
            yield from (feature.terms[v] for v in accepted(values) if v in feature.terms)


def _plain(text: str) -> str:
    return f" {' '.join(re.findall(r'[a-z0-9]+', text.casefold()))} "
