"""The debrief and one's own progress in the browser: every size, every theme, on paper."""

import pytest

from casebank.domain.encounter.model import Request
from casebank.encounters.actions import begin, state_differential
from casebank.encounters.debriefing.actions import adjust, comment
from tests.browser.pages import LAPTOP, PHONE, THEMES, WIDE, assert_sound, choose_theme, sign_in
from tests.browser.players import button, drawn
from tests.factories.cases import published
from tests.factories.encounters import CLEAN, asked, concluded
from tests.factories.heard import AXILLA, heard_begun
from tests.factories.heard import CLEAN as HEARD_CLEAN
from tests.factories.people import cast, person
from tests.factories.teaching import cohort_of

SIZES = {"phone": PHONE, "laptop": LAPTOP, "wide": WIDE}
USUAL = Request("heart-auscultate")
FIRM = Request("apex-palpate", {"effort": "firm"})
PATHS = {"debrief": "/patients/at/{pk}/debrief", "progress": "/patients/progress/"}


@pytest.fixture
def version(live_server):
    return published(person("Ada Author", "author"), person("Rea Reviewer", "reviewer"))


@pytest.fixture
def student(live_server):
    return person("Sol Student", "student")


@pytest.fixture
def tutor(live_server, student):
    found = person("Tam Tutor", "tutor")
    cohort_of("first", tutors=[found], students=[student])
    return found


@pytest.fixture
def encounter(version, student):
    """A debrief in which every section has something to say."""
    found = begin(version=version, by=student)
    asked(found, USUAL, CLEAN, CLEAN, by=student)
    state_differential(encounter_id=found.pk, probabilities={"aortic-stenosis": 0.5}, by=student)
    asked(found, FIRM, by=student)
    return concluded(found, by=student, aortic_stenosis=0.6, mitral_regurgitation=0.2)


@pytest.fixture
def judged(encounter, tutor):
    comment(encounter=encounter, text="Roll her over, then listen.", entry_seq=1, by=tutor)
    adjust(encounter=encounter, total=55, reason="The summary was sound.", by=tutor)
    return encounter


def several(version, student):
    for stated in (0.9, 0.4, 0.7):
        for _ in range(4):
            found = begin(version=version, by=student)
            asked(found, CLEAN, by=student)
            concluded(found, by=student, mitral_regurgitation=stated)


def at(encounter):
    return PATHS["debrief"].format(pk=encounter.pk)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("size", SIZES)
def test_a_debrief_with_everything_open_is_sound(
    open_page, live_server, student, judged, size, theme
):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(at(judged))
    choose_theme(page, theme)
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true })")
    assert_sound(page)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_progress_is_sound(open_page, live_server, version, student, size, theme):
    several(version, student)
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, student)
    page.goto(PATHS["progress"])
    choose_theme(page, theme)
    assert page.locator("#calibration-desc").count() == 1
    assert_sound(page)


@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_a_tutors_pages_are_sound_and_a_comment_reaches_the_student(
    open_page, live_server, student, tutor, encounter, size
):
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, tutor)
    page.goto("/patients/concluded/")
    assert_sound(page)
    page.get_by_role("link", name="debrief of Sol Student").click()
    page.wait_for_load_state()
    assert_sound(page)
    page.get_by_label("Comment", exact=True).fill("Roll her over, then listen.")
    page.get_by_role("button", name="Add the comment").click()
    page.get_by_label("Total").fill("61")
    page.get_by_label("Reason").fill("The summary was sound.")
    page.get_by_role("button", name="Put it beside the mark").click()
    theirs = open_page(SIZES[size])
    sign_in(theirs, live_server.url, student)
    theirs.goto(at(encounter))
    assert theirs.get_by_text("Roll her over, then listen.").is_visible()
    assert theirs.locator(".answer__total").text_content() == "61"
    assert theirs.get_by_text("Computed:").is_visible()


def test_the_answer_stands_in_the_first_window(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    for found in (page.locator(".answer__total"), page.get_by_text("Practise next")):
        box = found.bounding_box()
        assert box["y"] + box["height"] < LAPTOP[1]


def test_a_point_leads_to_its_entry_and_back(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    page.locator("#evidence-displaced-apex a").click()
    assert page.url.endswith("#entry-5")
    back = page.locator("#entry-5").get_by_role("link", name="what it told")
    assert back.is_visible()
    back.click()
    assert page.url.endswith("#evidence-displaced-apex")


def test_a_link_to_a_folded_point_shows_it(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    page.locator("#entry-1").get_by_role("link", name="coverage").click()
    point = page.locator("#point-coverage-1")
    point.wait_for(state="visible")
    assert point.is_visible()


def test_everything_can_be_read_without_scripts(open_page, live_server, student, encounter):
    page = open_page(java_script_enabled=False)
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    assert page.locator(".answer__total").is_visible()
    page.get_by_text("Coverage: the essential steps").click()
    assert page.locator("#point-coverage-1").is_visible()
    assert page.locator("#sign-1").is_visible()


def test_on_paper_every_fold_is_open_and_no_control_stands(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    assert page.locator("#point-coverage-1").is_hidden()
    page.emulate_media(media="print")
    folded = page.locator("#point-coverage-1")
    assert folded.bounding_box()["height"] > 0
    assert folded.is_visible()
    assert page.get_by_role("link", name="Keep as PDF").is_hidden()
    assert page.get_by_role("navigation", name="In this debrief").is_hidden()
    assert page.get_by_text("For teaching. Fictional patients.").is_visible()


def test_the_document_is_taken_away(page, live_server, student, encounter):
    sign_in(page, live_server.url, student)
    page.goto(at(encounter))
    with page.expect_download() as taken:
        page.get_by_role("link", name="Keep as PDF").click()
    assert taken.value.suggested_filename == f"debrief-{encounter.pk}.pdf"


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("size", ["phone", "laptop"])
def test_a_sound_as_it_is_found_plays_beside_the_one_that_was_heard(
    open_page, live_server, settings, tmp_path, size, theme
):
    settings.MEDIA_SHELF = tmp_path / "media"
    people = cast()
    bed = asked(heard_begun(people), HEARD_CLEAN, AXILLA, by=people.student)
    ended = concluded(bed, by=people.student)
    page = open_page(SIZES[size])
    sign_in(page, live_server.url, people.student)
    page.goto(at(ended))
    choose_theme(page, theme)
    mine, found = page.locator("[aria-labelledby=signs-title] [data-player]").all()
    for player, part in ((mine, "/media/"), (found, "/deciding/")):
        player.scroll_into_view_if_needed()
        drawn(player)
        with page.expect_response(lambda answer, part=part: part in answer.url) as heard:
            button(player, "Play").click()
        assert heard.value.ok
        button(player, "Pause").click()
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true })")
    assert_sound(page)
