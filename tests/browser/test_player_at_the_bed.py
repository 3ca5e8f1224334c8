"""A student slows a sound down and raises its pitch at the bed, with scripts and without."""

import pytest
from playwright.sync_api import expect

from casebank.domain.signs.drawing import traces
from tests.browser.pages import LAPTOP, assert_sound, choose_theme, sign_in
from tests.browser.players import button, drawn, line_in_window
from tests.factories.encounters import asked
from tests.factories.heard import APEX, CLEAN, heard_begun
from tests.factories.people import cast

HALF, RAISED = "Half speed, pitch kept", "Pitch raised, not as heard at the bedside"


@pytest.fixture
def bed(live_server, settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"
    people = cast()
    encounter = asked(heard_begun(people), CLEAN, APEX, by=people.student)
    return people.student, f"/patients/at/{encounter.pk}/"


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", [(360, 740), LAPTOP])
def test_a_student_slows_and_raises_what_is_heard(open_page, live_server, bed, size, theme):
    student, sheet = bed
    page = open_page(size)
    sign_in(page, live_server.url, student)
    page.goto(sheet)
    choose_theme(page, theme)
    player = page.locator("[data-player]")
    drawn(player)
    for name in (HALF, RAISED):
        with page.expect_response(lambda answer: "/media/" in answer.url) as found:
            button(player, name).click()
        assert found.value.ok
        assert button(player, name).get_attribute("aria-pressed") == "true"
    player.focus()
    for _ in range(14):
        page.keyboard.press("ArrowRight")
    expect(player.locator(".player__cursor")).to_have_attribute(
        "x1", str(traces.LEFT + 14 * traces.PER_SECOND)
    )
    assert 0 < line_in_window(player) < 1
    assert_sound(page)


def test_a_student_without_scripts_has_links_to_every_rendition(open_page, live_server, bed):
    student, sheet = bed
    page = open_page(java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto(sheet)
    links = page.locator("[data-rendition]")
    assert links.all_inner_texts() == [
        RAISED, HALF, "Half speed and pitch raised, not as heard at the bedside"
    ]  # fmt: skip
    for link in links.all():
        answer = page.request.get(live_server.url + link.get_attribute("href"))
        assert (answer.status, answer.headers["content-type"]) == (200, "audio/wav")
