"""Which items of a scheme a list of requests meets, for records that are not replayed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from casebank.domain.casefile.compile import CompiledCase
from casebank.domain.casefile.schema import Wanted
from casebank.domain.examination.conditions import meets

Request = Mapping[str, Any]
"""A logged request: ``step``, full ``technique`` and ``stage``."""


@dataclass(frozen=True)
class ItemDone:
    """An essential item: whether it was done, and whether done well (None: no way is better)."""

    item: Wanted
    is_done: bool
    is_well: bool | None


def items_done(case: CompiledCase, requests: Iterable[Request]) -> tuple[ItemDone, ...]:
    """Every essential item of the scheme against these requests."""
    made = list(requests)
    return tuple(_item(case, made, item) for item in case.document.scheme.essential)


def _item(case: CompiledCase, requests: list[Request], item: Wanted) -> ItemDone:
    meeting = [
        one
        for one in requests
        if one["step"] == item.step
        and (not item.stages or one["stage"] in item.stages)
        and meets(one["technique"], item.when, case.catalogue)
    ]
    if not meeting or not item.well:
        return ItemDone(item, bool(meeting), None)
    well = any(meets(one["technique"], item.well, case.catalogue) for one in meeting)
    return ItemDone(item, True, well)
