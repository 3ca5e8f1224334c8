"""Naming what was heard, on the page and by the API: noted, asked back, never judged."""

from __future__ import annotations

import pytest
from django.urls import reverse

from casebank.encounters.models import Entry
from tests.factories.encounters import asked, concluded
from tests.factories.heard import APEX, CLEAN, FULL_WORDS, heard_begun

pytestmark = pytest.mark.django_db
FRAGMENT = {"HX-Request": "true"}
HIDDEN = (
    "murmur through systole",
    "third-sound",
    "mitral-regurgitation",
    "lesions",
    "expects",
    "pansystolic",
    "outcome",
    "seed",
)


@pytest.fixture
def encounter(people):
    return asked(heard_begun(people), CLEAN, APEX, by=people.student)


def url(encounter, seq=2, index=0):
    return reverse("encounters:reading", args=[encounter.pk, seq, index])


def say(client, encounter, words, seq=2, index=0, fragment=False):
    headers = FRAGMENT if fragment else {}
    return client.post(url(encounter, seq, index), {"reading": words}, headers=headers)


def api(client, encounter, data, key=""):
    headers = {"Idempotency-Key": key} if key else {}
    path = f"/api/v1/encounters/{encounter.pk}/readings"
    return client.post(path, data, content_type="application/json", headers=headers)


def sheet(client, encounter):
    return client.get(reverse("encounters:sheet", args=[encounter.pk])).content.decode()


def readings():
    return Entry.objects.filter(kind="reading")


# ---- the page
def test_the_sheet_lets_hear_and_asks_without_telling_what_it_is(student, encounter):
    page = sheet(student, encounter)
    assert "<audio controls" in page
    assert "What is it?" in page
    assert "blowing" in page  # the same in words
    for hidden in HIDDEN:
        assert hidden not in page.lower(), hidden


def test_a_reading_is_noted_and_shown_as_understood(student, encounter):
    answer = say(student, encounter, FULL_WORDS)
    assert answer.status_code == 302
    assert answer.url.endswith("#entry-2")
    page = sheet(student, encounter)
    assert "“pansystolic murmur grade 3" in page
    assert "Third heart sound" in page
    assert "Say it otherwise" in page


def test_a_fragment_brings_the_finding_alone(student, encounter):
    page = say(student, encounter, FULL_WORDS, fragment=True).content.decode()
    assert "Read as:" in page
    assert "<html" not in page


def test_right_and_wrong_readings_look_the_same(student, encounter):
    right = say(student, encounter, "third heart sound", fragment=True).content.decode()
    wrong = say(student, encounter, "fourth heart sound", fragment=True).content.decode()
    assert (
        right.lower().replace("third", "fourth").split("csrf")[0]
        == (wrong.lower().split("csrf")[0])
    )


def test_a_name_of_several_signs_is_asked_back_with_choices(student, encounter):
    page = say(student, encounter, "gallop", fragment=True).content.decode()
    assert "Which of these do you mean?" in page
    assert 'value="third heart sound"' in page
    assert 'value="fourth heart sound"' in page
    assert readings().count() == 0


def test_without_scripts_the_whole_sheet_asks_back_and_keeps_the_words(student, encounter):
    answer = say(student, encounter, "frobnicate")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Not understood: “frobnicate”" in page
    assert 'value="frobnicate"' in page
    assert "<html" in page
    assert readings().count() == 0


@pytest.mark.parametrize("words", ["", "   ", "m" * 301])
def test_nothing_and_too_much_are_refused(student, encounter, words):
    assert say(student, encounter, words).status_code == 422
    assert readings().count() == 0


@pytest.mark.parametrize(("seq", "index"), [(1, 0), (2, 1), (9, 0)])
def test_where_nothing_was_heard_there_is_nothing_to_name(student, encounter, seq, index):
    assert say(student, encounter, FULL_WORDS, seq, index).status_code == 404
    assert readings().count() == 0


def test_somebody_elses_finding_does_not_exist(client, people, encounter):
    client.force_login(people.reviewer)
    assert say(client, encounter, FULL_WORDS).status_code == 404
    client.force_login(people.stranger)
    assert say(client, encounter, FULL_WORDS).status_code in (403, 404)
    assert readings().count() == 0


def test_a_reading_is_no_row_of_the_sheet(student, encounter):
    say(student, encounter, FULL_WORDS)
    page = sheet(student, encounter)
    assert 'id="entry-2"' in page
    assert 'id="entry-3"' not in page


