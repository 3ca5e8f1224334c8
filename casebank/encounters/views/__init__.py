"""Pages of the encounter."""

from casebank.encounters.views.bedside import ask, differential, read_back, sheet
from casebank.encounters.views.ending import conclude, debrief
from casebank.encounters.views.patients import begin, patients, suggest_diagnosis, suggest_steps

__all__ = [
    "ask",
    "begin",
    "conclude",
    "debrief",
    "differential",
    "patients",
    "read_back",
    "sheet",
    "suggest_diagnosis",
    "suggest_steps",
]
