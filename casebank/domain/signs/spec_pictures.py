"""The parameters of pictures: what is drawn, how marked it is, and the skin it is drawn on.

Owns shape and limits only; drawing is ``pictures``.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Subject = Literal["nails", "hands", "face", "eye", "fundus", "skin"]
Sign = Literal[
    "clubbing", "splinters", "spooning", "pitting",
    "palmar-erythema", "tar-staining", "tender-nodes", "flat-palm-spots",
    "malar-flush", "xanthelasma",
    "arcus", "pallor", "icterus",
    "cotton-wool", "flame-haemorrhages", "disc-swelling", "copper-wiring", "hard-exudates",
    "spider-naevi", "purpura", "target-lesions", "vesicles",
]  # fmt: skip

SIGNS_OF: dict[str, tuple[str, ...]] = {
    "nails": ("clubbing", "splinters", "spooning", "pitting"),
    "hands": ("palmar-erythema", "tar-staining", "tender-nodes", "flat-palm-spots"),
    "face": ("malar-flush", "xanthelasma"),
    "eye": ("arcus", "pallor", "icterus"),
    "fundus": (
        "cotton-wool", "flame-haemorrhages", "disc-swelling", "copper-wiring", "hard-exudates",
    ),
    "skin": ("spider-naevi", "purpura", "target-lesions", "vesicles"),
}  # fmt: skip


class Picture(BaseModel):
    """A drawing of one part of the body, with any of the signs that part can show.

    ``skin`` 1 (lightest) to 6 (darkest); ``degree`` 0-1 is how marked the signs are.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    kind: Literal["picture"] = "picture"
    subject: Subject
    signs: tuple[Sign, ...] = Field((), max_length=4)
    degree: Annotated[float, Field(ge=0, le=1)] = 0.7
    skin: Annotated[int, Field(ge=1, le=6)] = 2
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1
