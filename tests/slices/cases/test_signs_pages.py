"""Trying a sign: who may, what is said of wrong parameters, and the files of a signed address."""

from __future__ import annotations

import io
import json
import re
import wave

import pytest
from django.core import signing
from django.urls import reverse
from django.utils.html import escape
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from casebank.cases import signs
from casebank.cases.forms.signs import SLOTS, SignForm, choices_of, examples
from casebank.cases.policies import may_try_signs
from casebank.cases.signs import NotASignError, Tried, read_spec, token_of, tried_in
from casebank.domain.signs import parse, pitch_raised, render
from tests.factories.people import cast

pytestmark = pytest.mark.django_db
PAGE = "/cases/signs/"
HEART = {"kind": "heart-sound", "lesions": [{"type": "mitral-regurgitation", "grade": 3}]}


@pytest.fixture(autouse=True)
def shelf_of_its_own(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def people():
    return cast()


@pytest.fixture
def author(people):
    return people.author


@pytest.fixture
def client(client, author):
    client.force_login(author)
    return client


def posted(client, spec, **technique):
    text = spec if isinstance(spec, str) else json.dumps(spec)
    return client.post(PAGE, {"spec": text, **technique})


def source(answer, ending):
    return re.search(rf'src="([^"]+\.{ending})"', answer.content.decode())[1]


def test_authors_and_reviewers_try_signs_and_nobody_else(client, people):
    for one in people.everyone():
        client.force_login(one)
        expected = one in (
            people.author, people.other_author, people.reviewer, people.author_and_reviewer
        )  # fmt: skip
        assert bool(may_try_signs(one)) is expected
        assert client.get(PAGE).status_code == (200 if expected else 403)


def test_my_cases_leads_there(client):
    assert f'href="{PAGE}"' in client.get(reverse("cases:mine")).content.decode()


def test_the_header_leads_there_for_everybody_who_may_try_signs_and_nobody_else(client, people):
    for one in people.everyone():
        client.force_login(one)
        page = client.get(reverse("home")).content.decode()
        assert (f'href="{PAGE}"' in page) is bool(may_try_signs(one)), one.name


def test_the_header_marks_the_page_itself_not_the_list_around_it(client):
    for address in (PAGE, reverse("cases:mine"), reverse("cases:new")):
        page = client.get(address).content.decode()
        current = re.findall(r'<a href="([^"]+)" aria-current="page"', page)
        assert current == [PAGE if address == PAGE else reverse("cases:mine")]


@pytest.mark.parametrize("name", examples())
def test_every_example_is_shown_in_words_and_drawn(client, name):
    answer = client.get(PAGE, {"example": name})
    assert answer.status_code == 200
    words = answer.context["form"].words
    assert words
    assert escape(words) in answer.content.decode()
    drawing = client.get(answer.context["heard"]["picture"])
    assert drawing.content.startswith(b"<svg")
    has_sound = examples()[name]["spec"]["kind"] in signs.SOUNDS
    assert ("flac" in answer.context["heard"]) is has_sound


@pytest.mark.parametrize("name", examples())
def test_the_form_of_an_example_offers_the_technique_it_uses(name):
    technique = examples()[name]["technique"]
    assert set(technique) <= set(SLOTS)
    assert [s for s, v in technique.items() if v not in dict(choices_of(s))] == []


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        ({**HEART, "patient": {"rate": 500}}, "patient.rate: must be 200 or less"),
        ({"kind": "heart-sound", "lesions": [{"type": "x"}]}, "lesions[0].type: must be"),
        ({"kind": "heart-sound", "colour": 1}, "colour: is not a field known here"),
        ({"kind": "smell"}, "kind: must be one of heart-sound, breath-sound"),
        ({}, "kind: must be one of"),
        ('{"kind": "heart-sound",\n x}', "is not valid JSON at line 2, column 2"),
        ("", "is not valid JSON"),
        ('{"kind": "heart-sound", "kind": "picture"}', "twice in one object"),
        ('{"kind": "heart-sound", "first_db": NaN}', "holds NaN"),
        ('{"kind": "\\ud800"}', "is not valid JSON"),
        ("[" * 19_000, "nested too deeply"),
        ("x" * 20_001, "is too large"),
    ],
)
def test_what_is_wrong_is_said_with_its_place_and_everything_typed_is_kept(client, spec, said):
    answer = posted(client, spec, site="apex", breathing="held-expiration")
    text = spec if isinstance(spec, str) else json.dumps(spec)
    assert answer.status_code == 422
    assert any(said in one for one in answer.context["form"].errors["spec"])
    assert answer.context["form"]["spec"].value() == text
    page = answer.content.decode()
    assert '<option value="held-expiration" selected>' in page
    assert "<audio" not in page


def test_a_place_where_the_sign_cannot_be_had_is_refused_in_words(client):
    answer = posted(client, HEART, site="back-mid-zone")
    assert answer.status_code == 422
    assert "choose one of aortic-area" in answer.content.decode()


def test_a_picture_of_what_its_part_of_the_body_cannot_show_is_refused_beside_the_signs(client):
    answer = posted(client, {"kind": "picture", "subject": "nails", "signs": ["pallor"]})
    assert answer.status_code == 422
    assert "pallor" in answer.context["form"].errors["of-signs"][0]


