"""The student's whole job without a browser."""

from __future__ import annotations

import pytest

from casebank.encounters.models import Entry

pytestmark = pytest.mark.django_db
BASE = "/api/v1"


def post(client, path, data, **headers):
    return client.post(f"{BASE}{path}", data, content_type="application/json", headers=headers)


def test_from_the_list_to_the_debrief(student, encounter):
    patients = student.get(f"{BASE}/patients").json()
    begun = post(student, "/encounters", {"case": patients[0]["case"]}).json()
    at = f"/encounters/{begun['id']}"
    post(student, f"{at}/requests", {"step": "hand-hygiene"})
    made = post(
        student, f"{at}/requests", {"text": "listen at the apex rolled onto the left side"}
    ).json()
    assert made["entries"][0]["shown"] == ["A blowing sound through systole."]
    assert (
        post(
            student, f"{at}/differential", {"probabilities": {"mitral-regurgitation": 0.9}}
        ).status_code
        == 201
    )
    assert student.get(f"{BASE}{at}/debrief").status_code == 409
    ended = post(
        student,
        f"{at}/conclusion",
        {"probabilities": {"mitral-regurgitation": 0.9}, "summary": "A leak."},
    )
    assert ended.status_code == 201
    debrief = student.get(f"{BASE}{at}/debrief").json()
    assert debrief["truth"] == ["Mitral regurgitation"]
    assert debrief["total"] > 80


def test_an_encounter_shows_nothing_that_was_not_asked_for(student, encounter):
    text = student.get(f"{BASE}/encounters/{encounter.pk}").content.decode().lower()
    for hidden in ("blowing", "sixth", "regurgitation", "later", "outcome", "finding"):
        assert hidden not in text


def test_an_idempotency_key_makes_a_second_post_the_first(student, encounter):
    path = f"/encounters/{encounter.pk}/requests"
    first = post(student, path, {"step": "hand-hygiene"}, **{"Idempotency-Key": "k1"})
    again = post(student, path, {"step": "hand-hygiene"}, **{"Idempotency-Key": "k1"})
    assert first.json() == again.json()
    assert Entry.objects.count() == 1


def test_words_not_understood_are_a_problem_of_their_own(student, encounter):
    answer = post(student, f"/encounters/{encounter.pk}/requests", {"text": "frobnicate it"})
    problem = answer.json()
    assert answer.status_code == 422
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert problem["type"] == "urn:casebank:problem:not-understood"
    assert "frobnicate" in problem["not_understood"]


@pytest.mark.parametrize(
    "data", [{}, {"text": "x", "step": "hand-hygiene"}, {"step": "NOT A SLUG"}, {"text": "y" * 301}]
)
def test_a_malformed_request_lists_what_is_wrong(student, encounter, data):
    answer = post(student, f"/encounters/{encounter.pk}/requests", data)
    assert answer.status_code == 422
    assert answer.json()["type"] == "urn:casebank:problem:invalid"
    assert answer.json()["errors"]


def test_an_unknown_step_costs_nothing(student, encounter):
    answer = post(student, f"/encounters/{encounter.pk}/requests", {"step": "no-such-step"})
    assert answer.status_code == 422
    assert Entry.objects.count() == 0


def test_somebody_elses_encounter_does_not_exist(client, people, encounter):
    client.force_login(people.reviewer)
    assert client.get(f"{BASE}/encounters/{encounter.pk}").status_code == 404
    assert (
        post(client, f"/encounters/{encounter.pk}/requests", {"step": "hand-hygiene"}).status_code
        == 404
    )


def test_a_role_that_does_not_examine_is_refused(client, people, encounter):
    client.force_login(people.coordinator)
    assert client.get(f"{BASE}/patients").status_code == 403
