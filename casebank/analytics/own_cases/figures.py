"""The figures of one version for its author, small cells hidden as in a cohort report."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any
from uuid import UUID

import numpy as np
from django.conf import settings

from casebank.analytics.figures import case_figures
from casebank.analytics.items import items_of
from casebank.analytics.own_cases import queries
from casebank.analytics.own_cases.queries import Attempts
from casebank.domain.psychometrics import joined_bands


def figures_of(version_id: UUID) -> dict[str, Any]:
    """The figures of ``analytics.figures`` over all cohorts, with encounters and bands of marks."""
    floor = settings.SMALL_CELL_FLOOR
    title, items = items_of(version_id)
    found = queries.matrix(version_id)
    done = found.done if found else np.zeros((0, len(items)))
    totals = found.totals if found else np.zeros(0)
    figures = case_figures(title, items, done, totals, queries.reasons(version_id), floor)
    if figures["hidden"]:
        return {**figures, "floor": floor}
    return {
        **figures,
        "floor": floor,
        "encounters": shown_encounters(queries.attempts(version_id), floor),
        "bands": [asdict(band) for band in joined_bands(totals, floor)],
    }


def shown_encounters(attempts: Attempts, floor: int) -> int | None:
    """All concluded encounters; None where that would tell of a few who concluded it again."""
    once = attempts.students - attempts.repeating
    is_few = 0 < attempts.repeating < floor or (attempts.repeating and 0 < once < floor)
    return None if is_few else attempts.encounters
