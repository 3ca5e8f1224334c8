"""What the debrief says, and that every point leads to its entry and back."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from casebank.domain.encounter.model import Request
from casebank.encounters.actions import read_finding
from casebank.encounters.debriefing import debrief_of
from casebank.encounters.debriefing.actions import EntryMissingError, comment
from casebank.encounters.debriefing.building import debrief_from, replay_of
from casebank.encounters.debriefing.links import links_of
from casebank.encounters.models import Entry
from casebank.encounters.pdf.content import content_of
from casebank.encounters.queries import log_of
from tests.factories.cases import published
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.heard import APEX, FULL_WORDS, heard_begun
from tests.factories.heard import CLEAN as HEARD_CLEAN
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
USUAL = Request("heart-auscultate")
FIRM = Request("apex-palpate", {"effort": "firm"})


def debrief_page(client, encounter):
    return client.get(reverse("encounters:debrief", args=[encounter.pk])).content.decode()


@pytest.fixture
def thorough(people, encounter):
    """Everything that can be said about: repeated, sign overlooked, order broken."""
    asked(encounter, USUAL, CLEAN, CLEAN, FIRM, by=people.student)
    return concluded(encounter, by=people.student, aortic_stenosis=0.8, mitral_regurgitation=0.1)


def test_the_page_answers_first_what_it_was_and_what_the_mark_is(student, thorough):
    page = debrief_page(student, thorough)
    main = page[page.index("<main") :]
    assert main.index("Mitral regurgitation") < main.index("<h2")
    assert main.index("answer__total") < main.index("<h2")
    assert main.index("Practise next") < main.index("<h2")


def test_no_heading_stands_twice(student, thorough):
    found = re.findall(r"<h2[^>]*>(.*?)</h2>", debrief_page(student, thorough), re.S)
    assert len(found) == len(set(found)) >= 7


def test_every_link_within_the_page_leads_to_something(student, thorough):
    page = debrief_page(student, thorough)
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', page)) <= set(ids)


def test_points_lead_to_entries_and_entries_lead_back(thorough):
    links = links_of(debrief_of(thorough))
    words = {seq: {word for _, word in found} for seq, found in links.items()}
    assert {"coverage", "technique beside", "order"} <= words[1]
    assert "surcharge" in words[3]
    assert "what it told" in words[4]


def test_a_sign_listened_for_the_usual_way_stands_beside_how_it_is_found(student, thorough):
    (beside,) = debrief_of(thorough).side_by_side
    assert beside.used == ("lying flat",)
    assert beside.sign.technique == ("rolled onto the left side",)
    assert "A blowing sound through systole." in debrief_page(student, thorough)


def test_a_step_not_done_says_when_it_was_due_and_what_it_would_have_told(people, encounter):
    asked(encounter, CLEAN, by=people.student)
    (missed,) = debrief_of(concluded(encounter, by=people.student)).missed
    assert (missed.minute, missed.after_seq) == (0.5, 1)
    assert missed.bits == pytest.approx(0.3, abs=0.1)
    assert missed.found[0].technique == ("rolled onto the left side",)


def test_a_surcharge_comes_with_its_arithmetic(thorough):
    (group,) = debrief_of(thorough).surcharges
    assert (group.reason, [item.seq for item in group.items]) == ("repeat", [3])
    assert group.surcharge == group.price == pytest.approx(thorough.surcharge)


def test_what_was_not_needed_says_the_bits_it_was_worth(student, people, encounter):
    asked(encounter, FIRM, WELL, by=people.student)
    asked(encounter, Request("apex-palpate", {"effort": "light"}), by=people.student)
    ended = concluded(encounter, by=people.student)
    (group,) = debrief_of(ended).surcharges
    (item,) = group.items
    assert (item.reason, item.bits) == ("unneeded", 0)
    assert "Expected to add 0.000 bit, below 0.05" in debrief_page(student, ended)


def test_the_same_reason_in_the_same_words_is_one_row(people, encounter):
    asked(encounter, CLEAN, CLEAN, CLEAN, by=people.student)
    debrief = debrief_of(concluded(encounter, by=people.student))
    assert sum(len(group.items) for group in debrief.surcharges) == 2
    assert len({(group.reason, group.words) for group in debrief.surcharges}) == len(
        debrief.surcharges
    )


def test_a_broken_pair_points_back(thorough):
    (pair,) = debrief_of(thorough).pairs
    assert (pair.before_seq, pair.after_seq, pair.is_kept) == (2, 1, False)


def test_the_differential_stands_beside_the_evidence_and_says_it_has_no_interval(
    student, people, encounter
):
    asked(encounter, CLEAN, WELL, by=people.student)
    ended = concluded(encounter, by=people.student)
    debrief = debrief_of(ended)
    belief = debrief.beliefs[0]
    assert (belief.label, belief.prior) == ("Mitral regurgitation", pytest.approx(62.5))
    assert (belief.stated, belief.supported) == (pytest.approx(90), pytest.approx(90))
    assert debrief.without_interval == ("Murmur through systole",)
    assert "is not known" in debrief_page(student, ended)


def test_intervals_are_shown_where_the_document_has_them(client, people):
    from casebank.encounters.actions import begin
    from tests.factories.cases import SMALL_DOCUMENT

    findings = [dict(one) for one in SMALL_DOCUMENT["findings"]]
    evidence = findings[0]["evidence"]
    ratios = {**evidence["ratios"], "positive_interval": [3.0, 9.72]}
    findings[0] = {**findings[0], "evidence": {**evidence, "ratios": ratios}}
    version = published(people.author, people.reviewer, findings=findings)
    encounter = begin(version=version, by=people.student)
    asked(encounter, WELL, by=people.student)
    ended = concluded(encounter, by=people.student)
    belief = debrief_of(ended).beliefs[0]
    assert belief.low < belief.supported < belief.high
    client.force_login(people.student)
    assert "95 % interval" in debrief_page(client, ended)


def debrief_of_changed(client, people, *requests, evidence, **changes):
    """The debrief, and its page in words, of the small case with other evidence for the murmur."""
    from casebank.encounters.actions import begin
    from tests.factories.cases import small_document

    findings = small_document()["findings"]
    findings[0]["evidence"] = {**findings[0]["evidence"], **evidence}
    for one in changes.get("together", ()):
        for row, chance in zip(findings[1]["evidence"]["table"], (0.6, 0.4), strict=True):
            row["given"][one["id"]] = chance
    version = published(people.author, people.reviewer, findings=findings, **changes)
    encounter = asked(begin(version=version, by=people.student), *requests, by=people.student)
    ended = concluded(encounter, by=people.student)
    client.force_login(people.student)
    page = re.sub(r"\s+", " ", debrief_page(client, ended))
    return debrief_of(ended), page, content_of(ended)


PUBLISHED = {"targets": ["mitral-regurgitation"], "positive": 5.4, "negative": 0.28,
             "positive_interval": [3.0, 9.72]}  # fmt: skip


def test_a_finding_without_an_interval_is_named_as_taken_for_exact(client, people):
    debrief, page, printed = debrief_of_changed(
        client, people, WELL, FIRM, evidence={"ratios": PUBLISHED}
    )
    assert debrief.beliefs[0].low < debrief.beliefs[0].supported < debrief.beliefs[0].high
    (exact,) = debrief.without_interval
    assert f"The case gives no interval for {exact}. Those numbers were taken as exact" in page
    assert {one.label: one.certainty for one in debrief.evidence} == {
        "Murmur through systole": "interval known",
        exact: "taken as exact",
    }
    assert (printed["has_intervals"], printed["exact"]) == (True, [exact])


def test_accuracy_presentation_and_assumption_reach_the_page(client, people):
    accuracy = {"targets": ["mitral-regurgitation"], "sensitivity": 0.9, "specificity": 0.75}
    whom = {"complaint": "tired on the hill", "setting": "a surgery", "source": "illustrative"}
    assumed = "Alike in mild and severe disease."
    debrief, page, printed = debrief_of_changed(
        client, people, WELL, presentation=whom,
        evidence={"ratios": None, "accuracy": accuracy, "assumed": assumed},
    )  # fmt: skip
    # Present: 0.625 x 0.9 against 0.375 x 0.25.
    assert debrief.beliefs[0].supported == pytest.approx(100 * 0.5625 / 0.65625)
    assert "of people who come like this: tired on the hill; a surgery (illustrative)" in page
    assert assumed in page
    assert printed["presentation"] == "tired on the hill; a surgery (illustrative)"
    assert printed["evidence"][0]["assumed"] == assumed


def test_two_diseases_at_once_share_their_percentage_and_the_page_says_so(client, people):
    hypotheses = [
        {"diagnosis": "mitral-regurgitation", "prior": 0.3},
        {"diagnosis": "aortic-stenosis", "prior": 0.5},
    ]
    both = {"id": "both", "diagnoses": ["mitral-regurgitation", "aortic-stenosis"], "prior": 0.2}
    debrief, page, _ = debrief_of_changed(
        client, people, WELL, evidence={"ratios": PUBLISHED, "assumed": "Both count as leaking."},
        hypotheses=hypotheses, together=[both], truth=["mitral-regurgitation", "aortic-stenosis"],
    )  # fmt: skip
    priors = {one.label: one.prior for one in debrief.beliefs}
    assert priors == pytest.approx({"Mitral regurgitation": 40, "Aortic stenosis": 60})
    # Odds 0.5 x 5.4 to 0.5, of which two fifths are both at once.
    share = 100 * 2.7 / 3.2
    assert debrief.beliefs[0].supported == pytest.approx(share * (0.6 + 0.4 / 2))
    assert "Counted as possible at once: Mitral regurgitation with Aortic stenosis" in page


def test_the_most_useful_next_step_is_one_that_was_not_done(people, encounter):
    asked(encounter, CLEAN, WELL, by=people.student)
    (step,) = debrief_of(concluded(encounter, by=people.student)).next_steps
    assert step.label == "Feel the apex beat"
    assert step.technique == ("firm pressure",)


def test_two_differentials_are_drawn_and_one_is_not(student, people, encounter):
    from casebank.encounters.actions import state_differential

    asked(encounter, WELL, by=people.student)
    state_differential(
        encounter_id=encounter.pk, probabilities={"aortic-stenosis": 0.5}, by=people.student
    )
    ended = concluded(encounter, by=people.student)
    page = debrief_page(student, ended)
    assert 'id="belief-stated-title"' in page
    assert 'id="belief-supported-title"' in page


def test_an_empty_encounter_has_a_debrief(student, people, encounter):
    page = debrief_page(student, concluded(encounter, by=people.student))
    assert "Listen to the heart" in page
    assert "State it as you go" in page


def test_an_entry_of_a_kind_unknown_here_is_passed_over(people, encounter):
    asked(encounter, WELL, by=people.student)
    ended = concluded(encounter, by=people.student)
    log = log_of(ended)
    odd = [type(log[0])(99, "a-later-kind", {"minute": 2.0})]
    assert debrief_from(ended, replay_of(ended, log + odd)).total == debrief_of(ended).total


def test_a_debrief_reads_a_fixed_number_of_rows_sets(
    student, thorough, django_assert_max_num_queries
):
    debrief_page(student, thorough)
    with django_assert_max_num_queries(9):
        debrief_page(student, thorough)
    assert Entry.objects.count() == 5


def test_the_old_fields_of_the_api_stand_and_new_ones_join_them(student, thorough):
    data = student.get(f"/api/v1/encounters/{thorough.pk}/debrief").json()
    old = {"total", "capped_at", "marking_version", "truth", "domains", "differential", "missed",
           "teaching", "entries", "caution"}  # fmt: skip
    new = {"strength", "practise", "technique", "surcharges", "order", "evidence", "next_steps",
           "trajectory", "hypotheses", "comments", "adjustments", "without_interval",
           "presentation", "together", "steps"}  # fmt: skip
    assert old | new == set(data)
    assert sum(data["trajectory"][-1]["posterior"]) == pytest.approx(1)


def test_a_point_about_a_reading_leads_to_the_row_it_is_shown_with(client, people):
    begun = asked(heard_begun(people), HEARD_CLEAN, APEX, by=people.student)
    read_finding(encounter_id=begun.pk, entry=2, medium=0, text=FULL_WORDS, by=people.student)
    ended = concluded(begun, by=people.student)
    domain = next(one for one in debrief_of(ended).domains if one.slug == "interpretation")
    assert domain.points
    assert {seq for point in domain.points for seq in point.entries} == {2}
    client.force_login(people.student)
    page = debrief_page(client, ended)
    ids = set(re.findall(r'\bid="([^"]+)"', page))
    assert set(re.findall(r'href="#([^"]+)"', page)) <= ids
    assert "<audio" in page


def test_a_reading_has_no_row_to_comment_on(people):
    cohort_of("first", tutors=[people.tutor], students=[people.student])
    begun = asked(heard_begun(people), HEARD_CLEAN, APEX, by=people.student)
    read_finding(encounter_id=begun.pk, entry=2, medium=0, text=FULL_WORDS, by=people.student)
    ended = concluded(begun, by=people.student)
    with pytest.raises(EntryMissingError):
        comment(encounter=ended, text="Good.", entry_seq=3, by=people.tutor)
    assert comment(encounter=ended, text="Good.", entry_seq=2, by=people.tutor).entry_seq == 2
