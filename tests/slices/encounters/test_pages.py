"""The student's pages, as plain form posts and as fragments."""

from __future__ import annotations

import json

import pytest
from django.urls import reverse

from casebank.encounters.models import Entry
from tests.factories.encounters import CLEAN, WELL, asked, concluded

pytestmark = pytest.mark.django_db
FRAGMENT = {"HX-Request": "true"}


def ask(client, encounter, text="", after=0, headers=None, **data):
    url = reverse("encounters:ask", args=[encounter.pk])
    return client.post(url, {"text": text, "after": after, **data}, headers=headers or {})


def test_the_list_shows_published_patients_without_a_diagnosis(student, encounter):
    page = student.get(reverse("encounters:patients")).content.decode()
    assert "Vera Quill" in page
    assert "regurgitation" not in page.lower()


def test_the_sheet_shows_the_opening_and_no_finding(student, encounter):
    page = student.get(reverse("encounters:sheet", args=[encounter.pk])).content.decode()
    assert "She sits upright" in page
    for hidden in ("blowing", "sixth space", "murmur through systole", "later", "regurgitation"):
        assert hidden not in page.lower()


def test_free_words_are_done_and_the_page_comes_back(student, encounter):
    answer = ask(student, encounter, "listen to the heart at the apex, left lateral")
    assert answer.status_code == 302
    page = student.get(answer.url).content.decode()
    assert "A blowing sound through systole." in page
    assert "rolled onto the left side" in page


def test_a_fragment_brings_the_row_and_an_empty_request_line(student, encounter):
    answer = ask(student, encounter, "wash hands", headers=FRAGMENT).content.decode()
    assert 'id="entry-1"' in answer
    assert 'name="after" value="1"' in answer
    assert "<html" not in answer


def test_unknown_words_cost_nothing_and_are_kept(student, encounter):
    answer = ask(student, encounter, "frobnicate the widget")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="frobnicate the widget"' in page
    assert "frobnicate" in page.split("Not understood", 1)[1]
    assert Entry.objects.count() == 0


def test_a_double_click_charges_once(student, encounter):
    for _ in range(2):
        ask(student, encounter, "wash hands", after=0)
    assert Entry.objects.count() == 1


def test_a_second_tab_showing_the_same_sheet_charges_once_and_brings_what_it_missed(
    student, encounter
):
    ask(student, encounter, "wash hands", after=0)
    ask(student, encounter, "apex beat", after=1)
    answer = ask(student, encounter, "wash hands", after=0, headers=FRAGMENT).content.decode()
    assert Entry.objects.count() == 2
    assert 'id="entry-1"' in answer
    assert 'id="entry-2"' in answer


def test_a_repeat_after_seeing_the_answer_is_a_new_request(student, encounter):
    ask(student, encounter, "wash hands", after=0)
    ask(student, encounter, "wash hands", after=1)
    assert Entry.objects.count() == 2


def test_a_picked_step_is_done_with_its_technique(student, encounter):
    choice = json.dumps({"step": "heart-auscultate", "technique": {"posture": "left-lateral"}})
    ask(student, encounter, step=choice)
    assert Entry.objects.get().payload["technique"]["posture"] == "left-lateral"


@pytest.mark.parametrize("choice", ["not json", "[]", '{"step": "nope"}', '{"technique": 3}', "7"])
def test_a_broken_choice_is_asked_again(student, encounter, choice):
    assert ask(student, encounter, step=choice).status_code == 422
    assert Entry.objects.count() == 0


def test_one_request_needs_at_most_seven_queries(student, encounter, django_assert_max_num_queries):
    ask(student, encounter, "wash hands", headers=FRAGMENT)
    with django_assert_max_num_queries(7):
        ask(student, encounter, "apex beat", after=1, headers=FRAGMENT)


def test_a_differential_is_stated_in_percent(student, encounter):
    url = reverse("encounters:differential", args=[encounter.pk])
    answer = student.post(url, {"p-mitral-regurgitation": "60", "add": "aortic stenosis"})
    assert answer.status_code == 302
    assert Entry.objects.get().payload["probabilities"] == {
        "mitral-regurgitation": 0.6,
        "aortic-stenosis": 0.0,
    }


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"p-mitral-regurgitation": "60", "p-aortic-stenosis": "50"}, "more than 100"),
        ({"p-mitral-regurgitation": "lots"}, "number from 0 to 100"),
        ({"p-mitral-regurgitation": "60", "add": "the vapours"}, "not in the list"),
        ({"p-mitral-regurgitation": "nan"}, "between 0 and 100"),
    ],
)
def test_an_impossible_differential_keeps_what_was_typed(student, encounter, data, words):
    answer = student.post(reverse("encounters:differential", args=[encounter.pk]), data)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert f'value="{data["p-mitral-regurgitation"]}"' in page
    assert Entry.objects.count() == 0


def test_the_debrief_stays_shut_until_the_conclusion(student, encounter):
    url = reverse("encounters:debrief", args=[encounter.pk])
    assert student.get(url).url == reverse("encounters:sheet", args=[encounter.pk])


def test_concluding_opens_a_debrief_whose_points_link_to_the_sheet(student, people, encounter):
    asked(encounter, CLEAN, WELL, by=people.student)
    answer = student.post(
        reverse("encounters:conclude", args=[encounter.pk]),
        {"p-mitral-regurgitation": "90", "summary": "A leak.", "plan": ""},
    )
    page = student.get(answer.url).content.decode()
    assert 'href="#entry-2"' in page
    assert "Mitral regurgitation" in page
    assert "independent" in page


def test_a_conclusion_without_a_summary_keeps_the_rest(student, encounter):
    answer = student.post(
        reverse("encounters:conclude", args=[encounter.pk]),
        {"p-mitral-regurgitation": "90", "plan": "An echo."},
    )
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "An echo." in page
    assert 'value="90"' in page


def test_others_find_nothing_at_my_addresses(client, people, encounter):
    concluded(encounter, by=people.student)
    client.force_login(people.reviewer)
    for name in ("sheet", "conclude", "debrief", "read-back"):
        assert client.get(reverse(f"encounters:{name}", args=[encounter.pk])).status_code == 404


def test_reading_back_knows_the_catalogue_and_not_the_case(student, encounter):
    url = reverse("encounters:read-back", args=[encounter.pk])
    page = student.get(url, {"text": "listen to the heart at the apex"}).content.decode()
    assert "Listen to the heart" in page
    assert "blowing" not in page
