"""One person's own progress over their concluded encounters, and the export of their record."""

from casebank.encounters.progress.building import progress_of
from casebank.encounters.progress.shapes import Progress

__all__ = ["Progress", "progress_of"]
