"""The grades given to a resolution say what a clinician colleague would."""

from __future__ import annotations

from tests.evaluation.entries import Phrasing, Wanted
from tests.evaluation.grading import grade

BELL = Wanted("auscultate-heart", {"site": "apex", "instrument": "bell"})
LEFT_CALF = Wanted("calf-tenderness", {"side": "left"})


def _text(*requests: Wanted, **others) -> Phrasing:
    return Phrasing("a text", requests, "kind", "batch", **others)


def _graded(phrasing: Phrasing, *given: Wanted):
    return grade(phrasing, "understood", list(given), [])


def test_the_step_and_every_slot_said_make_a_right_answer():
    got = _graded(_text(BELL), BELL)

    assert (got.step_right, got.technique_right, got.pairs) == (True, True, ())


def test_a_slot_that_nobody_said_makes_the_technique_wrong_but_not_the_step():
    invented = Wanted(BELL.step, {**BELL.technique, "posture": "supine"})
    got = _graded(_text(BELL), invented)

    assert (got.step_right, got.technique_right) == (True, False)


def test_a_slot_that_may_be_read_does_no_harm():
    lenient = Wanted(BELL.step, BELL.technique, {"posture": ("supine",)})

    supine = Wanted(BELL.step, {**BELL.technique, "posture": "supine"})
    assert _graded(_text(lenient), supine).technique_right
    assert _graded(_text(lenient), BELL).technique_right
    assert not _graded(
        _text(lenient), Wanted(BELL.step, {**BELL.technique, "posture": "standing"})
    ).technique_right


def test_the_other_side_is_wrong_and_a_missing_one_is_lost():
    wrong = _graded(_text(LEFT_CALF), Wanted(LEFT_CALF.step, {"side": "right"}))
    lost = _graded(_text(LEFT_CALF), Wanted(LEFT_CALF.step))

    assert (wrong.wrong_side, wrong.lost_side) == (True, False)
    assert (lost.wrong_side, lost.lost_side) == (False, True)


def test_a_side_nobody_said_is_wrong():
    assert _graded(_text(Wanted(LEFT_CALF.step)), LEFT_CALF).wrong_side


def test_a_follow_up_may_keep_what_stood_before_but_must_hold_what_was_said():
    follow = _text(Wanted(BELL.step, {"site": "aortic-area"}), after=BELL)

    assert _graded(follow, Wanted(BELL.step, {"site": "aortic-area"})).technique_right
    kept = Wanted(BELL.step, {"site": "aortic-area", "instrument": "bell"})
    assert _graded(follow, kept).technique_right
    assert not _graded(follow, BELL).technique_right


def test_a_missing_request_of_a_sentence_is_a_confusion_with_nothing():
    got = _graded(_text(BELL, LEFT_CALF), BELL)

    assert (got.step_right, got.pairs) == (False, ((LEFT_CALF.step, "(nothing)"),))


def test_a_request_too_many_is_wrong():
    got = _graded(_text(BELL), BELL, LEFT_CALF)

    assert (got.step_right, got.pairs) == (False, (("(nothing)", LEFT_CALF.step),))


def test_an_accepted_step_is_right():
    doubt = _text(BELL, ambiguous=True, accept=frozenset({BELL.step, "breath-sounds"}))

    assert _graded(doubt, Wanted("breath-sounds", BELL.technique)).step_right


def test_asking_back_is_no_answer_and_notes_whether_a_right_step_was_offered():
    fair = grade(_text(BELL), "ask back", [], [LEFT_CALF, BELL])
    unfair = grade(_text(BELL), "ask back", [], [LEFT_CALF])

    assert (fair.answered, fair.asked_back, fair.offered) == (False, True, True)
    assert not unfair.offered


def test_nonsense_that_is_answered_is_a_confusion():
    got = _graded(_text(), BELL)

    assert (got.answered, got.step_right, got.pairs) == (True, False, (("(nothing)", BELL.step),))


def test_nonsense_that_is_refused_is_rightly_so():
    assert grade(_text(), "not understood", [], []).not_understood
