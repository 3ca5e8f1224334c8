"""Pages of the encounter."""

from casebank.encounters.views.bedside import ask, differential, read_back, sheet
from casebank.encounters.views.ending import conclude, debrief, debrief_pdf
from casebank.encounters.views.judging import adjust, comment, concluded
from casebank.encounters.views.patients import begin, patients, suggest_diagnosis, suggest_steps
from casebank.encounters.views.perceiving import deciding, media, reading
from casebank.encounters.views.progress import progress, record_csv, record_json
from casebank.encounters.views.steps import step, steps

__all__ = [
    "adjust",
    "ask",
    "begin",
    "comment",
    "conclude",
    "concluded",
    "debrief",
    "debrief_pdf",
    "deciding",
    "differential",
    "media",
    "patients",
    "progress",
    "read_back",
    "reading",
    "record_csv",
    "record_json",
    "sheet",
    "step",
    "steps",
    "suggest_diagnosis",
    "suggest_steps",
]
