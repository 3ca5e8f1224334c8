"""The examination catalogue as pages and as API: who may read it, and what it says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.urls import reverse

from casebank.cases.actions import load_catalogue
from casebank.cases.policies import may_read_catalogue
from casebank.cases.step_words import in_words
from casebank.cases.views.catalogue import OBSERVATIONS
from casebank.domain.examination.browse import by_method, of_region, of_system, regions, systems
from casebank.domain.examination.catalogue import parse_catalogue
from tests.factories.cases import small_release
from tests.factories.people import cast as whole_cast

pytestmark = pytest.mark.django_db
TEXTS = {
    path.name: path.read_text(encoding="utf-8")
    for path in (Path(__file__).parents[3] / "fixtures" / "catalogue").glob("*.toml")
}
CATALOGUE = parse_catalogue(TEXTS)
READERS = {"author", "other_author", "reviewer", "author_and_reviewer", "tutor", "student"}


@pytest.fixture
def people():
    return whole_cast()


@pytest.fixture
def reader(client, people):
    client.force_login(people.student)
    return client


@pytest.fixture
def small():
    return small_release()


@pytest.fixture
def whole():
    return load_catalogue(texts=TEXTS)


def text_of(answer):
    """The page's words without markup."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", answer.content.decode()))


@pytest.mark.parametrize("address", ["/examination/", "/examination/heart-auscultate/"])
def test_who_examines_writes_or_reviews_reads_it_and_others_are_refused(
    client, people, small, address
):
    for name in ("author", "reviewer", "tutor", "student", "coordinator", "stranger"):
        client.force_login(getattr(people, name))
        assert client.get(address).status_code == (200 if name in READERS else 403), name


def test_the_policy_names_the_same_people(people):
    may = {name for name in vars(people) if may_read_catalogue(getattr(people, name))}
    assert may == READERS


def test_signed_out_people_are_sent_to_sign_in(client, small):
    assert client.get("/examination/").status_code == 302


def test_the_header_leads_there_for_readers_only(client, people, small):
    client.force_login(people.student)
    assert (
        'href="/examination/" aria-current="page">Steps'
        in client.get("/examination/").content.decode()
    )
    client.force_login(people.coordinator)
    assert "/examination/" not in client.get("/").content.decode()


def test_without_a_catalogue_the_page_says_so(reader):
    assert reader.get("/examination/").status_code == 503
    assert reader.get("/api/v1/examination/steps").status_code == 503


def test_systems_and_regions_stand_with_their_counts(reader, whole):
    words = text_of(reader.get("/examination/"))
    assert "Limb neurology 79 steps" in words
    assert "Axilla 1 step " in words
    assert f"{len(CATALOGUE.steps)} steps" in words


def test_the_counts_are_those_of_the_shelves():
    for shelves, of in ((systems, of_system), (regions, of_region)):
        found = shelves(CATALOGUE)
        assert sum(shelf.count for shelf in found) == len(CATALOGUE.steps)
        for shelf in found:
            steps = of(CATALOGUE, shelf.slug)
            assert len(steps) == shelf.count
            assert sum(len(group.steps) for group in by_method(steps)) == shelf.count


def test_no_step_hides_behind_the_address_of_a_shelf():
    assert not {"system", "region"} & CATALOGUE.steps.keys()


def test_a_search_by_beginnings_of_words_finds_a_step(reader, whole):
    words = text_of(reader.get("/examination/", {"q": "rolled pulse"}))
    assert "Try fewer" in words
    words = text_of(reader.get("/examination/", {"q": "radial pul"}))
    assert CATALOGUE.steps["radial-pulse-rate"].label in words


@pytest.mark.parametrize("words", ["<script>", "\0", "'; --", "ÿ" * 300])
def test_odd_words_only_find_nothing(reader, small, words):
    answer = reader.get("/examination/", {"q": words})
    assert answer.status_code == 200
    assert "<script>alert" not in answer.content.decode()


def test_a_system_lists_its_steps_and_the_full_one_all_they_say(reader, whole):
    steps = of_system(CATALOGUE, "respiratory")
    short = text_of(reader.get("/examination/system/respiratory/"))
    page = reader.get("/examination/system/respiratory/", {"in": "full"}).content.decode()
    for step in steps:
        assert f'href="/examination/{step.slug}/"' in page
        assert step.label.replace("'", "&#x27;") in short or step.label in short
    assert page.count("<article") == len(steps)


def test_a_region_lists_its_steps(reader, whole):
    page = reader.get("/examination/region/whole-body/").content.decode()
    assert "Take a full set of observations" in page


@pytest.mark.parametrize(
    "address", ["/examination/system/nowhere/", "/examination/region/x/", "/examination/nothing/"]
)
def test_what_does_not_exist_is_not_found(reader, small, address):
    assert reader.get(address).status_code == 404


