"""What every part of a case document is made of: field types, and the base of all parts.

Owns how a part is spelled again; what the parts are is ``schema``'s and ``likelihoods``'.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    SerializerFunctionWrapHandler,
    model_serializer,
)

from casebank.domain.examination.model import SLOTS

Slug = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=64)]
Line = Annotated[str, Field(min_length=1, max_length=200)]
Text = Annotated[str, Field(min_length=1, max_length=4000)]
Slot = Annotated[str, Field(pattern=f"^({'|'.join(SLOTS)})$")]
Conditions = dict[Slot, Line]
Probability = Annotated[float, Field(ge=0, le=1)]
Positive = Annotated[float, Field(gt=0)]
Interval = tuple[Positive, Positive]


class Part(BaseModel):
    """Base of every part: unknown fields are errors, instances are immutable.

    ``later`` names the fields that joined after documents had been stored: left empty they are not
    spelled, so that a document from before keeps its spelling, and so its checksum.
    """

    later: ClassVar[tuple[str, ...]] = ()
    model_config = ConfigDict(extra="forbid", frozen=True)

    @model_serializer(mode="wrap")
    def _as_before(self, handler: SerializerFunctionWrapHandler) -> dict[str, Any]:
        plain: dict[str, Any] = handler(self)
        return {name: value for name, value in plain.items() if value or name not in self.later}
