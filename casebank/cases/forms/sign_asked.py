"""What a posted sign form asks for: which specification stands, by its fields or by its JSON.

The page sends ``before``, the specification its fields were made from. JSON that differs from it
was edited, and wins over the fields.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from casebank.cases.forms.raw import Raw, part
from casebank.cases.forms.sign_document import Data, typed_over
from casebank.cases.forms.sign_rows import acted, begun
from casebank.cases.forms.sign_shape import MODELS, part_of
from casebank.cases.signs import MAX_SPEC, NotASignError, read_spec

FIRST_KIND = "heart-sound"
FROM_FIELDS = "fields"
"""Value of ``do``: take the fields although the JSON was edited."""
MOST_BEFORE = 10 * MAX_SPEC
"""Characters: what is laid out in lines is longer than what was given."""


@dataclass(frozen=True)
class Asked:
    """The specification as plain data, the JSON beside it, and where to go on.

    ``wrong_json``: the edited JSON that cannot be used; the fields then are as they were typed.
    """

    spec: Raw
    wrong_json: str | None = None
    focus: str = ""

    @property
    def kind(self) -> str:
        """The kind whose fields are shown."""
        return kind_of(self.spec)

    @property
    def compact(self) -> str:
        """The specification as JSON without spaces."""
        return json.dumps(self.spec, separators=(",", ":"))

    @property
    def laid_out(self) -> str:
        """The specification as JSON to be read."""
        return json.dumps(self.spec, indent=2)


def asked(data: Data) -> Asked:
    """What this post asks for: edited JSON first, then the fields, a kind and a row's button."""
    before = plain_lines(data.get("before", ""))
    edited = plain_lines(data["spec"]) if "spec" in data else before
    action = str(data.get("do", ""))
    if (edited == before and "before" in data) or action == FROM_FIELDS:
        return _from_fields(before, data, action)
    try:
        read_spec(edited)
    except NotASignError:
        return Asked(_from_fields(before, data, "").spec, wrong_json=edited)
    return Asked(json.loads(edited))


def _from_fields(before: str, data: Data, action: str) -> Asked:
    stands = _object_in(before)
    spec = {"kind": kind_of(stands), **stands}
    typed = typed_over(spec, part_of(kind_of(spec)), data)
    wanted = str(data.get("kind", ""))
    if wanted in MODELS and wanted != kind_of(typed):
        return Asked(_of_kind(wanted, typed), focus="kind")
    changed, focus = acted(typed, part_of(kind_of(typed)), action)
    return Asked(changed, focus=focus)


def _of_kind(kind: str, other: Raw) -> Raw:
    """A sign of this kind in the same patient with the same rhythm, all else as usual."""
    shape = part_of(kind)
    kept = {one.key: part(other, one.key) for one in shape.groups if part(other, one.key)}
    return {"kind": kind, **kept, **begun(shape)}


def kind_of(spec: Raw) -> str:
    """The kind of a specification, heart sounds where it names none."""
    kind = spec.get("kind")
    return kind if isinstance(kind, str) and kind in MODELS else FIRST_KIND


def plain_lines(text: Any) -> str:
    """The text as browsers are given it: they send every line's end as two characters."""
    return str(text).replace("\0", "").replace("\r\n", "\n")


def _object_in(text: str) -> Raw:
    try:
        found = json.loads(text) if len(text) <= MOST_BEFORE else None
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}
