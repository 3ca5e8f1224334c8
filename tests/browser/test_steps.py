"""Steps chosen from lists and forms, and the catalogue's pages, in a real browser."""

from __future__ import annotations

import pytest

from casebank.encounters.actions import begin
from casebank.encounters.models import Entry
from tests.browser.pages import LAPTOP, PHONE, assert_sound, choose_theme, sign_in
from tests.factories.cases import published
from tests.factories.people import person

SIZES = {"phone": PHONE, "laptop": LAPTOP}
HEART = "listen to the heart"


@pytest.fixture
def student(live_server):
    return person("Sol Student", "student")


@pytest.fixture
def encounter(student):
    version = published(person("Ada Author", "author"), person("Rea Reviewer", "reviewer"))
    return begin(version=version, by=student)


@pytest.fixture
def address(encounter):
    return f"/patients/at/{encounter.pk}/"


def techniques():
    return [entry.payload["technique"] for entry in Entry.objects.order_by("seq")]


@pytest.fixture
def plain(open_page, live_server, student, address):
    """The sheet in a browser without scripts."""
    page = open_page(java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto(address)
    return page


def test_a_step_is_chosen_by_place_and_done_without_scripts(plain):
    plain.get_by_text("Chest: the heart").first.click()
    plain.locator("#body-heart").get_by_text("The same as a list").click()
    plain.get_by_role("link", name="steps for left axilla").click()
    plain.get_by_role("link", name="Listen to the heart").click()
    assert plain.get_by_label("Site").input_value() == "axilla"
    plain.get_by_label("Posture").select_option("left-lateral")
    plain.get_by_role("button", name="Do it").click()
    assert plain.get_by_text("A blowing sound through systole.").is_visible()
    assert plain.url.endswith("#entry-1")
    assert techniques() == [{"site": "axilla", "posture": "left-lateral"}]


def test_a_step_is_chosen_by_region_without_scripts(plain):
    plain.get_by_role("link", name="Steps by region or system").click()
    plain.get_by_role("link", name="Chest").click()
    plain.get_by_role("link", name="Feel the apex beat").click()
    plain.get_by_role("button", name="Do it").click()
    assert plain.get_by_role("heading", name="Feel the apex beat").is_visible()


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("place", ["", "?region=chest", "/heart-auscultate"])
def test_lists_and_forms_of_steps_are_sound(
    open_page, live_server, student, address, size, theme, place
):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(f"{address}steps{place}")
    choose_theme(page, theme)
    assert_sound(page)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    "place",
    [
        "",
        "?q=heart",
        "system/cardiovascular/",
        "system/cardiovascular/?in=full",
        "heart-auscultate/",
    ],
)
def test_catalogue_pages_are_sound(open_page, live_server, student, encounter, size, theme, place):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(f"/examination/{place}")
    choose_theme(page, theme)
    assert_sound(page)


def test_a_whole_system_prints_without_controls(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto("/examination/system/cardiovascular/?in=full")
    page.emulate_media(media="print")
    assert page.get_by_role("heading", name="Feel the apex beat").is_visible()
    assert page.get_by_text("For teaching. Fictional patients.").is_visible()
    assert page.get_by_role("banner").is_hidden()
    assert page.get_by_role("link", name="Short list").is_hidden()
