"""A sign's parameters as JSON beside its fields: which of the two wins, and that neither is lost."""

from __future__ import annotations

import json

import pytest

from tests.factories.people import cast
from tests.slices.cases.sign_pages import form_of, pressed, sent_by, spec_in

pytestmark = pytest.mark.django_db
MURMUR = {"kind": "heart-sound", "lesions": [{"type": "mitral-regurgitation", "grade": 3}]}


@pytest.fixture(autouse=True)
def shelf_of_its_own(settings, tmp_path):
    settings.MEDIA_SHELF = tmp_path / "media"


@pytest.fixture
def client(client):
    client.force_login(cast().author)
    return client


def test_json_that_was_edited_wins_over_the_fields_and_they_follow_it(client):
    controls = form_of(client, MURMUR)
    text = json.dumps({"kind": "picture", "subject": "eye", "signs": ["arcus"]})
    answer = pressed(client, {**controls, "spec": text}, patient__rate="99")
    assert spec_in(answer) == json.loads(text)
    assert sent_by(answer)["of-signs"] == ["arcus"]
    assert "of-patient-rate" not in sent_by(answer)


def test_json_that_was_left_alone_does_not(client):
    answer = pressed(client, form_of(client, MURMUR), patient__rate="99")
    assert spec_in(answer)["patient"] == {"rate": 99}


def test_wrong_json_loses_neither_itself_nor_the_fields_and_can_be_dropped(client):
    controls = {**form_of(client, MURMUR), "spec": '{"kind": "heart-sound", }'}
    answer = pressed(client, controls, patient__rate="99")
    assert answer.status_code == 422
    again = sent_by(answer)
    assert (again["spec"], again["of-patient-rate"]) == ([controls["spec"]], ["99"])
    assert '<details class="fold sign__json" open>' in answer.content.decode()
    assert pressed(client, again).status_code == 422  # it still wins
    assert spec_in(pressed(client, again, "fields")) == {**MURMUR, "patient": {"rate": 99}}
