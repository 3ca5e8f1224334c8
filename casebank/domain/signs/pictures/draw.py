"""The picture a specification asks for, as SVG."""

from __future__ import annotations

from collections.abc import Callable

from casebank.domain.signs.drawing.svg import document
from casebank.domain.signs.pictures import face as faces
from casebank.domain.signs.pictures import fundus as fundi
from casebank.domain.signs.pictures import hands as palms
from casebank.domain.signs.pictures import nails as fingers
from casebank.domain.signs.pictures import skin as patches
from casebank.domain.signs.setting import SignError
from casebank.domain.signs.spec_pictures import SIGNS_OF, Picture

Shapes = Callable[[Picture], list[str]]

SUBJECTS: dict[str, tuple[Shapes, float, float, str]] = {
    "nails": (fingers.nails, fingers.WIDTH, fingers.HEIGHT, "Fingers and nails"),
    "hands": (palms.hands, palms.WIDTH, palms.HEIGHT, "The palm of a hand"),
    "face": (faces.face, faces.WIDTH, faces.HEIGHT, "A face"),
    "eye": (faces.eye, faces.EYE_WIDTH, faces.EYE_HEIGHT, "An eye, the lower lid drawn down"),
    "fundus": (fundi.fundus, fundi.WIDTH, fundi.HEIGHT, "The back of the eye"),
    "skin": (patches.skin, patches.WIDTH, patches.HEIGHT, "A patch of skin"),
}


def check(picture: Picture) -> None:
    """SignError where the subject cannot show a sign that is asked for."""
    for sign in picture.signs:
        if sign not in SIGNS_OF[picture.subject]:
            allowed = ", ".join(SIGNS_OF[picture.subject])
            raise SignError(f"{picture.subject} cannot show {sign!r}; choose from {allowed}")


def drawn(picture: Picture, describes: str) -> str:
    """The drawing; its title names the part of the body and nothing more."""
    check(picture)
    shapes, width, height, title = SUBJECTS[picture.subject]
    return document(width, height, title, describes, *shapes(picture))
