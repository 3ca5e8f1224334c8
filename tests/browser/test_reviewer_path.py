"""The pages of reviewers, authors, tutors and coordinators, sound by day and by night."""

from __future__ import annotations

import pytest
from django.conf import settings
from django.urls import reverse

from accounts.actions import join_cohort
from casebank.analytics.actions import ask_for_report
from casebank.cases.models import CaseVersion
from casebank.cases.sections import SECTIONS
from casebank.encounters.actions import begin
from tests.browser.pages import assert_sound_by_day_and_night, press, sign_in, write
from tests.factories.cases import draft, small_release, submitted
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.people import cast, person
from tests.factories.world import small_world
from tests.slices.analytics.conftest import small_year


@pytest.fixture
def visit(page, live_server):
    """Goes to each address as this person and looks whether the page is sound."""

    def visiting(user, addresses):
        sign_in(page, live_server.url, user)
        for address in addresses:
            page.goto(address)
            assert page.get_by_role("heading", level=1).count() == 1, address
            assert_sound_by_day_and_night(page)
        return page

    return visiting


def test_a_reviewer_comments_and_returns_by_keyboard(page, live_server):
    people = cast()
    version = submitted(people.author)
    sign_in(page, live_server.url, people.reviewer)
    page.goto("/")
    press(page, page.get_by_role("banner").get_by_role("link", name="To review"))
    assert_sound_by_day_and_night(page)
    press(page, page.get_by_role("link", name="Breathless on the stairs"))
    assert_sound_by_day_and_night(page)
    main = page.get_by_role("main")
    press(page, main.locator("summary", has_text="Comment").first)
    write(page, main.locator("details[open] textarea").first, "Say how she breathes.")
    press(page, main.locator("details[open] button").first)
    page.get_by_text("Say how she breathes.").wait_for()
    assert_sound_by_day_and_night(page)
    write(page, page.locator("textarea[name=comment]"), "Nearly there.")
    press(page, page.get_by_role("button", name="Return with comments"))
    page.wait_for_url("**/reviews/")
    assert CaseVersion.objects.get(pk=version.pk).state == "returned"
    assert_sound_by_day_and_night(page)


def test_every_page_of_an_author_is_sound(visit, run_jobs):
    world = small_world(run_jobs)
    at = [world.objects["draft"]["pk"]]
    waiting, shown = ([world.objects[name]["pk"]] for name in ("submitted", "published"))
    sections = [reverse("cases:section", args=[*at, section.slug]) for section in SECTIONS]
    names = ("version", "preview", "document", "new-finding")
    visit(
        world.people["author"],
        [
            *(reverse(f"cases:{name}") for name in ("mine", "new", "upload")),
            *(reverse(f"cases:{name}", args=at) for name in names),
            *(reverse("cases:version", args=one) for one in (waiting, shown)),
            *sections,
            reverse("cases:finding", args=[*at, 0]),
            reverse("cases:signs"),
            reverse("cases:section", args=[*shown, "opening"]),
            reverse("rehearsals:rehearsal", args=[world.objects["rehearsal"]["pk"]]),
            reverse("own-cases:figures", args=shown),
        ],
    )


def test_an_author_rehearses_a_draft_by_keyboard_and_the_result_comes_by_itself(
    page, live_server, run_jobs
):
    people = cast()
    small_release()
    version = draft(people.author)
    sign_in(page, live_server.url, people.author)
    page.goto(reverse("cases:version", args=[version.pk]))
    press(page, page.get_by_role("button", name="Rehearse it"))
    page.get_by_role("button", name="Cancel it").wait_for()
    assert_sound_by_day_and_night(page)
    run_jobs()
    page.get_by_role("heading", name="How each kind fared").wait_for()
    assert page.get_by_text("These are simulated learners, not students").is_visible()
    assert_sound_by_day_and_night(page)


def test_a_draft_with_nothing_in_it_and_a_stale_edit_are_sound(visit, guard, live_server):
    guard.expected.extend(["409", "422"])
    people = cast()
    submitted(people.author)
    version = draft(people.author, slug="bare", title="Bare")
    address = reverse("cases:section", args=[version.pk, "opening"])
    page = visit(people.author, [address])
    CaseVersion.objects.filter(pk=version.pk).update(
        lock=2, document=version.document | {"opening": "Changed elsewhere."}
    )
    page.locator("textarea[name=opening]").fill("Mine.")
    page.get_by_role("button", name="Save").first.click()
    page.get_by_text("Changed elsewhere.").wait_for()
    assert_sound_by_day_and_night(page)


def test_every_page_of_a_coordinator_is_sound(visit, run_jobs):
    world = small_world(run_jobs)
    visit(
        world.people["coordinator"],
        [
            "/",
            reverse("accounts:people"),
            reverse("accounts:people") + "?q=nobody-at-all",
            reverse("accounts:new-person"),
            reverse("accounts:person", args=[world.people["student"].pk]),
            reverse("accounts:new-cohort"),
            reverse("accounts:cohort", args=["year"]),
            reverse("analytics:reports"),
        ],
    )


def year_of_which_half_listened():
    """As many as a report shows figures for, by the floor on small cells."""
    year = small_year(0)
    for number in range(2 * settings.SMALL_CELL_FLOOR):
        one = person(f"Learner {number}", "student")
        join_cohort(cohort=year.cohort, user=one, role="student", by=None)
        done = (CLEAN, WELL) if number % 2 else (CLEAN,)
        concluded(asked(begin(version=year.bed, by=one), *done, by=one), by=one)
    return year


def test_a_tutor_reads_a_report_with_its_chart(visit, guard, live_server, run_jobs):
    year = year_of_which_half_listened()
    report = ask_for_report(cohort=year.cohort, by=year.people.tutor)
    url, job = reverse("analytics:report", args=[report.pk]), f"/jobs/{report.job_id}/"
    page = visit(year.people.tutor, [reverse("analytics:reports"), url, job])
    run_jobs()
    visit(year.people.tutor, [url, job, reverse("encounters:concluded")])
    page.goto(url)
    assert page.locator("figure.chart svg").first.is_visible()
    page.get_by_text("The numbers").click()
    assert page.locator("figure.chart table").get_by_text("0.50").is_visible()
    visit(year.people.author, [reverse("own-cases:figures", args=[year.bed.pk])])
    assert page.locator("figure.chart svg").first.is_visible()


def test_refusals_are_sound(visit, guard, live_server):
    guard.expected.extend(["403", "404"])
    people = cast()
    visit(people.student, ["/people/", "/cohorts/", "/cases/", "/nowhere/"])
