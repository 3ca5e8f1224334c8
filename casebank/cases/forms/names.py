"""Names people use for steps, diagnoses and techniques, and the slugs documents use."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from casebank.cases.forms.raw import Raw, part, shown
from casebank.domain.examination.conditions import one_in_words
from casebank.domain.examination.model import Catalogue, Diagnosis, Step
from casebank.domain.examination.vocabulary import Feature


def step_label(slug: object, catalogue: Catalogue) -> str:
    """The step's label; the slug itself where the catalogue has none."""
    step = catalogue.steps.get(shown(slug))
    return step.label if step else shown(slug)


def step_slug(typed: str, catalogue: Catalogue) -> str:
    """The step meant by its label, slug or a synonym of its own; otherwise what was typed."""
    return _slug_of(typed, catalogue.steps)


def diagnosis_label(slug: object, catalogue: Catalogue) -> str:
    """The diagnosis's label; the slug itself where the list has none."""
    found = catalogue.diagnoses.get(shown(slug))
    return found.label if found else shown(slug)


def diagnosis_slug(typed: str, catalogue: Catalogue) -> str:
    """The diagnosis meant by its label, slug or a synonym of its own; otherwise what was typed."""
    return _slug_of(typed, catalogue.diagnoses)


def _slug_of(typed: str, known: Mapping[str, Step] | Mapping[str, Diagnosis]) -> str:
    wanted = typed.strip().casefold()
    if wanted in known:
        return wanted
    tests: tuple[Callable[[Step | Diagnosis], bool], ...] = (
        lambda item: item.label.casefold() == wanted,
        lambda item: wanted in {name.casefold() for name in item.synonyms},
    )
    for test in tests:
        found = [item.slug for item in known.values() if test(item)]
        if len(found) == 1:
            return found[0]
    return typed.strip()


def matching_steps(search: str, catalogue: Catalogue, most: int = 40) -> list[Step]:
    """Simple steps whose names, region or purpose hold every word, best names first."""
    wanted = search.casefold().split()
    found = [
        (_rank(step, wanted), step.label, step)
        for step in catalogue.steps.values()
        if not step.parts and all(word in _haystack(step) for word in wanted)
    ]
    return (
        [step for _, _, step in sorted(found, key=lambda item: item[:2])][:most] if wanted else []
    )


def _rank(step: Step, wanted: list[str]) -> int:
    label = step.label.casefold()
    return sum(word not in label for word in wanted)


def _haystack(step: Step) -> str:
    names = (step.label, step.slug, step.region, step.system, step.method.value, step.looks_for)
    return " ".join((*names, *step.synonyms)).casefold()


def conditions_shown(conditions: object) -> str:
    """Conditions as one line: ``site: apex | axilla; posture: not supine``."""
    if not isinstance(conditions, dict):
        return ""
    return "; ".join(f"{slot}: {line}" if line else slot for slot, line in conditions.items())


def conditions_typed(text: str) -> Raw:
    """The conditions of such a line. What is not ``slot: condition`` is kept for the check."""
    found: Raw = {}
    for piece in text.replace("\n", ";").split(";"):
        slot, colon, line = (word.strip() for word in piece.partition(":"))
        if slot and colon and slot.lower() not in found:
            found[slot.lower()] = line
        elif piece.strip():
            found[piece.strip()] = ""
    return found


def conditions_in_words(conditions: object, catalogue: Catalogue) -> str:
    """Conditions as a person says them: "site: apex or axilla; posture: not lying flat"."""
    if not isinstance(conditions, dict):
        return ""
    said = (
        f"{slot}: {one_in_words(slot, shown(line), catalogue) or 'any'}"
        for slot, line in conditions.items()
    )
    return "; ".join(said)


def takes_in_words(step: object, catalogue: Catalogue) -> str:
    """Which slots a step takes with which values; empty for an unknown step or one without."""
    found = catalogue.steps.get(shown(step))
    if found is None or not found.slots:
        return ""
    said = (f"{slot.slot}: {', '.join(slot.values)}" for slot in found.slots)
    return f"Takes {'; '.join(said)}."


def sign_in_words(sign: Raw, catalogue: Catalogue) -> str:
    """A perceived sign for its readers: what kind it is, and what a full reading names."""
    if not sign:
        return ""
    kind = shown(part(sign, "spec").get("kind")).replace("-", " ") or "sign"
    features = catalogue.vocabulary.features
    named = [_sign_terms(name, text, features) for name, text in part(sign, "expects").items()]
    return (
        f"Given as a {kind} to be named; a full reading names {', '.join(named) or 'nothing yet'}."
    )


def _sign_terms(name: str, text: object, features: Mapping[str, Feature]) -> str:
    feature = features.get(name)
    terms = feature.terms if feature else {}
    values = [value.strip() for value in shown(text).split("|")]
    words = " or ".join(terms[value].label if value in terms else value for value in values)
    return f"{feature.label.lower() if feature else name} {words}"
