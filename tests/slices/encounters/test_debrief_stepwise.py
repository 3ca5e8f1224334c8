"""Belief against evidence step by step, and the words of marks and advice."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse

from casebank.domain.encounter.model import Request
from casebank.domain.marking.doing import technique
from casebank.encounters.actions import state_differential
from casebank.encounters.debriefing import debrief_of
from casebank.encounters.debriefing.building import replay_of
from casebank.encounters.debriefing.marks import domains_of
from casebank.encounters.models import Mark
from casebank.encounters.pdf.content import content_of
from casebank.encounters.queries import case_of, log_of
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.records import SHIPPED, played, shipped

pytestmark = pytest.mark.django_db
USUAL = Request("heart-auscultate")
RAW = re.compile(r">=|<=| \| |\w-\w+ or|posture |\bnot \w+-\w+")


@pytest.fixture
def ended(people, encounter):
    """A differential before anything was found, one after, and a diagnosis of one's own."""
    asked(encounter, CLEAN, by=people.student)
    early = {"mitral-regurgitation": 0.2, "aortic-stenosis": 0.3, "mitral-valve-prolapse": 0.4}
    known = case_of(encounter).catalogue.diagnoses
    state_differential(
        encounter_id=encounter.pk,
        probabilities={name: p for name, p in early.items() if name in known},
        by=people.student,
    )
    asked(encounter, WELL, by=people.student)
    return concluded(encounter, by=people.student, mitral_regurgitation=0.7)


# ---- step by step
def test_there_is_a_row_for_the_start_for_what_moved_it_and_for_each_differential(ended):
    rows = debrief_of(ended).steps.rows
    assert [(row.seq, bool(row.stated)) for row in rows] == [
        (0, False), (2, True), (3, False), (4, True)
    ]  # fmt: skip
    assert [row.seq for row in rows] == sorted(row.seq for row in rows)


def test_what_moved_nothing_is_counted_and_left_out(ended):
    assert debrief_of(ended).steps.still == 1  # the hands


def test_the_evidence_of_a_row_is_the_posterior_of_that_entry(ended):
    run = replay_of(ended, log_of(ended)).run
    steps = debrief_of(ended).steps
    posterior = {one.seq: one.posterior for one in run.supported}
    for row in steps.rows:
        seq = max(seq for seq in posterior if seq <= row.seq)
        assert row.supported == pytest.approx([100 * p for p in posterior[seq]])
        assert sum(row.supported) == pytest.approx(100)


def test_what_was_stated_stands_beside_the_evidence_seen_by_then(ended):
    steps = debrief_of(ended).steps
    place = steps.diagnoses.index("Mitral regurgitation")
    early, late = (row for row in steps.rows if row.stated)
    assert early.cells[place] == (pytest.approx(20), pytest.approx(steps.rows[0].supported[place]))
    assert late.cells[place] == (pytest.approx(70), pytest.approx(steps.rows[2].supported[place]))
    assert late.others == 0


def test_the_page_and_the_paper_show_the_same_steps(student, ended):
    page = student.get(reverse("encounters:debrief", args=[ended.pk])).content.decode()
    table = page[page.index('<table class="table table--roomy steps">') :]
    rows = table[: table.index("</table>")].count("<tr")
    assert rows - 1 == len(debrief_of(ended).steps.rows) == len(content_of(ended)["steps"]["rows"])
    assert "1 request moved none of these by half a per cent and is left out." in page


# ---- words
@pytest.mark.parametrize("name", SHIPPED)
def test_no_word_of_the_technique_mark_is_left_in_the_language_of_conditions(name):
    """The sentences are made by the mark: if those change, what puts them into words must too."""
    case = shipped(name)
    everything = [Request(item.step) for item in case.document.scheme.essential]
    points = technique(case, played(case, *everything)).points
    assert points
    raw = [
        {"words": p.words, "earned": p.earned, "possible": p.possible, "entries": []}
        for p in points
    ]
    result = {"domains": [{"domain": "technique", "score": 0, "weight": 1, "points": raw,
                           "note": ""}]}  # fmt: skip
    (domain,) = domains_of(case, result, {})
    for point in domain.points:
        assert ". Best: " in point.words
        assert not RAW.search(point.words), point.words


def test_the_stored_mark_keeps_its_words(student, people, encounter):
    asked(encounter, CLEAN, USUAL, by=people.student)
    ended = concluded(encounter, by=people.student)
    stored = Mark.objects.get(encounter=ended).result
    words = [p["words"] for d in stored["domains"] if d["domain"] == "technique"
             for p in d["points"]]  # fmt: skip
    assert any("best done with posture left-lateral" in one for one in words)
    page = student.get(reverse("encounters:debrief", args=[ended.pk])).content.decode()
    assert "posture left-lateral" not in page
    assert "Best: rolled onto the left side." in page


def test_what_to_practise_names_the_technique_of_the_step_that_lost_most(people, encounter):
    asked(encounter, CLEAN, Request("apex-palpate"), USUAL, by=people.student)
    debrief = debrief_of(concluded(encounter, by=people.student))
    assert debrief.practise == (
        "Listen to the heart: rolled onto the left side. It brings out what you did not get."
    )


def test_a_pair_is_a_sentence_with_its_reason(people, encounter):
    asked(encounter, USUAL, CLEAN, Request("apex-palpate"), by=people.student)
    (pair,) = debrief_of(concluded(encounter, by=people.student)).pairs
    assert re.fullmatch(r"“[^”]+” comes before “[^”]+”\. .+", pair.words)
