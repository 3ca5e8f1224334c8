"""Marks from a replayed log; every point names the entries behind it."""

from casebank.domain.marking.mark import MARKERS, MARKING_VERSION, mark
from casebank.domain.marking.model import DomainMark, Marks, Point

__all__ = ["MARKERS", "MARKING_VERSION", "DomainMark", "Marks", "Point", "mark"]
