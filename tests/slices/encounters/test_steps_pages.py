"""Technique corrected by chips, and steps picked from lists: the same request another way."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from django.urls import reverse

from casebank.core.charts.body_views import VIEWS
from casebank.domain.examination.browse import at_site, of_region
from casebank.domain.examination.catalogue import parse_catalogue
from casebank.encounters.models import Entry
from tests.factories.encounters import concluded
from tests.factories.people import person

pytestmark = pytest.mark.django_db
FRAGMENT = {"HX-Request": "true"}
HEART = "listen to the heart"


@pytest.fixture
def uncued(encounter):
    encounter.cued = False
    encounter.save(update_fields=["cued"])
    return encounter


def ask(client, encounter, text="", headers=None, after=0, **data):
    url = reverse("encounters:ask", args=[encounter.pk])
    fields = {name.replace("_", "-"): value for name, value in data.items()}
    return client.post(url, {"text": text, "after": after, **fields}, headers=headers or {})


def read_back(client, encounter, text, **data):
    url = reverse("encounters:read-back", args=[encounter.pk])
    fields = {name.replace("_", "-"): value for name, value in data.items()}
    return client.get(url, {"text": text, **fields}).content.decode()


def chosen(page, slot):
    """The value that the slot's choice stands at."""
    select = re.search(rf'<select[^>]*name="slot-{slot}".*?</select>', page, re.DOTALL)
    return re.search(r'value="([^"]*)" selected', select.group())[1]


def technique():
    return Entry.objects.get().payload["technique"]


def said():
    return Entry.objects.get().payload["said"]


