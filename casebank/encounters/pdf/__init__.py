"""The debrief as a document."""

from casebank.encounters.pdf.printing import pdf_of

__all__ = ["pdf_of"]
