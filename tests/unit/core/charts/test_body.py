"""The body drawing points at places the catalogue knows, with right and left where they belong."""

import pytest

from casebank.core.charts.body_views import VIEWS
from casebank.core.fixtures import catalogue_texts
from casebank.domain.examination.catalogue import parse_catalogue

PLACES = [(view, place) for view in VIEWS for place in view.places]
SITED = [(view, place) for view, place in PLACES if place.site]
IDS = [f"{view.slug}-{place.slug}" for view, place in PLACES]
SITED_IDS = [f"{view.slug}-{place.slug}" for view, place in SITED]


@pytest.fixture(scope="module")
def catalogue():
    return parse_catalogue(catalogue_texts())


@pytest.mark.parametrize(("view", "place"), SITED, ids=SITED_IDS)
def test_the_site_of_a_place_is_in_the_catalogue_and_some_step_takes_it(view, place, catalogue):
    assert ("site", place.site) in catalogue.values
    slots = [slot for step in catalogue.steps.values() if (slot := step.slot("site"))]
    assert any(place.site in slot.values for slot in slots)


@pytest.mark.parametrize(("view", "place"), SITED, ids=SITED_IDS)
def test_the_words_of_a_place_are_words_the_catalogue_reads_as_its_site(view, place, catalogue):
    value = catalogue.value("site", place.site)
    phrases = {value.label, value.slug.replace("-", " "), *value.phrases}
    words = place.words.lower()
    assert any(phrase.lower() in words for phrase in phrases)


@pytest.mark.parametrize(("view", "place"), PLACES, ids=IDS)
def test_a_place_with_a_side_lies_on_that_side_of_the_drawing(view, place):
    if place.side:
        towards = view.right_x if place.side == "right" else view.left_x
        assert place.x * towards > 0
        assert place.words.startswith(place.side)


@pytest.mark.parametrize(("view", "place"), PLACES, ids=IDS)
def test_a_place_named_right_or_left_lies_there(view, place):
    for side, towards in (("right ", view.right_x), ("left ", view.left_x)):
        if place.name.startswith(side):
            assert place.x * towards > 0


def test_at_the_front_the_right_of_the_patient_is_on_the_left_of_the_picture():
    assert {view.slug: view.right_x < 0 for view in VIEWS} == {
        "front": True,
        "back": False,
        "heart": True,
        "lungs-front": True,
        "lungs-back": False,
        "abdomen": True,
    }


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.slug)
def test_names_and_slugs_of_one_view_differ_and_everything_lies_inside(view):
    x, y, width, height = map(float, view.box.split())
    assert len({place.slug for place in view.places}) == len(view.places)
    assert len({place.name for place in view.places}) == len(view.places)
    assert all(x <= place.x <= x + width for place in view.places)
    assert all(y <= place.y <= y + height for place in view.places)


def test_a_door_leads_to_a_view():
    doors = {place.to for _, place in PLACES if place.to}
    assert doors == {"heart", "lungs-back", "abdomen"}
    assert doors <= {view.slug for view in VIEWS}


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.slug)
def test_points_of_one_view_are_far_enough_apart_to_be_touched(view):
    points = [place for place in view.places if not place.path]
    gaps = [
        ((a.x - b.x) ** 2 + (a.y - b.y) ** 2) ** 0.5
        for index, a in enumerate(points)
        for b in points[:index]
    ]
    assert min(gaps, default=99) >= 27  # 24 px where the drawing is 288 px wide (WCAG 2.2, 2.5.8)