class TestChips:
    """What is read back can be corrected."""

    def test_one_request_offers_every_slot_with_the_value_read(self, student, encounter):
        page = read_back(student, encounter, f"{HEART} rolled onto the left side")
        assert chosen(page, "posture") == "left-lateral"
        assert chosen(page, "site") == "apex"
        assert 'name="was-site" value="apex"' in page
        site, posture = (page.index(f'name="slot-{slot}"') for slot in ("site", "posture"))
        assert posture < site, "what was said stands first"
        assert "as usual" in page[posture:site], "the default site says that it is one"

    def test_two_requests_are_read_back_without_choices(self, student, encounter):
        page = read_back(student, encounter, "feel the apex beat, then listen to the heart")
        assert "Feel the apex beat" in page
        assert "Listen to the heart" in page
        assert "<select" not in page

    def test_words_only_encounters_show_no_choices_and_take_none(self, student, uncued):
        assert "<select" not in read_back(student, uncued, HEART)
        assert "Listen to the heart" in read_back(student, uncued, HEART)
        answer = ask(student, uncued, HEART, slot_posture="left-lateral")
        assert answer.status_code == 422
        assert "in words only" in answer.content.decode()
        assert Entry.objects.count() == 0

    def test_a_pick_is_laid_over_what_was_said(self, student, encounter):
        ask(student, encounter, HEART, slot_posture="left-lateral")
        assert technique() == {"site": "apex", "posture": "left-lateral"}
        assert said() == {"posture": "left-lateral"}

    def test_chips_left_alone_change_nothing(self, student, encounter):
        ask(student, encounter, f"{HEART} at the axilla", read_step="heart-auscultate",
            slot_site="axilla", was_site="axilla", slot_posture="supine", was_posture="supine")  # fmt: skip
        assert said() == {"site": "axilla"}

    def test_a_pick_back_to_the_usual_wins_over_the_words(self, student, encounter):
        ask(student, encounter, f"{HEART} at the axilla", read_step="heart-auscultate",
            slot_site="apex", was_site="axilla")  # fmt: skip
        assert technique()["site"] == "apex"

    def test_words_said_after_a_pick_win_over_it(self, student, encounter):
        """The chips were read from "listen to the heart"; then the site was typed as well."""
        ask(student, encounter, f"{HEART} at the axilla", read_step="heart-auscultate",
            slot_site="apex", was_site="apex", slot_posture="left-lateral", was_posture="supine")  # fmt: skip
        assert technique() == {"site": "axilla", "posture": "left-lateral"}

    def test_picks_for_another_step_fall_away(self, student, encounter):
        ask(student, encounter, "feel the apex beat", read_step="heart-auscultate",
            slot_posture="left-lateral", was_posture="supine")  # fmt: skip
        assert technique() == {"effort": "light"}

    def test_a_pick_is_kept_while_more_is_typed(self, student, encounter):
        page = read_back(student, encounter, f"{HEART} please", read_step="heart-auscultate",
                         slot_posture="left-lateral", was_posture="supine")  # fmt: skip
        assert chosen(page, "posture") == "left-lateral"
        assert 'name="was-posture" value="supine"' in page
        other = read_back(student, encounter, "feel the apex beat", read_step="heart-auscultate",
                          slot_posture="left-lateral", was_posture="supine")  # fmt: skip
        assert "left-lateral" not in other

    @pytest.mark.parametrize(
        ("picks", "words"),
        [
            ({"slot_effort": "firm"}, "takes no effort"),
            ({"slot_posture": "on-the-ceiling"}, "Choose one of: lying flat"),
            ({"slot_nonsense": "x"}, "takes no “nonsense”"),
            ({"slot_": "x"}, "takes no “”"),
        ],
    )
    def test_what_the_step_does_not_take_is_refused_in_words_and_costs_nothing(
        self, student, encounter, picks, words
    ):
        answer = ask(student, encounter, HEART, **picks)
        assert answer.status_code == 422
        page = answer.content.decode()
        assert words in page
        assert f'value="{HEART}"' in page
        assert Entry.objects.count() == 0

    def test_picks_for_more_than_one_request_are_refused(self, student, encounter):
        answer = ask(
            student, encounter, "feel the apex beat, then listen to the heart", slot_effort="firm"
        )
        assert answer.status_code == 422
        assert "more than one request" in answer.content.decode()

    def test_a_double_click_with_the_same_pick_charges_once(self, student, encounter):
        for _ in range(2):
            ask(student, encounter, HEART, slot_posture="left-lateral")
        assert Entry.objects.count() == 1

    def test_another_pick_is_another_request(self, student, encounter):
        ask(student, encounter, HEART, slot_posture="left-lateral")
        ask(student, encounter, HEART, slot_posture="supine")
        assert Entry.objects.count() == 2

    def test_chips_that_arrive_between_two_clicks_do_not_charge_twice(self, student, encounter):
        ask(student, encounter, HEART)
        ask(student, encounter, HEART, read_step="heart-auscultate",
            slot_posture="supine", was_posture="supine")  # fmt: skip
        assert Entry.objects.count() == 1

    def test_a_request_with_picks_needs_at_most_seven_queries(
        self, student, encounter, django_assert_max_num_queries
    ):
        ask(student, encounter, "wash hands", headers=FRAGMENT)
        with django_assert_max_num_queries(7):
            ask(student, encounter, HEART, headers=FRAGMENT, after=1, slot_posture="left-lateral")

    def test_a_choice_is_logged_with_the_words_it_was_offered_for(self, student, encounter):
        ask(
            student,
            encounter,
            "typed since",
            step=json.dumps({"step": "hand-hygiene"}),
            asked="hands",
        )
        assert Entry.objects.get().payload["text"] == "hands"


