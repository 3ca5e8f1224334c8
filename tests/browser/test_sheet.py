"""The sheet in the browser: asking, reading back, pointing, and setting the differential."""

import pytest

from casebank.encounters.actions import begin
from tests.browser.pages import LAPTOP, PHONE, THEMES, assert_sound, choose_theme, sign_in
from tests.factories.cases import published
from tests.factories.people import person

SIZES = {"phone": PHONE, "laptop": LAPTOP}


@pytest.fixture
def student(live_server):
    return person("Sol Student", "student")


@pytest.fixture
def address(live_server, student):
    version = published(person("Ada Author", "author"), person("Rea Reviewer", "reviewer"))
    encounter = begin(version=version, by=student)
    return f"/patients/at/{encounter.pk}/"


@pytest.fixture
def sheet(page, live_server, student, address):
    sign_in(page, live_server.url, student)
    page.goto(address)
    return page


def request_line(page):
    return page.get_by_label("What do you do, ask or request next?")


def suggestions(page):
    return page.get_by_role("listbox").get_by_role("option")


def ask(page, text):
    line = request_line(page)
    line.fill(text)
    line.press("Enter")


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("size", SIZES)
def test_a_sheet_with_an_entry_is_sound(open_page, live_server, student, address, size, theme):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(address)
    choose_theme(page, theme)
    ask(page, "wash my hands")
    page.get_by_role("heading", name="Clean your hands").wait_for()
    assert_sound(page)


def test_an_answer_is_added_in_view_and_the_line_is_empty_and_focused(sheet):
    for text in ("wash my hands", "feel apex with light touch", "heart sounds at the apex"):
        ask(sheet, text)
        sheet.locator(f"[data-said='{text}']").wait_for()
    assert sheet.locator("#sheet-rows > li").count() == 3
    assert sheet.get_by_text("Two heart sounds, nothing added.").is_visible()
    line = request_line(sheet)
    assert line.input_value() == ""
    assert line.evaluate("(one) => one === document.activeElement")
    entry = sheet.locator("#sheet-rows > li").last.bounding_box()
    request = sheet.locator("#request").bounding_box()
    assert entry["y"] + entry["height"] <= request["y"] + 1


def test_arrow_up_brings_back_what_was_asked(sheet):
    for text in ("wash my hands", "feel apex"):
        ask(sheet, text)
        sheet.locator(f"[data-said='{text}']").wait_for()
    line = request_line(sheet)
    line.press("ArrowUp")
    assert line.input_value() == "feel apex"
    line.press("ArrowUp")
    assert line.input_value() == "wash my hands"
    line.press("ArrowDown")
    line.press("ArrowDown")
    assert line.input_value() == ""


def test_the_technique_is_read_back_while_typing(sheet):
    request_line(sheet).press_sequentially("heart sounds rolled onto the left side", delay=5)
    sheet.locator("#request-words", has_text="rolled onto the left side").wait_for()
    assert sheet.get_by_label("posture").input_value() == "left-lateral"
    assert sheet.locator("#sheet-rows > li").count() == 0


def test_a_suggestion_is_taken_by_the_keyboard(sheet):
    line = request_line(sheet)
    line.press_sequentially("heart", delay=20)
    suggestions(sheet).first.wait_for()
    assert line.get_attribute("aria-expanded") == "true"
    line.press("ArrowDown")
    chosen = sheet.get_by_role("listbox").get_by_role("option", selected=True)
    words = chosen.get_attribute("data-text")
    assert line.get_attribute("aria-activedescendant") == chosen.get_attribute("id")
    assert_sound(sheet)
    line.press("Enter")
    assert line.input_value() == words
    assert line.get_attribute("aria-expanded") == "false"
    assert sheet.locator("#sheet-rows > li").count() == 0


def test_escape_closes_the_suggestions_and_keeps_the_text(sheet):
    line = request_line(sheet)
    line.press_sequentially("heart", delay=20)
    suggestions(sheet).first.wait_for()
    line.press("Escape")
    assert sheet.get_by_role("listbox").is_hidden()
    assert line.input_value() == "heart"


def test_what_is_not_understood_keeps_the_text_and_costs_nothing(sheet, guard):
    guard.expected.append("422")
    ask(sheet, "florble the wuzzle")
    sheet.locator("#request .errorlist").wait_for()
    assert request_line(sheet).input_value() == "florble the wuzzle"
    assert sheet.locator("#sheet-rows > li").count() == 0


def test_a_place_of_the_drawing_goes_into_the_request_line(sheet):
    request_line(sheet).fill("listen")
    sheet.get_by_role("link", name="chest: closer view").click()
    sheet.get_by_role("link", name="apex", exact=True).click()
    assert request_line(sheet).input_value() == "listen at the apex"
    sheet.get_by_role("link", name="left axilla", exact=True).click()
    assert request_line(sheet).input_value() == "listen in the left axilla"


def test_the_drawing_works_with_the_keyboard(sheet):
    hand = sheet.get_by_role("link", name="right hand", exact=True)
    hand.focus()
    assert sheet.locator("[data-place-name]").first.text_content() == "right hand"
    hand.press("Enter")
    assert request_line(sheet).input_value() == "right hand"


def test_the_drawing_works_without_scripts(open_page, live_server, student, address):
    page = open_page(java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto(address)
    page.get_by_role("link", name="right hand", exact=True).click()
    assert request_line(page).input_value() == "right hand"


def test_the_whole_step_works_without_scripts(open_page, live_server, student, address):
    page = open_page(java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto(address)
    ask(page, "wash my hands")
    assert page.get_by_role("heading", name="Clean your hands").is_visible()
    assert "#entry-" in page.url


def test_sliders_numbers_and_total_move_together(sheet):
    for name in ("Mitral regurgitation", "Aortic stenosis"):
        sheet.get_by_label("Add a diagnosis").fill(name)
        sheet.get_by_role("button", name="State it").click()
        sheet.get_by_label(name, exact=True).wait_for()
    first = sheet.get_by_label("Mitral regurgitation", exact=True)
    second = sheet.get_by_label("Aortic stenosis", exact=True)
    first.fill("30")
    second.fill("15")
    slider = sheet.get_by_label("Mitral regurgitation, per cent")
    assert slider.input_value() == "30"
    slider.press("ArrowRight")
    assert first.input_value() == "31"
    assert sheet.locator("[data-total]").text_content() == "46 %"
    sheet.get_by_role("button", name="Make it add to 100").click()
    assert sheet.locator("[data-total]").text_content() == "100 %"
    assert int(first.input_value()) + int(second.input_value()) == 100
    assert_sound(sheet)


def test_print_is_a_sheet_without_controls(sheet):
    ask(sheet, "wash my hands")
    sheet.get_by_role("heading", name="Clean your hands").wait_for()
    sheet.emulate_media(media="print")
    assert sheet.get_by_role("heading", name="Clean your hands").is_visible()
    assert request_line(sheet).is_hidden()
    assert sheet.get_by_role("banner").is_hidden()
    assert sheet.get_by_text("For teaching. Fictional patients.").is_visible()
