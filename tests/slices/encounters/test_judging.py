"""Tutors: whose debriefs they read, what they add, and that nothing computed changes."""

from __future__ import annotations

import pytest
from django.db import DatabaseError, transaction
from django.http import Http404
from django.urls import reverse

from casebank.audit.queries import events_of
from casebank.encounters.actions import begin
from casebank.encounters.debriefing import actions
from casebank.encounters.debriefing.queries import concluded_in, debrief_for, judged_by
from casebank.encounters.models import DebriefComment, Mark, MarkAdjustment
from casebank.encounters.policies import may_judge, readable_debriefs
from tests.factories.encounters import CLEAN, WELL, asked, concluded
from tests.factories.people import person
from tests.factories.teaching import cohort_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def cohort(people):
    return cohort_of("first", tutors=[people.tutor], students=[people.student])


@pytest.fixture
def ended(people, encounter, cohort):
    asked(encounter, CLEAN, WELL, by=people.student)
    return concluded(encounter, by=people.student)


@pytest.fixture
def tutor(client, people, cohort):
    client.force_login(people.tutor)
    return client


def at(name, encounter):
    return reverse(f"encounters:{name}", args=[encounter.pk])


def test_a_tutor_of_the_cohort_reads_the_debrief_and_its_document(tutor, ended):
    page = tutor.get(at("debrief", ended)).content.decode()
    assert "Debrief of Sol Student" in page
    assert "Add the comment" in page
    assert tutor.get(at("debrief-pdf", ended)).status_code == 200


def test_a_tutor_never_sees_a_sheet_nor_an_encounter_still_open(tutor, people, ended):
    again = begin(version=ended.version, by=people.student)
    for encounter in (ended, again):
        assert tutor.get(at("sheet", encounter)).status_code == 404
    for name in ("debrief", "debrief-pdf"):
        assert tutor.get(at(name, again)).status_code == 404


def test_nobody_else_finds_it(client, people, ended):
    other = person("Una Tutor", "tutor")
    cohort_of("second", tutors=[other], students=[people.other_author])
    member = person("Pia Peer", "student")
    ended.student.membership_set.get().cohort.membership_set.create(user=member, role_id="student")
    for who in (other, member, people.author, people.reviewer):
        client.force_login(who)
        for name in ("debrief", "debrief-pdf"):
            assert client.get(at(name, ended)).status_code == 404
        for name in ("comment", "adjust"):
            assert client.post(at(name, ended), {}).status_code == 404


def test_the_door_and_the_list_rule_agree_for_everyone(people, ended):
    for who in people.everyone():
        listed = readable_debriefs(who).filter(pk=ended.pk).exists()
        if listed:
            assert debrief_for(who, ended.pk).pk == ended.pk
        else:
            with pytest.raises(Http404):
                debrief_for(who, ended.pk)
        judges = bool(may_judge(who, ended))
        assert judges == (listed and who != ended.student)
        if not judges:
            with pytest.raises(Http404):
                judged_by(who, ended.pk)


def test_a_tutor_who_lost_the_role_reads_nothing(people, ended):
    people.tutor.rolegrant_set.all().delete()
    fresh = type(people.tutor).objects.get(pk=people.tutor.pk)
    assert not readable_debriefs(fresh).exists()
    assert not may_judge(fresh, ended)


def test_a_tutor_cannot_judge_own_work(people, cohort, ended):
    own = begin(version=ended.version, by=people.tutor)
    ended_own = concluded(own, by=people.tutor)
    assert not may_judge(people.tutor, ended_own)
    with pytest.raises(actions.NotAllowedError):
        actions.comment(encounter=ended_own, text="Well done.", by=people.tutor)


def test_a_comment_is_shown_to_the_student_with_the_way_to_its_entry(tutor, people, ended):
    form = {"comment-text": "Good: you rolled her over.", "comment-entry": "2"}
    answer = tutor.post(at("comment", ended), form)
    assert answer.url.endswith("#comments")
    tutor.force_login(people.student)
    page = tutor.get(at("debrief", ended)).content.decode()
    assert "Good: you rolled her over." in page
    assert f'href="#comment-{DebriefComment.objects.get().pk}"' in page
    assert "Add the comment" not in page


@pytest.mark.parametrize(
    "form", [{"comment-text": ""}, {"comment-text": "x", "comment-entry": "99"}]
)
def test_a_comment_that_cannot_be_accepted_comes_back_with_the_page(tutor, ended, form):
    answer = tutor.post(at("comment", ended), form)
    assert answer.status_code == 422
    assert DebriefComment.objects.count() == 0


def test_an_adjustment_stands_beside_the_mark_and_never_over_it(tutor, people, ended):
    before = Mark.objects.values().get()
    form = {"adjust-total": "55", "adjust-reason": "The summary missed the radiation."}
    assert tutor.post(at("adjust", ended), form).status_code == 302
    assert Mark.objects.values().get() == before
    tutor.force_login(people.student)
    page = tutor.get(at("debrief", ended)).content.decode()
    assert "The summary missed the radiation." in page
    assert f'Computed: <strong class="num">{before["total"]:.0f}</strong>' in page
    assert '<p class="answer__total">55</p>' in page


def test_the_newest_adjustment_stands_and_the_older_ones_stay(people, ended):
    for total in (40, 60):
        actions.adjust(encounter=ended, total=total, reason="Looked again.", by=people.tutor)
    from casebank.encounters.debriefing import debrief_of

    debrief = debrief_of(ended)
    assert [one.total for one in debrief.adjustments] == [40, 60]
    assert debrief.adjusted.total == 60