def test_a_technique_that_is_not_offered_is_refused(client):
    assert posted(client, HEART, posture="on-the-head").status_code == 422


def test_the_sound_is_what_the_renderer_makes_under_the_technique(client):
    answer = posted(client, HEART, site="axilla", instrument="bell")
    with wave.open(io.BytesIO(client.get(source(answer, "wav")).content)) as file:
        data = file.readframes(file.getnframes())
        assert file.getframerate() == 8000
    expected = render(parse(HEART), {"site": "axilla", "instrument": "bell"}).samples
    assert data == (expected * 32767).round().astype("<i2").tobytes()


def test_the_raised_rendition_is_the_renderers_and_called_so(client):
    answer = posted(client, HEART)
    assert "Pitch raised, not as heard at the bedside" in answer.content.decode()
    raised = client.get(source(answer, "wav") + "?pitch=raised").content
    expected = pitch_raised(render(parse(HEART), {}).samples)
    assert raised.endswith((expected * 32767).round().astype("<i2").tobytes())


def test_half_speed_is_the_renderers_and_goes_with_raised_pitch(client):
    answer = posted(client, HEART)
    assert "Half speed, pitch kept" in answer.content.decode()
    slow = render(parse(HEART), {}, 2).samples
    for query, expected in (
        ("speed=half", slow),
        ("pitch=raised&speed=half", pitch_raised(slow)),
    ):
        data = client.get(f"{source(answer, 'wav')}?{query}").content
        assert data.endswith((expected * 32767).round().astype("<i2").tobytes())


def test_the_same_sign_gives_the_same_bytes_anew(client, settings, tmp_path):
    first, second = (source(posted(client, HEART), "flac") for _ in range(2))
    made = client.get(first).content
    settings.MEDIA_SHELF = tmp_path / "elsewhere"
    assert client.get(second).content == made
    assert made.startswith(b"fLaC")


def test_a_part_of_the_sound_can_be_asked_for_and_none_beyond_its_end(client):
    address = source(posted(client, HEART), "flac")
    whole = client.get(address)
    part = client.get(address, headers={"Range": "bytes=4-11"})
    assert (part.status_code, part.content) == (206, whole.content[4:12])
    assert part["Content-Range"] == f"bytes 4-11/{len(whole.content)}"
    beyond = client.get(address, headers={"Range": f"bytes={len(whole.content)}-"})
    assert beyond.status_code == 416
    assert client.get(address, headers={"If-None-Match": whole["ETag"]}).status_code == 304


def test_an_address_is_its_owners_alone(client, people):
    address = source(posted(client, HEART), "flac")
    client.force_login(people.other_author)
    assert client.get(address).status_code == 404
    client.force_login(people.student)
    assert client.get(address).status_code == 403
    client.logout()
    assert client.get(address).status_code == 302


def test_an_address_ends_after_its_time(client, author, monkeypatch):
    address = source(posted(client, HEART), "flac")
    monkeypatch.setattr(signs, "MAX_AGE", -1)
    assert client.get(address).status_code == 404


def test_a_changed_address_leads_nowhere(client):
    address = source(posted(client, HEART), "flac")
    assert client.get(address.replace("/sound", "x/sound")).status_code == 404
    assert client.get(address.replace(".flac", ".mp3")).status_code == 404


def test_a_picture_has_no_sound(client, author):
    token = token_of(Tried(read_spec('{"kind": "picture", "subject": "eye"}'), {}), owner=author)
    assert client.get(reverse("cases:sign-sound", args=[token, "wav"])).status_code == 404
    assert client.get(reverse("cases:sign-drawing", args=[token])).status_code == 200


def test_a_sign_too_long_for_an_address_is_refused_in_words(client):
    alphabet = "abcdefghijklmnopqrstuvwxyz0123456789"
    names = [signing.b62_encode(7**n).lower()[:60] for n in range(1, 200)]
    assert set("".join(names)) <= set(alphabet)
    answer = posted(client, {"kind": "breath-sound", "zones": [{"sites": names}]})
    assert answer.status_code == 422
    assert "is too long to be heard here" in answer.content.decode()


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=40)
@given(grade=st.integers(1, 6), rate=st.floats(24, 200), site=st.sampled_from(choices_of("site")))
def test_a_token_brings_back_exactly_what_was_signed(author, grade, rate, site):
    spec = {
        **HEART,
        "patient": {"rate": rate},
        "lesions": [{**HEART["lesions"][0], "grade": grade}],
    }
    tried = Tried(read_spec(json.dumps(spec)), {"site": site[0]})
    assert tried_in(token_of(tried, owner=author), owner=author) == tried
    assert tried.parameters == spec


@settings(max_examples=100)
@given(text=st.one_of(st.text(), st.recursive(st.none() | st.integers() | st.text(),
       lambda x: st.lists(x) | st.dictionaries(st.text(), x)).map(json.dumps)))  # fmt: skip
def test_no_text_is_an_accident(text):
    with pytest.raises(NotASignError) as caught:
        read_spec(text)
    assert caught.value.problems


def test_the_form_is_not_valid_without_a_sign():
    assert not SignForm({"spec": ""}).is_valid()
