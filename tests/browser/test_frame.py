"""The frame around every page: sign-in, themes, sizes, keyboard, and life without scripts."""

import pytest

from tests.browser.pages import PHONE, THEMES, WIDE, assert_sound, choose_theme, sign_in
from tests.factories.people import PASSWORD, person

SIZES = {"phone": PHONE, "wide": WIDE}
CAUTION = "For teaching. Fictional patients. Not for the care of any person"


@pytest.fixture
def student(live_server):
    return person("Sol Student", "student", password=PASSWORD)


def fill_sign_in(page, password=PASSWORD):
    page.goto("/account/login/")
    page.get_by_label("Email").fill("sol.student@example.org")
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_role("main").get_by_role("button", name="Sign in", exact=True).click()


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("address", ["/", "/account/login/", "/account/password/reset/"])
def test_pages_for_strangers_are_sound(open_page, address, size, theme):
    page = open_page(SIZES[size])
    page.goto(address)
    choose_theme(page, theme)
    assert_sound(page)
    assert page.get_by_text(CAUTION).is_visible()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    "address", ["/", "/account/password/change/", "/account/logout/", "/account/2fa/"]
)
def test_account_pages_are_sound(open_page, live_server, student, address, size):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(address)
    assert_sound(page)
    assert page.get_by_role("link", name="Sign out").is_visible()


def test_a_student_signs_in_and_out(page, student):
    fill_sign_in(page)
    page.get_by_role("link", name="Sign out").click()
    page.get_by_role("main").get_by_role("button", name="Sign out").click()
    assert page.get_by_role("banner").get_by_role("link", name="Sign in").is_visible()


def test_the_header_leaves_a_phone_most_of_its_first_screen(open_page, live_server, student):
    page = open_page(PHONE)
    sign_in(page, live_server.url, student)
    page.goto("/")
    banner = page.get_by_role("banner").bounding_box()
    assert banner["height"] < 0.2 * page.viewport_size["height"]


def test_the_theme_is_chosen_in_the_footer_and_kept(open_page):
    page = open_page(WIDE)
    page.goto("/")
    page.get_by_role("contentinfo").get_by_label("Theme").select_option("contrast")
    page.reload()
    assert page.locator("html").get_attribute("data-theme") == "contrast"


def test_signing_in_works_without_scripts(open_page, student):
    page = open_page(java_script_enabled=False)
    fill_sign_in(page)
    assert page.get_by_role("link", name="Sign out").is_visible()
    assert page.locator("[data-theme-choice]").is_hidden()


def test_a_wrong_password_is_said_in_a_summary_that_has_the_focus(page, student):
    fill_sign_in(page, password="not this one")
    summary = page.get_by_role("alert")
    assert summary.is_visible()
    assert page.evaluate("document.activeElement.getAttribute('role')") == "alert"
    assert_sound(page)


def test_the_first_stop_of_the_keyboard_skips_to_the_content(page):
    page.goto("/account/login/")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="Skip to the content")
    assert skip.evaluate("(one) => one === document.activeElement")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def test_a_chosen_theme_holds_on_the_next_page_before_it_is_painted(page):
    page.goto("/account/login/")
    page.locator("[data-theme-choice]").select_option("dark")
    page.add_init_script(
        "addEventListener('DOMContentLoaded', () => "
        "{ window.themeAtFirst = document.documentElement.dataset.theme })"
    )
    page.goto("/account/password/reset/")
    assert page.evaluate("window.themeAtFirst") == "dark"
    assert page.locator("[data-theme-choice]").input_value() == "dark"
    assert page.evaluate("getComputedStyle(document.body).colorScheme") == "dark"


def test_the_system_theme_changes_the_paper(page):
    page.goto("/account/login/")
    paper = "getComputedStyle(document.body).backgroundColor"
    light = page.evaluate(paper)
    page.emulate_media(color_scheme="dark")
    assert page.evaluate(paper) != light


@pytest.mark.parametrize("size", SIZES)
def test_an_address_that_leads_nowhere_says_what_to_do(open_page, guard, size):
    guard.expected.append("404")
    page = open_page(SIZES[size])
    response = page.goto("/nowhere/")
    assert response.status == 404
    assert page.get_by_role("heading", name="Nothing is here").is_visible()
    assert_sound(page)


def test_the_type_of_the_house_is_loaded_from_this_site(page):
    page.goto("/account/login/")
    page.evaluate("document.fonts.ready.then(() => true)")
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Next\"')")
    hosts = page.evaluate(
        "[...new Set(performance.getEntriesByType('resource').map((one) => new URL(one.name).host))]"
    )
    assert hosts == [page.evaluate("location.host")]


def test_a_page_that_breaks_the_policy_would_be_caught(page, guard):
    guard.expected.append("style-src")
    page.goto("/account/login/")
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<p style=\"color:red\">x</p>')")
    page.wait_for_timeout(100)
    assert any("style-src" in problem for problem in guard.problems)