@pytest.mark.parametrize(
    "form",
    [
        {"adjust-total": "101", "adjust-reason": "x"},
        {"adjust-total": "-1", "adjust-reason": "x"},
        {"adjust-total": "nan", "adjust-reason": "x"},
        {"adjust-total": "50", "adjust-reason": " "},
    ],
)
def test_an_adjustment_needs_a_total_in_range_and_a_reason(tutor, ended, form):
    assert tutor.post(at("adjust", ended), form).status_code == 422
    assert MarkAdjustment.objects.count() == 0


def test_a_double_click_adds_once_and_a_second_thought_adds_again(tutor, ended):
    for position in ("0", "0", "1"):
        form = {"comment-text": "Listen longer.", "comment-position": position}
        tutor.post(at("comment", ended), form)
    assert DebriefComment.objects.count() == 2


def test_what_a_tutor_adds_is_audited(people, ended):
    actions.comment(encounter=ended, text="Good.", by=people.tutor)
    actions.adjust(encounter=ended, total=70, reason="Kind to her.", by=people.tutor)
    names = [event.name for event in events_of(ended)]
    assert names[-2:] == ["debrief_commented", "mark_adjusted"]
    assert events_of(ended).last().data["adjusted"] == 70


@pytest.mark.parametrize("model", [DebriefComment, MarkAdjustment])
@pytest.mark.parametrize("verb", ["update", "delete"])
def test_the_database_refuses_to_change_what_was_added(people, ended, model, verb):
    actions.comment(encounter=ended, text="Good.", by=people.tutor)
    actions.adjust(encounter=ended, total=70, reason="Kind.", by=people.tutor)
    rows = model.objects.all()
    write = (
        (lambda: rows._raw_delete(rows.db)) if verb == "delete" else lambda: rows.update(key="k")
    )
    with pytest.raises(DatabaseError), transaction.atomic():
        write()


@pytest.mark.parametrize("change", [{"total": 101}, {"total": -1}, {"reason": ""}])
def test_the_database_refuses_an_impossible_adjustment(people, ended, change):
    row = {"total": 50, "reason": "Because.", **change}
    with pytest.raises(DatabaseError), transaction.atomic():
        MarkAdjustment.objects.create(
            encounter=ended, mark=ended.marks.get(), by=people.tutor, **row
        )


def test_the_list_holds_the_cohorts_concluded_encounters_with_both_marks(tutor, people, ended):
    begin(version=ended.version, by=people.student)
    actions.adjust(encounter=ended, total=33, reason="Because.", by=people.tutor)
    page = tutor.get(reverse("encounters:concluded")).content.decode()
    assert "1 concluded" in page
    assert at("debrief", ended) in page
    assert ">33<" in page


def test_the_list_is_paged_and_its_queries_are_bounded(
    tutor, people, cohort, ended, django_assert_max_num_queries
):
    for _ in range(34):
        concluded(begin(version=ended.version, by=people.student), by=people.student)
    url = reverse("encounters:concluded")
    with django_assert_max_num_queries(8):
        page = tutor.get(url).content.decode()
    assert page.count('/debrief"') == 30
    assert "Page 1 of 2" in page
    assert tutor.get(url, {"page": 2}).content.decode().count('/debrief"') == 5


def test_another_cohort_does_not_exist_and_students_are_refused(tutor, people, ended):
    other = cohort_of("second", tutors=[person("Una Tutor", "tutor")], students=[])
    url = reverse("encounters:concluded")
    assert tutor.get(url, {"cohort": other.slug}).status_code == 404
    assert not concluded_in(people.tutor, other).exists()
    tutor.force_login(people.student)
    assert tutor.get(url).status_code == 403


def test_the_api_takes_comments_and_adjustments_once_a_key(tutor, ended):
    base = f"/api/v1/encounters/{ended.pk}"
    key = {"Idempotency-Key": "k1"}
    made = [
        tutor.post(
            f"{base}/comments", {"text": "Good.", "entry": 2}, "application/json", headers=key
        )
        for _ in range(2)
    ]
    assert [one.status_code for one in made] == [201, 201]
    assert made[0].json() == made[1].json()
    adjusted = tutor.post(
        f"{base}/adjustments", {"total": 61.5, "reason": "Read aloud."}, "application/json"
    )
    assert adjusted.json()["total"] == 61.5
    data = tutor.get(f"{base}/debrief").json()
    assert [one["text"] for one in data["comments"]] == ["Good."]
    assert data["adjustments"][0]["by"] == "Tam Tutor"


@pytest.mark.parametrize(
    ("path", "data"),
    [
        ("comments", {"text": ""}),
        ("comments", {"text": "x", "entry": 99}),
        ("adjustments", {"total": 101, "reason": "x"}),
        ("adjustments", {"total": 50}),
    ],
)
def test_the_api_says_what_it_cannot_accept(tutor, ended, path, data):
    answer = tutor.post(f"/api/v1/encounters/{ended.pk}/{path}", data, "application/json")
    assert answer.status_code == 422


def test_a_student_cannot_add_to_the_own_debrief_by_the_api(client, people, ended):
    client.force_login(people.student)
    answer = client.post(
        f"/api/v1/encounters/{ended.pk}/comments", {"text": "Good."}, "application/json"
    )
    assert answer.status_code == 404
