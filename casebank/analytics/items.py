"""The essential steps of a case version as items of its figures."""

from __future__ import annotations

from uuid import UUID

from casebank.analytics.figures import StepItem
from casebank.cases.library import compiled_version
from casebank.domain.casefile.labels import essential_label


def items_of(version_id: UUID) -> tuple[str, list[StepItem]]:
    """The version's title and its essential steps, in the scheme's order."""
    case = compiled_version(version_id)
    items = [
        StepItem(wanted.id, essential_label(case, wanted), wanted.why)
        for wanted in case.document.scheme.essential
    ]
    return case.document.title, items
