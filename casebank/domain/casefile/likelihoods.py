"""The evidence of a finding as a document gives it: how its outcomes bear on the hypotheses.

Owns the three forms, a table, a pair of ratios and a pair of accuracies, and what each must be
by itself. What spans several fields of a case is ``check``'s; the arithmetic is ``compile``'s.
"""

from __future__ import annotations

from typing import Annotated, ClassVar, Self

from pydantic import Field, model_validator

from casebank.domain.casefile.parts import Interval, Line, Part, Probability, Slug

Share = Annotated[float, Field(gt=0, le=1)]


class OutcomeRow(Part):
    """P(outcome | hypothesis) for every hypothesis of the case, and for every ``together``."""

    outcome: Slug
    given: dict[Slug, Probability]


class Ratios(Part):
    """A positive and a negative likelihood ratio for the targets against the others.

    Turned into sensitivity and specificity of the outcomes ``present`` and ``absent``:
    spec = (LR+ - 1)/(LR+ - LR-), sens = LR+ (1 - spec).
    """

    later: ClassVar[tuple[str, ...]] = ("positive_interval", "negative_interval")
    targets: tuple[Slug, ...] = Field(min_length=1)
    positive: Annotated[float, Field(gt=1)]
    negative: Annotated[float, Field(ge=0, lt=1)]
    positive_interval: Interval | None = Field(None, description="95 % interval around LR+.")
    negative_interval: Interval | None = Field(None, description="95 % interval around LR−.")

    @model_validator(mode="after")
    def _intervals_hold_their_ratio(self) -> Self:
        for span, value in (
            (self.positive_interval, self.positive),
            (self.negative_interval, self.negative),
        ):
            if span is not None and not 0 < span[0] <= value <= span[1]:
                raise ValueError(f"an interval must hold its ratio: 0 < low <= {value:g} <= high")
        return self


class Accuracy(Part):
    """A sensitivity and a specificity of the sign, for the targets against the others.

    The outcomes are ``present`` and ``absent``: P(present | target) is the sensitivity,
    P(absent | other) the specificity.
    """

    targets: tuple[Slug, ...] = Field(min_length=1)
    sensitivity: Share
    specificity: Share
    sensitivity_interval: Interval | None = Field(None, description="95 % interval.")
    specificity_interval: Interval | None = Field(None, description="95 % interval.")

    @model_validator(mode="after")
    def _speaks_for_its_targets(self) -> Self:
        if self.sensitivity + self.specificity <= 1:
            raise ValueError(
                "sensitivity and specificity must add up to more than 1, or the sign speaks "
                "against its targets; then name the other hypotheses as targets"
            )
        return self

    @model_validator(mode="after")
    def _intervals_hold_their_share(self) -> Self:
        if (self.sensitivity_interval is None) != (self.specificity_interval is None):
            raise ValueError("give the intervals of both sensitivity and specificity, or neither")
        for span, value in (
            (self.sensitivity_interval, self.sensitivity),
            (self.specificity_interval, self.specificity),
        ):
            if span is not None and not 0 < span[0] <= value <= span[1] < 1:
                raise ValueError(
                    f"an interval must hold its share: 0 < low <= {value:g} <= high < 1"
                )
        return self


class Evidence(Part):
    """How a finding bears on the hypotheses: a table, a pair of ratios, or a pair of accuracies.

    Just one of the three.
    """

    later: ClassVar[tuple[str, ...]] = ("accuracy", "assumed")
    source: Line = Field(description="Author, journal and year; or the word: illustrative")
    group: Slug | None = Field(None, description="Findings of one group are not independent.")
    table: tuple[OutcomeRow, ...] = ()
    ratios: Ratios | None = None
    accuracy: Accuracy | None = None
    assumed: str = Field(
        "", max_length=500, description="What was assumed to make these numbers likelihoods."
    )

    @property
    def pair(self) -> Ratios | Accuracy | None:
        """The two numbers with their targets; None where a table is given, or nothing."""
        return self.ratios or self.accuracy
