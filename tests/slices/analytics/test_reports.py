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
from casebank.encounters.debriefing.actions import adjust
from casebank.encounters.models import Encounter, Entry, Mark
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


# ---- marks that a tutor adjusted


def adjusting(year, count, total=91.0):
    """The first ``count`` students' marks set to this total by the tutor; their computed totals."""
    ended = list(Encounter.objects.filter(concluded_at__isnull=False).order_by("pk")[:count])
    for encounter in ended:
        adjust(encounter=encounter, total=10, reason="Too low.", by=year.people.tutor)
        adjust(encounter=encounter, total=total, reason="Seen again.", by=year.people.tutor)
    return [Mark.objects.filter(encounter=one).latest("marking_version").total for one in ended]


def compiled(year, run_jobs):
    made = actions.ask_for_report(cohort=year.cohort, by=year.people.tutor)
    run_jobs()
    return CohortReport.objects.get(pk=made.pk)


def test_adjusted_marks_are_shown_beside_the_computed_mean(client, year, run_jobs):
    before = compiled(year, run_jobs).result["cases"][0]
    computed = adjusting(year, SIZE)
    report = compiled(year, run_jobs)
    case = report.result["cases"][0]
    assert case["mean"] == before["mean"]
    assert case["adjusted"]["n"] == SIZE
    assert case["adjusted"]["mean"] == case["adjusted"]["mean_of_all"] == 91
    assert case["adjusted"]["computed"] == pytest.approx(sum(computed) / SIZE, abs=0.01)
    client.force_login(year.people.tutor)
    page = client.get(reverse("analytics:report", args=[report.pk])).content.decode()
    assert "Marks adjusted by a tutor" in page
    assert "91.0" in page
    assert "Mean mark, as computed" in page


def test_a_few_adjusted_marks_leave_no_number_anywhere(client, year, run_jobs):
    adjusting(year, 3)
    report = compiled(year, run_jobs)
    assert report.result["cases"][0]["adjusted"] == {
        "bound": "fewer than 10", "n": None, "mean": None, "computed": None, "mean_of_all": None,
    }  # fmt: skip
    client.force_login(year.people.tutor)
    page = client.get(reverse("analytics:report", args=[report.pk])).content.decode()
    assert "fewer than 10: their mean is not shown" in page
    sheet = client.get(reverse("analytics:report-csv", args=[report.pk])).content.decode()
    assert [row[-4:] for row in csv.reader(io.StringIO(sheet))][1] == ["fewer than 10", "", "", ""]


def test_the_last_adjustment_counts_and_none_after_the_cutoff(year, run_jobs):
    adjusting(year, SIZE, total=40)
    report = compiled(year, run_jobs)
    for encounter in Encounter.objects.filter(concluded_at__isnull=False):
        adjust(encounter=encounter, total=100, reason="Later.", by=year.people.tutor)
    first = report.result
    actions.store_result(report_id=report.pk, result=None, by=None)
    Job.objects.all().delete()
    Job.objects.create(
        kind=actions.KIND, arguments={"report": str(report.pk)}, owner=year.people.tutor
    )
    run_jobs()
    report.refresh_from_db()
    assert report.result == first
    assert report.result["cases"][0]["adjusted"]["mean"] == 40


def test_the_csv_has_the_means_on_every_row(client, year, run_jobs):
    adjusting(year, SIZE)
    report = compiled(year, run_jobs)
    client.force_login(year.people.tutor)
    sheet = client.get(reverse("analytics:report-csv", args=[report.pk])).content.decode()
    head, *rows = csv.reader(io.StringIO(sheet))
    assert head[-4:-2] == ["marks adjusted by a tutor", "their mean as adjusted"]
    assert {tuple(row[-4:-2]) for row in rows} == {(str(SIZE), "91.0")}


def test_a_report_compiled_before_such_marks_were_counted_is_still_shown(client, year, run_jobs):
    report = compiled(year, run_jobs)
    del report.result["cases"][0]["adjusted"]
    report.save()
    client.force_login(year.people.tutor)
    page = client.get(reverse("analytics:report", args=[report.pk])).content.decode()
    assert "Marks adjusted by a tutor" not in page
    assert client.get(reverse("analytics:report-csv", args=[report.pk])).status_code == 200