def test_after_the_conclusion_the_reading_stands_as_it_was(student, people, encounter):
    say(student, encounter, "third heart sound")
    concluded(encounter, by=people.student)
    say(student, encounter, "fourth heart sound", fragment=True)
    assert [one.payload["text"] for one in readings()] == ["third heart sound"]
    mark = encounter.marks.get()
    assert mark.marking_version == 2
    (heard,) = [one for one in mark.result["domains"] if one["domain"] == "interpretation"]
    assert heard["score"] == 50  # the third sound in full, the murmur not at all


# ---- idempotency
def test_the_same_words_again_change_nothing(student, encounter):
    for _ in range(2):
        assert say(student, encounter, FULL_WORDS).status_code == 302
    assert readings().count() == 1
    say(student, encounter, "fourth heart sound")
    say(student, encounter, FULL_WORDS)
    assert readings().count() == 3


def test_an_idempotency_key_makes_a_second_post_the_first(student, encounter):
    data = {"entry": 2, "medium": 0, "text": "third heart sound"}
    first, again = (api(student, encounter, data, key="k1") for _ in range(2))
    other = api(student, encounter, {**data, "text": "fourth heart sound"}, key="k1")
    assert first.status_code == again.status_code == 201
    assert first.json()["entries"] == again.json()["entries"]
    assert other.status_code == 422
    assert other.json()["type"] == "urn:casebank:problem:key-reused"
    assert readings().count() == 1


# ---- the API
def test_the_api_tells_what_is_to_be_heard_by_address_alone(student, encounter):
    answer = student.get(f"/api/v1/encounters/{encounter.pk}")
    (medium,) = answer.json()["entries"][1]["media"]
    told = {"index", "kind", "addresses", "renditions", "alternative", "reading", "understood"}
    assert set(medium) == told
    assert medium["kind"] == "sound"
    assert set(medium["renditions"]) == {"raised", "slow", "raised-slow"}
    for one in (address for some in medium["renditions"].values() for address in some):
        assert student.get(one).status_code == 200, one
    assert [one.rsplit(".", 1)[1] for one in medium["addresses"]] == ["flac", "wav", "svg"]
    assert medium["reading"] == ""
    for hidden in HIDDEN:
        assert hidden not in answer.content.decode().lower(), hidden


def test_the_api_notes_a_reading_and_shows_it_where_it_belongs(student, encounter):
    made = api(student, encounter, {"entry": 2, "text": "third heart sound, wibbling"}).json()
    (entry,) = made["entries"]
    assert (entry["kind"], entry["entry"], entry["medium"]) == ("reading", 2, 0)
    assert entry["understood"] == ["Third heart sound"]
    assert entry["unused"] == ["wibbling"]
    whole = student.get(f"/api/v1/encounters/{encounter.pk}").json()
    assert whole["entries"][1]["media"][0]["reading"] == "third heart sound, wibbling"
    assert whole["entries"][2]["kind"] == "reading"


@pytest.mark.parametrize(
    ("words", "slug", "choices", "unknown"),
    [
        ("gallop", "asked-back", ["third heart sound", "fourth heart sound"], []),
        ("frobnicate", "not-understood", [], ["frobnicate"]),
    ],
)
def test_the_api_asks_back(student, encounter, words, slug, choices, unknown):
    answer = api(student, encounter, {"entry": 2, "text": words})
    problem = answer.json()
    assert answer.status_code == 422
    assert problem["type"] == f"urn:casebank:problem:{slug}"
    assert (problem["choices"], problem["not_understood"]) == (choices, unknown)


def test_the_api_refuses_in_words(student, people, encounter):
    nowhere = api(student, encounter, {"entry": 1, "text": "third heart sound"})
    assert (nowhere.status_code, nowhere.json()["type"]) == (
        422,
        "urn:casebank:problem:not-possible",
    )
    assert "nothing to name" in nowhere.json()["detail"]
    concluded(encounter, by=people.student)
    late = api(student, encounter, {"entry": 2, "text": "third heart sound"})
    assert late.status_code == 422
    assert "concluded" in late.json()["detail"]


@pytest.mark.parametrize("data", [{}, {"entry": 0, "text": "x"}, {"entry": 2, "text": ""}])
def test_a_malformed_reading_lists_what_is_wrong(student, encounter, data):
    answer = api(student, encounter, data)
    assert answer.status_code == 422
    assert answer.json()["errors"]
