"""All views of the body drawing, in the order they are offered."""

from __future__ import annotations

from casebank.core.charts.body_close import ABDOMEN, HEART, LUNGS_BACK, LUNGS_FRONT
from casebank.core.charts.body_whole import BACK, FRONT

VIEWS = (FRONT, BACK, HEART, LUNGS_FRONT, LUNGS_BACK, ABDOMEN)
