"""The schema of an authored case document (pydantic; JSON Schema in ``fixtures/case.schema.json``).

Owns shape and field limits. What spans several fields is ``check``'s.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field

from casebank.domain.casefile.likelihoods import Evidence
from casebank.domain.casefile.parts import Conditions, Line, Part, Slug, Text

Strength = Literal["clear", "faint", "absent"]
Domain = Literal[
    "coverage", "technique", "order", "interpretation", "reasoning", "economy", "safety"
]


class Patient(Part):
    """The fictional person; what is said here is visible at the bed's end."""

    name: Line
    age: Annotated[int, Field(ge=0, le=110)]
    sex: Literal["female", "male"]
    occupation: Line


class Move(Part):
    """A change to another stage: after minutes in this stage, or when a step is done."""

    to: Slug
    after_minutes: Annotated[float, Field(gt=0)] | None = None
    on_step: Slug | None = None
    when: Conditions = {}


class Stage(Part):
    """A time or state of the patient during which one set of findings holds."""

    id: Slug
    label: Line = Field(description="For authors and the debrief; students never see it before.")
    notice: str = Field("", max_length=1000, description="Shown to the student on entering.")
    moves: tuple[Move, ...] = ()


class Sign(Part):
    """A sign that is heard or seen and is to be named, given as parameters and not in words.

    ``spec`` is one of the specifications of ``casebank.domain.signs``; the technique of the
    request decides how it comes out. ``expects`` are the features a full reading names, by the
    vocabulary of the catalogue; several right values are parted by ``|``.
    """

    spec: dict[str, Any]
    expects: dict[Slug, Line] = Field(min_length=1)


class Answer(Part):
    """What the finding gives for the techniques that meet ``when``.

    Answers are tried in order; the last must have an empty ``when``. ``says`` empty means that
    nothing is noticed and the normal finding is given, unless there is a ``sign`` to perceive.
    ``outcome`` names a row of the finding's evidence; None means that this technique tells nothing
    about it. An outcome counts once the sign was perceived, whatever it is then said to be.
    """

    later: ClassVar[tuple[str, ...]] = ("sign",)
    when: Conditions = {}
    strength: Strength
    says: str = Field("", max_length=2000)
    outcome: Slug | None = None
    sign: Sign | None = None


class Finding(Part):
    """What a step shows in these stages (empty: in all), by technique."""

    id: Slug
    step: Slug
    label: Line = Field(description="The sign's name, for authors and the debrief.")
    stages: tuple[Slug, ...] = ()
    answers: tuple[Answer, ...] = Field(min_length=1)
    evidence: Evidence | None = None


class Hypothesis(Part):
    """A diagnosis of the shared list that this case takes seriously."""

    diagnosis: Slug
    prior: Annotated[float, Field(gt=0, lt=1)]
    must_not_miss: bool = False


class Together(Part):
    """Diagnoses of this case that a patient may have at once, as a possibility of its own.

    The priors of the hypotheses are those of each by itself; all priors together sum to 1. A pair
    of ratios or accuracies counts such a patient as a target where any of the diagnoses is one;
    a table gives the chances under ``id``.
    """

    id: Slug
    diagnoses: tuple[Slug, ...] = Field(min_length=2)
    prior: Annotated[float, Field(gt=0, lt=1)]


class Presentation(Part):
    """Whom the priors are of: people who come with this complaint, to this place."""

    complaint: Line
    setting: Line
    source: Line = Field(description="Author, journal and year; or the word: illustrative")


class Wanted(Part):
    """A step of the marking scheme; ``when`` is what counts as doing it, ``well`` as doing it well.

    ``again_after``: minutes after which a repeat is wanted again.
    """

    id: Slug
    step: Slug
    when: Conditions = {}
    well: Conditions = {}
    stages: tuple[Slug, ...] = ()
    weight: Annotated[float, Field(gt=0, le=10)] = 1
    again_after: Annotated[float, Field(gt=0)] | None = None
    why: Line


class Unsafe(Part):
    """A step that must not be done to this patient now."""

    step: Slug
    when: Conditions = {}
    stages: tuple[Slug, ...] = ()
    why: Line


class Precedence(Part):
    """``before`` should be done before ``after``; both are ids of wanted steps."""

    before: Slug
    after: Slug
    why: Line


class Scheme(Part):
    """What this case expects of the examiner, and how marks are weighed."""

    essential: tuple[Wanted, ...] = Field(min_length=1)
    routine: tuple[Wanted, ...] = ()
    unsafe: tuple[Unsafe, ...] = ()
    demands: tuple[Literal["hygiene", "consent", "chaperone"], ...] = ("hygiene", "consent")
    order: tuple[Precedence, ...] = ()
    weights: dict[Domain, Annotated[float, Field(ge=0, le=100)]]
    minutes: Annotated[float, Field(gt=0, le=240, description="Time a careful examiner needs.")]
    surcharge_budget: Annotated[float, Field(gt=0, description="At this surcharge economy is 0.")]
    tau: Annotated[float, Field(gt=0, le=1, description="Bits below which a step is unneeded.")] = (
        0.05
    )


class Teaching(Part):
    """Shown in the debrief only."""

    summary: Text
    points: tuple[Text, ...] = Field(min_length=1)
    sources: tuple[Line, ...] = ()


class CaseDocument(Part):
    """A whole authored case."""

    later: ClassVar[tuple[str, ...]] = ("presentation", "together")
    schema_version: Literal[1] = 1
    slug: Slug = Field(description="Neutral: never names or hints at the diagnosis.")
    title: Line = Field(description="Neutral: what the student is told before beginning.")
    patient: Patient
    opening: Text = Field(description="What is known at the bed's end.")
    stages: tuple[Stage, ...] = Field(min_length=1)
    presentation: Presentation | None = Field(
        None, description="Whom the priors are of; shown in the debrief only."
    )
    hypotheses: tuple[Hypothesis, ...] = Field(min_length=2)
    together: tuple[Together, ...] = ()
    truth: tuple[Slug, ...] = Field(min_length=1)
    findings: tuple[Finding, ...] = Field(min_length=1)
    scheme: Scheme
    teaching: Teaching
    cautions: tuple[Line, ...] = ()

    @property
    def priors(self) -> tuple[float, ...]:
        """Of each hypothesis by itself, then of those together."""
        return (*(one.prior for one in self.hypotheses), *(one.prior for one in self.together))
