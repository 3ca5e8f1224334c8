"""What an author sees of how students fared with an own case."""

from __future__ import annotations

import pytest
from django.urls import reverse

from accounts import actions as people_actions
from casebank.analytics.own_cases.figures import figures_of, shown_encounters
from casebank.analytics.own_cases.queries import Attempts, attempts
from casebank.demo.tasks import examine
from casebank.domain.rehearsal import Learner
from casebank.encounters.actions import begin
from casebank.encounters.models import Mark
from tests.factories.browser import signed_in
from tests.factories.cases import draft
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.people import person
from tests.slices.analytics.conftest import SIZE, small_year

pytestmark = pytest.mark.django_db


def page_of(version):
    return reverse("own-cases:figures", args=[version.pk])


def join(year, user, slug):
    from accounts.models import Cohort

    cohort = Cohort.objects.filter(slug=slug).first() or people_actions.create_cohort(
        slug=slug, name=slug, by=None
    )
    people_actions.join_cohort(cohort=cohort, user=user, role="student", by=None)


def test_cohorts_are_pooled_and_a_person_in_two_counts_once(year):
    twice = year.cohort.membership_set.filter(role_id="student")[0].user
    join(year, twice, "evening")
    late = person("Late Learner", "student")
    join(year, late, "evening")
    examine(version=year.bed, learner=Learner(1, 99), by=late)
    found = figures_of(year.bed.pk)
    assert found["n"] == found["encounters"] == SIZE + 1
    totals = Mark.objects.values_list("total", flat=True)
    assert found["mean"] == pytest.approx(sum(totals) / (SIZE + 1), abs=0.005)
    assert sum(band["persons"] for band in found["bands"]) == SIZE + 1
    assert min(band["persons"] for band in found["bands"]) >= found["floor"]


def test_only_students_of_a_cohort_count_and_never_the_author(year):
    join(year, year.people.author, "evening")
    for user in (year.people.author, year.people.reviewer):
        examine(version=year.bed, learner=Learner(1, 5), by=user)
    assert figures_of(year.bed.pk)["n"] == SIZE


def test_only_the_first_attempt_is_figured(year):
    before = figures_of(year.bed.pk)
    student = year.cohort.membership_set.filter(role_id="student")[0].user
    again = asked(begin(version=year.bed, by=student), CLEAN, WELL, by=student)
    concluded(again, by=student)
    after = figures_of(year.bed.pk)
    assert after["encounters"] is None  # one student did it again: too few to tell
    assert {**after, "encounters": SIZE} == before
    assert attempts(year.bed.pk) == Attempts(SIZE, SIZE + 1, 1)


@pytest.mark.parametrize(
    ("found", "shown"),
    [
        (Attempts(30, 30, 0), 30),
        (Attempts(30, 33, 3), None),
        (Attempts(30, 45, 15), 45),
        (Attempts(30, 60, 25), None),
        (Attempts(30, 60, 30), 60),
    ],
)
def test_encounters_are_hidden_where_they_tell_of_a_few(found, shown):
    assert shown_encounters(found, 10) == shown


def test_with_few_students_nothing_is_shown(client):
    year = small_year(9)
    assert figures_of(year.bed.pk)["n"] is None
    client.force_login(year.people.author)
    page = client.get(page_of(year.bed)).content.decode()
    assert "Fewer than 10 students have concluded this patient" in page
    assert "Facility" not in page


def test_a_case_nobody_has_concluded_says_so(client):
    year = small_year(0)
    client.force_login(year.people.author)
    assert "Fewer than 10" in client.get(page_of(year.bed)).content.decode()


def test_the_author_reads_the_page_and_the_api(client, year):
    client.force_login(year.people.author)
    page = client.get(page_of(year.bed)).content.decode()
    for words in ("How students fared with", "Facility", "Students by their mark", "Charges"):
        assert words in page
    case, number = year.bed.case_id, year.bed.number
    told = client.get(f"/api/v1/cases/{case}/versions/{number}/figures").json()
    assert told["n"] == SIZE
    assert told["bands"]


@pytest.mark.parametrize("who", ["other_author", "reviewer", "tutor", "student", "coordinator"])
def test_others_find_nothing(year, who):
    browser = signed_in(getattr(year.people, who))
    assert browser.get(page_of(year.bed)).status_code == 404
    case = year.bed.case_id
    assert browser.get(f"/api/v1/cases/{case}/versions/1/figures").status_code == 404


def test_a_draft_has_no_figures(year):
    own = draft(year.people.author, slug="draft", title="Draft")
    assert signed_in(year.people.author).get(page_of(own)).status_code == 404
