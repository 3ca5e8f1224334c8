"""One's own progress and one's own record."""

from __future__ import annotations

import csv
import io
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from casebank.domain.encounter.model import Request
from casebank.encounters.actions import begin
from casebank.encounters.debriefing.actions import adjust, comment
from casebank.encounters.models import Encounter
from casebank.encounters.progress import progress_of
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
PROGRESS = "encounters:progress"


@pytest.fixture
def version(encounter):
    return encounter.version


def an_encounter(version, by, *requests, **stated):
    encounter = begin(version=version, by=by)
    if requests:
        asked(encounter, *requests, by=by)
    return concluded(encounter, by=by, **stated)


def today():
    return timezone.localdate()


def test_nothing_concluded_says_what_to_do(student, encounter):
    page = student.get(reverse(PROGRESS)).content.decode()
    assert "Nothing concluded yet" in page
    assert reverse("encounters:patients") in page


def test_marks_gather_by_encounter_domain_and_system(people, version):
    an_encounter(version, people.student, CLEAN, WELL)
    an_encounter(version, people.student, CLEAN)
    found = progress_of(people.student, today())
    assert [round(row.total) for row in found.rows] == sorted(
        (round(row.total) for row in found.rows), reverse=True
    )
    coverage = found.domains[0]
    assert (coverage.count, coverage.mean, coverage.last) == (2, 50, 0)
    (system,) = found.systems
    assert (system.system, system.done, system.wanted) == ("cardiovascular", 1, 2)
    # Wilson 95 % for 1 of 2 is 9.5 to 90.5 % (statsmodels proportion_confint, method wilson).
    assert (system.low, system.high) == (
        pytest.approx(9.45, abs=0.1),
        pytest.approx(90.55, abs=0.1),
    )


def test_a_missed_step_is_practised_tomorrow_and_one_done_well_is_not_listed(people, version):
    an_encounter(version, people.student, CLEAN, WELL)
    assert progress_of(people.student, today()).practices == ()
    an_encounter(version, people.student, CLEAN)
    (practice,) = progress_of(people.student, today()).practices
    assert (practice.label, practice.missed, practice.wanted) == ("Listen to the heart", 1, 2)
    assert practice.when == "in 1 day"
    (later,) = progress_of(people.student, today() + timedelta(days=1)).practices
    assert later.is_due
    assert later.when == "due today"
    (late,) = progress_of(people.student, today() + timedelta(days=4)).practices
    assert late.when == "3 days overdue"


def test_a_step_done_without_its_technique_comes_back_too(people, version):
    an_encounter(version, people.student, CLEAN, Request("heart-auscultate"))
    (practice,) = progress_of(people.student, today()).practices
    assert practice.missed == 0


def test_below_twenty_forecasts_there_is_only_the_score_and_the_bias(student, people, version):
    for _ in range(9):
        an_encounter(version, people.student, mitral_regurgitation=0.9)
    found = progress_of(people.student, today())
    assert found.calibration.count == 18
    assert found.calibration.parts.brier == pytest.approx((0.1**2 + 0) / 2)
    assert found.calibration_chart is None
    assert "appears from 20 forecasts" in student.get(reverse(PROGRESS)).content.decode()
    an_encounter(version, people.student, aortic_stenosis=1.0)
    page = student.get(reverse(PROGRESS)).content.decode()
    assert 'id="calibration-title"' in page
    assert "95 % interval" in page
    assert "ranges are thin" in page


def test_only_ones_own_encounters_count(client, people, version):
    an_encounter(version, people.student, CLEAN, WELL)
    assert progress_of(people.tutor, today()).rows == ()
    client.force_login(people.tutor)
    assert "Nothing concluded yet" in client.get(reverse(PROGRESS)).content.decode()
    for name in ("record-json", "record-csv"):
        assert "Breathless" not in client.get(reverse(f"encounters:{name}")).content.decode()


def test_the_page_reads_a_fixed_number_of_times(
    student, people, version, django_assert_max_num_queries
):
    for _ in range(3):
        an_encounter(version, people.student, CLEAN, WELL)
    with django_assert_max_num_queries(9):
        student.get(reverse(PROGRESS))


def test_older_encounters_than_the_page_holds_are_counted(people, version, monkeypatch):
    from casebank.encounters.progress import queries

    monkeypatch.setattr(queries, "MOST_ENCOUNTERS", 2)
    for _ in range(3):
        an_encounter(version, people.student, CLEAN)
    found = progress_of(people.student, today())
    assert (len(found.rows), found.left_out) == (2, 1)


def test_the_record_holds_everything_of_ones_own_and_nothing_hidden(student, people, version):
    cohort_of("first", tutors=[people.tutor], students=[people.student])
    ended = an_encounter(version, people.student, CLEAN, WELL)
    comment(encounter=ended, text="Good.", by=people.tutor)
    adjust(encounter=ended, total=70, reason="Because.", by=people.tutor)
    opened = begin(version=version, by=people.student)
    asked(opened, WELL, by=people.student)
    record = student.get(reverse("encounters:record-json")).json()
    assert record["caution"].startswith("For teaching")
    first, second = record["encounters"]
    assert [entry["kind"] for entry in first["entries"]] == ["request", "request", "conclusion"]
    assert first["marks"][0]["total"] > 0
    assert first["comments"][0]["text"] == "Good."
    assert first["adjustments"][0]["total"] == 70
    assert (second["concluded"], second["marks"]) == (None, [])
    hidden = student.get(reverse("encounters:record-json")).content.decode()
    assert '"outcome"' not in hidden
    assert "murmur" not in str(second).lower()


def test_the_csv_has_a_line_an_encounter_and_no_formula(student, people, version):
    ended = an_encounter(version, people.student, CLEAN, WELL)
    from casebank.encounters.progress.export import _safe

    assert _safe("=1+1") == "'=1+1"
    text = student.get(reverse("encounters:record-csv")).content.decode()
    header, row = csv.reader(io.StringIO(text))
    assert len(header) == len(row)
    assert row[header.index("mark")] == str(ended.marks.get().total)
    assert row[header.index("coverage")] == "100.0"


def test_the_record_reads_a_fixed_number_of_times(
    student, people, version, django_assert_max_num_queries
):
    for _ in range(3):
        an_encounter(version, people.student, CLEAN)
    assert Encounter.objects.count() == 3
    with django_assert_max_num_queries(10):
        student.get(reverse("encounters:record-json"))
    with django_assert_max_num_queries(7):
        student.get(reverse("encounters:record-csv"))


def test_strangers_and_coordinators_have_no_progress(client, people):
    assert client.get(reverse(PROGRESS)).status_code == 302
    client.force_login(people.coordinator)
    assert client.get(reverse(PROGRESS)).status_code == 403


def test_the_list_of_patients_leads_here(student, encounter):
    page = student.get(reverse("encounters:patients")).content.decode()
    assert reverse(PROGRESS) in page
    assert reverse("encounters:concluded") not in page
