"""Setting a sign in the browser: by keyboard, with and without scripts, on a phone and a laptop."""

import pytest
from playwright.sync_api import expect

from tests.browser.pages import LAPTOP, assert_sound, choose_theme, press, sign_in, tab_to, write
from tests.factories.people import person

PAGE = "/cases/signs/"
SIZES = {"phone": (360, 740), "laptop": LAPTOP}
MAIN = "Hear and see it"


@pytest.fixture
def author(live_server, settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"
    return person("Ada Author", "author")


@pytest.fixture
def at(live_server, author):
    def opened(page, example):
        sign_in(page, live_server.url, author)
        page.goto(f"{PAGE}?example={example}")
        return page

    return opened


def named(page, name):
    return page.get_by_role("button", name=name, exact=True)


@pytest.mark.parametrize("theme", ["light", "dark", "contrast"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("example", ["heart-02", "breath-02", "picture-02", "strip-02"])
def test_the_form_of_every_sort_of_sign_is_sound(open_page, at, example, size, theme):
    page = at(open_page(SIZES[size]), example)
    choose_theme(page, theme)
    page.get_by_text("The same as JSON").click()
    assert_sound(page)


@pytest.mark.parametrize("size", SIZES)
def test_errors_stand_beside_their_fields_and_the_page_is_sound(open_page, at, guard, size):
    guard.expected.append("422")
    page = at(open_page(SIZES[size]), "heart-02")
    page.get_by_label("Heart rate").fill("900")
    named(page, MAIN).click()
    expect(page.get_by_role("alert")).to_be_focused()
    rate = page.get_by_label("Heart rate")
    expect(rate).to_have_value("900")
    expect(rate).to_have_accessible_description(
        "Kept to multiples of 4. 24 to 200 beats a minute. Empty: 72. Must be 200 or less."
    )
    assert_sound(page)
    page.get_by_role("link", name="Heart rate").click()
    expect(rate).to_be_focused()


def test_a_murmur_is_set_by_keyboard_alone_without_leaving_the_page(open_page, at):
    page = at(open_page(), "heart-01")
    page.evaluate("window.stayed = true")
    press(page, named(page, "Add a murmur"))
    lesion = page.get_by_label("Lesion")
    expect(lesion).to_be_focused()
    page.keyboard.type("Mitral reg")
    write(page, page.get_by_label("Grade"), "5")
    press(page, named(page, MAIN))
    expect(page.get_by_role("heading", name="What is perceived")).to_be_focused()
    expect(page.get_by_label("Grade")).to_have_value("5")
    expect(lesion).to_have_value("mitral-regurgitation")
    press(page, named(page, "Remove murmur 1"))
    expect(lesion).to_have_count(0)
    expect(named(page, "Add a murmur")).to_be_focused()
    assert page.evaluate("window.stayed")


def test_a_sign_that_was_changed_in_place_has_a_player_that_plays(open_page, at):
    page = at(open_page(), "heart-01")
    page.get_by_label("Splitting").select_option("fixed")
    named(page, MAIN).click()
    expect(page.get_by_role("heading", name="What is perceived")).to_be_focused()
    named(page, "Play").click()
    expect(named(page, "Pause")).to_be_visible()


def test_the_focus_is_never_behind_the_button_that_stays_in_reach(open_page, at):
    page = at(open_page(SIZES["phone"]), "picture-02")
    tab_to(page, page.get_by_label("Kind of sign"))
    bar = page.locator(".sign__go")
    for _ in range(40):
        page.keyboard.press("Tab")
        if bar.evaluate("(one) => one.contains(document.activeElement)"):
            return
        top = bar.bounding_box()["y"]
        bottom = page.evaluate("document.activeElement.getBoundingClientRect().bottom")
        assert bottom <= top + 1
    pytest.fail("Tab does not reach the button.")


def test_half_a_number_is_not_sent_as_nothing(open_page, at):
    page = at(open_page(), "heart-01")
    rate = page.get_by_label("Heart rate")
    rate.fill("")
    rate.press_sequentially("1e")
    named(page, MAIN).click()
    expect(rate).to_be_focused()
    assert rate.evaluate("(one) => one.validity.badInput")


def test_without_scripts_the_kind_is_chosen_and_rows_come_and_go(open_page, at):
    page = at(open_page(java_script_enabled=False), "heart-01")
    page.get_by_label("Kind of sign").select_option("Breath sounds")
    named(page, "Change the kind").click()
    named(page, "Add a zone").click()
    page.get_by_label("Trachea").check()
    named(page, "Add a sound to zone 1").click()
    assert page.get_by_label("Trachea").is_checked()
    page.get_by_label("Sound", exact=True).select_option("Rhonchus")
    named(page, MAIN).click()
    assert page.get_by_label("Sound", exact=True).input_value() == "rhonchus"
    assert page.locator("audio[controls]").is_visible()
    named(page, "Remove zone 1").click()
    assert page.get_by_label("Trachea").count() == 0


def test_without_scripts_the_browser_holds_back_a_number_out_of_its_range(open_page, at):
    page = at(open_page(java_script_enabled=False), "heart-01")
    page.get_by_label("Heart rate").fill("900")
    named(page, MAIN).click()
    page.wait_for_timeout(300)
    assert page.url.endswith("?example=heart-01")
    assert page.get_by_label("Heart rate").input_value() == "900"


def test_the_browser_lets_every_example_pass_as_it_stands(open_page, at):
    page = at(open_page(), "heart-01")
    names = page.get_by_label("Begin with an example").locator("option").all_inner_texts()
    wrong = (
        """() => [...document.querySelectorAll('.sign__form :invalid')].map((one) => one.name)"""
    )
    for name in names:
        page.goto(f"{PAGE}?example={name}")
        assert page.evaluate(wrong) == [], name


def test_json_that_is_edited_fills_the_fields(open_page, at):
    page = at(open_page(), "heart-01")
    page.get_by_text("The same as JSON").click()
    page.get_by_label("Parameters in JSON").fill('{"kind": "picture", "subject": "eye"}')
    named(page, MAIN).click()
    expect(page.get_by_label("Part of the body")).to_have_value("eye")
    expect(page.get_by_label("Kind of sign")).to_have_value("picture")
