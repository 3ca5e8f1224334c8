"""Each rule of perceived signs: the heard case spoiled in one place gives that problem, there."""

from __future__ import annotations

import json

import pytest

from casebank.domain.casefile.check import check_case
from casebank.domain.casefile.checks.signs import FAMILIES, MAX_SPEC, accepted, families_of
from casebank.domain.casefile.schema import CaseDocument
from casebank.domain.examination.catalogue import parse_catalogue
from tests.factories.heard import GOLDEN, golden_texts
from tests.factories.records import shipped_catalogue

CATALOGUE = parse_catalogue(golden_texts())
ANSWER = "findings[0].answers[0]"


def heard():
    document = json.loads((GOLDEN / "heard.case.json").read_text(encoding="utf-8"))
    # The golden case is older than the rule that says whom the priors are of.
    whom = {"complaint": "breathlessness", "setting": "a clinic", "source": "illustrative"}
    return {**document, "presentation": whom}


def problems(change):
    document = heard()
    change(document["findings"][0]["answers"][0])
    review = check_case(json.dumps(document), CATALOGUE)
    return [(one.path, one.severity, one.message) for one in review.problems]


def expects(**features):
    return problems(lambda answer: answer["sign"]["expects"].update(features))


def spec(**fields):
    return problems(lambda answer: answer["sign"]["spec"].update(fields))


def says(words):
    return problems(lambda answer: answer.update(says=words))


def test_the_heard_case_is_good():
    assert problems(lambda answer: None) == []


def test_a_specification_that_cannot_be_rendered_is_an_error():
    ((path, severity, message),) = spec(lesions=[{"type": "trumpet", "grade": 3}])
    assert (path, severity) == (f"{ANSWER}.sign.spec", "error")
    assert message


def test_an_unknown_kind_is_an_error():
    ((path, severity, _),) = spec(kind="orchestra")
    assert (path, severity) == (f"{ANSWER}.sign.spec", "error")


def test_an_endless_specification_is_an_error():
    ((path, severity, message),) = spec(remark="x" * MAX_SPEC)
    assert (path, severity) == (f"{ANSWER}.sign.spec", "error")
    assert "too large" in message


def test_a_reading_expects_at_least_one_feature():
    found = problems(lambda answer: answer["sign"].update(expects={}))
    assert [(path, severity) for path, severity, _ in found] == [
        (f"{ANSWER}.sign.expects", "error")
    ]


@pytest.mark.parametrize(
    ("feature", "value", "says_so"),
    [
        ("tming", "systolic", "feature"),
        ("timing", "sytolic", "systolic"),
        ("sign", "pansystolic-murmurs", "pansystolic-murmur"),
        ("timing", "pansystolic | sytolic", "systolic"),
    ],
)
def test_what_the_vocabulary_does_not_know_is_an_error(feature, value, says_so):
    ((path, severity, message),) = expects(**{feature: value})
    assert (path, severity) == (f"{ANSWER}.sign.expects.{feature}", "error")
    assert says_so in message


def test_several_right_values_are_accepted():
    assert expects(sign="pansystolic-murmur | third-heart-sound", grade="2 | 3") == []
    assert accepted("2 | 3") == accepted(" 2|3 ") == ("2", "3")


def shipped_expects(kind, features):
    """Problems of what is expected of a sign of this kind, by the shipped vocabulary."""
    from casebank.domain.casefile.checks.signs import problems as sign_problems

    document = heard()
    document["findings"][0]["answers"][0]["sign"] = {"spec": {"kind": kind}, "expects": features}
    found = sign_problems(CaseDocument.model_validate(document), shipped_catalogue())
    at = f"{ANSWER}.sign.expects"
    return [(one.path, one.message) for one in found if one.path.startswith(at)]


def test_a_feature_that_a_sign_of_this_kind_has_not_is_an_error():
    assert shipped_expects("breath-sound", {"sign": "wheeze", "phase": "expiratory"}) == []
    ((path, message),) = shipped_expects("breath-sound", {"radiation": "carotid"})
    assert path.endswith("radiation")
    assert "no feature of a sign of this kind" in message


def test_a_name_of_another_kind_is_an_error():
    ((_, message),) = shipped_expects("arterial-pulse", {"sign": "wheeze"})
    assert "wheeze is not a sign of this kind" in message


def test_every_family_of_a_kind_is_in_the_shipped_vocabulary():
    assert {one for names in FAMILIES.values() for one in names} == set(
        shipped_catalogue().vocabulary.families
    )
    assert families_of({"kind": "heart-sound"}) == ("heart-sound", "murmur")
    assert families_of({}) == ()


@pytest.mark.parametrize(
    "words",
    [
        "You hear a pansystolic murmur.",
        "A PANSYSTOLIC noise.",
        "It fills systole, grade 3.",
    ],
)
def test_words_that_give_the_name_away_are_warned_of(words):
    ((path, severity, message),) = says(words)
    assert (path, severity) == (f"{ANSWER}.says", "warning")
    assert "gives away" in message


@pytest.mark.parametrize(
    "words", ["Listen with care.", "You stand at the axilla.", "Of grade 30 or so."]
)
def test_neutral_words_and_the_place_listened_at_give_nothing_away(words):
    assert says(words) == []
