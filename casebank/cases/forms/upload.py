"""A case document brought as a file or as pasted text; what is wrong is listed, the text kept."""

from __future__ import annotations

from typing import Any

from django import forms

from casebank.cases.documents import MAX_BYTES, Document, read_document, written
from casebank.cases.errors import UnreadableDocument
from casebank.cases.forms.fields import Typed
from casebank.domain.casefile.problems import Problem
from casebank.domain.examination.model import Catalogue


class UploadForm(forms.Form):
    """A file, or text; a file wins. Once valid, ``document`` holds what was read."""

    use_required_attribute = False
    file = forms.FileField(
        label="File",
        required=False,
        help_text="A case document in JSON, at most 1 MB.",
        widget=forms.FileInput(attrs={"accept": ".json,application/json"}),
    )
    text = Typed("Or its text", tall=12, optional=True, strip=False)

    def __init__(self, *args: Any, catalogue: Catalogue, **more: Any) -> None:
        super().__init__(*args, **more)
        self.catalogue = catalogue
        self.document: Document = {}
        self.problems: tuple[Problem, ...] = ()
        self.fields["text"].widget.attrs["spellcheck"] = "false"

    def clean(self) -> dict[str, Any]:
        """Read the document; every problem goes to ``problems``."""
        content = self._content()
        if not content.strip():
            raise forms.ValidationError("Choose a file or paste the text of a document.")
        try:
            self.document = read_document(content, self.catalogue)
        except UnreadableDocument as error:
            self.problems = error.problems
            self._keep(content)
            raise forms.ValidationError(str(error)) from error
        return self.cleaned_data

    def _content(self) -> bytes | str:
        file = self.cleaned_data.get("file")
        if not file:
            return str(self.cleaned_data.get("text") or "")
        return bytes(file.read(MAX_BYTES + 1))

    def keep_text(self) -> None:
        """Show the document that was read as text, whether it came as text or as a file."""
        self._keep(written(self.document).encode())

    def _keep(self, content: bytes | str) -> None:
        """Show what was in the file, so that it can be corrected here."""
        if isinstance(content, bytes) and len(content) <= MAX_BYTES:
            text = content.decode("utf-8-sig", "replace")
            shown = text.replace("\0", "\N{REPLACEMENT CHARACTER}")
            self.data = {**self.data, "text": shown}
