"""The catalogue as shelves to look through: by system, by region, by site, by method.

Pure groupings of steps; what a step says to a reader is not decided here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from casebank.domain.examination.model import Catalogue, Method, Step

METHOD_TITLES = {
    Method.ASK: "Ask",
    Method.INSPECT: "Inspect",
    Method.PALPATE: "Palpate",
    Method.PERCUSS: "Percuss",
    Method.AUSCULTATE: "Auscultate",
    Method.MEASURE: "Measure",
    Method.MANOEUVRE: "Manoeuvres",
    Method.BEDSIDE_TEST: "Bedside tests",
    Method.INVESTIGATION: "Investigations",
    Method.TREAT: "Treatment and preparation",
}


@dataclass(frozen=True)
class Shelf:
    """A system or a region: its address, its name in words, how many steps it holds."""

    slug: str
    title: str
    count: int


@dataclass(frozen=True)
class MethodGroup:
    """Steps of one way of finding out under its heading."""

    title: str
    steps: tuple[Step, ...]


def shelf_slug(name: str) -> str:
    """The address of a system or region: "limb neurology" is limb-neurology."""
    return "-".join(name.lower().split())


def shelf_title(name: str) -> str:
    """The name as a heading."""
    return name[:1].upper() + name[1:]


def systems(catalogue: Catalogue) -> tuple[Shelf, ...]:
    """All systems that hold a step, by name."""
    return _shelves(step.system for step in catalogue.steps.values())


def regions(catalogue: Catalogue) -> tuple[Shelf, ...]:
    """All regions that hold a step, by name."""
    return _shelves(step.region for step in catalogue.steps.values())


def _shelves(names: Iterable[str]) -> tuple[Shelf, ...]:
    counts = sorted(Counter(names).items())
    return tuple(Shelf(shelf_slug(name), shelf_title(name), count) for name, count in counts)


def of_system(catalogue: Catalogue, slug: str) -> tuple[Step, ...]:
    """The steps of a system by label; empty where there is no such system."""
    return by_label(s for s in catalogue.steps.values() if shelf_slug(s.system) == slug)


def of_region(catalogue: Catalogue, slug: str) -> tuple[Step, ...]:
    """The steps of a region by label; empty where there is no such region."""
    return by_label(s for s in catalogue.steps.values() if shelf_slug(s.region) == slug)


def at_site(catalogue: Catalogue, site: str) -> tuple[Step, ...]:
    """The steps that can be done at a site, by label; empty where none can."""
    return by_label(
        step
        for step in catalogue.steps.values()
        if (taken := step.slot("site")) is not None and site in taken.values
    )


def by_label(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The same steps in the order of their labels."""
    return tuple(sorted(steps, key=lambda step: (step.label.lower(), step.slug)))


def by_method(steps: Iterable[Step]) -> tuple[MethodGroup, ...]:
    """Examinations of several steps first, then the rest in the order the trade teaches."""
    known = tuple(steps)
    composites = MethodGroup("Whole examinations", tuple(s for s in known if s.parts))
    simple = (
        MethodGroup(title, tuple(s for s in known if s.method is method and not s.parts))
        for method, title in METHOD_TITLES.items()
    )
    return tuple(group for group in (composites, *simple) if group.steps)


def holding(catalogue: Catalogue, slug: str) -> tuple[Step, ...]:
    """The composites that have this step among their parts, by label."""
    return by_label(step for step in catalogue.steps.values() if slug in step.parts)
