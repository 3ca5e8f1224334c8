"""The author's pages and API of rehearsals."""

from __future__ import annotations

import pytest
from django.urls import reverse

from casebank.cases.actions import save_draft
from casebank.core.models import Job
from casebank.rehearsals.actions import rehearse
from casebank.rehearsals.models import Rehearsal
from casebank.rehearsals.presenting import SIMULATED
from tests.factories.browser import signed_in
from tests.factories.cases import draft, published, small_document

pytestmark = pytest.mark.django_db


def start_of(version):
    return reverse("rehearsals:start", args=[version.pk])


def api_of(version):
    return f"/api/v1/cases/{version.case_id}/versions/{version.number}/rehearsals"


def test_from_the_cases_page_to_the_result(people, version, run_jobs):
    browser = signed_in(people.author)
    page = browser.get(reverse("cases:version", args=[version.pk])).content.decode()
    assert start_of(version) in page
    url = browser.post(start_of(version)).headers["Location"]
    waiting = browser.get(url).content.decode()
    assert "Cancel it" in waiting
    assert SIMULATED in waiting
    assert browser.get(url, headers={"HX-Request": "true"}).content.decode().startswith("<div")
    run_jobs()
    assert browser.get(url, headers={"HX-Request": "true"}).headers["HX-Refresh"] == "true"
    page = browser.get(url).content.decode()
    for words in (
        SIMULATED, "How each kind fared", "Can the differential be told apart?",
        "Findings nobody reached", "No essential step was missed by all.", "Surcharges", "Minutes",
        "the evidence supports Mitral regurgitation 90\N{NO-BREAK SPACE}%",
    ):  # fmt: skip
        assert words in page
    assert page.index(SIMULATED) < page.index("How each kind fared")
    assert url in browser.get(reverse("cases:version", args=[version.pk])).content.decode()


def test_two_clicks_lead_to_the_same_page(people, version):
    browser = signed_in(people.author)
    first, second = (browser.post(start_of(version)).headers["Location"] for _ in range(2))
    assert first == second
    assert Job.objects.count() == 1


def test_a_text_changed_since_is_said_and_can_be_rehearsed(people, version, run_jobs):
    found = rehearse(version=version, by=people.author)
    run_jobs()
    browser, url = signed_in(people.author), reverse("rehearsals:rehearsal", args=[found.pk])
    assert "has changed since" not in browser.get(url).content.decode()
    save_draft(
        version=version, document=small_document(title="New"), lock=version.lock, by=people.author
    )
    page = browser.get(url).content.decode()
    assert "has changed since" in page
    assert start_of(version) in page


def test_cancelled_and_failed_rehearsals_say_so_and_offer_another(people, version):
    found = rehearse(version=version, by=people.author)
    browser, url = signed_in(people.author), reverse("rehearsals:rehearsal", args=[found.pk])
    browser.post(reverse("jobs:cancel", args=[found.job_id]))
    page = browser.get(url).content.decode()
    assert "was cancelled" in page
    assert "Rehearse again" in page
    assert "every 2s" not in page
    Job.objects.filter(pk=found.job_id).delete()
    assert browser.get(url).status_code == 200


def test_a_case_with_errors_cannot_be_rehearsed_from_its_page(people):
    broken = draft(people.author, truth=["no-such"])
    browser = signed_in(people.author)
    page = browser.get(reverse("cases:version", args=[broken.pk])).content.decode()
    assert "once the case check finds no errors" in page
    answer = browser.post(start_of(broken), follow=True)
    assert "The case check finds" in answer.content.decode()
    assert not Rehearsal.objects.exists()


def test_a_published_case_leads_to_its_figures_instead(people):
    shown = published(people.author, people.reviewer)
    page = signed_in(people.author).get(reverse("cases:version", args=[shown.pk])).content.decode()
    assert "Rehearse it" not in page
    assert reverse("own-cases:figures", args=[shown.pk]) in page


@pytest.mark.parametrize("who", ["other_author", "reviewer", "tutor", "student", "coordinator"])
def test_others_find_nothing(people, version, who, run_jobs):
    found = rehearse(version=version, by=people.author)
    run_jobs()
    browser = signed_in(getattr(people, who))
    assert browser.post(start_of(version)).status_code == 404
    assert browser.get(reverse("rehearsals:rehearsal", args=[found.pk])).status_code == 404
    assert browser.post(api_of(version)).status_code == 404
    assert browser.get(f"/api/v1/rehearsals/{found.pk}").status_code == 404
    assert Rehearsal.objects.count() == 1


def test_the_api_starts_once_a_key_and_reads(people, version, run_jobs):
    browser, key = signed_in(people.author), {"Idempotency-Key": "k-1"}
    made = browser.post(api_of(version), headers=key)
    assert made.status_code == 202
    assert made.json()["state"] == "queued"
    assert made.json()["note"] == SIMULATED
    assert browser.post(api_of(version), headers=key).json()["id"] == made.json()["id"]
    run_jobs()
    read = browser.get(f"/api/v1/rehearsals/{made.json()['id']}").json()
    assert read["state"] == "done"
    assert read["result"]["learners"] == 120


def test_one_key_gives_the_same_rehearsal_for_ever(people, version):
    browser = signed_in(people.author)

    def asked(key):
        return browser.post(api_of(version), headers={"Idempotency-Key": key}).json()["id"]

    first = asked("a")
    assert asked("b") == first
    version.refresh_from_db()
    words = small_document(title="Other words")
    save_draft(version=version, document=words, lock=version.lock, by=people.author)
    assert asked("a") == first
    assert asked("b") == first
    assert asked("c") != first


def test_the_api_says_why_not(people):
    browser = signed_in(people.author)
    broken = browser.post(api_of(draft(people.author, truth=["no-such"])))
    assert broken.status_code == 422
    assert broken.json()["type"] == "urn:casebank:problem:not-fit"
    assert broken.json()["errors"]
    shown = published(people.author, people.reviewer, slug="shown", title="Shown")
    assert browser.post(api_of(shown)).status_code == 409
