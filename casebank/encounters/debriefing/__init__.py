"""The debrief of a concluded encounter: what a page, a document or the API shows of it."""

from casebank.encounters.debriefing.building import debrief_of
from casebank.encounters.debriefing.marks import DOMAIN_WORDS
from casebank.encounters.debriefing.shapes import Debrief

__all__ = ["DOMAIN_WORDS", "Debrief", "debrief_of"]
