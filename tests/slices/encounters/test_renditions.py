"""A sound's other renditions at the bed: as closed as the sound itself, and telling no more."""

from __future__ import annotations

import io
import json
import re
import wave
from pathlib import Path

import numpy as np
import pytest
from django.core import signing
from django.urls import reverse

from casebank.core.media.sign_files import RENDITIONS, Rendition, sign_file
from casebank.domain.signs import parse, pitch_raised, render
from casebank.encounters.media import SALT, Place, media_in, place_of, token_of
from casebank.encounters.queries import case_of, request_at
from tests.factories.encounters import asked, concluded
from tests.factories.heard import APEX, AXILLA, CLEAN, heard_begun
from tests.factories.people import person
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
SIGNS = Path(__file__).parents[3] / "fixtures" / "signs"
RAISED, SLOW, BOTH = RENDITIONS[1:]
CHANGED = pytest.mark.parametrize("rendition", RENDITIONS[1:], ids=lambda one: "-".join(one.names))


@pytest.fixture(autouse=True)
def shelf(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def encounter(people):
    return asked(heard_begun(people), CLEAN, APEX, AXILLA, by=people.student)


def address(encounter, rendition, seq=2, ending="wav"):
    token = token_of(Place(encounter.pk, seq, 0, rendition))
    return reverse("encounters:media", args=[token, ending])


def samples_in(data):
    with wave.open(io.BytesIO(data)) as sound:
        return np.frombuffer(
            sound.readframes(sound.getnframes()), dtype="<i2"
        ), sound.getframerate()


def linked(page):
    """The addresses of the renditions that the page leads to, by name, of each sound in turn."""
    tag = r'<a href="([^"]+)" data-rendition="([a-z-]+)">([^<]+)</a>'
    return [(name, url, words) for url, name, words in re.findall(tag, page)]


@CHANGED
@pytest.mark.parametrize(("ending", "kind"), [("flac", "audio/flac"), ("wav", "audio/wav")])
def test_its_student_gets_it_under_the_same_neutral_name(
    student, encounter, rendition, ending, kind
):
    answer = student.get(address(encounter, rendition, ending=ending))
    assert (answer.status_code, answer["Content-Type"]) == (200, kind)
    assert answer["Content-Disposition"] == f'inline; filename="finding.{ending}"'
    assert answer["Cache-Control"] == "private, max-age=3600"


@CHANGED
def test_it_is_the_renderers_under_the_technique_of_the_request(student, encounter, rendition):
    payload = request_at(encounter, 2).payload
    (medium,) = media_in(case_of(encounter), payload)
    expected = render(
        parse(dict(medium.spec)), payload["technique"], 2 if rendition.is_slow else 1
    ).samples
    expected = pitch_raised(expected) if rendition.is_raised else expected
    heard, rate = samples_in(student.get(address(encounter, rendition)).content)
    assert rate == 8000
    assert np.array_equal(heard, (expected * 32767).round().astype("<i2"))
    assert len(heard) / rate == (30 if rendition.is_slow else 15)


@CHANGED
def test_a_drawing_of_it_there_is_none(student, encounter, rendition):
    assert student.get(address(encounter, rendition, ending="svg")).status_code == 404


@CHANGED
def test_nobody_else_gets_it(client, people, encounter, rendition):
    for other in (person("Una Other", "student"), people.tutor, people.author, people.stranger):
        client.force_login(other)
        assert client.get(address(encounter, rendition)).status_code == 404, other.name
    client.logout()
    assert client.get(address(encounter, rendition)).status_code == 302


@CHANGED
def test_a_tutor_hears_it_after_the_conclusion_only(client, people, encounter, rendition):
    cohort_of("second", tutors=[people.tutor], students=[people.student])
    client.force_login(people.tutor)
    before = client.get(address(encounter, rendition)).status_code
    concluded(encounter, by=people.student)
    assert (before, client.get(address(encounter, rendition)).status_code) == (404, 200)


@CHANGED
def test_it_is_not_there_before_it_is_asked_for(student, people, rendition):
    encounter = heard_begun(people)
    assert student.get(address(encounter, rendition, seq=1)).status_code == 404
    asked(encounter, APEX, by=people.student)
    assert student.get(address(encounter, rendition, seq=1)).status_code == 200


# ---- addresses
def test_each_has_an_address_of_its_own_which_leads_back_to_it(encounter):
    places = [Place(encounter.pk, 2, 0, one) for one in RENDITIONS]
    tokens = [token_of(place) for place in places]
    assert len(set(tokens)) == 4
    assert [place_of(token) for token in tokens] == places


@pytest.mark.parametrize("names", [["louder"], ["slow", "raised"], ["raised", "raised"], [1], [[]]])
def test_a_rendition_that_is_not_known_has_no_place(encounter, names):
    token = signing.Signer(salt=SALT).sign_object([encounter.pk.hex, 2, 0, *names])
    assert place_of(token) is None


def test_the_address_of_one_cannot_be_made_from_another(student, encounter):
    """The value is readable, the signature is not to be had without the site's key."""
    usual = token_of(Place(encounter.pk, 2, 0))
    value, signature = usual.rsplit(":", 1)
    raised_value = token_of(Place(encounter.pk, 2, 0, RAISED)).rsplit(":", 1)[0]
    assert raised_value != value
    forged = [
        f"{raised_value}:{signature}",
        signing.Signer(key="guessed", salt=SALT).sign_object([encounter.pk.hex, 2, 0, "raised"]),
    ]
    for token in forged:
        url = reverse("encounters:media", args=[token, "wav"])
        assert student.get(url).status_code == 404, token
    asked_in_clear = reverse("encounters:media", args=[usual, "wav"]) + "?pitch=raised&speed=half"
    assert (
        student.get(asked_in_clear).content == student.get(address(encounter, Rendition())).content
    )


# ---- the sheet
def test_the_sheet_links_to_each_under_a_true_label_without_any_script(student, encounter):
    page = student.get(reverse("encounters:sheet", args=[encounter.pk])).content.decode()
    found = linked(page)
    assert [name for name, _, _ in found] == ["raised", "slow", "raised-slow"] * 2
    labels = {name: words for name, _, words in found}
    assert labels["raised"] == "Pitch raised, not as heard at the bedside"
    assert labels["slow"] == "Half speed, pitch kept"
    assert labels["raised-slow"] == "Half speed and pitch raised, not as heard at the bedside"
    for name, url, _ in found:
        answer = student.get(url)
        assert answer.status_code == 200, name
        assert len(samples_in(answer.content)[0]) == (240_000 if "slow" in name else 120_000)
    assert "use headphones, and turn down before wearing them" in page


# ---- what a size tells
@pytest.mark.parametrize("rendition", RENDITIONS, ids=lambda one: "-".join(one.names) or "as heard")
@pytest.mark.parametrize("ending", ["flac", "wav"])
def test_every_sound_of_a_rendition_has_one_size_and_one_length(rendition, ending):
    tried = [json.loads(path.read_text()) for path in sorted(SIGNS.glob("heart-0[14].json"))]
    tried += [json.loads((SIGNS / "breath-02.json").read_text())]
    loud = {
        "kind": "heart-sound",
        "noise_db": -20,
        "lesions": [{"type": "patent-duct", "grade": 6}],
    }
    silent = {"kind": "breath-sound", "noise_db": -80, "zones": [
        {"sites": ["back-lower-zone"], "quality": "absent"}]}  # fmt: skip
    tried += [{"spec": loud}, {"spec": silent, "technique": {"side": "left"}}]
    sizes = {
        len(sign_file(one["spec"], one.get("technique", {}), ending, rendition)) for one in tried
    }
    assert len(sizes) == 1


def test_every_trace_of_a_sound_has_one_size():
    noisy = {"kind": "heart-sound", "noise_db": -20, "patient": {"rate": 180}}
    still = {"kind": "heart-sound", "noise_db": -80}
    lungs = {"kind": "breath-sound", "noise_db": -20}
    one_place = {"site": "back-lower-zone", "side": "left"}
    sizes = {
        len(sign_file(noisy, {"timing": "carotid"}, "svg")),
        len(sign_file(still, {}, "svg")),
        len(sign_file(lungs, one_place, "svg")),
    }
    assert sizes == {131_072}


def test_the_size_of_many_places_follows_their_number_alone():
    quiet = {"kind": "breath-sound", "noise_db": -80, "zones": [
        {"sites": ["back-lower-zone", "front-upper-zone"], "quality": "absent"}]}  # fmt: skip
    full = {"kind": "breath-sound", "noise_db": -20, "zones": [
        {"sites": ["back-lower-zone"], "added": [{"type": "coarse-crackles"}]}]}  # fmt: skip
    everywhere = {"site": "all-zones", "breathing": "deep"}
    assert len({len(sign_file(one, everywhere, "svg")) for one in (quiet, full)}) == 1
