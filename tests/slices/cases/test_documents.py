"""What a draft can hold, and what is listed when it cannot."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from casebank.cases.differences import differences
from casebank.cases.documents import must_fit_a_draft, new_document, read_document, title_of
from casebank.cases.errors import UnreadableDocument
from casebank.cases.sections import BY_SLUG, finding_place, section_of
from casebank.domain.examination.catalogue import parse_catalogue
from tests.factories.cases import SMALL_TEXTS, small_document

CATALOGUE = parse_catalogue(SMALL_TEXTS)


def paths(content: str | bytes) -> list[str]:
    with pytest.raises(UnreadableDocument) as caught:
        read_document(content, CATALOGUE)
    return [problem.path for problem in caught.value.problems]


def test_a_whole_document_is_read_as_it_is():
    assert read_document(json.dumps(small_document()), CATALOGUE) == small_document()


def test_a_file_with_a_byte_order_mark_is_read():
    assert read_document(b"\xef\xbb\xbf{}", CATALOGUE) == {}


def test_an_incomplete_document_is_fit_for_a_draft():
    assert read_document('{"title": "Half", "patient": {"age": "old"}}', CATALOGUE)


def test_the_document_a_new_case_begins_with_is_fit_for_a_draft():
    must_fit_a_draft(new_document("Tired"))
    must_fit_a_draft(new_document(""))


@pytest.mark.parametrize(
    "content",
    ["", "{", "[]", "3", '{"a": 1, "a": 2}', '{"title": NaN}', b"\xff\xfe", "[" * 100_000, '"x"'],
)
def test_what_is_no_document_is_refused_as_a_whole(content):
    assert paths(content) == [""]


def test_a_file_over_the_limit_is_refused():
    assert paths(b"{" + b" " * 1_000_000 + b"}") == [""]


def test_parts_of_the_wrong_kind_are_listed_by_their_paths():
    document = small_document(patient=[], stages="one", title={"a": 1}, extra=1)
    found = paths(json.dumps(document))
    assert {"patient", "stages", "title", "extra"} <= set(found)


def test_every_other_problem_is_listed_with_them():
    found = paths(json.dumps({"extra": 1, "title": "x"}))
    assert {"extra", "patient", "opening", "scheme"} <= set(found)


@pytest.mark.parametrize(
    ("text", "path"),
    [
        (r'{"title": "a\u0000b"}', "title"),
        (r'{"patient": {"name": "\ud800"}}', "patient.name"),
        ('{"hypotheses": [{"prior": 1e999}]}', "hypotheses[0].prior"),
    ],
)
def test_what_the_database_could_not_keep_is_listed(text, path):
    assert path in paths(text)


names = st.text(alphabet="ab\0\ud800é", max_size=3)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 9) | st.floats() | names,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=3),
    max_leaves=8,
)


@given(st.dictionaries(st.sampled_from(list(small_document())), json_values))
def test_any_object_is_either_kept_or_refused_with_places(document):
    refused = None
    try:
        must_fit_a_draft(document)
    except UnreadableDocument as error:
        refused = error
    assert refused is None or refused.problems
    assert 0 < len(title_of(document)) <= 200


def test_every_path_belongs_to_one_section():
    for path, slug in {
        "title": "opening", "patient.age": "opening", "stages[2].moves[0].to": "stages",
        "truth[0]": "hypotheses", "findings[3].answers[0].when.site": "findings",
        "scheme.essential[0].step": "essential", "scheme.order": "safety",
        "scheme.weights": "weights", "scheme": "weights", "teaching.points[0]": "teaching",
    }.items():  # fmt: skip
        assert section_of(path) is BY_SLUG[slug]
    assert section_of("") is None
    assert finding_place("findings[3].answers[0]") == 3


def test_differences_name_each_leaf():
    other = small_document(opening="Else.")
    other["hypotheses"].append({"diagnosis": "x"})
    found = {d.path: (d.stands, d.typed) for d in differences(small_document(), other)}
    assert found["opening"][1] == "Else."
    assert found["hypotheses[2]"] == ("(nothing)", '{"diagnosis": "x"}')
    assert len(found) == 2


@given(json_values)
def test_nothing_differs_from_itself(value):
    assert "nan" in repr(value) or not list(differences(value, value))
