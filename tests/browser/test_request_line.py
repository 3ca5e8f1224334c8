"""The request line in the browser: chips corrected by keyboard, typing ahead, steps as forms."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

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


@pytest.fixture
def sheet(page, live_server, student, address):
    sign_in(page, live_server.url, student)
    page.goto(address)
    return page


class Slow:
    """Holds the first answer of the request line back until ``release``."""

    def __init__(self, page):
        self.page = page
        self.held = []
        page.route("**/ask", self.hold, times=1)

    def hold(self, route):
        self.held.append(route)

    def release(self):
        for _ in range(250):  # the browser sends it in its own time
            if self.held:
                break
            self.page.wait_for_timeout(20)
        assert len(self.held) == 1
        self.held.pop().continue_()


@pytest.fixture
def slow(sheet):
    return Slow(sheet)


def request_line(page):
    return page.get_by_label("What do you do, ask or request next?")


def chip(page, slot):
    return page.locator(f"#pick-{slot}")


def read(page, text):
    """Type, and wait until the chips are there."""
    request_line(page).press_sequentially(text, delay=2)
    page.locator(".picks").wait_for()


def send(page, text):
    line = request_line(page)
    line.fill(text)
    line.press("Enter")


def said(page, text):
    return page.locator(f"[data-said='{text}']")


def techniques():
    return [entry.payload["technique"] for entry in Entry.objects.order_by("seq")]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_a_sheet_with_chips_is_sound(open_page, live_server, student, address, size, theme):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(address)
    choose_theme(page, theme)
    read(page, f"{HEART} at the axilla")
    assert_sound(page)
    chip(page, "posture").select_option("left-lateral")
    assert_sound(page)


def test_a_chip_is_corrected_by_the_keyboard_alone(sheet):
    read(sheet, HEART)
    line = request_line(sheet)
    line.press("Escape")
    for _ in range(8):
        sheet.keyboard.press("Tab")
        if sheet.evaluate("document.activeElement.id") == "pick-posture":
            break
    assert sheet.evaluate("document.activeElement.id") == "pick-posture"
    sheet.keyboard.press("ArrowDown")
    assert chip(sheet, "posture").input_value() == "left-lateral"
    line.focus()
    line.press("Enter")
    sheet.get_by_text("A blowing sound through systole.").wait_for()
    assert techniques() == [{"site": "apex", "posture": "left-lateral"}]
    assert line.input_value() == ""
    assert sheet.locator(".picks").count() == 0


def test_a_usual_value_is_dashed_and_a_corrected_one_solid(sheet):
    read(sheet, f"{HEART} at the axilla")
    style = "(one) => getComputedStyle(one.closest('.chip')).borderTopStyle"
    assert chip(sheet, "site").evaluate(style) == "solid"
    assert chip(sheet, "posture").evaluate(style) == "dashed"
    chip(sheet, "posture").select_option("left-lateral")
    assert chip(sheet, "posture").evaluate(style) == "solid"


def test_a_correction_is_kept_while_more_is_typed(sheet):
    read(sheet, HEART)
    chip(sheet, "posture").select_option("left-lateral")
    with sheet.expect_response("**/read-back?*"):
        request_line(sheet).press_sequentially(" at the axilla", delay=2)
    expect(chip(sheet, "site")).to_have_value("axilla")
    assert chip(sheet, "posture").input_value() == "left-lateral"
    request_line(sheet).press("Enter")
    said(sheet, f"{HEART} at the axilla").wait_for()
    assert techniques() == [{"site": "axilla", "posture": "left-lateral"}]


def test_words_typed_faster_than_the_chips_come_are_not_overruled_by_them(sheet):
    read(sheet, HEART)
    line = request_line(sheet)
    line.press_sequentially(" at the axilla", delay=0)
    line.press("Enter")
    said(sheet, f"{HEART} at the axilla").wait_for()
    assert techniques() == [{"site": "axilla", "posture": "supine"}]


def test_chips_are_announced_as_one_sentence(sheet):
    read(sheet, f"{HEART} at the axilla")
    line = request_line(sheet)
    described = sheet.locator(f"#{line.get_attribute('aria-describedby')}").text_content()
    assert described == "Read as Listen to the heart: the axilla, lying flat as usual."


def test_the_next_request_typed_before_the_answer_is_not_lost(slow, sheet):
    send(sheet, "wash my hands")
    line = request_line(sheet)
    line.fill("feel the apex")
    slow.release()
    said(sheet, "wash my hands").wait_for()
    line.press_sequentially(" beat", delay=0)
    assert line.input_value() == "feel the apex beat"
    assert line.evaluate("(one) => one === document.activeElement")
    sheet.locator("#pick-effort").wait_for()
    line.press("Enter")
    said(sheet, "feel the apex beat").wait_for()
    assert sheet.locator("#sheet-rows > li").count() == 2
    assert line.input_value() == ""


def test_the_place_in_the_text_is_kept_when_the_answer_arrives(slow, sheet):
    send(sheet, "wash my hands")
    line = request_line(sheet)
    line.fill("feel apex beat")
    line.evaluate("(one) => one.setSelectionRange(5, 5)")
    slow.release()
    said(sheet, "wash my hands").wait_for()
    sheet.keyboard.type("the ")
    assert line.input_value() == "feel the apex beat"


def test_keys_pressed_while_the_answer_arrives_all_arrive(slow, sheet):
    send(sheet, "wash my hands")
    line = request_line(sheet)
    line.fill("")
    slow.release()
    text = "feel the apex beat firmly and then tell me how it moves, and where, and for how long"
    line.press_sequentially(text, delay=8)
    said(sheet, "wash my hands").wait_for()
    assert line.input_value() == text


def test_the_next_request_sent_before_the_answer_waits_its_turn(slow, sheet):
    send(sheet, "wash my hands")
    send(sheet, "feel the apex beat")
    slow.release()
    said(sheet, "feel the apex beat").wait_for()
    rows = sheet.locator("#sheet-rows > li")
    assert [row.get_attribute("id") for row in rows.all()] == ["entry-1", "entry-2"]
    assert request_line(sheet).input_value() == ""


def test_a_double_enter_asks_once(slow, sheet):
    send(sheet, "wash my hands")
    request_line(sheet).press("Enter")
    slow.release()
    said(sheet, "wash my hands").wait_for()
    sheet.wait_for_timeout(300)
    assert sheet.locator("#sheet-rows > li").count() == 1
    assert Entry.objects.count() == 1


def test_an_answer_that_asks_back_comes_before_what_was_sent_meanwhile(slow, sheet):
    send(sheet, "florble the wuzzle")
    send(sheet, "feel the apex beat")
    slow.release()
    sheet.locator("#request .errorlist").wait_for()
    sheet.wait_for_timeout(600)
    line = request_line(sheet)
    assert line.input_value() == "feel the apex beat"
    assert sheet.locator("#request .errorlist").is_visible()
    assert Entry.objects.count() == 0
    line.press("Enter")
    said(sheet, "feel the apex beat").wait_for()


def test_picks_of_what_is_on_its_way_do_not_pass_to_the_next(slow, sheet):
    read(sheet, HEART)
    chip(sheet, "posture").select_option("left-lateral")
    request_line(sheet).press("Enter")
    send(sheet, f"{HEART} at the axilla")
    slow.release()
    said(sheet, f"{HEART} at the axilla").wait_for()
    assert [one["posture"] for one in techniques()] == ["left-lateral", "supine"]


def test_picks_made_before_the_answer_are_kept(slow, sheet):
    send(sheet, "wash my hands")
    line = request_line(sheet)
    line.fill("")
    read(sheet, HEART)
    chip(sheet, "posture").select_option("left-lateral")
    slow.release()
    said(sheet, "wash my hands").wait_for()
    sheet.wait_for_timeout(600)
    assert chip(sheet, "posture").input_value() == "left-lateral"
    line.press("Enter")
    said(sheet, HEART).wait_for()
    assert techniques()[1]["posture"] == "left-lateral"


def test_after_a_failed_answer_the_line_works_again(sheet, guard):
    guard.expected += ["htmx", "ERR_FAILED", "Failed to fetch"]
    sheet.route("**/ask", lambda route: route.abort(), times=1)
    line = request_line(sheet)
    line.fill("wash my hands")
    line.press("Enter")
    sheet.wait_for_timeout(300)
    assert line.input_value() == "wash my hands"
    line.press("Enter")
    said(sheet, "wash my hands").wait_for()


def test_a_differential_stated_between_two_requests_shows_no_row_twice(sheet):
    line = request_line(sheet)
    sheet.get_by_label("Add a diagnosis").fill("Aortic stenosis")
    sheet.get_by_role("button", name="State it").click()
    sheet.locator("#entry-1").wait_for()
    line.fill("wash my hands")
    line.press("Enter")
    said(sheet, "wash my hands").wait_for()
    rows = sheet.locator("#sheet-rows > li")
    assert [row.get_attribute("id") for row in rows.all()] == ["entry-1", "entry-2"]