def test_a_step_says_how_it_is_done_what_it_takes_and_what_it_needs(reader, whole):
    words = text_of(reader.get("/examination/auscultate-heart/"))
    step = CATALOGUE.steps["auscultate-heart"]
    for said in (step.looks_for, step.cautions, "rolled onto the left side", "Clean your hands"):
        assert said in words
    assert "1 min; discomfort none (0 of 3); 0 resource units; price 1 " in words
    assert "Up to 20 years:" in words
    assert "Everyone else:" in words
    shown = in_words(step, CATALOGUE).said_as
    assert "; ".join(shown) in words
    assert shown[-1] == "and more"
    assert len(shown) < len(step.synonyms)


def test_every_step_can_be_put_in_words():
    for step in CATALOGUE.steps.values():
        shown = in_words(step, CATALOGUE)
        assert len(shown.slots) == len(step.slots)
        assert len(shown.normal) == len(step.normal)
        assert shown.cost.minutes > 0
        assert shown.cost.price == pytest.approx(
            sum(CATALOGUE.steps[part].price for part in step.parts) or step.price
        )


def test_normal_findings_say_for_whom_they_hold():
    said = {
        one.who for step in CATALOGUE.steps.values() for one in in_words(step, CATALOGUE).normal
    }
    assert {"", "Everyone else"} <= said
    assert all(
        re.fullmatch(r"((Female|Male)(, )?)?(([Uu]p to )?\d+ .*)?|Everyone else", who)
        for who in said
    )


def test_the_parts_of_a_composite_are_linked_and_link_back(reader, whole):
    page = reader.get("/examination/hearing-tests/").content.decode()
    for part in CATALOGUE.steps["hearing-tests"].parts:
        assert f'href="/examination/{part}/"' in page
    part = reader.get("/examination/rinne-test/").content.decode()
    assert 'href="/examination/hearing-tests/"' in part
    assert 'href="/examination/system/cranial-nerves/"' in part


def test_the_full_set_of_observations_shows_the_published_chart(reader, whole):
    assert OBSERVATIONS in CATALOGUE.steps
    words = text_of(reader.get(f"/examination/{OBSERVATIONS}/"))
    assert "Royal College of Physicians" in words
    assert "≤83 84–85 86–87 88–92, or ≥93 on air 93–94 on oxygen" in words
    assert "Royal College" not in text_of(reader.get("/examination/temperature/"))


def test_the_pages_are_the_same_whatever_case_is_open(reader, people):
    from tests.factories.encounters import begun

    small_release()
    before = text_of(reader.get("/examination/heart-auscultate/"))
    begun(people)
    assert text_of(reader.get("/examination/heart-auscultate/")) == before
    assert "blowing" not in before


class TestApi:
    """``/api/v1/examination/steps``."""

    url = "/api/v1/examination/steps"

    def test_others_are_refused(self, client, people, small):
        client.force_login(people.coordinator)
        assert client.get(self.url).status_code == 403
        assert client.get(f"{self.url}/hand-hygiene").status_code == 404
        client.logout()
        assert client.get(self.url).status_code in {401, 403}

    def test_all_pages_together_hold_every_step_once(self, reader, whole):
        address, slugs = self.url, []
        while address:
            page = reader.get(address).json()
            slugs += [one["slug"] for one in page["results"]]
            address = page["next"]
        assert page["count"] == len(CATALOGUE.steps)
        assert sorted(slugs) == sorted(CATALOGUE.steps)

    def test_filters_narrow_together(self, reader, whole):
        asked = {"system": "cardiovascular", "region": "chest", "q": "heart"}
        found = reader.get(self.url, asked).json()["results"]
        assert "auscultate-heart" in [one["slug"] for one in found]
        assert {(one["system"], one["region"]) for one in found} == {("cardiovascular", "chest")}
        assert reader.get(self.url, {"system": "nowhere"}).json()["count"] == 0

    def test_one_step_in_full(self, reader, whole):
        found = reader.get(f"{self.url}/auscultate-heart").json()
        postures = next(one for one in found["technique"] if one["slot"] == "posture")
        assert postures["default"] == "reclined-45"
        assert {"value": "left-lateral", "label": "rolled onto the left side"} in postures["values"]
        assert found["needs"] == ["consent", "hygiene"]
        assert found["cost"] == {"minutes": 1, "discomfort": 0, "resource": 0, "price": 1}

    def test_a_page_or_a_step_that_is_not_there_is_a_problem(self, reader, whole):
        for address in (f"{self.url}?page=999", f"{self.url}/nothing"):
            answer = reader.get(address)
            assert answer.status_code == 404
            assert answer["Content-Type"] == "application/problem+json"

    def test_the_schema_describes_both(self, reader, small):
        schema = reader.get(reverse("api:schema"), headers={"Accept": "application/json"}).json()
        paths = schema["paths"]
        assert "/api/v1/examination/steps" in paths
        shape = schema["components"]["schemas"]["StepShape"]["properties"]
        one = reader.get(f"{self.url}/hand-hygiene").json()
        assert set(one) == set(shape)
