"""Files of what was heard: for whoever may read that sheet, telling nothing but the sound."""

from __future__ import annotations

import io
import re
import wave

import pytest
from django.core import signing
from django.urls import reverse

from casebank.encounters.media import SALT, Place, token_of
from tests.factories.encounters import asked, concluded
from tests.factories.heard import APEX, AXILLA, CLEAN, NOTHING_HEARD, heard_begun
from tests.factories.people import person
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db
TYPES = [("flac", "audio/flac"), ("wav", "audio/wav"), ("svg", "image/svg+xml")]


@pytest.fixture(autouse=True)
def shelf(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def encounter(people):
    return asked(heard_begun(people), CLEAN, APEX, AXILLA, NOTHING_HEARD, by=people.student)


def address(encounter, seq=2, index=0, ending="wav"):
    return reverse("encounters:media", args=[token_of(Place(encounter.pk, seq, index)), ending])


def body(client, *args, **kwargs):
    answer = client.get(address(*args, **kwargs))
    assert answer.status_code == 200
    return answer.content


@pytest.mark.parametrize(("ending", "kind"), TYPES)
def test_its_student_gets_it_under_a_neutral_name(student, encounter, ending, kind):
    answer = student.get(address(encounter, ending=ending))
    assert answer.status_code == 200
    assert answer["Content-Type"] == kind
    assert answer["Content-Disposition"] == f'inline; filename="finding.{ending}"'
    assert answer["Cache-Control"] == "private, max-age=3600"
    assert answer["Accept-Ranges"] == "bytes"
    assert answer["X-Content-Type-Options"] == "nosniff"


def test_files_begin_as_their_kind_does(student, encounter):
    assert body(student, encounter, ending="flac")[:4] == b"fLaC"
    assert body(student, encounter, ending="wav")[:4] == b"RIFF"
    assert b"<svg" in body(student, encounter, ending="svg")[:200]


def test_the_sound_is_of_the_length_a_player_expects(student, encounter):
    with wave.open(io.BytesIO(body(student, encounter))) as sound:
        assert sound.getnframes() / sound.getframerate() == pytest.approx(15, abs=0.01)
        samples = sound.readframes(sound.getnframes())
    assert len(set(samples)) > 100  # not silence


def test_nobody_else_gets_it(client, people, encounter):
    for other in (person("Una Other", "student"), people.tutor, people.author, people.stranger):
        client.force_login(other)
        answer = client.get(address(encounter))
        assert answer.status_code == 404, other.name
        assert b"RIFF" not in answer.content


def test_whoever_is_not_signed_in_is_sent_to_do_so(client, encounter):
    answer = client.get(address(encounter))
    assert answer.status_code == 302
    assert "next=" in answer.url


def test_a_tutor_hears_it_after_the_conclusion_only(client, people, encounter):
    cohort_of("second", tutors=[people.tutor], students=[people.student])
    client.force_login(people.tutor)
    before = client.get(address(encounter)).status_code
    concluded(encounter, by=people.student)
    assert before == 404
    assert client.get(address(encounter)).status_code == 200


@pytest.mark.parametrize(("seq", "index"), [(1, 0), (2, 1), (4, 0), (5, 0), (2, -1)])
def test_before_and_beside_the_request_there_is_nothing(student, encounter, seq, index):
    assert student.get(address(encounter, seq, index)).status_code == 404


def test_a_sound_to_come_is_not_there_before_it_is_asked_for(student, people):
    encounter = heard_begun(people)
    assert student.get(address(encounter, 1)).status_code == 404
    asked(encounter, APEX, by=people.student)
    assert student.get(address(encounter, 1)).status_code == 200


def test_a_forged_token_is_unknown(student, encounter):
    token = token_of(Place(encounter.pk, 2, 0))
    value = [encounter.pk.hex, 2, 0]
    forged = [
        "nonsense",
        token[:-1] + ("A" if token[-1] != "A" else "B"),
        signing.Signer(salt="another").sign_object(value),
        signing.Signer(key="guessed", salt=SALT).sign_object(value),
        signing.Signer(salt=SALT).sign_object(["no-uuid", 2, 0]),
        signing.Signer(salt=SALT).sign_object({"encounter": encounter.pk.hex}),
    ]
    for one in forged:
        url = reverse("encounters:media", args=[one, "wav"])
        assert student.get(url).status_code == 404, one


def test_an_ending_it_has_not_is_unknown(student, encounter):
    assert student.get(address(encounter, ending="mp3")).status_code == 404


def test_it_is_only_read(student, encounter):
    assert student.post(address(encounter)).status_code == 405


@pytest.mark.parametrize("ending", ["flac", "wav", "svg"])
def test_the_size_tells_nothing_and_the_technique_changes_the_bytes(student, encounter, ending):
    apex = body(student, encounter, seq=2, ending=ending)
    axilla = body(student, encounter, seq=3, ending=ending)
    assert len(apex) == len(axilla)
    assert apex != axilla


def test_the_same_address_gives_the_same_bytes(student, encounter):
    assert body(student, encounter) == body(student, encounter)


# ---- ranges
@pytest.mark.parametrize(
    ("asked_for", "start", "end"),
    [("bytes=0-99", 0, 99), ("bytes=100-", 100, None), ("bytes=-50", -50, None)],
)
def test_a_range_is_answered_with_that_part(student, encounter, asked_for, start, end):
    whole = body(student, encounter)
    part = student.get(address(encounter), headers={"Range": asked_for})
    first = start if start >= 0 else len(whole) + start
    last = end if end is not None else len(whole) - 1
    assert part.status_code == 206
    assert part.content == whole[first : last + 1]
    assert part["Content-Range"] == f"bytes {first}-{last}/{len(whole)}"
    assert part["Content-Type"] == "audio/wav"


def test_a_range_behind_the_end_is_refused_with_the_length(student, encounter):
    length = len(body(student, encounter))
    answer = student.get(address(encounter), headers={"Range": f"bytes={length}-"})
    assert answer.status_code == 416
    assert answer["Content-Range"] == f"bytes */{length}"
    assert answer.content == b""


def test_what_did_not_change_is_not_sent_again(student, encounter):
    etag = student.get(address(encounter))["ETag"]
    answer = student.get(address(encounter), headers={"If-None-Match": etag})
    assert (answer.status_code, answer.content) == (304, b"")
    other = student.get(address(encounter, seq=3))["ETag"]
    assert other != etag


# ---- what an address tells
def test_an_address_on_the_sheet_leads_to_the_sound_and_names_nothing(student, encounter):
    page = student.get(reverse("encounters:sheet", args=[encounter.pk])).content.decode()
    addresses = set(re.findall(r'src="([^"]*/media/[^"]+)"', page))
    assert len(addresses) == 6  # two sounds, as FLAC, WAV and trace
    for one in addresses:
        assert student.get(one).status_code == 200
        token = one.rsplit("/", 1)[1].rsplit(".", 1)[0]
        place, seq, index = signing.Signer(salt=SALT).unsign_object(token)
        assert (place, index) == (encounter.pk.hex, 0)
        assert seq in (2, 3)


def test_an_address_stays_the_same(encounter):
    assert address(encounter) == address(encounter)
    assert address(encounter) != address(encounter, seq=3)


def test_no_file_holds_the_names_of_what_is_in_it(student, encounter):
    for ending in ("flac", "wav", "svg"):
        data = body(student, encounter, ending=ending).lower()
        for hidden in (b"murmur", b"regurgitation", b"third", b"grade", b"lesion", b"mitral"):
            assert hidden not in data, (ending, hidden)