class TestSteps:
    """Lists of steps and their forms, where cues are allowed."""

    def url(self, encounter, slug=""):
        name, args = ("encounters:step", [slug]) if slug else ("encounters:steps", [])
        return reverse(name, args=[encounter.pk, *args])

    def test_the_sheet_leads_there_only_where_cues_are_allowed(self, student, encounter):
        sheet = reverse("encounters:sheet", args=[encounter.pk])
        page = student.get(sheet).content.decode()
        assert f'href="{self.url(encounter)}"' in page
        assert f'href="{self.url(encounter)}?site=apex"' in page
        encounter.cued = False
        encounter.save(update_fields=["cued"])
        assert self.url(encounter) not in student.get(sheet).content.decode()

    def test_words_only_encounters_have_no_such_pages(self, student, uncued):
        assert student.get(self.url(uncued)).status_code == 404
        assert student.get(self.url(uncued, "hand-hygiene")).status_code == 404

    def test_others_find_nothing_there(self, client, people, encounter):
        for other in (people.reviewer, person("Second Student", "student")):
            client.force_login(other)
            assert client.get(self.url(encounter)).status_code == 404
            assert client.get(self.url(encounter, "hand-hygiene")).status_code == 404

    @pytest.mark.parametrize(
        ("query", "shown", "hidden"),
        [
            ("?region=chest", "heart-auscultate", "hand-hygiene"),
            ("?system=cardiovascular", "hand-hygiene", "nothing"),
            ("?site=axilla", "heart-auscultate?site=axilla", "apex-palpate"),
            ("?q=feel+ap", "apex-palpate", "hand-hygiene"),
        ],
    )
    def test_a_list_holds_the_steps_of_its_place(self, student, encounter, query, shown, hidden):
        page = student.get(self.url(encounter) + query).content.decode()
        assert f'steps/{shown}"' in page
        assert f"steps/{hidden}" not in page

    @pytest.mark.parametrize("query", ["?region=moon", "?system=moon", "?site=moon"])
    def test_a_place_that_is_not_there_is_not_found(self, student, encounter, query):
        assert student.get(self.url(encounter) + query).status_code == 404

    def test_without_a_place_there_are_all_regions_and_systems(self, student, encounter):
        page = student.get(self.url(encounter)).content.decode()
        assert '"?region=chest"' in page
        assert '"?system=cardiovascular"' in page
        assert "blowing" not in page

    def test_the_form_stands_at_the_usual_technique_or_at_the_place_pointed_to(
        self, student, encounter
    ):
        url = self.url(encounter, "heart-auscultate")
        assert chosen(student.get(url).content.decode(), "site") == "apex"
        page = student.get(url, {"site": "axilla", "side": "left"}).content.decode()
        assert chosen(page, "site") == "axilla"
        assert 'name="was-site" value="apex"' in page
        assert chosen(student.get(url, {"site": "moon"}).content.decode(), "site") == "apex"

    def test_the_form_as_sent_does_the_step(self, student, encounter):
        page = student.get(self.url(encounter, "heart-auscultate")).content.decode()
        choice = re.search(r'name="step" value="([^"]*)"', page)[1].replace("&quot;", '"')
        answer = ask(student, encounter, step=choice, was_site="apex", slot_site="apex",
                     was_posture="supine", slot_posture="left-lateral")  # fmt: skip
        assert answer.status_code == 302
        assert "#entry-1" in answer.url
        assert technique() == {"site": "apex", "posture": "left-lateral"}
        assert said() == {"posture": "left-lateral"}
        assert "A blowing sound" in student.get(answer.url).content.decode()

    def test_the_form_is_done_once_however_often_it_is_sent(self, student, encounter):
        for _ in range(2):
            ask(student, encounter, step='{"step": "apex-palpate"}', slot_effort="firm")
        assert Entry.objects.count() == 1

    def test_a_damaged_form_is_refused_in_words(self, student, encounter):
        answer = ask(student, encounter, step='{"step": "apex-palpate"}', slot_effort="enormous")
        assert answer.status_code == 422
        assert "Choose one of: light touch, firm pressure" in answer.content.decode()

    def test_an_unknown_step_is_not_found(self, student, encounter):
        assert student.get(self.url(encounter, "nothing")).status_code == 404

    def test_after_the_conclusion_the_sheet_comes_back(self, student, people, encounter):
        concluded(encounter, by=people.student)
        for slug in ("", "hand-hygiene"):
            answer = student.get(self.url(encounter, slug))
            assert answer.url == reverse("encounters:sheet", args=[encounter.pk])


def test_every_place_of_the_drawing_leads_to_steps():
    folder = Path(__file__).parents[3] / "fixtures" / "catalogue"
    catalogue = parse_catalogue(
        {p.name: p.read_text(encoding="utf-8") for p in folder.glob("*.toml")}
    )
    for place in (place for view in VIEWS for place in view.places):
        where = dict(part.split("=") for part in place.whereabouts.split("&"))
        found = (
            at_site(catalogue, where["site"])
            if "site" in where
            else of_region(catalogue, where["region"])
        )
        assert found, place.slug


def test_a_differential_brings_every_row_the_page_lacks_and_moves_it_on(student, people, encounter):
    """Else the next answer would bring the differential's row a second time."""
    ask(student, encounter, "wash hands")
    url = reverse("encounters:differential", args=[encounter.pk])
    data = {"p-mitral-regurgitation": "60", "after": "0"}
    page = student.post(url, data, headers=FRAGMENT).content.decode()
    assert 'id="entry-1"' in page
    assert 'id="entry-2"' in page
    assert 'id="request-after" name="after" value="2" hx-swap-oob="true"' in page


def test_signed_out_callers_of_the_api_are_refused_not_failed(client, encounter):
    assert client.get("/api/v1/patients").status_code in {401, 403}
