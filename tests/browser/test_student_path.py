"""A student's whole way, by keyboard and without scripts; every page sound by day and by night."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.pages import (
    LAPTOP,
    PHONE,
    assert_sound_by_day_and_night,
    overflow,
    press,
    sign_in,
    tab_to,
    write,
)
from tests.factories.cases import published
from tests.factories.people import person
from tests.factories.world import small_world

WELL = "heart sounds at the apex rolled onto the left side"
HEARD = "A blowing sound through systole."


@pytest.fixture
def student(live_server):
    published(person("Ada Author", "author"), person("Rea Reviewer", "reviewer"))
    return person("Sol Student", "student")


def request_line(page):
    return page.get_by_label("What do you do, ask or request next?")


def button(page, name):
    return page.get_by_role("main").get_by_role("button", name=name).first


def ask(page, text):
    write(page, request_line(page), text)
    page.keyboard.press("Escape")
    page.keyboard.press("Enter")


def state(page, diagnosis):
    write(page, page.get_by_label("Add a diagnosis"), diagnosis)
    page.keyboard.press("Escape")
    press(page, button(page, "State it"))
    page.get_by_label(diagnosis, exact=True).wait_for()


def conclude(page):
    press(page, page.get_by_role("link", name="Conclude the encounter"))
    write(page, page.get_by_label("Mitral regurgitation", exact=True), "90")
    write(page, page.get_by_label("Summary"), "A blowing sound at the apex.")
    return button(page, "Conclude and read the debrief")


def test_the_whole_path_by_keyboard(page, live_server, student):
    sign_in(page, live_server.url, student)
    page.goto("/")
    press(page, page.get_by_role("banner").get_by_role("link", name="Patients"))
    assert_sound_by_day_and_night(page)
    press(page, button(page, "Examine Vera Quill"))
    ask(page, "wash my hands")
    page.get_by_role("heading", name="Clean your hands").wait_for()
    ask(page, WELL)
    expect(page.get_by_text(HEARD)).to_be_visible()
    state(page, "Mitral regurgitation")
    assert_sound_by_day_and_night(page)
    commit = conclude(page)
    assert_sound_by_day_and_night(page)
    press(page, commit)
    page.wait_for_url("**/debrief")
    assert_sound_by_day_and_night(page)
    press(page, page.get_by_role("banner").get_by_role("link", name="Patients"))
    assert_sound_by_day_and_night(page)
    press(page, page.get_by_role("link", name="attempt 1"))
    page.wait_for_url("**/debrief")


def test_the_whole_path_without_scripts(open_page, live_server, student):
    page = open_page(PHONE, java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto("/patients/")
    button(page, "Examine Vera Quill").click()
    for text in ("wash my hands", WELL):
        request_line(page).fill(text)
        button(page, "Do it").click()
    assert page.get_by_text(HEARD).is_visible()
    page.get_by_label("Add a diagnosis").fill("mitral regurgitation")
    button(page, "State it").click()
    page.get_by_role("link", name="Conclude the encounter").click()
    page.get_by_label("Mitral regurgitation", exact=True).fill("90")
    page.get_by_label("Summary").fill("A blowing sound at the apex.")
    button(page, "Conclude and read the debrief").click()
    assert page.url.endswith("/debrief")
    assert page.get_by_text("Mitral regurgitation").first.is_visible()


def test_a_sheet_without_cues_has_the_words_alone(page, live_server, student):
    sign_in(page, live_server.url, student)
    page.goto("/patients/")
    button(page, "Words only").click()
    assert page.locator("svg a").count() == 0
    ask(page, "wash my hands")
    page.get_by_role("heading", name="Clean your hands").wait_for()
    assert_sound_by_day_and_night(page)


def test_every_other_page_of_a_student_is_sound(page, live_server, run_jobs, guard):
    guard.expected.append("404")
    world = small_world(run_jobs)
    sign_in(page, live_server.url, world.people["student"])
    at = f"/patients/at/{world.objects['encounter']['pk']}"
    addresses = [
        "/",
        "/examination/",
        "/examination/?q=heart",
        "/examination/system/cardiovascular/",
        "/examination/region/chest/?in=full",
        "/examination/heart-auscultate/",
        f"{at}/steps",
        f"{at}/steps/heart-auscultate",
        f"{at}/conclude",
        "/patients/progress/",
        "/people/me/tokens",
        "/account/2fa/",
        "/reviews/",
    ]
    for address in addresses:
        page.goto(address)
        assert page.get_by_role("heading", level=1).count() == 1, address
        assert_sound_by_day_and_night(page)


def test_every_control_of_the_sheet_is_reached_and_seen_by_keyboard(page, live_server, student):
    sign_in(page, live_server.url, student)
    page.goto("/patients/")
    button(page, "Examine Vera Quill").click()
    request_line(page).wait_for()
    for name in ("Do it", "State it"):
        tab_to(page, button(page, name))
        outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline != "none", name
    for size in (PHONE, LAPTOP):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        assert overflow(page) <= 0
