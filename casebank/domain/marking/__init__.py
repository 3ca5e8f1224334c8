"""Marks from a replayed log; every point names the entries behind it."""

from casebank.domain.marking.mark import MARKING_VERSION, mark
from casebank.domain.marking.model import DomainMark, Marks, Point

__all__ = ["MARKING_VERSION", "DomainMark", "Marks", "Point", "mark"]
