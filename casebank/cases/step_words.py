"""A step of the catalogue as a reader meets it, in words; knows no case and no person."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from casebank.domain.examination.browse import shelf_slug, shelf_title
from casebank.domain.examination.model import Catalogue, Need, NormalFinding, Step

DISCOMFORT = ("none", "slight", "moderate", "marked")
OLDEST = NormalFinding("").age_max
NEEDS = {
    Need.HYGIENE: "Clean your hands first.",
    Need.CONSENT: "Say what you are going to do, and ask for consent first.",
    Need.CHAPERONE: "Offer a chaperone first.",
}
PROVIDES = {
    Need.HYGIENE: "This is the hand hygiene that other steps ask for.",
    Need.CONSENT: "This is the consent that other steps ask for.",
    Need.CHAPERONE: "This is the chaperone that other steps ask for.",
}

NAMES_SHOWN = 8
"""Names shown of a step; it is understood by three or four times as many."""


@dataclass(frozen=True)
class SlotInWords:
    """A technique slot with the values the step takes; the first is meant when nothing is said."""

    slot: str
    usual: str
    others: tuple[str, ...]


@dataclass(frozen=True)
class NormalInWords:
    """What the step shows in health, and for whom; ``who`` is empty where it holds for all."""

    who: str
    text: str


@dataclass(frozen=True)
class Cost:
    """Minutes, discomfort 0-3 with its word, resource units, and the price they make."""

    minutes: float
    discomfort: int
    discomfort_word: str
    resource: float
    price: float


@dataclass(frozen=True)
class StepInWords:
    """Everything a reader may want to know of a step."""

    slug: str
    label: str
    system: str
    system_slug: str
    region: str
    region_slug: str
    method: str
    looks_for: str
    how: str
    slots: tuple[SlotInWords, ...]
    cost: Cost
    needs: tuple[str, ...]
    provides: str
    cautions: str
    normal: tuple[NormalInWords, ...]
    said_as: tuple[str, ...]
    parts: tuple[Step, ...]


def in_words(step: Step, catalogue: Catalogue) -> StepInWords:
    """The step as a reader meets it."""
    parts = tuple(catalogue.steps[part] for part in step.parts)
    return StepInWords(
        slug=step.slug,
        label=step.label,
        system=shelf_title(step.system),
        system_slug=shelf_slug(step.system),
        region=shelf_title(step.region),
        region_slug=shelf_slug(step.region),
        method=step.method.value,
        looks_for=step.looks_for,
        how=step.how,
        slots=tuple(_slots(step, catalogue)),
        cost=cost_of(step, catalogue),
        needs=tuple(words for need, words in NEEDS.items() if need in step.needs),
        provides=PROVIDES[step.provides] if step.provides else "",
        cautions=step.cautions,
        normal=tuple(_normal(step)),
        said_as=_said_as(step),
        parts=parts,
    )


def _said_as(step: Step) -> tuple[str, ...]:
    """A few of the names under which the step is understood; the first are the commonest."""
    names = [name for name in step.synonyms if name.lower() != step.label.lower()]
    return (*names[:NAMES_SHOWN], *(["and more"] if len(names) > NAMES_SHOWN else []))


def cost_of(step: Step, catalogue: Catalogue) -> Cost:
    """What the step takes; a composite takes what its parts take together."""
    each = [catalogue.steps[part] for part in step.parts] or [step]
    worst = max(one.discomfort for one in each)
    return Cost(
        minutes=sum(one.minutes for one in each),
        discomfort=worst,
        discomfort_word=DISCOMFORT[worst],
        resource=sum(one.resource for one in each),
        price=sum(one.price for one in each),
    )


def _slots(step: Step, catalogue: Catalogue) -> Iterator[SlotInWords]:
    for taken in step.slots:
        labels = {value: catalogue.value(taken.slot, value).label for value in taken.values}
        usual = labels.pop(taken.default)
        yield SlotInWords(taken.slot, usual, tuple(labels.values()))


def _normal(step: Step) -> Iterator[NormalInWords]:
    for place, finding in enumerate(step.normal):
        who = _who(finding)
        yield NormalInWords(who or ("Everyone else" if place else ""), finding.text)


def _who(finding: NormalFinding) -> str:
    return shelf_title(", ".join(part for part in (finding.sex, _age(finding)) if part))


def _age(finding: NormalFinding) -> str:
    youngest, oldest = finding.age_min, finding.age_max
    if youngest <= 0 and oldest >= OLDEST:
        return ""
    if oldest >= OLDEST:
        return f"{youngest} years and older"
    return f"up to {oldest} years" if youngest <= 0 else f"{youngest} to {oldest} years"
