"""The player of a sound in the browser: by keyboard, over plain controls, and the page around it."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from casebank.domain.signs.drawing import traces
from tests.browser.pages import LAPTOP, PHONE, assert_sound, choose_theme, sign_in, tab_to
from tests.browser.players import button, drawn, line_in_window
from tests.factories.people import person

PAGE = "/cases/signs/"
SIZES = {"phone": PHONE, "laptop": LAPTOP}
HALF, RAISED = "Half speed, pitch kept", "Pitch raised, not as heard at the bedside"
CURSOR = Path("casebank/static/casebank/js/cursor.js")


@pytest.fixture
def author(live_server, settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"
    return person("Ada Author", "author")


def opened(page, live_server, author, example="heart-01"):
    sign_in(page, live_server.url, author)
    page.goto(f"{PAGE}?example={example}")
    return page.locator("[data-player]")


@pytest.fixture
def player(page, live_server, author):
    return opened(page, live_server, author)


def position(player):
    return float(player.get_by_label("Position").input_value())


def until_at(player, seconds):
    player.page.wait_for_function(
        "(least) => document.querySelector('.player__slider input').value >= least", arg=seconds
    )


@pytest.mark.parametrize("theme", ["light", "dark", "contrast"])
@pytest.mark.parametrize("size", SIZES)
def test_the_page_and_its_player_are_sound(open_page, live_server, author, size, theme):
    page = open_page(SIZES[size])
    player = opened(page, live_server, author)
    choose_theme(page, theme)
    button(player, "Repeat").click()
    assert_sound(page)


@pytest.mark.parametrize("size", SIZES)
def test_the_page_with_its_errors_is_sound(open_page, guard, live_server, author, size):
    guard.expected.append("422")
    page = open_page(SIZES[size])
    opened(page, live_server, author)
    page.get_by_text("The same as JSON").click()
    page.get_by_label("Parameters in JSON").fill('{"kind": "heart-sound", "colour": 1}')
    page.get_by_role("button", name="Hear and see it").click()
    expect(page.get_by_role("alert")).to_contain_text("colour: is not a field known here")
    assert_sound(page)


def test_nothing_is_fetched_or_played_before_a_key_or_click(page, live_server, author):
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    player = opened(page, live_server, author)
    page.wait_for_load_state("networkidle")
    assert not [url for url in asked if re.search(r"\.(flac|wav)", url)]
    assert button(player, "Play").is_visible()
    assert player.locator("audio").is_hidden()


def test_the_keys_play_pause_repeat_halve_and_move(player):
    page = player.page
    tab_to(page, player)
    page.keyboard.press("Space")
    expect(button(player, "Pause")).to_be_visible()
    until_at(player, 0.5)
    page.keyboard.press("Space")
    expect(button(player, "Play")).to_be_visible()
    paused = position(player)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert position(player) == pytest.approx(paused + 2, abs=0.11)
    page.keyboard.press("ArrowLeft")
    assert position(player) == pytest.approx(paused + 1, abs=0.11)
    page.keyboard.press("r")
    page.keyboard.press("h")
    for name in ("Repeat", HALF):
        assert button(player, name).get_attribute("aria-pressed") == "true"
    page.keyboard.press("r")
    assert button(player, "Repeat").get_attribute("aria-pressed") == "false"


def test_the_space_of_a_button_is_its_own(player):
    repeat = button(player, "Repeat")
    tab_to(player.page, repeat)
    player.page.keyboard.press("Space")
    assert repeat.get_attribute("aria-pressed") == "true"
    assert button(player, "Play").is_visible()


def test_repeating_goes_on_over_the_end_and_else_the_sound_stops_there(player):
    page = player.page
    tab_to(page, player)
    page.keyboard.press("r")
    page.keyboard.press("Space")
    expect(button(player, "Pause")).to_be_visible()
    for _ in range(14):
        page.keyboard.press("ArrowRight")
    page.wait_for_function("() => document.querySelector('.player__slider input').value < 5")
    assert button(player, "Pause").is_visible()
    page.keyboard.press("r")
    for _ in range(14):
        page.keyboard.press("ArrowRight")
    expect(button(player, "Play")).to_be_visible()


def at_speed(page):
    """Seconds of the patient by seconds of the clock, over two of them."""
    return page.evaluate("""async () => {
      const at = () => Number(document.querySelector('.player__slider input').value);
      const [since, from] = [performance.now(), at()];
      await new Promise((resolve) => setTimeout(resolve, 2000));
      return (at() - from) / ((performance.now() - since) / 1000);
    }""")


def test_half_speed_is_a_sound_of_its_own_and_keeps_the_place(player):
    page = player.page
    tab_to(page, player)
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    expect(player.get_by_label("Position")).to_have_value("3")
    with page.expect_response(lambda answer: "speed=half" in answer.url) as found:
        page.keyboard.press("h")
    assert found.value.ok
    assert button(player, HALF).get_attribute("aria-pressed") == "true"
    page.keyboard.press("Space")
    expect(button(player, "Pause")).to_be_visible()
    until_at(player, 3.2)
    assert at_speed(page) == pytest.approx(0.5, abs=0.15)
    assert player.get_by_label("Position").get_attribute("max") == "15"
    page.keyboard.press("h")
    page.wait_for_timeout(300)
    assert at_speed(page) == pytest.approx(1, abs=0.2)
    assert 4 < position(player) < 9


def test_half_speed_and_raised_pitch_go_together(player):
    with player.page.expect_response(lambda answer: "pitch=raised" in answer.url):
        button(player, RAISED).click()
    both = lambda answer: "pitch=raised" in answer.url and "speed=half" in answer.url  # noqa: E731
    with player.page.expect_response(both) as found:
        button(player, HALF).click()
    assert found.value.ok


@pytest.mark.parametrize("size", [(360, 740), LAPTOP])
def test_the_cursor_stays_in_the_window_from_the_first_second_to_the_last(
    open_page, live_server, author, size
):
    player = opened(open_page(size), live_server, author)
    drawn(player)
    tab_to(player.page, player)
    for second in range(1, 16):
        player.page.keyboard.press("ArrowRight")
        line = player.locator(".player__cursor")
        expect(line).to_have_attribute("x1", str(traces.LEFT + second * traces.PER_SECOND))
        assert 0 < line_in_window(player) < 1, second
    for _ in range(15):
        player.page.keyboard.press("ArrowLeft")
    expect(line).to_have_attribute("x1", str(traces.LEFT))
    assert 0 < line_in_window(player) < 1


def test_the_cursor_lies_over_the_drawing(player):
    drawn(player)
    over, image = (player.locator(one).bounding_box() for one in (".player__over", "img"))
    assert over["width"] == pytest.approx(image["width"] - 2 * 9, abs=1.5)
    width = (2 * traces.LEFT + 15 * traces.PER_SECOND) * traces.PIXELS
    assert over["width"] == pytest.approx(width, abs=1.5)


def test_the_cursor_knows_how_traces_are_drawn():
    names = ("LEFT", "PER_SECOND", "PIXELS")
    told = dict(re.findall(r"^const ([A-Z_]+) = ([\d.]+);", CURSOR.read_text(), re.M))
    assert {name: float(told[name]) for name in names} == {n: getattr(traces, n) for n in names}


def test_the_cursor_moves_in_steps_where_less_motion_is_wanted(open_page, live_server, author):
    page = open_page(reduced_motion="reduce")
    player = opened(page, live_server, author)
    tab_to(page, player)
    page.keyboard.press("Space")
    seen = set()
    until_at(player, 0.5)
    for _ in range(12):
        seen.add(position(player))
        page.wait_for_timeout(100)
    assert seen <= {0.5 * n for n in range(20)}
    assert len(seen) >= 2


def test_it_starts_quietly_and_says_to_turn_down(player):
    assert float(player.get_by_label("Volume").input_value()) == 25
    assert player.get_by_text("turn down before wearing them").is_visible()


def test_the_raised_sound_is_fetched_when_chosen_and_called_so(player):
    raised = button(player, RAISED)
    with player.page.expect_response(lambda answer: "pitch=raised" in answer.url) as found:
        raised.click()
    assert found.value.ok
    assert raised.get_attribute("aria-pressed") == "true"


def test_a_sound_that_cannot_be_had_leaves_the_plain_controls(page, guard, live_server, author):
    guard.expected.append("404")
    page.route(re.compile(r"sound\.(flac|wav)"), lambda route: route.fulfill(status=404))
    player = opened(page, live_server, author)
    button(player, "Play").click()
    expect(player.locator("audio")).to_be_visible()
    expect(button(player, "Play")).to_have_count(0)


def test_without_scripts_the_plain_controls_stand(open_page, live_server, author):
    page = open_page(java_script_enabled=False)
    player = opened(page, live_server, author)
    assert player.locator("audio[controls]").is_visible()
    assert player.get_by_role("button").count() == 0
    for name in (RAISED, HALF, "Half speed and pitch raised, not as heard at the bedside"):
        assert player.get_by_role("link", name=name, exact=True).is_visible()
    page.get_by_label("Site").select_option("axilla")
    page.get_by_role("button", name="Hear and see it").click()
    assert page.get_by_label("Site").input_value() == "axilla"
    assert page.locator("audio[controls]").is_visible()


# ---- at the bed
