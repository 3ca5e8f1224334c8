"""How a sign is found, and which signs a technique missed."""

from casebank.domain.debrief.signs import ONLY_PERCEIVED, deciding_sign, overlooked, shown_by
from casebank.domain.debrief.wording import condition_words, technique_meeting, technique_words
from casebank.domain.encounter.model import Request
from casebank.domain.encounter.reveal import answer_of
from tests.factories.heard import golden_case
from tests.factories.records import SHIPPED, played, shipped, small

WELL = Request("heart-auscultate", {"site": "apex", "posture": "left-lateral"})


def finding(case, name):
    return next(one for one in case.document.findings if one.id == name)


def test_the_deciding_technique_gets_the_clearest_answer():
    case = small()
    sign = deciding_sign(case, finding(case, "murmur"))
    assert sign.technique == {"site": "apex", "posture": "left-lateral"}
    assert sign.says == "A blowing sound through systole."


def test_every_deciding_technique_of_the_shipped_cases_gets_what_it_promises():
    for name in SHIPPED:
        case = shipped(name)
        for one in case.document.findings:
            sign = deciding_sign(case, one)
            assert sign is not None, one.id
            got = answer_of(case, one, sign.technique)
            assert (shown_by(got), got.outcome) == (sign.says, sign.outcome)


def test_a_sign_given_without_words_says_so_and_brings_its_parameters():
    case = golden_case("heard")
    sign = deciding_sign(case, finding(case, "third"))
    assert answer_of(case, finding(case, "third"), sign.technique).says == ""
    assert sign.says == ONLY_PERCEIVED
    assert sign.spec["kind"] == "heart-sound"


def test_a_sign_told_in_words_has_nothing_to_render():
    assert deciding_sign(small(), finding(small(), "murmur")).spec is None


def test_a_sign_listened_for_the_usual_way_is_overlooked_and_side_by_side():
    (missed,) = overlooked(small(), played(small(), "heart-auscultate"))
    assert missed.seq == 1
    assert missed.used["posture"] == "supine"
    assert missed.sign.technique["posture"] == "left-lateral"


def test_a_sign_got_later_is_not_overlooked():
    assert overlooked(small(), played(small(), "heart-auscultate", WELL)) == ()
    assert overlooked(small(), played(small(), WELL, "heart-auscultate")) == ()


def test_a_step_never_done_overlooks_nothing():
    assert overlooked(small(), played(small(), "hand-hygiene")) == ()


def test_conditions_are_said_in_the_words_of_the_catalogue():
    catalogue = small().catalogue
    words = condition_words(
        {"site": "apex | axilla", "posture": "not supine", "effort": ">= firm"}, catalogue
    )
    assert words == ("the apex or the axilla", "not lying flat", "firm pressure or more")
    assert condition_words({"site": "*"}, catalogue) == ()


def test_a_technique_that_meets_conditions_keeps_the_defaults_elsewhere():
    case = small()
    step = case.catalogue.steps["heart-auscultate"]
    found = technique_meeting(step, {"posture": "not supine"}, case.catalogue)
    assert found == {"site": "apex", "posture": "left-lateral"}
    assert technique_words(step, found, case.catalogue) == ("the apex", "rolled onto the left side")


def test_conditions_no_technique_meets_give_none():
    case = small()
    step = case.catalogue.steps["apex-palpate"]
    assert technique_meeting(step, {"site": "apex"}, case.catalogue) is None
