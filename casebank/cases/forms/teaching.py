"""The editor's page of teaching: what the debrief says."""

from __future__ import annotations

from casebank.cases.forms.editor import Editor, Page
from casebank.cases.forms.fields import Typed
from casebank.cases.forms.raw import Raw, filled, lines, paragraphs, part, shown, words


class TeachingForm(Page):
    """Summary, points and sources."""

    summary = Typed("Summary", tall=5, help_text="Shown in the debrief only.")
    points = Typed(
        "Teaching points", tall=8, help_text="One a paragraph: leave an empty line between them."
    )
    sources = Typed("Sources", tall=4, optional=True, help_text="One a line.")

    def shown(self) -> Raw:
        teaching = part(self.document, "teaching")
        return {
            "summary": shown(teaching.get("summary")),
            "points": "\n\n".join(words(teaching, "points")),
            "sources": "\n".join(words(teaching, "sources")),
        }

    def write(self, document: Raw) -> None:
        typed = self.cleaned_data
        document["teaching"] = filled(
            summary=typed["summary"],
            points=paragraphs(typed["points"]),
            sources=lines(typed["sources"]),
        )


class TeachingEditor(Editor):
    """Teaching notes."""

    template = "cases/edit_teaching.html"

    def build(self) -> None:
        self.form = TeachingForm(self.document, self.catalogue, self.data)

    def parts(self) -> list[TeachingForm]:
        return [self.form]

    def write(self, document: Raw) -> None:
        self.form.write(document)
