"""Adding and removing the rows of a sign: murmurs, extra sounds, zones and what is heard there.

Owns the values of those buttons. They act on the specification, before the page is made anew.
"""

from __future__ import annotations

from copy import deepcopy

from casebank.cases.forms.raw import Raw
from casebank.cases.forms.sign_document import is_shown
from casebank.cases.forms.sign_shape import Part, Rows

ADD, REMOVE = "add:", "remove:"
NEW: dict[str, Raw] = {"Zone": {"sites": ["back-lower-zone"]}}


def acted(spec: Raw, shape: Part, action: str) -> tuple[Raw, str]:
    """With a row added or removed, and the control to go on from; unchanged for no such action."""
    changed = deepcopy(spec)
    if action.startswith(ADD):
        name = action.removeprefix(ADD)
        return changed, _added(changed, shape, name)
    if action.startswith(REMOVE):
        name, _, place = action.removeprefix(REMOVE).rpartition("-")
        return changed, _removed(changed, shape, name, place)
    return spec, ""


def _added(spec: Raw, shape: Part, name: str) -> str:
    found = _rows_at(spec, shape, name.split("-")[1:])
    if found is None or len(found[0]) >= found[1].most:
        return ""
    items, rows = found
    items.append(begun(rows.of))
    return f"{name}-{len(items) - 1}"


def _removed(spec: Raw, shape: Part, name: str, place: str) -> str:
    found = _rows_at(spec, shape, name.split("-")[1:])
    if found is None or not _is_place(place, found[0]):
        return ""
    del found[0][int(place)]
    return name


def begun(shape: Part) -> Raw:
    """A part with what it cannot do without, so that it is heard or seen at once."""
    wanted = {leaf.key: leaf.options[0] for leaf in shape.leaves if leaf.is_required}
    return {**wanted, **deepcopy(NEW.get(shape.name, {}))}


def _rows_at(spec: Raw, shape: Part, steps: list[str]) -> tuple[list[Raw], Rows] | None:
    """The list at this path, made where there is none; None where a form shows no such list."""
    rows = next((one for one in shape.lists if steps[:1] == [one.key]), None)
    if rows is None or not is_shown(spec, rows):
        return None
    items = spec.get(rows.key) or []
    spec[rows.key] = items
    if len(steps) == 1:
        return items, rows
    return (
        _rows_at(items[int(steps[1])], rows.of, steps[2:]) if _is_place(steps[1], items) else None
    )


def _is_place(text: str, items: list[Raw]) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 4 and int(text) < len(items)
