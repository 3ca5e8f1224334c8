"""How a sign is looked for: the technique slots, completed and read.

Owns defaults and the places known to the renderers. The slot values are the catalogue's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Technique = Mapping[str, str]

HELD = ("inspiration", "held-inspiration", "held-expiration", "valsalva")
"""Ways of breathing that keep the lung volume still for the length of a clip."""


class SignError(ValueError):
    """A sign cannot be rendered so; the message says what to do."""


@dataclass(frozen=True)
class Setting:
    """A technique with every slot filled; values are slugs of the catalogue."""

    site: str
    side: str = "both"
    instrument: str = "diaphragm"
    posture: str = "reclined-45"
    breathing: str = "quiet"
    timing: str = "untimed"
    effort: str = "relaxed"

    @property
    def is_timed(self) -> bool:
        """Whether the carotid pulse is felt at the same time."""
        return self.timing == "carotid"

    @property
    def is_held(self) -> bool:
        """Whether the lung volume stands still."""
        return self.breathing in HELD


def setting(technique: Technique, site: str, known: tuple[str, ...] = ()) -> Setting:
    """The technique completed; ``site`` is the default; SignError for a site not ``known``."""
    place = technique.get("site", site)
    if known and place not in known:
        raise SignError(f"nothing can be rendered at {place!r}; choose one of {', '.join(known)}")
    slots = ("side", "instrument", "posture", "breathing", "timing", "effort")
    return Setting(site=place, **{slot: technique[slot] for slot in slots if slot in technique})
