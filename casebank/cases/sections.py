"""The sections a case is written and read in, and which of them a problem or comment belongs to."""

from __future__ import annotations

import re
from dataclasses import dataclass

from casebank.cases.forms.editor import Editor
from casebank.cases.forms.hypotheses import HypothesesEditor
from casebank.cases.forms.opening import OpeningEditor
from casebank.cases.forms.scheme import EssentialEditor, RoutineEditor, SafetyEditor, WeightsEditor
from casebank.cases.forms.stages import StagesEditor
from casebank.cases.forms.teaching import TeachingEditor


@dataclass(frozen=True)
class Section:
    """A section: its address, its name, the paths it holds, and what it is for."""

    slug: str
    label: str
    paths: tuple[str, ...]
    purpose: str
    editor: type[Editor] | None

    def holds(self, path: str) -> bool:
        """Whether a place of the document stands in this section."""
        return any(re.match(rf"{re.escape(p)}($|[.\[])", path) for p in self.paths)


SECTIONS = (
    Section(
        "opening", "Patient and opening",
        ("title", "slug", "patient", "opening", "cautions", "schema_version"),
        "Who lies there, and what is known at the bed’s end.", OpeningEditor,
    ),
    Section(
        "stages", "Stages", ("stages",),
        "Times or states of the patient. One is enough; the first is where an encounter begins.",
        StagesEditor,
    ),
    Section(
        "hypotheses", "Hypotheses", ("presentation", "hypotheses", "together", "truth"),
        "The diagnoses this case takes seriously, how likely each is before the examination, "
        "and which is true.", HypothesesEditor,
    ),
    Section(
        "findings", "Findings", ("findings",),
        "What differs from health. Whatever is not written here is answered by the normal finding.",
        None,
    ),
    Section(
        "essential", "Essential steps", ("scheme.essential",),
        "Steps no careful examiner of this patient leaves out.", EssentialEditor,
    ),
    Section(
        "routine", "Routine steps", ("scheme.routine",),
        "Steps that are fair to do here and never surcharged.", RoutineEditor,
    ),
    Section(
        "safety", "Safety and order", ("scheme.unsafe", "scheme.order"),
        "What must not be done to this patient, and what comes before what.", SafetyEditor,
    ),
    Section(
        "weights", "Weights and budget", ("scheme",),
        "How marks are weighed, and what time and surcharge are fair.", WeightsEditor,
    ),
    Section(
        "teaching", "Teaching", ("teaching",),
        "What the debrief says once the encounter is concluded.", TeachingEditor,
    ),
)  # fmt: skip
BY_SLUG = {section.slug: section for section in SECTIONS}
_FINDING = re.compile(r"findings\[(\d+)\]")


def section_of(path: str) -> Section | None:
    """The section of a place; None for the document as a whole."""
    return next((section for section in SECTIONS if section.holds(path)), None)


def finding_place(path: str) -> int | None:
    """The place of the finding the path lies in, if it does."""
    found = _FINDING.match(path)
    return int(found[1]) if found else None
