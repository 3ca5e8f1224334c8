"""Asking for a report, the job that compiles it, and who may read it."""

from __future__ import annotations

import csv
import io

import pytest
from django.urls import reverse

from casebank.analytics import actions
from casebank.analytics.models import CohortReport
from casebank.core.models import Job
from casebank.demo.tasks import examine
from casebank.domain.rehearsal import Learner
from casebank.encounters.models import Entry
from tests.factories.people import person
from tests.slices.analytics.conftest import SIZE

pytestmark = pytest.mark.django_db


@pytest.fixture
def report(year):
    return actions.ask_for_report(cohort=year.cohort, by=year.people.tutor)


def test_the_job_compiles_what_the_log_holds(year, report, run_jobs):
    assert run_jobs() == 1
    report.refresh_from_db()
    case = report.result["cases"][0]
    done = Entry.objects.filter(
        kind="request", payload__step="heart-auscultate", payload__technique__site="apex"
    )
    did = done.values("encounter").distinct().count()
    step = case["steps"][0]
    assert case["n"] == SIZE
    if step["facility"]:
        assert step["facility"]["value"] == pytest.approx(did / SIZE)
        assert step["missed"] == SIZE - did
    else:
        assert min(did, SIZE - did) < 10
    assert Job.objects.get().state == "done"


def test_running_the_job_again_gives_the_same_numbers(year, report, run_jobs):
    run_jobs()
    first = CohortReport.objects.get().result
    late = person("Late Learner", "student")
    year.cohort.membership_set.create(user=late, role_id="student")
    examine(version=year.bed, learner=Learner(3, 99), by=late)
    CohortReport.objects.update(result=None)
    Job.objects.all().delete()
    report.refresh_from_db()
    again = Job.objects.create(
        kind=actions.KIND, arguments={"report": str(report.pk)}, owner=year.people.tutor
    )
    run_jobs()
    assert CohortReport.objects.get().result == first
    assert Job.objects.get(pk=again.pk).state == "done"


def test_the_page_shows_progress_then_the_report(client, year, report, run_jobs):
    client.force_login(year.people.tutor)
    url = reverse("analytics:report", args=[report.pk])
    assert "progress" in client.get(url).content.decode()
    run_jobs()
    page = client.get(url).content.decode()
    assert "Essential steps" in page
    assert "alpha" in page
    assert "Nothing to show yet" not in page  # what is hidden is said in the table, with its reason
    assert client.get(url, headers={"HX-Request": "true"}).headers["HX-Refresh"] == "true"


def test_the_csv_has_a_row_for_each_essential_step(client, year, report, run_jobs):
    run_jobs()
    client.force_login(year.people.tutor)
    answer = client.get(reverse("analytics:report-csv", args=[report.pk]))
    rows = list(csv.reader(io.StringIO(answer.content.decode())))
    assert rows[0][0] == "case"
    assert len(rows) == 1 + len(year.bed.document["scheme"]["essential"])


def test_a_cell_a_spreadsheet_would_take_for_a_formula_is_made_text():
    from casebank.analytics.presenting import csv_of

    case = {"title": "=1+1", "hidden": "Too few.", "n": None}
    assert "'=1+1" in csv_of({"cases": [case]})


def test_the_owner_can_cancel_before_it_runs(client, year, report, run_jobs):
    client.force_login(year.people.tutor)
    client.post(reverse("jobs:cancel", args=[report.job_id]))
    assert run_jobs() == 0
    assert Job.objects.get().state == "cancelled"
    page = client.get(reverse("analytics:report", args=[report.pk]))
    assert page.status_code == 200


@pytest.mark.parametrize(
    ("who", "page", "api"),
    [("tutor", 200, 200), ("coordinator", 200, 200), ("student", 404, 404), ("author", 404, 404)],
)
def test_who_reads_a_report(client, year, report, who, page, api):
    client.force_login(getattr(year.people, who))
    assert client.get(reverse("analytics:report", args=[report.pk])).status_code == page
    # Neither tells a refused object from a missing one.
    assert client.get(f"/api/v1/reports/{report.pk}").status_code == api


def test_another_cohorts_tutor_finds_nothing(client, year, report):
    client.force_login(person("Other Tutor", "tutor"))
    assert client.get(reverse("analytics:report", args=[report.pk])).status_code == 404
    assert client.post(reverse("analytics:ask", args=["year"])).status_code == 404
    assert client.get(f"/api/v1/reports/{report.pk}").status_code == 404


def test_the_api_asks_and_reads(client, year, run_jobs):
    client.force_login(year.people.coordinator)
    made = client.post("/api/v1/cohorts/year/reports")
    assert made.status_code == 202
    run_jobs()
    found = client.get(f"/api/v1/reports/{made.json()['id']}").json()
    assert found["state"] == "done"
    assert found["result"]["cases"][0]["n"] == SIZE
