"""Every page of the editor gives back the document it showed."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.forms.formsets import BaseFormSet
from hypothesis import given
from hypothesis import strategies as st

from casebank.cases.documents import written
from casebank.cases.forms.editor import Editor
from casebank.cases.forms.finding import FindingEditor
from casebank.cases.forms.raw import number, percent, percent_shown, shown
from casebank.cases.sections import SECTIONS
from casebank.core.fixtures import case_texts, load_catalogue
from casebank.domain.casefile.canonical import canonical_json
from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.domain.examination.model import Catalogue
from tests.factories.cases import SMALL_TEXTS, small_document

CATALOGUE = parse_catalogue(SMALL_TEXTS)
EDITORS = [section.editor for section in SECTIONS if section.editor] + [FindingEditor]


def fields_of(part: Any) -> dict[str, Any]:
    """What a browser would send for this form or formset, unchanged."""
    if isinstance(part, BaseFormSet):
        sent = fields_of(part.management_form)
        for form in part.forms:
            sent |= fields_of(form)
        return sent
    values = {bound.html_name: bound.value() for bound in part}
    return {
        name: value
        for name, value in values.items()
        if value not in (None, []) and value is not False
    }


def unchanged(
    editor: type[Editor], document: dict[str, Any], catalogue: Catalogue = CATALOGUE, **where: Any
) -> dict[str, Any]:
    """The document after the page was shown and sent back as it was."""
    page = editor(document, catalogue, **where)
    data: dict[str, Any] = {}
    for part in page.parts():
        data |= fields_of(part)
    again = editor(document, catalogue, _posted(data), **where)
    assert again.is_readable(), [part.errors for part in again.parts()]
    return again.written()


def _posted(data: dict[str, Any]) -> Any:
    from django.http import QueryDict

    sent = QueryDict(mutable=True)
    for name, value in data.items():
        sent.setlist(name, value if isinstance(value, list) else [str(value)])
    return sent


def canonical(document: dict[str, Any]) -> str:
    return canonical_json(CaseDocument.model_validate_json(json.dumps(document)))


def test_the_small_document_passes_the_case_check() -> None:
    review = check_case(small_document(), CATALOGUE)
    assert review.is_fit, review.problems


@pytest.mark.parametrize("editor", EDITORS, ids=lambda editor: editor.__name__)
@pytest.mark.parametrize("add", ["", "stages", "answers", "hypotheses", "essential", "unsafe"])
def test_saving_a_page_unchanged_leaves_the_document_as_it_was(
    editor: type[Editor], add: str
) -> None:
    document = small_document()
    for place in range(2 if editor is FindingEditor else 1):
        after = unchanged(editor, document, add=add, place=place)
        assert canonical(after) == canonical(document)


@pytest.mark.parametrize("editor", EDITORS, ids=lambda editor: editor.__name__)
def test_a_page_opens_on_a_document_that_holds_almost_nothing(editor: type[Editor]) -> None:
    after = unchanged(editor, {"findings": [{}]})
    assert after["findings"][0].keys() <= {"id", "answers"}


@given(st.floats(min_value=0, max_value=1, allow_nan=False).map(lambda x: round(x, 15)))
def test_a_probability_survives_being_shown_in_percent(chance: float) -> None:
    assert percent(percent_shown(chance)) == chance


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=30))
def test_a_figure_is_a_number_or_stays_what_was_typed(text: str) -> None:
    read = number(text)
    assert read is None or isinstance(read, int | float) or read == text.strip()
    if isinstance(read, int | float):
        assert number(shown(read)) == read


@pytest.mark.parametrize("name", list(case_texts()))
def test_no_page_changes_a_shipped_case(name: str) -> None:
    document = json.loads(case_texts()[name])
    for editor in EDITORS:
        findings = len(document["findings"]) if editor is FindingEditor else 1
        for place in range(findings):
            after = unchanged(editor, document, load_catalogue(), place=place)
            assert canonical(after) == canonical(document), (editor, place)


def test_a_document_is_written_in_the_order_of_the_schema() -> None:
    shuffled = dict(sorted(small_document().items()))
    text = written(shuffled)
    assert json.loads(text) == small_document()
    assert list(json.loads(text)) == [n for n in CaseDocument.model_fields if n in shuffled]
